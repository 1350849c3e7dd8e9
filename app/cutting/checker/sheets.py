"""The proof of a plan for sheets (C2, C4): sizes and places, and the cuts made over again."""

from collections import Counter
from collections.abc import Iterator, Mapping

from app.cutting.checker.counts import (
    faults_of_bound,
    faults_of_left_out,
    faults_of_parts,
    faults_of_stock,
    named,
    named_bin,
    unopened_stock,
)
from app.cutting.checker.cuts import Corners, CutPiece, Pieces, WrongCutError
from app.cutting.checker.places import NamedPlace, too_close
from app.cutting.plan import LaidPart, OpenedSheet, SheetPlan, SheetRest
from app.cutting.problem import Sheet, SheetPart, SheetProblem
from app.lengths import ZERO, Size, Unit, say, show


def faults_of_sheet_plan(plan: SheetPlan) -> tuple[str, ...]:
    """Return what is wrong with a plan, in sentences; empty where it is proven.

    Proven: every wanted copy is placed once or left out for a reason, with no stock unopened that
    would hold it; stock exists and is opened once; parts have their sizes, turned only where they
    may be; parts and offcuts lie between the trims, a kerf apart; the cuts, made over again from
    the whole sheet on, each cross one piece from edge to edge within the stages and free every part
    and every offcut as one piece; offcuts are those pieces left over that are worth keeping, and
    all of them; the bound is not above the cost.
    """
    return tuple(_faults(plan))


def _faults(plan: SheetPlan) -> Iterator[str]:
    yield from faults_of_parts(plan)
    yield from faults_of_stock(plan)
    parts = {part.id: part for part in plan.asked.parts}
    sheets = {sheet.id: sheet for sheet in plan.asked.stock}
    for opened in plan.bins:
        yield from _faults_of_sizes(opened, parts, plan.asked)
        if opened.stock in sheets:
            yield from _faults_of_sheet(opened, sheets[opened.stock], plan.asked)
    yield from faults_of_left_out(
        plan.unplaced,
        parts,
        _largest(unopened_stock(plan.asked.stock, plan.opened)),
        lambda sheet, part: _holds(plan.asked.usable(sheet), part),
    )
    yield from faults_of_bound(plan)


def _largest(sheets: Iterator[Sheet]) -> Iterator[Sheet]:
    """Yield those that lie within no other: together they hold what any of them holds."""
    highest = ZERO
    for sheet in sorted(sheets, key=lambda each: (-each.size.width, -each.size.height)):
        if sheet.size.height > highest:
            highest = sheet.size.height
            yield sheet


def _holds(usable: Size, part: SheetPart) -> bool:
    ways = (part.size, part.size.turned()) if part.turn else (part.size,)
    return any(way.width <= usable.width and way.height <= usable.height for way in ways)


def _faults_of_sizes(
    opened: OpenedSheet, parts: Mapping[str, SheetPart], asked: SheetProblem
) -> Iterator[str]:
    for laid in opened.parts:
        part = parts.get(laid.id)
        if part is None:
            continue
        if laid.turned and not part.turn:
            yield f"{named(laid)} lies turned, which it may not."
        wanted = part.size.turned() if laid.turned else part.size
        if laid.size != wanted:
            yield (
                f"{named(laid)} lies as {say(laid.size, asked.unit)} in the plan; "
                f"{say(wanted, asked.unit)} is wanted{' of one turned' if laid.turned else ''}."
            )


def _faults_of_sheet(opened: OpenedSheet, sheet: Sheet, asked: SheetProblem) -> Iterator[str]:
    places = _places(opened, asked)
    sound = [place for place in places if place.left < place.right and place.top < place.bottom]
    for place in places:
        yield from _faults_of_place(place, opened, sheet, asked)
    for one, other in too_close(sound, asked.kerf):
        how = "overlap" if one.overlaps(other) else "lie closer than the kerf"
        yield f"{_begun(one.name)} and {other.name} on {named_bin(opened)} {how}."
    pieces = Pieces(asked, sheet.size)
    try:
        for cut in opened.cuts:
            pieces.cut(cut)
    except WrongCutError as wrong:
        yield f"On {named_bin(opened)}: {wrong}"
        return
    yield from _faults_of_pieces(opened, pieces.left(), asked)
    yield from _faults_of_rests(opened, sheet, pieces.left(), asked)


