"""What is paid on an order of the sample: deposits, balances, refunds, and mistakes put right."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction
from random import Random

from app.money import Money, round_to_step
from app.orders import Entry, EntryKind, Method, NewEntry, Stage, correction_of
from seed_demo.courses import Course
from seed_demo.days import moment
from seed_demo.shop import PEOPLE, euro

METHODS = (Method.CARD, Method.CARD, Method.CASH, Method.TRANSFER)
DEPOSIT_STEP = euro("5.00")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """What is to be paid. agreed: when it was ordered; total: of the pieces that were kept in the end."""

    agreed: Money
    total: Money
    on_invoice: bool
    last: date


class Ledger:
    """Writes the entries of one order, in time. The first id is passed in; ids run on."""

    def __init__(self, first_id: int, random: Random) -> None:
        self._next = first_id
        self._random = random
        self.entries: list[Entry] = []

    def write(self, kind: EntryKind, amount: Money, at: datetime, note: str = "") -> None:
        """Add an entry. amount: signed."""
        entry = NewEntry(
            kind=kind,
            amount=amount,
            at=at,
            by=self._random.choice(PEOPLE),
            method=self._random.choice(METHODS),
            note=note,
        )
        self._keep(entry)

    def correct_last(self, at: datetime) -> None:
        """Undo the last entry by its contrary."""
        last = self.entries[-1]
        self._keep(correction_of(self.entries, last.id, at=at, by=last.entry.by))

    def _keep(self, entry: NewEntry) -> None:
        self.entries.append(Entry(id=self._next, entry=entry))
        self._next += 1

    def received(self, zero: Money) -> Money:
        """The sum so far."""
        return sum((each.entry.amount for each in self.entries), zero)


def pay(ledger: Ledger, course: Course, bill: Bill, random: Random) -> None:
    """Write what is paid in the course of an order: something when it is ordered, the rest at the end."""
    if course.ordered_at is None:
        return
    _deposit(ledger, course.ordered_at, bill, random)
    zero = Money.zero(bill.total.currency)
    cancelled_at = course.reached(Stage.CANCELLED)
    if cancelled_at is not None and ledger.received(zero):
        ledger.write(EntryKind.REFUND, -ledger.received(zero), cancelled_at, "Order cancelled.")
    collected_at = course.reached(Stage.COLLECTED)
    rest = bill.total - ledger.received(zero)
    if collected_at is None or not rest.minor:
        return
    if bill.on_invoice:
        collected_at = moment(collected_at.date() + timedelta(days=random.randint(12, 35)), random)
    if collected_at.date() <= bill.last:
        ledger.write(EntryKind.PAYMENT, rest, collected_at)


def _deposit(ledger: Ledger, at: datetime, bill: Bill, random: Random) -> None:
    """Half as a rule, at times all or nothing; one in thirty is first written down wrong."""
    chance = random.random()
    if bill.on_invoice or chance < 0.12:
        return
    if chance < 0.26:
        ledger.write(EntryKind.PAYMENT, bill.agreed, at, "Paid in full.")
        return
    half = round_to_step(bill.agreed.times(Fraction(1, 2)), DEPOSIT_STEP)
    if random.random() < 1 / 30:
        ledger.write(EntryKind.DEPOSIT, bill.agreed, at)
        at += timedelta(minutes=3)
        ledger.correct_last(at)
        at += timedelta(minutes=1)
    ledger.write(EntryKind.DEPOSIT, half, at)
