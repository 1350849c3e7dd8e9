"""Windows, package and borders of a spec: rules G1 to G7.

Pure arithmetic on a spec that may still be impossible: sizes can come out negative here, and
`checks` turns those into faults. Nothing is rounded.
"""

from app.framing.spec import Edges, Presentation, Spec, UnderWay
from app.lengths import ZERO, Length, Size


def grown(size: Size, by: Length) -> Size:
    """A size larger by one length in each dimension."""
    return Size(width=size.width + by, height=size.height + by)


def reveals(spec: Spec) -> tuple[Length, ...]:
    """How much of each layer shows inside the layer above; zero for layer 1."""
    return (ZERO, *(mat.reveal or ZERO for mat in spec.mats[1:]))[: len(spec.mats)]


def artwork_opening(spec: Spec) -> Size:
    """The hole that the presentation asks for around the artwork (G1, G2, G15 to G17)."""
    match spec.presentation:
        case Presentation.WINDOW:
            return grown(spec.artwork, spec.overlap * -2)
        case Presentation.FLOAT | Presentation.CANVAS_FLOAT:
            return grown(spec.artwork, spec.gap * 2)
        case Presentation.CLOSE | Presentation.CANVAS:
            return spec.artwork


def window_sizes(spec: Spec) -> tuple[Size, ...]:
    """The windows at the back of each board, layer 1 first (G1, G2, G3, G6)."""
    shown = reveals(spec)
    if not shown:
        return ()
    if spec.borders is not None and spec.package is not None:
        top = Size(
            width=spec.package.width - spec.borders.left - spec.borders.right,
            height=spec.package.height - spec.borders.top - spec.borders.bottom,
        )
    else:
        top = grown(artwork_opening(spec), sum(shown, ZERO) * 2)
    sizes = [top]
    for reveal in shown[1:]:
        sizes.append(grown(sizes[-1], reveal * -2))
    return tuple(sizes)


def package_size(spec: Spec) -> Size:
    """The outside of the package (G4, G5, G15 to G17)."""
    if spec.package is not None:
        return spec.package
    windows = window_sizes(spec)
    if not windows or spec.borders is None:
        return artwork_opening(spec)
    borders = spec.borders
    return Size(
        width=borders.left + windows[0].width + borders.right,
        height=borders.top + windows[0].height + borders.bottom,
    )


def top_borders(spec: Spec) -> Edges:
    """The borders of layer 1: as given, or centred with the weighting at the bottom (G5)."""
    if spec.borders is not None:
        return spec.borders
    package, window = package_size(spec), window_sizes(spec)[0]
    side = (package.width - window.width) / 2
    top = (package.height - window.height - spec.weighting) / 2
    return Edges(left=side, right=side, top=top, bottom=top + spec.weighting)


def layer_borders(spec: Spec) -> tuple[Edges, ...]:
    """The borders of every layer, as they are set on the cutter (G7)."""
    borders: list[Edges] = []
    shown = ZERO
    for layer, reveal in enumerate(reveals(spec), start=1):
        shown = shown + reveal
        own_edges = layer > 1 and spec.under.way is UnderWay.OWN_EDGES
        borders.append(top_borders(spec).grown(shown - spec.under.trim if own_edges else shown))
    return tuple(borders)


def blank_sizes(spec: Spec) -> tuple[Size, ...]:
    """The blank of every layer: the package, under layers trimmed at each edge (G7)."""
    package = package_size(spec)
    under = grown(package, spec.under.trim * -2)
    return tuple(package if layer == 0 else under for layer in range(len(spec.mats)))