def _faults_of_place(
    place: NamedPlace, opened: OpenedSheet, sheet: Sheet, asked: SheetProblem
) -> Iterator[str]:
    trim, size = asked.trim, sheet.size
    if place.left >= place.right or place.top >= place.bottom:
        yield f"{_begun(place.name)} on {named_bin(opened)} has no size."
    elif (
        place.left < trim
        or place.top < trim
        or place.right > size.width - trim
        or place.bottom > size.height - trim
    ):
        yield f"{_begun(place.name)} reaches beyond what can be used of {named_bin(opened)}."


def _faults_of_pieces(
    opened: OpenedSheet, left: Mapping[Corners, CutPiece], asked: SheetProblem
) -> Iterator[str]:
    """Parts and offcuts are pieces of their own, and what was trimmed beyond the stages is a part."""
    trimmed: Counter[int | None] = Counter()
    for laid in opened.parts:
        piece = left.get(_corners(_place_of_part(laid)))
        if piece is None:
            yield f"{named(laid)} is not a piece that the cuts on {named_bin(opened)} free."
        else:
            trimmed[piece.beyond] += 1
    for rest in opened.offcuts:
        place = _place_of_rest(rest, asked.unit)
        if _corners(place) not in left:
            yield f"{_begun(place.name)} is not a piece that the cuts on {named_bin(opened)} free."
    for beyond in dict.fromkeys(piece.beyond for piece in left.values()):
        if beyond is not None and trimmed[beyond] != 1:
            yield (
                f"Cut {beyond} on {named_bin(opened)} is one beyond the {asked.stages} stages and "
                f"frees {trimmed[beyond]} parts; a last cut may only trim one."
            )


def _faults_of_rests(
    opened: OpenedSheet, sheet: Sheet, left: Mapping[Corners, CutPiece], asked: SheetProblem
) -> Iterator[str]:
    """Check that what is left over is an offcut exactly where it is worth keeping (C3)."""
    for rest in opened.offcuts:
        if not asked.worth_keeping(rest.size):
            yield (
                f"The offcut of {say(rest.size, asked.unit)} on {named_bin(opened)} is not worth keeping."
            )
    used = {_corners(place) for place in _places(opened, asked)}
    for corners in left:
        size = _within_trims(corners, sheet, asked)
        sound = size.width > ZERO and size.height > ZERO
        if corners not in used and sound and opened.parts and asked.worth_keeping(size):
            yield (
                f"{say(size, asked.unit)} are left over on {named_bin(opened)} and worth keeping, but "
                "no offcut of the plan."
            )


def _within_trims(corners: Corners, sheet: Sheet, asked: SheetProblem) -> Size:
    left, top, right, bottom = corners
    return Size(
        min(right, sheet.size.width - asked.trim) - max(left, asked.trim),
        min(bottom, sheet.size.height - asked.trim) - max(top, asked.trim),
    )


def _places(opened: OpenedSheet, asked: SheetProblem) -> list[NamedPlace]:
    """Return the place of every part and every offcut."""
    rests = (_place_of_rest(rest, asked.unit) for rest in opened.offcuts)
    return [*map(_place_of_part, opened.parts), *rests]


def _place_of_part(laid: LaidPart) -> NamedPlace:
    return NamedPlace.of(named(laid), laid.x, laid.y, laid.size)


def _place_of_rest(rest: SheetRest, unit: Unit) -> NamedPlace:
    x, y = (show(each, unit, mark=True) for each in (rest.x, rest.y))
    return NamedPlace.of(
        f"the offcut at {x} from the left, {y} from the top", rest.x, rest.y, rest.size
    )


def _begun(name: str) -> str:
    """Return a name as a sentence begins with it."""
    return name[0].upper() + name[1:]


def _corners(place: NamedPlace) -> Corners:
    return (place.left, place.top, place.right, place.bottom)
