"""Ways to damage a true cutting plan. Each gives a plan that is truly wrong, or None where it cannot.

What is shifted is shifted by half a step of the grid that true plans lie on, so that no other true
plan comes of it. A cut counts only where a part or an offcut borders on it: moving one between
waste and waste harms nobody.
"""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from random import Random

from app.cutting import (
    OpenedSheet,
    OpenedStick,
    Sheet,
    SheetCut,
    SheetPart,
    SheetPlan,
    Stick,
    StickPart,
    StickPlan,
    StickRest,
    Unplaced,
    Way,
)
from app.lengths import Length, Size
from tests.property.cutting_plans import STEP, half

type Plan = StickPlan | SheetPlan


def _put[T](items: tuple[T, ...], index: int, *new: T) -> tuple[T, ...]:
    return (*items[:index], *new, *items[index + 1 :])


def _any_bin[P: (StickPlan, SheetPlan)](plan: P, chance: Random, change) -> P | None:
    """One opened stick or sheet changed, of those that the change is one for."""
    order = list(range(len(plan.bins)))
    chance.shuffle(order)
    for index in order:
        changed = change(plan.bins[index])
        if changed is not None:
            new = changed if isinstance(changed, tuple) else (changed,)
            return replace(plan, bins=_put(plan.bins, index, *new))
    return None


def _any_part(plan, chance, change):
    """One placed part changed; the change gives the parts that stand in its place, or None."""

    def in_bin(opened):
        order = list(range(len(opened.parts)))
        chance.shuffle(order)
        for index in order:
            new = change(opened.parts[index])
            if new is not None:
                return replace(opened, parts=_put(opened.parts, index, *new))
        return None

    return _any_bin(plan, chance, in_bin)


# --- of both kinds ---------------------------------------------------------------------------


def _a_part_is_placed_twice(plan, chance):
    return _any_part(plan, chance, lambda laid: (laid, laid))


def _a_part_is_lost(plan, chance):
    return _any_part(plan, chance, lambda _: ())


def _a_part_nobody_asked_for(plan, chance):
    return _any_part(plan, chance, lambda laid: (replace(laid, id="nobody's"),))


def _a_copy_that_is_not_wanted(plan, chance):
    return _any_part(plan, chance, lambda laid: (replace(laid, copy=laid.copy + 99),))


def _a_copy_of_none(plan, chance):
    return _any_part(plan, chance, lambda laid: (replace(laid, copy=0),))


def _the_same_copy_twice(plan, chance):
    return _any_part(plan, chance, lambda laid: (replace(laid, copy=1),) if laid.copy > 1 else None)


def _ids_are_exchanged(plan, chance):
    """Of two parts of different sizes; their copies stay the numbers of their new ids."""
    sizes = {part.id: _sides(part) for part in plan.asked.parts}
    laid = [(b, p) for b, each in enumerate(plan.bins) for p in range(len(each.parts))]
    chance.shuffle(laid)
    first = plan.bins[laid[0][0]].parts[laid[0][1]]
    for bin_, part in laid[1:]:
        other = plan.bins[bin_].parts[part]
        if sizes[other.id] != sizes[first.id]:
            bins = list(plan.bins)
            for (b, p), named in ((laid[0], other), ((bin_, part), first)):
                new = replace(bins[b].parts[p], id=named.id, copy=named.copy)
                bins[b] = replace(bins[b], parts=_put(bins[b].parts, p, new))
            return replace(plan, bins=tuple(bins))
    return None


def _sides(part) -> tuple[Length, ...]:
    if isinstance(part, StickPart):
        return (part.length,)
    return tuple(sorted((part.size.width, part.size.height)))


def _a_bin_is_lost(plan, chance):
    index = chance.randrange(len(plan.bins))
    return replace(plan, bins=_put(plan.bins, index))


def _a_bin_is_given_twice(plan, chance):
    return _any_bin(plan, chance, lambda opened: (opened, opened))


