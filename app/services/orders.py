"""Quotes and orders: read, kept, their pieces and what is noted of them.

See `progress` for the way of the work and `payments` for the ledger.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from app.counting import counted
from app.errors import Conflict, Invalid, NotFound
from app.orders import LEFT_THE_WAY, Design, LineAgreed, Order, Piece, Stage, StageChange
from app.orders.copies import in_words
from app.orders.quoting.artwork import carried, retyped
from app.orders.quoting.form import PHOTO
from app.services.order_transaction import (
    DesignAt,
    OrderAt,
    changing,
    currency_of,
    piece_of,
    settle,
)
from app.services.pictures import GONE
from app.stock.planning.parts import copy_in
from app.storage import (
    ANY_ORDER,
    Frozen,
    ListPage,
    NewPiece,
    NewQuote,
    OrderFilter,
    OrderSort,
    OrderSummary,
    PageRequest,
    Series,
    Stamp,
    Store,
    UnitOfWork,
)
from app.storage.known_orders import MOST_ORDERS, ORDER

__all__ = [
    "CHANGEABLE",
    "LONGEST_NOTE",
    "NewPiece",
    "OrderAt",
    "QuoteHead",
    "SplitPiece",
    "Stamp",
    "add_piece",
    "add_quote",
    "agreed_anew",
    "bring",
    "carry_artwork",
    "check_apart_unplanned",
    "check_currency",
    "find_by_number",
    "get",
    "is_changeable",
    "keep_design",
    "listed",
    "price_history",
    "remove_piece",
    "replace_design",
    "replace_piece",
    "save_quote",
    "set_due",
    "set_due_and_note",
    "set_note",
    "set_photo",
    "set_place",
    "set_valid_until",
    "split_piece",
]

LONGEST_NOTE = 2000
MOST_PIECES = 200

CHANGEABLE = frozenset({Stage.QUOTED, Stage.ORDERED})
"""Stages in which a piece may still be changed: before its material is cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteHead:
    """For whom a quote is, until when it holds, and a note to it."""

    customer_id: int
    valid_until: date
    note: str = ""


def get(store: Store, order_id: int) -> Order:
    """Return the whole order, read once after each write. Raises: NotFound."""

    def read() -> Order:
        with store.reading() as work:
            return work.orders.get(order_id)

    return store.remembered(ORDER, read, asked=order_id, most=MOST_ORDERS)


def find_by_number(store: Store, number: str) -> int:
    """Return the id of the quote or order with a number, as "2026-0148". Raises: NotFound."""
    with store.reading() as work:
        return work.orders.id_of(number.strip())


def listed(
    store: Store,
    wanted: OrderFilter = ANY_ORDER,
    sort: OrderSort = OrderSort.NEWEST,
    page: PageRequest | None = None,
) -> ListPage[OrderSummary]:
    """Return one page of the orders that are wanted."""
    with store.reading() as work:
        return work.order_lists.listed(wanted, sort, page)


def price_history(store: Store, order_id: int, number: int) -> tuple[Frozen, ...]:
    """Return everything that was ever agreed for a piece, the oldest first. Raises: NotFound."""
    with store.reading() as work:
        return work.orders.pieces.history(piece_of(work.orders.get(order_id), number).id)


def agreed_anew(store: Store, order_id: int) -> Mapping[tuple[int, int], tuple[Frozen, ...]]:
    """By numbers of piece and design, all that was ever agreed for designs that were changed, the oldest first."""
    with store.reading() as work:
        return work.orders.pieces.agreed_anew(order_id)


def save_quote(store: Store, head: QuoteHead, pieces: Sequence[NewPiece], act: Stamp) -> int:
    """Keep a new quote under the next number. Returns its id. Raises: Invalid, NotFound."""
    with store.writing() as work:
        return add_quote(work, head, pieces, act)


def add_quote(
    work: UnitOfWork,
    head: QuoteHead,
    pieces: Sequence[NewPiece],
    act: Stamp,
    lines: Sequence[LineAgreed] = (),
) -> int:
    """As `save_quote`, within a transaction that keeps more than the quote. lines: without a piece (P12)."""
    _check_note(head.note)
    if not (0 if lines else 1) <= len(pieces) <= MOST_PIECES:
        raise Invalid.at(
            "pieces", f"A quote has 1 to {MOST_PIECES} pieces; this one has {len(pieces)}.", "count"
        )
    if len({piece.agreed.price.currency for piece in pieces}) > 1:
        raise Invalid.at("pieces", "All pieces of a quote are priced in one currency.", "currency")
    quote = NewQuote(
        customer_id=head.customer_id,
        quote_number=work.numbers.take(Series.QUOTE, act.today.year),
        valid_until=head.valid_until,
        note=head.note,
    )
    for piece in pieces:
        bring(work, piece, act)
    order_id = work.orders.add(quote, pieces, act, lines)
    settle(work, order_id, act)
    return order_id


