"""Windows of a piece in words: names of equal ones drawn together, each size said once."""

from collections.abc import Iterable, Iterator, Sequence

from app.drawings.piece.layout import DrawingLayout, HolePlace
from app.framing import Dimensions, Fillet, Shape
from app.framing.fillets import shown_of
from app.framing.openings import floats, gap_of, openings_of
from app.lengths import Unit, show, show_on_rule, show_size

_BLANK = "\N{NO-BREAK SPACE}"


MUCH = 600
"""Letters of a legend; one that is longer would leave no room for the drawing."""


def legend_or_less(lines: tuple[str, ...], most: int = MUCH) -> tuple[str, ...]:
    """Return the lines of a legend, or where they are too many one that says where the sizes are."""
    if sum(map(len, lines)) <= most:
        return lines
    return ("The windows are of many sizes, which stand with the parts to cut.",)


def several(layout: DrawingLayout) -> bool:
    """Tell whether its mats have more than one hole."""
    return bool(layout.mats) and len(layout.mats[0].holes) > 1


def bound(text: str) -> str:
    """Return the text with no room for a line to break in it."""
    return text.replace(" ", _BLANK)


def names_in_words(indices: Sequence[int], names: Sequence[str]) -> str:
    """As "A", "A, C" or, of three and more that follow one another, "A to D".

    indices: places in the names, rising.
    """
    runs: list[list[int]] = []
    for index in indices:
        if runs and index == runs[-1][-1] + 1:
            runs[-1].append(index)
        else:
            runs.append([index])
    return ", ".join(_run([names[index] for index in run]) for run in runs)


def _run(names: list[str]) -> str:
    return f"{names[0]} to {names[-1]}" if len(names) > 2 else ", ".join(names)


def shape_in_words(hole: HolePlace, unit: Unit) -> str:
    """Return its size with what tells it from a rectangle, as "oval 100 × 150"."""
    said = bound(show_size(hole.sizes.size, unit))
    match hole.sizes.shape:
        case Shape.RECTANGLE:
            return said
        case Shape.OVAL:
            size = hole.sizes.size
            return f"{'round' if size.width == size.height else 'oval'} {said}"
        case Shape.ARCH:
            assert hole.sizes.rise is not None
            return f"arched {said} {bound(f'with a rise of {show(hole.sizes.rise, unit)}')}"


def windows_in_words(holes: Sequence[HolePlace], unit: Unit) -> str:
    """As "A to H 100 × 150; C oval 90 × 120; title slots A, B 80 × 12"."""
    windows = [hole for hole in holes if not hole.slot]
    names = [hole.name for hole in windows]
    said = list(_together(((hole.opening, shape_in_words(hole, unit)) for hole in windows), names))
    slots = ((hole.opening, shape_in_words(hole, unit)) for hole in holes if hole.slot)
    said += [f"title slot {one}" for one in _together(slots, names)]
    return "; ".join(said)


def _together(said: Iterable[tuple[int, str]], names: Sequence[str]) -> Iterator[str]:
    """Yield what is said of each opening, once for all of which the same is."""
    same: dict[str, list[int]] = {}
    for index, text in said:
        same.setdefault(text, []).append(index)
    for text, indices in same.items():
        who = names_in_words(indices, names)
        yield f"{who}{_BLANK}{text}" if who else text


def fillet_in_words(fillet: Fillet, unit: Unit) -> str:
    """As "Fillet: 4 behind the mat, 6 showing"."""
    shown = show_on_rule(shown_of(fillet), unit)
    return f"Fillet: {show_on_rule(fillet.tuck, unit)} behind the mat, {shown} showing"


def artworks_in_words(dimensions: Dimensions, unit: Unit) -> str:
    """As "A to H 110 × 160"; those that float say how far from their mat. "" where none is known."""
    spec = dimensions.spec
    openings = openings_of(spec)
    said = []
    for index, opening in enumerate(openings):
        if opening.artwork is not None:
            text = bound(show_size(opening.artwork, unit))
            if floats(spec, opening):
                text += f" {bound(f'floating by {show(gap_of(spec, opening), unit)}')}"
            said.append((index, text))
    return "; ".join(_together(said, [opening.name for opening in openings]))