def _stock_that_is_not_on_offer(plan, chance):
    return _any_bin(plan, chance, lambda opened: replace(opened, stock="nobody's"))


def _a_number_that_is_not_opened(plan, chance):
    return _any_bin(plan, chance, lambda opened: replace(opened, copy=opened.copy + 7))


def _more_than_there_is(plan, chance):
    stock = list(plan.asked.stock)
    for index, each in enumerate(stock):
        if plan.opened[each.id] > 1:
            stock[index] = replace(each, copies=plan.opened[each.id] - 1)
            return replace(plan, asked=replace(plan.asked, stock=tuple(stock)))
    return None


def _opened_for_nothing(plan, chance):
    stock = plan.asked.stock[0]
    if stock.copies is not None and plan.opened[stock.id] >= stock.copies:
        return None
    empty = OpenedStick if isinstance(plan, StickPlan) else OpenedSheet
    more = {} if isinstance(plan, StickPlan) else {"cuts": ()}
    new = empty(stock=stock.id, copy=plan.opened[stock.id] + 1, parts=(), **more)
    return replace(plan, bins=(*plan.bins, new))


def _a_bound_above_the_cost(plan, chance):
    return replace(plan, lower_bound=plan.cost + Fraction(1, chance.randint(1, 999)))


def _a_bound_below_zero(plan, chance):
    return replace(plan, lower_bound=Fraction(-1, chance.randint(1, 9)))


def _what_is_left_out_is_not_said(plan, chance):
    return replace(plan, unplaced=())


def _more_is_left_out_than_wanted(plan, chance):
    first = plan.unplaced[0]
    return replace(plan, unplaced=(replace(first, copies=first.copies + 1),))


def _no_reason_is_given(plan, chance):
    first = plan.unplaced[0]
    return replace(plan, unplaced=(replace(first, **{chance.choice(("code", "reason")): ""}),))


def _a_placed_part_is_left_out_too(plan, chance):
    id = plan.bins[0].parts[0].id
    return replace(plan, unplaced=(*plan.unplaced, Unplaced(id=id, copies=1, code="c", reason="r")))


def _left_out_though_there_is_stock(plan, chance):
    stock = next((each for each in plan.asked.stock if each.copies is None), None)
    if stock is None:
        return None
    step = STEP[plan.asked.unit]
    new = (
        StickPart(id="small", length=step)
        if isinstance(plan, StickPlan)
        else SheetPart(id="small", size=Size(step, step))
    )
    return replace(
        plan,
        asked=replace(plan.asked, parts=(*plan.asked.parts, new)),
        unplaced=(*plan.unplaced, Unplaced(id="small", copies=1, code="c", reason="r")),
    )


BOTH = {
    damage.__name__.strip("_").replace("_", " "): damage
    for damage in (
        _a_part_is_placed_twice,
        _a_part_is_lost,
        _a_part_nobody_asked_for,
        _a_copy_that_is_not_wanted,
        _a_copy_of_none,
        _the_same_copy_twice,
        _ids_are_exchanged,
        _a_bin_is_lost,
        _a_bin_is_given_twice,
        _stock_that_is_not_on_offer,
        _a_number_that_is_not_opened,
        _more_than_there_is,
        _opened_for_nothing,
        _a_bound_above_the_cost,
        _a_bound_below_zero,
        _what_is_left_out_is_not_said,
        _more_is_left_out_than_wanted,
        _no_reason_is_given,
        _a_placed_part_is_left_out_too,
        _left_out_though_there_is_stock,
    )
}


# --- of sticks -------------------------------------------------------------------------------


def _either_way(chance: Random, length: Length) -> Length:
    return length if chance.random() < 0.5 else -length


def _a_rail_is_moved(plan, chance):
    by = _either_way(chance, half(plan.asked.unit))
    return _any_part(plan, chance, lambda laid: (replace(laid, at=laid.at + by),))


