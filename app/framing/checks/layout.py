"""What is wrong with windows and grooves once they have a place: G9, measured in the top mat.

How windows are held against each other is in `pairs`.
"""

from collections.abc import Iterator

from app.framing.blocks import Hole
from app.framing.checks.fault_list import FaultList
from app.framing.layout import Layout
from app.framing.openings import package_asked
from app.framing.pairs import Pair, close_pairs
from app.framing.windows import face_grown, groove_lines, holes_of
from app.lengths import ZERO, Length


def check_layout(found: FaultList) -> None:
    """Windows apart and inside the mat, solved gaps that are left, grooves on the board."""
    _check_solved_gaps(found)
    if found.layout is None or not found.layout.holes:
        return
    if found.layout.across is None:
        _check_inside(found, found.layout)
    _check_apart(found, found.layout)
    _check_bevels_apart(found, found.layout)


def _check_solved_gaps(found: FaultList) -> None:
    """G9: borders and windows must leave something of the package for the gaps."""
    spec, layout = found.spec, found.layout
    if layout is None or spec.borders is None or package_asked(spec) is None:
        return
    left, right, top, bottom = (length for _, length in spec.borders.sides())
    for way, axis, borders in (
        ("across", layout.across, left + right),
        ("down", layout.down, top + bottom),
    ):
        if axis is None or not axis.solved or axis.gap is None or axis.gap > ZERO:
            continue
        room = axis.whole - borders
        if axis.whole > axis.windows:
            found.add(
                f"arrangement.{way}",
                f"Nothing is left for the gaps {way}: the borders leave {found.say(room)} of the "
                f"glass size, and the windows need {found.say(axis.windows)}.",
            )


def _path(hole: Hole, field: str) -> str:
    return f"windows.{hole.opening}.{'slot' if hole.slot else field}"


def _sides(layout: Layout, hole: Hole) -> Iterator[tuple[str, str, Length]]:
    """(side, field of its place, board left there); below zero where it is outside."""
    yield "left", "x", hole.x
    yield "right", "x", layout.package.width - hole.right
    yield "top", "y", hole.y
    yield "bottom", "y", layout.package.height - hole.bottom


def _check_inside(found: FaultList, layout: Layout) -> None:
    for hole in layout.holes:
        for side, field, left in _sides(layout, hole):
            if left < ZERO:
                found.add(
                    _path(hole, field),
                    f"Window {hole.name} leaves the mat by {found.say(-left)} at the {side}.",
                )
            elif left == ZERO:
                found.add(
                    _path(hole, field),
                    f"Window {hole.name} leaves no border at the {side}; there must be some.",
                )


def _real(holes: tuple[Hole, ...]) -> tuple[Hole, ...]:
    """Return those whose size is one; the others have their own fault."""
    return tuple(hole for hole in holes if min(hole.size.width, hole.size.height) > ZERO)


def _check_apart(found: FaultList, layout: Layout) -> None:
    for pair in close_pairs(_real(layout.holes), ZERO):
        if _gap_is_at_fault(layout, pair):
            continue
        field = "x" if pair.across >= pair.down else "y"
        names = f"Windows {pair.one.name} and {pair.other.name}"
        found.add(
            _path(pair.other, field),
            f"{names} overlap by {found.say(-pair.bridge)}." if pair.bridge else f"{names} touch.",
        )


def _gap_is_at_fault(layout: Layout, pair: Pair[Hole]) -> bool:
    """Tell whether they stand in rows with a gap below zero, which has its fault already."""
    gaps = [axis.gap for axis in (layout.across, layout.down) if axis is not None]
    gap_is_wrong = any(gap is not None and gap <= ZERO for gap in gaps)
    return pair.one.opening != pair.other.opening and gap_is_wrong


def _check_bevels_apart(found: FaultList, layout: Layout) -> None:
    """G8: holes that are apart at the back may run together at the face."""
    for layer, (holes, mat) in enumerate(
        zip(holes_of(layout, found.spec), found.spec.mats, strict=True), start=1
    ):
        taken = face_grown(mat) * 2
        for pair in close_pairs(_real(holes), taken):
            if pair.bridge > ZERO:
                found.add(
                    f"mats.{layer - 1}.bevel",
                    f"Windows {pair.one.name} and {pair.other.name} are {found.say(pair.bridge)} "
                    f"apart at the back of mat {layer}, but its bevels take {found.say(taken)} "
                    "of that at the face; they must be further apart or the board thinner.",
                )


def check_groove(found: FaultList) -> None:
    """A groove is on the board, beside its window and not across another one."""
    spec, layout = found.spec, found.layout
    if spec.groove is None:
        return
    if not spec.mats:
        found.add("groove", f"A groove {found.say(spec.groove)} from the window needs a mat.")
        return
    if not found.above_zero("groove", "The distance of the groove", spec.groove) or layout is None:
        return
    for line in groove_lines(layout, spec, spec.groove):
        _check_line_inside(found, layout, line)
    _check_lines_off_windows(found, layout, spec.groove)


def _check_line_inside(found: FaultList, layout: Layout, line: Hole) -> None:
    for side, _, left in _sides(layout, line):
        if left <= ZERO:
            by = f" by {found.say(-left)}" if left else ""
            found.add(
                "groove", f"The groove around {_window(line)} leaves the mat{by} at the {side}."
            )


def _check_lines_off_windows(found: FaultList, layout: Layout, groove: Length) -> None:
    """The groove of one window reaches the larger hole of the other."""
    out = face_grown(found.spec.mats[0])
    for pair in close_pairs(_real(layout.holes), out + groove + max(out, ZERO)):
        for one, other in ((pair.one, pair.other), (pair.other, pair.one)):
            if not one.slot:
                found.add(
                    "groove", f"The groove around {_window(one)} runs across {_window(other)}."
                )


def _window(hole: Hole) -> str:
    return f"window {hole.name}" if hole.name else "the window"