def add_piece(store: Store, at: OrderAt, piece: NewPiece, act: Stamp) -> int:
    """Add a piece to a quote, or to an order of which nothing is cut yet. Returns its number.

    Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        if not may_add_piece(order):
            _check_changeable(order.stage_of_pieces, f"{order.number} is")
        check_currency(order, piece)
        bring(work, piece, act)
        return _added(work, order, piece, order.stage, act)


def _added(work: UnitOfWork, order: Order, piece: NewPiece, stage: Stage, act: Stamp) -> int:
    """Return the number of a piece that is added to an order; where that is ordered, so is the piece."""
    added = work.orders.add_piece(order.id, piece, act)
    if stage is not Stage.QUOTED:
        change = StageChange(old=Stage.QUOTED, new=Stage.ORDERED, at=act.now, by=act.who)
        work.orders.add_change(added.id, change)
    return added.number


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitPiece:
    """A piece of several alike made two: what stays of it, and what becomes a piece with a number of its own."""

    stays: NewPiece
    apart: NewPiece


def split_piece(store: Store, at: OrderAt, number: int, split: SplitPiece, act: Stamp) -> int:
    """Make two pieces of one, before it is cut; what was agreed before stays in its history.

    Returns the number of the new one. Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        piece = piece_of(order, number)
        check_piece_changeable(piece)
        check_currency(order, split.apart)
        if piece.several:
            raise Conflict(
                f"Piece {number} has {len(piece.designs)} designs; only a piece of one design is split."
            )
        check_apart_unplanned(work, piece, split.stays.agreed.copies)
        work.orders.agree_design(piece.id, replace(piece.counted, agreed=split.stays.agreed), act)
        return _added(work, order, split.apart, piece.stage, act)


def check_apart_unplanned(work: UnitOfWork, piece: Piece, stays: int) -> None:
    """Look that no cutting plan holds, or has cut, a part of those alike that would go. stays: how many do not.

    A plan names its parts by piece, so the new piece would be planned and cut a second time.
    Raises: Invalid at "count".
    """
    holding = Counter(
        part.plan_number
        for part in work.plans.parts_of([piece.id]).get(piece.id, ())
        if (part.held or part.cut) and copy_in(part.part) > stays
    )
    if not holding:
        return
    where = " and ".join(
        f"{counted(count, 'part')} in plan {number}" for number, count in holding.items()
    )
    raise Invalid.at(
        "count",
        f"Of what would be split off, {where} {'is' if holding.total() == 1 else 'are'} planned or cut already; "
        "they would be planned and cut a second time for the new piece. Delete the plan, split the piece and plan again; "
        "what is booked as cut in a plan is undone there first.",
    )


def replace_piece(store: Store, at: OrderAt, number: int, piece: NewPiece, act: Stamp) -> None:
    """Agree a piece anew by the design that counts; see `replace_design`."""
    replace_design(store, at, DesignAt(piece=number), piece, act)


def replace_design(store: Store, at: OrderAt, which: DesignAt, piece: NewPiece, act: Stamp) -> None:
    """Agree a design of a piece anew, before it is cut; what was agreed before stays in its history.

    Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        old = which.of(order)
        check_piece_changeable(old)
        check_currency(order, piece)
        bring(work, piece, act)
        keep_design(work, old, replace(old.counted, agreed=piece.agreed), act)
        work.orders.write_artwork(old.id, piece.artwork)


def keep_design(work: UnitOfWork, piece: Piece, design: Design, act: Stamp) -> None:
    """Freeze a design; what it says of the artwork beside its size is carried to the piece's others."""
    work.orders.agree_design(piece.id, design, act)
    carry_artwork(work, piece, design, act)


def bring(work: UnitOfWork, piece: NewPiece, act: Stamp) -> None:
    """Add the material that a piece was entered with to the price book. Raises: Invalid at "code" where it is taken."""
    if piece.brings is not None:
        work.materials.add(piece.brings, now=act.now)


def carry_artwork(work: UnitOfWork, piece: Piece, design: Design, act: Stamp) -> None:
    """Say of the artwork in the other designs what one says: a piece has one artwork. No price changes."""
    for other in piece.designs:
        agreed = carried(other.agreed, design.agreed.typed)
        if other.number != design.number and agreed is not other.agreed:
            work.orders.agree_design(piece.id, replace(other, agreed=agreed), act)