def _a_rail_is_resized(plan, chance):
    by = half(plan.asked.unit)
    return _any_part(plan, chance, lambda laid: (replace(laid, length=laid.length + by),))


def _rails_are_out_of_order(plan, chance):
    return _any_bin(
        plan,
        chance,
        lambda opened: replace(opened, parts=opened.parts[::-1]) if len(opened.parts) > 1 else None,
    )


def _more_kerf_than_was_left(plan, chance):
    """A thicker saw, for which the places of old are too close or the offcut begins too soon."""
    if all(len(each.parts) == 1 and each.offcut is None for each in plan.bins):
        return None
    return replace(plan, asked=replace(plan.asked, kerf=plan.asked.kerf + half(plan.asked.unit)))


def _more_trim_than_was_left(plan, chance):
    trim = plan.asked.end_trim + half(plan.asked.unit)
    return replace(plan, asked=replace(plan.asked, end_trim=trim))


def _sticks_are_shorter(plan, chance):
    """The stick on offer ends before the last part does."""
    opened = chance.choice(plan.bins)
    last = opened.parts[-1]
    short = last.at + last.length + plan.asked.end_trim - half(plan.asked.unit)
    stock = tuple(
        replace(each, length=short) if each.id == opened.stock else each
        for each in plan.asked.stock
    )
    return replace(plan, asked=replace(plan.asked, stock=stock))


def _another_stick(plan, chance):
    """The same parts and offcut, said to come of a stick half a step longer."""
    unit = plan.asked.unit
    opened = next((each for each in plan.bins if each.offcut is not None), None)
    if opened is None:
        return None
    lengths = {each.id: each.length for each in plan.asked.stock}
    other = Stick(id="other", length=lengths[opened.stock] + half(unit), cost=Fraction(9))
    index = plan.bins.index(opened)
    return replace(
        plan,
        asked=replace(plan.asked, stock=(*plan.asked.stock, other)),
        bins=_put(plan.bins, index, replace(opened, stock="other", copy=1)),
    )


def _offcut_changed(change):
    def damage(plan, chance):
        by = half(plan.asked.unit)
        return _any_bin(
            plan,
            chance,
            lambda opened: (
                replace(opened, offcut=change(opened.offcut, by)) if opened.offcut else None
            ),
        )

    return damage


def _an_offcut_too_short_to_keep(plan, chance):
    longest = max((e.offcut.length for e in plan.bins if e.offcut), default=None)
    if longest is None:
        return None
    return replace(plan, asked=replace(plan.asked, keep=longest + half(plan.asked.unit)))


def _an_offcut_of_nothing(plan, chance):
    def add(opened):
        if opened.offcut is not None:
            return None
        last = opened.parts[-1]
        at = last.at + last.length
        return replace(opened, offcut=StickRest(at=at, length=half(plan.asked.unit)))

    return _any_bin(plan, chance, add)


STICK_DAMAGES: dict[str, Callable[[StickPlan, Random], StickPlan | None]] = BOTH | {
    "a rail is moved": _a_rail_is_moved,
    "a rail is resized": _a_rail_is_resized,
    "rails are out of order": _rails_are_out_of_order,
    "more kerf than was left": _more_kerf_than_was_left,
    "more trim than was left": _more_trim_than_was_left,
    "sticks are shorter": _sticks_are_shorter,
    "another stick": _another_stick,
    "an offcut is lost": _offcut_changed(lambda _rest, _by: None),
    "an offcut is moved": _offcut_changed(lambda rest, by: replace(rest, at=rest.at + by)),
    "an offcut is too long": _offcut_changed(
        lambda rest, by: replace(rest, length=rest.length + by)
    ),
    "an offcut reaches back": _offcut_changed(
        lambda rest, by: StickRest(at=rest.at - by, length=rest.length + by)
    ),
    "an offcut is not all that is left": _offcut_changed(
        lambda rest, by: replace(rest, length=rest.length - by)
    ),
    "an offcut too short to keep": _an_offcut_too_short_to_keep,
    "an offcut of nothing": _an_offcut_of_nothing,
}


