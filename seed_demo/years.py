"""The orders of the sample as whole values, oldest first. Nothing here stores anything."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import chain
from random import Random

from app.money import Money
from app.orders import Customer, Order, Piece, Stage, StageChange, sole_design
from app.orders.totals import account_of, owed
from seed_demo.courses import VALID_DAYS, Asked, Course, follow
from seed_demo.days import open_day
from seed_demo.payments import Bill, Ledger, pay
from seed_demo.quoting import Made, Quoter, Terms
from seed_demo.shop import EURO

A_YEAR = 365
MOST_A_YEAR = 2500
"""Above so many orders the sample reaches back further, since one shop could not make more in a year."""

ALIKE = 20
"""Pieces of the one order of many that are alike."""

GROWTH = 1.3
"""1 would spread the quotes of the year evenly; more brings them nearer to its end."""

ON_INVOICE = frozenset(
    {"Orrenby Parish Archive", "Nether Sill Primary School", "Greywick Rowing Club"}
    | {"Orrenby Savings Society", "Tidewrack Gallery"}
)
NOTES = (
    "Ring when ready, not before ten.",
    "A present: do not ring the house.",
    "Collects on a Saturday.",
    "Wants to see the corner sample again before we cut.",
    "Same frame as last time.",
    "Bring to the van, second floor, no lift.",
)
WAITING_NOTE = "Ready since long. Rang twice, left word; wrote once."


@dataclass(frozen=True, slots=True, kw_only=True)
class PastOrder:
    """An order with all that happened to it, and the sums that lists show.

    order: its numbers are still to be given. total and owed as the app itself settles them.
    """

    order: Order
    quoted_at: datetime
    by: str
    ordered_at: datetime | None
    total: Money
    owed: Money

    @property
    def changed_at(self) -> datetime:
        """When anything last happened to it."""
        changes = (change.at for piece in self.order.pieces for change in piece.changes)
        entries = (written.entry.at for written in self.order.entries)
        return max(chain((self.quoted_at,), changes, entries))


@dataclass(frozen=True, slots=True, kw_only=True)
class People:
    """The customers of the sample with their ids, in the order in which they were added."""

    known: tuple[tuple[int, Customer], ...]

    def somebody(self, random: Random) -> tuple[int, Customer]:
        """One of them; those at the beginning of the list come more often."""
        return self.known[int(len(self.known) * random.random() ** 1.6)]


def quoted_days(orders: int, today: date, random: Random) -> tuple[date, ...]:
    """When the quotes were made, oldest first, the last of them yesterday.

    Over a year, in which business grows; a large sample spreads evenly over as many as it takes.
    """
    reach = max(A_YEAR, A_YEAR * orders // MOST_A_YEAR)
    growth = GROWTH if reach == A_YEAR else 1
    ago = sorted((1 + int(reach * random.random() ** growth) for _ in range(orders)), reverse=True)
    return tuple(open_day(today - timedelta(days=days)) for days in ago)


def past_orders(
    orders: int, today: date, people: People, quoter: Quoter, random: Random
) -> Iterator[PastOrder]:
    """So many orders up to yesterday; all ids run from 1."""
    writer = _Writer(people=people, quoter=quoter, random=random)
    last = today - timedelta(days=1)
    for number, quoted_on in enumerate(quoted_days(orders, today, random), start=1):
        yield writer.write(number, quoted_on, last)


class _Writer:
    """Writes one order after the other; knows the ids that are free."""

    def __init__(self, *, people: People, quoter: Quoter, random: Random) -> None:
        self._people = people
        self._quoter = quoter
        self._random = random
        self._piece = 1
        self._entry = 1
        self._alike = False

    def write(self, number: int, quoted_on: date, last: date) -> PastOrder:
        random = self._random
        customer_id, customer = self._people.somebody(random)
        discount = "5" if random.random() < 0.05 else ""
        terms = Terms(customer=customer, rush=random.random() < 0.06, discount=discount)
        made = self._quoter.quote(number - 1, terms, quoted_on)
        asked = Asked(
            number=number, quoted_on=quoted_on, pieces=len(made), rush=terms.rush, last=last
        )
        course = follow(asked, random)
        if not self._alike and _wants_many(made, course):
            made, self._alike = (self._quoter.alike(made[0], ALIKE),), True
        order = Order(
            id=number,
            version=1,
            customer_id=customer_id,
            customer_name=customer.name,
            quote_number="",
            quoted_on=course.quoted_at.date(),
            valid_until=course.quoted_at.date() + timedelta(days=VALID_DAYS),
            ordered_on=course.ordered_at.date() if course.ordered_at else None,
            due=course.promised,
            note=_note(course, random),
            pieces=self._pieces(made, course),
        )
        return self._paid(order, course, last)

    def _pieces(self, made: tuple[Made, ...], course: Course) -> tuple[Piece, ...]:
        pieces = tuple(
            Piece(
                id=self._piece + place,
                number=place + 1,
                artwork=artwork,
                designs=sole_design(agreed),
                stage=changes[-1].new if changes else Stage.QUOTED,
                changes=changes,
            )
            for place, ((artwork, agreed), changes) in enumerate(
                zip(made, course.changes, strict=True)
            )
        )
        self._piece += len(pieces)
        return pieces

    def _paid(self, order: Order, course: Course, last: date) -> PastOrder:
        ledger = Ledger(self._entry, self._random)
        account = account_of(order, Money.zero(EURO))
        bill = Bill(
            agreed=_as_ordered(order) if course.ordered_at else account.to_pay,
            total=account.to_pay,
            on_invoice=order.customer_name in ON_INVOICE,
            last=last,
        )
        pay(ledger, course, bill, self._random)
        self._entry += len(ledger.entries)
        settled = replace(order, version=_version(order, ledger), entries=tuple(ledger.entries))
        paid_up = replace(account, received=ledger.received(Money.zero(EURO)))
        return PastOrder(
            order=settled,
            quoted_at=course.quoted_at,
            by=course.by,
            ordered_at=course.ordered_at,
            total=account.to_pay,
            owed=owed(settled, paid_up),
        )


def _wants_many(made: tuple[Made, ...], course: Course) -> bool:
    """Whether one matted piece is asked for, that is not cut yet; the first one becomes many that are alike."""
    if len(made) != 1 or not course.changes[0]:
        return False
    (_, agreed) = made[0]
    at_the_bench = course.changes[0][-1].new is Stage.ORDERED
    return at_the_bench and bool(agreed.chosen.mats) and bool(agreed.chosen.frames)


def _as_ordered(order: Order) -> Money:
    """What the order came to when it was ordered: a cancelled piece counted, a declined one not."""
    then = (
        replace(piece, stage=Stage.ORDERED if piece.stage is Stage.CANCELLED else piece.stage)
        for piece in order.pieces
    )
    return account_of(replace(order, pieces=tuple(then)), Money.zero(EURO)).to_pay


def _version(order: Order, ledger: Ledger) -> int:
    """One for the quote and one for each act after it."""
    acts: set[datetime] = {written.entry.at for written in ledger.entries}
    changes: Iterator[StageChange] = (change for piece in order.pieces for change in piece.changes)
    return 1 + len(acts | {change.at for change in changes})


def _note(course: Course, random: Random) -> str:
    if course.left_waiting:
        return WAITING_NOTE
    return random.choice(NOTES) if random.random() < 0.18 else ""
