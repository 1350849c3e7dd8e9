"""The money on an order's page: what was received and taken off, and what is charged in words."""

from dataclasses import dataclass
from datetime import datetime

from app.counting import counted
from app.errors import Fault
from app.forms.table import Typed
from app.journal import standing, taken_back
from app.money import Money, show_money
from app.orders import Entry, Order
from app.orders.totals import Account, Lowered
from app.web.kit.fields import Fields, FieldView
from app.web.kit.stating import words_of
from app.web.orders import form as forms
from app.web.orders.form import OfOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryView:
    """One line of the ledger.

    may_correct: whether it stands and was no correction.
    """

    id: int
    at: datetime
    what: str
    note: str
    by: str
    amount: Money
    may_correct: bool
    corrected: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ReductionView:
    """One line of what was taken off as goodwill.

    stands: whether it was not undone and undoes none. amount: as it was stated. mode: whether that was
    with tax, and what it is the other way, where it stands.
    """

    id: int
    at: datetime
    reason: str
    by: str
    amount: Money
    mode: str
    stands: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountsPart:
    """The fields of the amounts that were typed in one of the forms, for the live answer to it."""

    amounts: tuple[FieldView, ...]


def entry_views(entries: tuple[Entry, ...]) -> tuple[EntryView, ...]:
    """Return the lines of the ledger, the oldest first."""
    corrected = taken_back(entries)
    stand = standing(entries)
    return tuple(
        EntryView(
            id=written.id,
            at=written.entry.at,
            what=f"{written.entry.kind.value.capitalize()}, {written.entry.method.value}",
            note=written.entry.note,
            by=written.entry.by,
            amount=written.entry.amount,
            corrected=written.id in corrected,
            may_correct=written in stand,
        )
        for written in entries
    )


def reduction_views(order: Order, account: Account) -> tuple[ReductionView, ...]:
    """Return the reductions and what undid them, oldest first; amounts have the sign by which they change the sum."""
    stand = standing(order.reductions)
    lowered = {each.id: each for each in account.lowered}
    return tuple(
        ReductionView(
            id=each.id,
            at=each.entry.at,
            reason=each.entry.reason
            if each.entry.takes_back is None
            else f"Undone: {each.entry.reason}",
            by=each.entry.by,
            amount=-each.entry.amount,
            mode=_mode_of(lowered.get(each.id), account),
            stands=each in stand,
        )
        for each in order.reductions
    )


def _mode_of(lowered: Lowered | None, account: Account) -> str:
    """Say how a reduction was stated and what it is the other way: "without tax, −12.00 with tax";
    empty without tax.
    """
    if lowered is None or not account.agreed.tax:
        return ""
    other = not lowered.with_tax
    amount = show_money(-lowered.stated(with_tax=other))
    return f"{words_of(with_tax=lowered.with_tax)}, {amount} {words_of(with_tax=other)}"


def amounts_there(known: OfOrder, typed: Typed, faults: tuple[Fault, ...]) -> tuple[FieldView, ...]:
    """Return the amounts of the form that was posted, each with what it is stated the other way."""
    make = Fields(typed, faults)
    return tuple(make.of(field, known) for field in forms.AMOUNTS if field.path in typed)


def charged_words(order: Order, *, with_tax: bool) -> str:
    """Say what is charged: "The piece, with tax", "6 pieces and 1 line", "No piece is charged".

    Several that are alike count each; what was declined, cancelled or struck is not among them.
    """
    pieces = sum(piece.copies for piece in order.counting)
    lines = sum(line.counts for line in order.lines)
    parts = [counted(pieces, "piece")] if pieces else []
    parts += [counted(lines, "line")] if lines else []
    if not parts:
        return "Nothing is charged" if order.lines else "No piece is charged"
    alone = pieces == len(order.pieces) == 1 and not lines
    named = "The piece" if alone else " and ".join(parts)
    return f"{named}, with tax" if with_tax else named