# --- of sheets -------------------------------------------------------------------------------


def _edges(each) -> tuple[Length, Length, Length, Length]:
    return each.x, each.y, each.x + each.size.width, each.y + each.size.height


def _borders(cut: SheetCut, opened: OpenedSheet, kerf: Length, *, before: bool = True) -> bool:
    """Whether a part or an offcut borders on a cut. before: on its near side too."""
    for each in (*opened.parts, *opened.offcuts):
        left, top, right, bottom = _edges(each)
        if cut.way is Way.ACROSS:
            begin, end, first, last = top, bottom, left, right
        else:
            begin, end, first, last = left, right, top, bottom
        beside = cut.start <= first and last <= cut.end
        if beside and (begin == cut.at + kerf or (before and end == cut.at)):
            return True
    return False


def _any_cut(plan, chance, change, *, bordered: bool, trims: bool = True):
    """One cut changed. bordered: one that a part or an offcut borders on. trims: or one that trims."""

    def in_bin(opened):
        order = list(range(len(opened.cuts)))
        chance.shuffle(order)
        for index in order:
            cut = opened.cuts[index]
            if cut.stage == 0 and not trims:
                continue
            if not bordered or _borders(cut, opened, plan.asked.kerf):
                return replace(opened, cuts=_put(opened.cuts, index, *change(cut)))
        return None

    return _any_bin(plan, chance, in_bin)


def _a_part_is_moved(plan, chance):
    by = _either_way(chance, half(plan.asked.unit))
    side = chance.choice("xy")
    return _any_part(
        plan, chance, lambda laid: (replace(laid, **{side: getattr(laid, side) + by}),)
    )


def _a_part_is_resized(plan, chance):
    by = half(plan.asked.unit)
    return _any_part(
        plan,
        chance,
        lambda laid: (replace(laid, size=Size(laid.size.width + by, laid.size.height - by)),),
    )


def _a_part_is_wanted_larger(plan, chance):
    """Asked for and laid half a step larger than the piece that the cuts free."""
    by = half(plan.asked.unit)
    laid = chance.choice(chance.choice(plan.bins).parts)

    def grown(size: Size) -> Size:
        return Size(size.width + by, size.height + by)

    parts = tuple(
        replace(each, size=grown(each.size)) if each.id == laid.id else each
        for each in plan.asked.parts
    )
    bins = tuple(
        replace(
            opened,
            parts=tuple(
                replace(each, size=grown(each.size)) if each.id == laid.id else each
                for each in opened.parts
            ),
        )
        for opened in plan.bins
    )
    return replace(plan, asked=replace(plan.asked, parts=parts), bins=bins)


def _parts_lie_on_each_other(plan, chance):
    def in_bin(opened):
        if len(opened.parts) < 2:
            return None
        first, second = chance.sample(range(len(opened.parts)), 2)
        over = opened.parts[first]
        moved = replace(opened.parts[second], x=over.x, y=over.y)
        return replace(opened, parts=_put(opened.parts, second, moved))

    return _any_bin(plan, chance, in_bin)


def _a_part_is_in_the_trim(plan, chance):
    by = half(plan.asked.unit)
    edge = plan.asked.trim
    for index, opened in enumerate(plan.bins):
        for at, laid in enumerate(opened.parts):
            if edge in (laid.x, laid.y):
                side = "x" if laid.x == edge else "y"
                moved = replace(laid, **{side: edge - by})
                new = replace(opened, parts=_put(opened.parts, at, moved))
                return replace(plan, bins=_put(plan.bins, index, new))
    return None


def _a_part_may_not_be_turned(plan, chance):
    turned = {p.id for b in plan.bins for p in b.parts if p.turned}
    if not turned:
        return None
    parts = tuple(
        replace(each, turn=False) if each.id in turned else each for each in plan.asked.parts
    )
    return replace(plan, asked=replace(plan.asked, parts=parts))


