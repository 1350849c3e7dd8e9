"""What is said of one artwork behind several windows: that it was taken so and what the mat covers of it, or why it was not (G1, G9).

An artwork is meant for all windows where it is meant for none, so that it would show in another one if it lay behind any, and where
it is nearly right: less than half of the smallest window is missing or too much. Of any other one the size only describes the piece.
"""

from collections.abc import Iterator

from app.framing.behind_all import all_given, before_artworks, reach_of
from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.framing.spec import Edges
from app.framing.usual import LEAST_COVER
from app.framing.windows import Window
from app.lengths import ZERO, Size, say


def remarks_on_behind_all(dimensions: Dimensions) -> Iterator[Notice]:
    """Yield how one artwork lies behind all windows, or by how much it is too small or too large for that."""
    if dimensions.reaches_behind_all:
        yield from _taken(dimensions)
    elif dimensions.layers and all_given(dimensions.spec) and _meant_for_all(dimensions):
        yield _not_taken(dimensions)


def _taken(dimensions: Dimensions) -> Iterator[Notice]:
    spec, covered = dimensions.spec, _covered(dimensions)
    if len({length for _, length in covered.sides()}) == 1:
        said = f"{say(covered.left, spec.unit)} of it at each edge"
    else:
        said = ", ".join(f"{say(by, spec.unit)} at the {side}" for side, by in covered.sides())
        said = f"of it {said}"
    yield Notice(
        code="artwork-behind-all",
        message=f"The artwork, {say(spec.artwork, spec.unit)}, is taken to lie behind all windows: they are openings of a given "
        f"size, and it reaches behind every one. The mat covers {said}.",
        concern=Concern.NOTE,
    )
    little = [side for side, by in covered.sides() if by < LEAST_COVER]
    if little and not dimensions.fillets:
        yield Notice(
            code="artwork-barely-covered",
            message=f"Little of the artwork is covered at the {', '.join(little)}: it can slip out from behind the mat.",
        )


def _covered(dimensions: Dimensions) -> Edges:
    """Return what the last mat covers of it at each edge; its windows have the same middle as those of the top one (G3)."""
    spec, one = dimensions.spec, dimensions.behind_all
    assert one is not None, "there is one behind all windows"
    top = reach_of(before_artworks(spec, dimensions.windows_of(1)))
    shown = reach_of(_last(dimensions)).size
    left = top.x + (top.size.width - shown.width) / 2 - one.x
    over = top.y + (top.size.height - shown.height) / 2 - one.y
    return Edges(
        left=left,
        right=one.size.width - shown.width - left,
        top=over,
        bottom=one.size.height - shown.height - over,
    )


def _last(dimensions: Dimensions) -> tuple[Window, ...]:
    return before_artworks(dimensions.spec, dimensions.windows_of(len(dimensions.layers)))


def _meant_for_all(dimensions: Dimensions) -> bool:
    """Tell whether the artwork is nearly right, and in the middle behind any one window would show in another."""
    windows, artwork = _last(dimensions), dimensions.spec.artwork
    reach, glass = reach_of(windows).size, dimensions.package
    across = min(each.size.width for each in windows) / 2
    down = min(each.size.height for each in windows) / 2
    nearly = (
        reach.width - across < artwork.width < glass.width + across
        and reach.height - down < artwork.height < glass.height + down
    )
    return nearly and all(
        any(_shows(artwork, behind, other) for other in windows if other is not behind)
        for behind in windows
    )


def _shows(artwork: Size, behind: Window, other: Window) -> bool:
    left = behind.x + (behind.size.width - artwork.width) / 2
    top = behind.y + (behind.size.height - artwork.height) / 2
    across = left < other.x + other.size.width and other.x < left + artwork.width
    return across and top < other.y + other.size.height and other.y < top + artwork.height


def _not_taken(dimensions: Dimensions) -> Notice:
    spec = dimensions.spec
    artwork, glass, reach = spec.artwork, dimensions.package, reach_of(_last(dimensions)).size
    called, instead = (
        f"The artwork, {say(artwork, spec.unit)},",
        "As it is, each window is taken to have an artwork of its own.",
    )
    over = _larger(dimensions, artwork, glass)
    if over:
        return Notice(
            code="artwork-not-behind-all",
            message=f"{called} is {over} than its {spec.package_word}, {say(glass, spec.unit)}, so it does not go behind all "
            f"windows. {instead}",
            concern=Concern.RISK,
        )
    return Notice(
        code="artwork-not-behind-all",
        message=f"{called} would have to be {_larger(dimensions, reach, artwork)} to reach behind all windows, which take "
        f"{say(reach, spec.unit)}. {instead}",
    )


def _larger(dimensions: Dimensions, one: Size, than: Size) -> str:
    """Say by how much one size is larger than another: "2 mm wider and 1 mm higher"; "" where it is not."""
    by = ((one.width - than.width, "wider"), (one.height - than.height, "higher"))
    return " and ".join(
        f"{say(length, dimensions.spec.unit)} {word}" for length, word in by if length > ZERO
    )
