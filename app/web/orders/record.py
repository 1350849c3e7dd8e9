"""The record of changes on an order's page: of stages, designs, spoiled parts and what was agreed, the latest first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from app.money import show_money
from app.orders import DesignAct, DesignChange, Order, Stage, StageChange, design_letter
from app.orders.quoting.form import ARTWORK_FACTS
from app.orders.reductions import NewReduction
from app.services.spoiling import PartNoted
from app.storage import Frozen
from app.web.orders.acts import by_number
from app.web.orders.line_cards import happened


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """One line of the record of changes."""

    at: datetime
    what: str
    by: str


type Histories = Mapping[tuple[int, int], Sequence[Frozen]]
"""By the numbers of a piece and a design, all that was ever agreed for it."""


def record_of(
    order: Order, histories: Histories, noted: Mapping[int, Sequence[PartNoted]]
) -> tuple[ChangeView, ...]:
    """Return every change of stage, of designs, of spoiled parts and every new agreement of each piece and line, the
    latest first. noted: of spoiled parts, by the piece's id.
    """
    several = len(order.pieces) > 1 or bool(order.lines)
    views = [
        ChangeView(at=act.at, what=_of_piece(piece.number, several) + _of_design(act), by=act.by)
        for piece in order.pieces
        for act in piece.design_changes
    ]
    views += [
        ChangeView(
            at=change.at,
            what=_of_piece(piece.number, several) + _of_stage(change),
            by=change.by,
        )
        for piece in order.pieces
        for change in piece.changes
    ]
    views += [
        ChangeView(at=each.at, what=_of_piece(piece.number, several) + each.what, by=each.by)
        for piece in order.pieces
        for each in noted.get(piece.id, ())
    ]
    views += dict.fromkeys(
        ChangeView(
            at=new.at, what=_of_piece(number, several) + _said_anew(old, new, letter), by=new.by
        )
        for (number, design), history in histories.items()
        for letter in [design_letter(design) if number in _with_designs(order) else ""]
        for old, new in pairwise(history)
    )
    views += [ChangeView(at=each.at, what=each.what, by=each.by) for each in happened(order)]
    views += [
        ChangeView(at=each.at, what=_of_reduction(each), by=each.by) for each in _taken_off(order)
    ]
    oldest_first = sorted(views, key=lambda view: view.at)
    return tuple(oldest_first[::-1])


def _taken_off(order: Order) -> tuple[NewReduction, ...]:
    """Return what was taken off while it was a quote; what was taken off an order later is told with its money."""
    ordered = [
        change.at
        for each in order.all_of_it
        for change in each.changes
        if change.new is Stage.ORDERED and not change.takes_back
    ]
    entries = (each.entry for each in order.reductions)
    return tuple(entry for entry in entries if not ordered or entry.at < min(ordered))


def _of_reduction(reduction: NewReduction) -> str:
    """Say what was taken off the whole, or that it was undone."""
    what = f"{reduction.reason}, {show_money(abs(reduction.amount))} off"
    return what if reduction.takes_back is None else f"undone: {what}"


def _of_stage(change: StageChange) -> str:
    """Say what a change of stage was."""
    if change.of_deletion:
        return change.of_deletion
    if change.takes_back:
        return f"undone, {change.old} → {change.new}"
    return by_number(change) + change.new.value + (f" – {change.note}" if change.note else "")


def _of_piece(number: int, several: bool) -> str:
    return f"Piece {number}: " if several else ""


def _with_designs(order: Order) -> frozenset[int]:
    """Return the numbers of the pieces that have, or had, several designs."""
    return frozenset(piece.number for piece in order.pieces if piece.design_changes)


def _of_design(act: DesignChange) -> str:
    """Say what happened to a design, as "design B chosen"."""
    letter = design_letter(act.design)
    if act.act is DesignAct.LEFT_OPEN:
        return f"none chosen after all, design {letter} was"
    return f"design {letter} {act.act.word}"


def _said_anew(old: Frozen, new: Frozen, letter: str = "") -> str:
    """Say what a new agreement changed: the description of the artwork alone, or the price.

    letter: of the design that was agreed anew, where there are several; the artwork is that of all.
    """
    before, now = old.agreed, new.agreed
    if before.price == now.price and before.priced_on == now.priced_on:
        changed = [
            path.removeprefix("artwork.").replace("_", " ")
            for path in ARTWORK_FACTS
            if before.typed.get(path, "") != now.typed.get(path, "")
        ]
        return f"{', '.join(changed) or 'nothing'} changed, price as agreed"
    prices = f"{show_money(before.price.to_pay)} → {show_money(now.price.to_pay)}"
    if before.copies != now.copies:
        prices = f"{before.copies} → {now.copies} alike, {prices}"
    return f"{f'design {letter} ' if letter else ''}changed: {prices}"