def _a_part_is_said_to_be_turned(plan, chance):
    return _any_part(
        plan,
        chance,
        lambda laid: (
            (replace(laid, turned=not laid.turned),)
            if laid.size.width != laid.size.height
            else None
        ),
    )


def _a_cut_is_shifted(plan, chance):
    by = _either_way(chance, half(plan.asked.unit))
    return _any_cut(plan, chance, lambda cut: (replace(cut, at=cut.at + by),), bordered=True)


def _a_cut_is_lost(plan, chance):
    return _any_cut(plan, chance, lambda _: (), bordered=True)


def _a_cut_is_made_twice(plan, chance):
    """Where nothing is lost to the blade; a blade may run through its own kerf again."""
    if plan.asked.kerf:
        return None
    return _any_cut(plan, chance, lambda cut: (cut, cut), bordered=False)


def _a_cut_is_shorter(plan, chance):
    by = half(plan.asked.unit)
    return _any_cut(plan, chance, lambda cut: (replace(cut, end=cut.end - by),), bordered=False)


def _a_cut_begins_late(plan, chance):
    by = half(plan.asked.unit)
    return _any_cut(plan, chance, lambda cut: (replace(cut, start=cut.start + by),), bordered=False)


def _a_cut_is_longer(plan, chance):
    by = half(plan.asked.unit)
    return _any_cut(plan, chance, lambda cut: (replace(cut, end=cut.end + by),), bordered=False)


def _a_cut_is_of_another_stage(plan, chance):
    by = chance.choice((-1, 1))
    return _any_cut(
        plan, chance, lambda cut: (replace(cut, stage=cut.stage + by),), bordered=False, trims=False
    )


def _a_cut_goes_the_other_way(plan, chance):
    """In a sheet that is not square the same numbers cross no piece, or another than they freed."""

    def other(cut: SheetCut) -> tuple[SheetCut]:
        return (replace(cut, way=Way.DOWN if cut.way is Way.ACROSS else Way.ACROSS),)

    squares = [each for each in plan.asked.stock if each.size.width == each.size.height]
    return None if squares else _any_cut(plan, chance, other, bordered=True, trims=False)


def _cuts_before_their_piece_is_free(plan, chance):
    """The first cut made last, where the second one runs the other way on a piece it freed."""

    def in_bin(opened):
        trims = sum(cut.stage == 0 for cut in opened.cuts)
        first, *rest = opened.cuts[trims:] or (None,)
        if first is None or not rest or rest[0].way is first.way:
            return None
        return replace(opened, cuts=(*opened.cuts[:trims], *rest, first))

    return _any_bin(plan, chance, in_bin)


def _no_cuts(plan, chance):
    return _any_bin(plan, chance, lambda opened: replace(opened, cuts=()) if opened.cuts else None)


def _fewer_stages_allowed(plan, chance):
    """Two fewer than the deepest cut, so that it is no mere last trim."""
    deepest = max((cut.stage for each in plan.bins for cut in each.cuts), default=0)
    if deepest < 4:
        return None
    return replace(plan, asked=replace(plan.asked, stages=deepest - 2))


def _a_thicker_blade(plan, chance):
    by = half(plan.asked.unit)
    bordered = any(
        _borders(cut, each, plan.asked.kerf, before=False)
        for each in plan.bins
        for cut in each.cuts
        if cut.stage
    )
    asked = replace(plan.asked, kerf=plan.asked.kerf + by)
    return replace(plan, asked=asked) if bordered else None


