"""Handing over: what left the shop in one act, and how it stood with the money then.

Nothing of it is kept by itself: which pieces went together follows from their changes of stage, and the
sums from the ledger. So a mistake that is taken back is no longer on the receipt.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from app.journal import standing
from app.money import Money, shared
from app.orders.copies import may_become
from app.orders.ledger import Entry
from app.orders.order import Order, Piece
from app.orders.order_line import OrderLine
from app.orders.stages import Stage, StageChange
from app.orders.totals import account_of


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedPiece:
    """A piece that left. count: how many of those that are alike."""

    piece: Piece
    count: int

    @property
    def title(self) -> str:
        """Its title, with how many where not all that are alike went."""
        name = self.piece.artwork.title or f"piece {self.piece.number}"
        whole = self.count == self.piece.copies
        return name if whole else f"{name} ({self.count} of {self.piece.copies})"


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedOver:
    """What left the shop in one act. number: of the act, from 1 within its order."""

    number: int
    at: datetime
    by: str
    pieces: tuple[HandedPiece, ...]
    lines: tuple[OrderLine, ...] = ()

    @property
    def day(self) -> date:
        """The day on which they left."""
        return self.at.date()

    @property
    def titles(self) -> tuple[str, ...]:
        """What went, in words."""
        return (*(each.title for each in self.pieces), *(line.agreed.what for line in self.lines))


def handed_over(order: Order) -> tuple[HandedOver, ...]:
    """Return every handing over that stands, the oldest first."""
    pieces: dict[datetime, list[HandedPiece]] = defaultdict(list)
    lines: dict[datetime, list[OrderLine]] = defaultdict(list)
    by: dict[datetime, str] = {}
    for piece, change, count in _left(order):
        pieces[change.at].append(HandedPiece(piece=piece, count=count))
        by[change.at] = change.by
    for line in order.lines:
        last = line.last_change
        if line.counts and last is not None and last.new is Stage.COLLECTED:
            lines[last.at].append(line)
            by[last.at] = last.by
    return tuple(
        HandedOver(
            number=number, at=at, by=by[at], pieces=tuple(pieces[at]), lines=tuple(lines[at])
        )
        for number, at in enumerate(sorted(by), start=1)
    )


def _left(order: Order) -> Iterator[tuple[Piece, StageChange, int]]:
    """Yield each change by which pieces that are alike were collected, and how many."""
    for piece in order.pieces:
        before = 0
        for change in piece.standing_changes:
            if change.new is Stage.COLLECTED:
                count = piece.copies - before if change.count is None else change.count
                before += count
                yield piece, change, count


def waiting(order: Order) -> tuple[HandedPiece, ...]:
    """Return the pieces that may be handed over now: all that are framed, with how many of those that are alike."""
    found = ((piece, may_become(piece.stands, Stage.COLLECTED)) for piece in order.counting)
    return tuple(
        HandedPiece(piece=piece, count=sum(ready.values())) for piece, ready in found if ready
    )


def lines_waiting(order: Order) -> tuple[OrderLine, ...]:
    """Return the lines that may be handed over now."""
    return tuple(line for line in order.lines if Stage.COLLECTED in line.may_follow)


def suggested(
    order: Order, pieces: Sequence[HandedPiece], lines: Sequence[OrderLine], balance: Money
) -> Money:
    """Return what is asked for where some of an order goes: its price, and no more than is still to pay.

    Where all goes that has not gone yet that is the whole balance. Prices are as agreed, with tax, less what was taken
    off the whole (see `_borne`). Common practice.
    """
    zero = balance - balance
    if balance.minor <= 0:
        return zero
    going = {each.piece.number: each.count for each in pieces}
    left = {
        piece.number: piece.copies - piece.stands.get(Stage.COLLECTED, 0)
        for piece in order.counting
    }
    taken = {line.number for line in lines}
    staying = (line for line in order.lines if line.counts and line.stage is not Stage.COLLECTED)
    if all(going.get(number, 0) == count for number, count in left.items() if count) and all(
        line.number in taken for line in staying
    ):
        return balance
    prices = _borne(order, zero)
    worth = sum((prices[line.id, False] for line in lines), zero)
    for each in pieces:
        worth += prices[each.piece.id, True].times(Fraction(each.count, each.piece.copies))
    return min(worth, balance)


def _borne(order: Order, zero: Money) -> Mapping[tuple[int, bool], Money]:
    """Return what each piece and line comes to, by its id and whether it is a piece.

    What was taken off the whole, as a discount or as goodwill, is shared over the pieces in proportion to their
    prices, to the last minor unit; lines keep theirs unless it is more than all pieces cost. Our own choice: a met
    price is the price of the framing, and goods are sold at what their label says.
    """
    pieces = {(each.id, True): each.agreed.price.to_pay for each in order.counting}
    lines = {(each.id, False): each.agreed.price.to_pay for each in order.lines if each.counts}
    account = account_of(order, zero)
    if not account.reduced:
        return pieces | lines
    of_pieces = max(account.to_pay - sum(lines.values(), zero), zero) if pieces else zero
    return _in_proportion(of_pieces, pieces) | _in_proportion(account.to_pay - of_pieces, lines)


def _in_proportion[Key](whole: Money, prices: Mapping[Key, Money]) -> dict[Key, Money]:
    shares = shared(whole.minor, [price.minor for price in prices.values()])
    return {key: Money(share, whole.currency) for key, share in zip(prices, shares, strict=True)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """What a receipt says of the money; all amounts with tax, and they add up.

    comes_to: the order, less what was taken off. before: what stands in the ledger of earlier days. received:
    the entries of the day itself. since: what came later, where the receipt is printed again. owed: what is
    left, below zero where it is to be returned.
    """

    comes_to: Money
    before: Money
    received: tuple[Entry, ...]
    since: Money
    owed: Money


def receipt_of(order: Order, handed: HandedOver) -> Receipt:
    """Return the sums of one handing over, from the entries that stand: before + of the day + since + owed = comes to."""
    account = account_of(order, Money.zero(order.currency))
    zero = account.to_pay - account.to_pay
    stand = standing(order.entries)

    def together(entries: list[Entry]) -> Money:
        return sum((each.entry.amount for each in entries), zero)

    return Receipt(
        comes_to=account.to_pay,
        before=together([each for each in stand if each.entry.at.date() < handed.day]),
        received=tuple(each for each in stand if each.entry.at.date() == handed.day),
        since=together([each for each in stand if each.entry.at.date() > handed.day]),
        owed=account.balance,
    )