def remove_piece(store: Store, at: OrderAt, number: int, act: Stamp) -> None:
    """Take a piece off a quote; its number is not used again. Raises: NotFound, Stale, Conflict."""
    with changing(store, at, act) as (work, order):
        piece = piece_of(order, number)
        if piece.stage is not Stage.QUOTED:
            raise Conflict(
                f"Piece {number} is {piece.stage}; only a piece that is quoted can be deleted. "
                "Cancel it instead."
            )
        if len(order.pieces) == 1 and not any(line.counts for line in order.lines):
            raise Conflict(
                "This is the only piece, and all there is on the quote. Decline the quote instead, or delete it."
            )
        work.orders.remove_piece(piece.id, now=act.now)


def set_due(store: Store, at: OrderAt, due: date | None, act: Stamp) -> None:
    """Say when the order is to be ready, or that it is open. Raises: NotFound, Stale."""
    with changing(store, at, act) as (work, order):
        work.orders.write_head(replace(order, due=due))


def set_valid_until(store: Store, at: OrderAt, valid_until: date, act: Stamp) -> None:
    """Say until when a quote holds. Raises: NotFound, Stale."""
    with changing(store, at, act) as (work, order):
        work.orders.write_head(replace(order, valid_until=valid_until))


def set_note(store: Store, at: OrderAt, note: str, act: Stamp) -> None:
    """Replace the note. Raises: NotFound, Stale, Invalid at "note"."""
    _check_note(note)
    with changing(store, at, act) as (work, order):
        work.orders.write_head(replace(order, note=note))


def set_due_and_note(store: Store, at: OrderAt, due: date | None, note: str, act: Stamp) -> None:
    """Both in one change. Raises: NotFound, Stale, Invalid at "note"."""
    _check_note(note)
    with changing(store, at, act) as (work, order):
        work.orders.write_head(replace(order, due=due, note=note))


def set_place(store: Store, at: OrderAt, number: int, place: str, act: Stamp) -> None:
    """Say where the artwork of a piece is kept. Raises: NotFound, Stale, Invalid."""
    with changing(store, at, act) as (work, order):
        piece = piece_of(order, number)
        artwork = replace(piece.artwork, place=place.strip())
        agreed = retyped(piece.agreed, {"artwork.place": artwork.place})
        keep_design(work, piece, replace(piece.counted, agreed=agreed), act)
        work.orders.write_artwork(piece.id, artwork)


def set_photo(store: Store, at: OrderAt, number: int, photo: str, act: Stamp) -> None:
    """Say which picture shows the artwork of a piece, "" for none; nothing else of it changes. Raises: NotFound, Stale."""
    with changing(store, at, act) as (work, order):
        piece = piece_of(order, number)
        if photo and not work.pictures.has(photo):
            raise NotFound(GONE)
        if photo == piece.artwork.photo:
            return
        agreed = retyped(piece.agreed, {PHOTO: photo})
        keep_design(work, piece, replace(piece.counted, agreed=agreed), act)
        work.orders.write_artwork(piece.id, replace(piece.artwork, photo=photo))


def may_add_piece(order: Order) -> bool:
    """Tell whether a further piece may be added: until the first cut; where there is no piece, until it is collected."""
    if not order.pieces:
        return order.stage not in (Stage.COLLECTED, *LEFT_THE_WAY)
    return order.stage_of_pieces in CHANGEABLE


def _check_note(note: str) -> None:
    if len(note) > LONGEST_NOTE:
        raise Invalid.at(
            "note", f"The note has {len(note)} characters; at most {LONGEST_NOTE} are kept."
        )


def is_changeable(piece: Piece) -> bool:
    """Tell whether a piece may still be changed; of several alike none may be cut."""
    return piece.stands.keys() <= CHANGEABLE


def _check_changeable(stage: Stage, what: str) -> None:
    if stage not in CHANGEABLE:
        raise Conflict(
            f"{what} {stage}; pieces can be added or changed only until the first cut. Undo the "
            "last change, or make a new quote."
        )


def check_piece_changeable(piece: Piece) -> None:
    """Raises: Conflict for a piece that is cut, or of which some that are alike are."""
    if piece.deleted:
        raise Conflict(
            f"Piece {piece.number} is deleted with its quote. Undo the deletion on its page before it is changed."
        )
    _check_changeable(piece.stage, f"Piece {piece.number} is")
    if not is_changeable(piece):
        raise Conflict(
            f"Of the {piece.copies} of piece {piece.number} are {in_words(piece.stands)}; they can be changed only "
            "until the first of them is cut. Undo the last change, or add a further piece."
        )


def check_currency(order: Order, piece: NewPiece) -> None:
    """Raises: Conflict for a piece that is priced in another currency than its order."""
    theirs, ours = piece.agreed.price.currency, currency_of(order)
    if theirs != ours:
        raise Conflict(
            f"{order.number} is priced in {ours.code} and the piece in {theirs.code}; make a new "
            "quote for it."
        )