def _more_is_trimmed(plan, chance):
    """Half a step more than was left at the edges, where something lies at one."""
    trim, sizes = plan.asked.trim, {each.id: each.size for each in plan.asked.stock}
    at_edge = any(
        trim in (each.x, each.y)
        or each.x + each.size.width == sizes[opened.stock].width - trim
        or each.y + each.size.height == sizes[opened.stock].height - trim
        for opened in plan.bins
        for each in (*opened.parts, *opened.offcuts)
    )
    asked = replace(plan.asked, trim=trim + half(plan.asked.unit))
    return replace(plan, asked=asked) if at_edge else None


def _another_sheet(plan, chance):
    """The same cuts on a sheet half a step smaller each way."""
    by = half(plan.asked.unit)
    index = chance.randrange(len(plan.bins))
    opened = plan.bins[index]
    size = next(each.size for each in plan.asked.stock if each.id == opened.stock)
    other = Sheet(id="other", size=Size(size.width - by, size.height - by), cost=Fraction(9))
    return replace(
        plan,
        asked=replace(plan.asked, stock=(*plan.asked.stock, other)),
        bins=_put(plan.bins, index, replace(opened, stock="other", copy=1)),
    )


def _rest_changed(change):
    """change: of one offcut to those in its place."""

    def damage(plan, chance):
        by = half(plan.asked.unit)

        def in_bin(opened):
            if not opened.offcuts:
                return None
            index = chance.randrange(len(opened.offcuts))
            new = change(opened.offcuts[index], by)
            return replace(opened, offcuts=_put(opened.offcuts, index, *new))

        return _any_bin(plan, chance, in_bin)

    return damage


def _an_offcut_too_small_to_keep(plan, chance):
    if not any(each.offcuts for each in plan.bins):
        return None
    step = STEP[plan.asked.unit]
    return replace(plan, asked=replace(plan.asked, keep=Size(step * 999, step * 999)))


def _an_offcut_over_a_part(plan, chance):
    def in_bin(opened):
        if not opened.offcuts:
            return None
        over = chance.choice(opened.parts)
        moved = replace(opened.offcuts[0], x=over.x, y=over.y)
        return replace(opened, offcuts=_put(opened.offcuts, 0, moved))

    return _any_bin(plan, chance, in_bin)


SHEET_DAMAGES: dict[str, Callable[[SheetPlan, Random], SheetPlan | None]] = BOTH | {
    "a part is moved": _a_part_is_moved,
    "a part is resized": _a_part_is_resized,
    "a part is wanted larger": _a_part_is_wanted_larger,
    "parts lie on each other": _parts_lie_on_each_other,
    "a part is in the trim": _a_part_is_in_the_trim,
    "a part may not be turned": _a_part_may_not_be_turned,
    "a part is said to be turned": _a_part_is_said_to_be_turned,
    "a cut is shifted": _a_cut_is_shifted,
    "a cut is lost": _a_cut_is_lost,
    "a cut is made twice": _a_cut_is_made_twice,
    "a cut is shorter": _a_cut_is_shorter,
    "a cut begins late": _a_cut_begins_late,
    "a cut is longer": _a_cut_is_longer,
    "a cut is of another stage": _a_cut_is_of_another_stage,
    "a cut goes the other way": _a_cut_goes_the_other_way,
    "cuts before their piece is free": _cuts_before_their_piece_is_free,
    "no cuts": _no_cuts,
    "fewer stages allowed": _fewer_stages_allowed,
    "a thicker blade": _a_thicker_blade,
    "more is trimmed": _more_is_trimmed,
    "another sheet": _another_sheet,
    "an offcut is lost": _rest_changed(lambda _rest, _by: ()),
    "an offcut is given twice": _rest_changed(lambda rest, _by: (rest, rest)),
    "an offcut is moved": _rest_changed(lambda rest, by: (replace(rest, x=rest.x + by),)),
    "an offcut is larger": _rest_changed(
        lambda rest, by: (replace(rest, size=Size(rest.size.width, rest.size.height + by)),)
    ),
    "an offcut too small to keep": _an_offcut_too_small_to_keep,
    "an offcut over a part": _an_offcut_over_a_part,
}
