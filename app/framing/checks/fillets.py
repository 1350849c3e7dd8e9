"""What makes the fillet of a spec impossible: rules G12, G19, G20."""

from collections.abc import Iterator

from app.framing.arrangement import Shape
from app.framing.blocks import Hole
from app.framing.checks.fault_list import FaultList
from app.framing.fillets import innermost_holes, lined, shown_of
from app.framing.layout import Layout
from app.framing.openings import floats, openings_of
from app.framing.pairs import Pair, close_pairs
from app.framing.spec import Fillet
from app.lengths import ZERO, Length


def check_fillet(found: FaultList) -> None:
    """A profile that can be tucked, in straight windows with room behind the mat around them."""
    spec, fillet = found.spec, found.spec.fillet
    if fillet is None:
        return
    if not spec.presentation.matted or not spec.mats:
        found.add(
            "fillet",
            f"A fillet was given, but a piece shown as “{spec.presentation.value}” without a mat "
            "has nothing to tuck it behind; leave it out or give the piece a mat.",
        )
        return
    real = _check_profile(found, fillet)
    if found.layout is None:
        return
    holes = tuple(_real(innermost_holes(found.layout, spec)))
    _check_straight(found, holes)
    if real:
        _check_something_is_seen(found, fillet, lined(holes))
        _check_floats(found, fillet, lined(holes))
        _check_on_the_board(found, fillet, found.layout, lined(holes))
        _check_apart(found, fillet, holes)


def _real(holes: tuple[Hole, ...]) -> Iterator[Hole]:
    """Yield those whose size is one; the others have their own fault."""
    return (hole for hole in holes if min(hole.size.width, hole.size.height) > ZERO)


def _named(hole: Hole) -> str:
    return f"window {hole.name}" if hole.name else "the window"


def _check_profile(found: FaultList, fillet: Fillet) -> bool:
    """Tell whether face and tuck are such that the rest can be worked out."""
    face = found.above_zero("fillet.face", "The fillet's face", fillet.face)
    tuck = found.above_zero("fillet.tuck", "The tuck", fillet.tuck)
    found.above_zero("fillet.thickness", "The fillet's thickness", fillet.thickness)
    lip = found.not_negative("fillet.lip", "The fillet's lip", fillet.lip)
    if face and lip and fillet.lip >= fillet.face:
        found.add(
            "fillet.lip",
            f"The lip is {found.say(fillet.lip)}, but the fillet's whole face is "
            f"{found.say(fillet.face)}; the lip must be narrower.",
        )
    if face and tuck and fillet.tuck >= fillet.face:
        found.add(
            "fillet.tuck",
            f"The tuck is {found.say(fillet.tuck)}, but the fillet's whole face is "
            f"{found.say(fillet.face)}, so nothing of it would show; it must be under that.",
        )
    return face and ZERO < fillet.tuck < fillet.face


def _check_straight(found: FaultList, holes: tuple[Hole, ...]) -> None:
    """G20: a straight fillet goes around four corners and not along a curve."""
    for hole in holes:
        if hole.shape is not Shape.RECTANGLE:
            shaped = "an oval" if hole.shape is Shape.OVAL else "an arch"
            found.add(
                "fillet",
                f"A straight fillet cannot follow {shaped}: {_named(hole)} is one. Leave the "
                "fillet out or make the window a rectangle.",
            )


def _check_something_is_seen(found: FaultList, fillet: Fillet, holes: tuple[Hole, ...]) -> None:
    shown = shown_of(fillet)
    for hole in holes:
        shorter = min(hole.size.width, hole.size.height)
        if shown * 2 >= shorter:
            found.add(
                "fillet.face",
                f"A fillet that shows {found.say(shown)} at each edge leaves nothing to see in "
                f"{_named(hole)} of {found.say_size(hole.size)}; it must show under "
                f"{found.say(shorter / 2)}.",
            )


def _check_floats(found: FaultList, fillet: Fillet, holes: tuple[Hole, ...]) -> None:
    """G2: a fillet inside the window may not touch an artwork that floats there."""
    shown, openings = shown_of(fillet), openings_of(found.spec)
    for hole in holes:
        opening = openings[hole.opening]
        if opening.artwork is None or not floats(found.spec, opening):
            continue
        gap = min(
            (hole.size.width - opening.artwork.width) / 2,
            (hole.size.height - opening.artwork.height) / 2,
        )
        if gap <= shown:
            found.add(
                "fillet.face",
                f"The fillet shows {found.say(shown)} inside {_named(hole)}, but the artwork floats "
                f"only {found.say(gap)} off the mat and would be "
                f"{'touched' if gap == shown else 'covered'}; the gap must be over "
                f"{found.say(shown)}.",
            )


def _check_on_the_board(
    found: FaultList, fillet: Fillet, layout: Layout, holes: tuple[Hole, ...]
) -> None:
    """The last mat reaches as far as the fillet behind it (G7)."""
    for hole in holes:
        side, board = min(_board_beside(found, layout, hole), key=lambda one: one[1])
        if ZERO < board < fillet.tuck:
            found.add(
                "fillet.tuck",
                f"The fillet in {_named(hole)} is tucked {found.say(fillet.tuck)} behind the mat, "
                f"but there is only {found.say(board)} of mat at the {side}; the tuck cannot be "
                "more than that.",
            )


def _board_beside(found: FaultList, layout: Layout, hole: Hole) -> Iterator[tuple[str, Length]]:
    """(side, mat from the window to the edge of the last blank)."""
    package = layout.package
    trim = found.spec.under.trim if len(found.spec.mats) > 1 else ZERO
    yield "left", hole.x - trim
    yield "right", package.width - hole.right - trim
    yield "top", hole.y - trim
    yield "bottom", package.height - hole.bottom - trim


def _check_apart(found: FaultList, fillet: Fillet, holes: tuple[Hole, ...]) -> None:
    """Fillets behind one bridge, and a fillet beside a title slot (G9)."""
    for pair in close_pairs(holes, fillet.tuck * 2):
        slots = (pair.one.slot, pair.other.slot)
        if pair.bridge <= ZERO or all(slots):
            continue
        if not any(slots):
            found.add(
                "fillet.tuck",
                f"The fillets in windows {pair.one.name} and {pair.other.name} are tucked "
                f"{found.say(fillet.tuck)} each behind the {found.say(pair.bridge)} between them; "
                f"the tuck must be under {found.say(pair.bridge / 2)}.",
            )
        elif pair.bridge <= fillet.tuck:
            _shows_in_a_slot(found, fillet, pair)


def _shows_in_a_slot(found: FaultList, fillet: Fillet, pair: Pair[Hole]) -> None:
    window, slot = (pair.other, pair.one) if pair.one.slot else (pair.one, pair.other)
    found.add(
        "fillet.tuck",
        f"The fillet in window {window.name} is tucked {found.say(fillet.tuck)} behind the mat, "
        f"but {slot.name} is {found.say(pair.bridge)} away; the tuck must be under that.",
    )
