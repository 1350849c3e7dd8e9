"""Quoting: work a typed piece out, keep it, price it again.

The reading and the arithmetic are the domain's; here they meet the shop's price book and are kept.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from app.errors import Fault, Invalid
from app.forms.table import Typed
from app.framing.notices.fit import faults_of_fit
from app.lengths import LONGEST_SHEET, Length
from app.money import Money
from app.orders import Agreed, ArtworkRecord, Order, Piece, Shop
from app.orders.dimensions_memo import worked_out as dimensions_of
from app.orders.quoting.agreement import freeze
from app.orders.quoting.artwork import read_artwork, retyped, same_design
from app.orders.quoting.faults import on_the_form
from app.orders.quoting.form import PHOTO
from app.orders.quoting.keeping import FindAsAgreed, kept_of
from app.orders.quoting.partial import SoFar, so_far
from app.orders.quoting.reader import FindMaterial, Several
from app.orders.quoting.request import read_piece
from app.orders.quoting.said_units import as_agreed
from app.pricing import Kind, Material, Repricing, compare
from app.services.order_transaction import DesignAt, OrderAt, piece_of
from app.services.orders import (
    NewPiece,
    QuoteHead,
    SplitPiece,
    add_quote,
    check_apart_unplanned,
    check_piece_changeable,
    replace_design,
    split_piece,
)
from app.services.pictures import GONE
from app.services.who_is_meant import CustomerRequest, known_or_new
from app.storage import Stamp, Store, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class _Terms:
    """For which day a piece is priced, whether without tax, and whether its sizes are as said at a counter.

    brings: a material that it was entered with, which the price book has not yet.
    keeping: the agreed piece whose prices stay as far as nothing else is asked for; None for today's prices.
    """

    today: date
    tax_free: bool = False
    as_said: bool = True
    brings: Material | None = None
    keeping: Agreed | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedAgain:
    """A piece at its old price beside today's."""

    order: Order
    piece: Piece
    agreed: Agreed
    repricing: Repricing


@dataclass(frozen=True, slots=True, kw_only=True)
class Retyped:
    """A design of a piece of an order as it is typed now. brings: a material that it was entered with.

    todays_prices: whether all of it is priced at today's price book.
    """

    which: DesignAt
    typed: Typed
    brings: Material | None = None
    todays_prices: bool = False


def worked_out(  # noqa: PLR0913 - what a price follows from
    store: Store,
    typed: Typed,
    shop: Shop,
    *,
    today: date,
    tax_free: bool = False,
    brings: Material | None = None,
) -> NewPiece:
    """Return what a typed piece comes to today; sizes are as said, so doubtful ones are asked about.

    brings: a material that the piece was entered with, which the price book has not yet. Raises: Invalid with every fault at its field.
    """
    with store.reading() as work:
        terms = _Terms(today=today, tax_free=tax_free, brings=brings)
        return _worked_out(work, typed, shop, terms)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A piece as it was agreed, and as it is typed now. brings: a material that it was entered with."""

    agreed: Agreed
    typed: Typed
    brings: Material | None = None


def worked_out_changed(
    store: Store, change: Change, shop: Shop, *, today: date, tax_free: bool = False
) -> NewPiece:
    """Return what a changed piece comes to, where what stays keeps the price that was agreed (P7). Raises: Invalid."""
    terms = _Terms(today=today, tax_free=tax_free, brings=change.brings, keeping=change.agreed)
    with store.reading() as work:
        return _worked_out(work, change.typed, shop, terms)


def worked_out_as_given(
    store: Store, typed: Typed, shop: Shop, *, today: date, tax_free: bool = False
) -> NewPiece:
    """Return the same for a program, which says its unit: nothing is asked about."""
    terms = _Terms(today=today, tax_free=tax_free, as_said=False)
    with store.reading() as work:
        return _worked_out(work, typed, shop, terms)


def typed_as_agreed(store: Store, piece: Piece, shop: Shop) -> Agreed:
    """Return what was agreed for a piece, with its sizes typed so that none of them is asked about."""
    with store.reading() as work:
        return _as_agreed(work, piece, shop)


def told_so_far(
    store: Store,
    typed: Typed,
    faults: Iterable[Fault],
    shop: Shop,
    brings: Material | None = None,
) -> SoFar | None:
    """Return what can be told of a typed piece that has these faults; None where nothing can. brings: as of `worked_out`."""
    with store.reading() as work:
        return so_far(typed, faults, shop, _finding(work, brings))


def _worked_out(work: UnitOfWork, typed: Typed, shop: Shop, terms: _Terms) -> NewPiece:
    kept = None if terms.keeping is None else kept_of(terms.keeping, shop)
    find = _finding(work, terms.brings)
    if kept is not None:
        find = FindAsAgreed(find, kept, work.materials.codes().now)
    asked = read_piece(
        typed,
        shop,
        find,
        tax_free=terms.tax_free,
        longest=_longest(work) if terms.as_said else None,
    )
    _check_photo(work, asked.artwork)
    agreed = freeze(asked, typed, shop, today=terms.today, kept=kept)
    if terms.as_said and (terms.keeping is None or terms.keeping.spec != agreed.spec):
        _check_fits(agreed)
    return NewPiece(artwork=asked.artwork, agreed=agreed, brings=terms.brings)


def _check_fits(agreed: Agreed) -> None:
    """Raises: Invalid where an artwork does not go into the frame. What was agreed before is not asked."""
    faults = faults_of_fit(dimensions_of(agreed.spec))
    if faults:
        raise Invalid(on_the_form(faults))


def _finding(work: UnitOfWork, brings: Material | None) -> FindMaterial:
    """Return the price book, with a material that comes into it."""

    def found(text: str, kind: Kind) -> Material | Several | None:
        ours = brings is not None and brings.kind is kind and text == brings.code
        return brings if ours else work.materials.meant(text, kind)

    return found


def _longest(work: UnitOfWork) -> Length:
    return work.materials.longest_sheet() or LONGEST_SHEET


def _as_agreed(work: UnitOfWork, piece: Piece, shop: Shop) -> Agreed:
    return as_agreed(piece.agreed, shop, work.materials.meant, _longest(work))


def save_new(  # noqa: PLR0913, PLR0917 - a piece as it is typed, and for whom
    store: Store,
    asked: CustomerRequest,
    typed: Typed,
    shop: Shop,
    act: Stamp,
    brings: Material | None = None,
) -> int:
    """Keep a new quote of one piece for a customer, who is found or added. Returns its id.

    brings: as of `worked_out`; it comes into the price book with the quote. Raises: Invalid with every fault, at "customer" or the piece's fields; then nothing is kept.
    """
    with store.writing() as work:
        customer_id = known_or_new(work, asked, act)
        tax_free = work.customers.get(customer_id).value.tax_free
        terms = _Terms(today=act.today, tax_free=tax_free, brings=brings)
        piece = _worked_out(work, typed, shop, terms)
        head = QuoteHead(
            customer_id=customer_id,
            valid_until=act.today + timedelta(days=shop.promise.valid_days),
        )
        return add_quote(work, head, [piece], act)


def change_piece(store: Store, at: OrderAt, changed: Retyped, shop: Shop, act: Stamp) -> bool:
    """Keep a piece as it is typed now; what stays of an agreed design keeps its price, unless today's are asked for.

    Where nothing but the artwork is described anew, price and design stay as agreed (P7). Returns
    whether the price stayed. Raises: NotFound, Stale, Conflict, Invalid with every fault.
    """
    with store.reading() as work:
        order = work.orders.get(at.id)
        old = _as_agreed(work, changed.which.of(order), shop)
        kept = not changed.todays_prices and same_design(old, changed.typed)
        if kept:
            piece = _described_anew(work, old, changed.typed, shop)
        else:
            tax_free = work.customers.get(order.customer_id).value.tax_free
            terms = _Terms(
                today=act.today,
                tax_free=tax_free,
                brings=changed.brings,
                keeping=None if changed.todays_prices else old,
            )
            piece = _worked_out(work, changed.typed, shop, terms)
    # Whoever changes the order in between makes the version stale, so that nothing old is kept.
    replace_design(store, at, changed.which, piece, act)
    return kept


def _described_anew(work: UnitOfWork, agreed: Agreed, typed: Typed, shop: Shop) -> NewPiece:
    noted = retyped(agreed, typed)
    artwork = read_artwork(noted.typed, shop)
    _check_photo(work, artwork)
    return NewPiece(artwork=artwork, agreed=noted)


def _check_photo(work: UnitOfWork, artwork: ArtworkRecord) -> None:
    """Raises: Invalid at "artwork.photo" for a picture that is not kept."""
    if artwork.photo and not work.pictures.has(artwork.photo):
        raise Invalid.at(PHOTO, GONE)


def price_again(
    store: Store, order_id: int, which: DesignAt, shop: Shop, *, today: date
) -> PricedAgain:
    """Return a design of a piece at today's price book and rules, beside what was agreed; keeps nothing (P7).

    Raises: NotFound, Invalid where it can no longer be made as it was typed.
    """
    with store.reading() as work:
        order = work.orders.get(order_id)
        piece = which.of(order)
        old = _as_agreed(work, piece, shop)
        new = _worked_out(work, old.typed, shop, _Terms(today=today, tax_free=old.tax_free))
    return PricedAgain(
        order=order,
        piece=piece,
        agreed=new.agreed,
        repricing=compare(old.price, new.agreed.price),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSplit:
    """How many of a piece are to become one of their own."""

    order_id: int
    number: int
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitInTwo:
    """A piece of several alike, and the two that it would become at today's prices."""

    order: Order
    piece: Piece
    split: SplitPiece

    @property
    def difference(self) -> Money:
        """What the two come to together less what was agreed, with the tax that is due."""
        together = self.split.stays.agreed.price.to_pay + self.split.apart.agreed.price.to_pay
        return together - self.piece.agreed.price.to_pay


def look_at_split(store: Store, which: PieceSplit, shop: Shop, *, today: date) -> SplitInTwo:
    """Return what a piece comes to as two; keeps nothing.

    Raises: NotFound; Invalid at "count" for a number that cannot be split off, or of which parts are planned or cut,
    or where the piece can no longer be made as it was typed.
    """
    with store.reading() as work:
        order = work.orders.get(which.order_id)
        piece = piece_of(order, which.number)
        check_piece_changeable(piece)
        _check_split(piece, which.count)
        check_apart_unplanned(work, piece, piece.copies - which.count)
        old = _as_agreed(work, piece, shop)
        terms = _Terms(today=today, tax_free=old.tax_free)

        def alike(copies: int) -> NewPiece:
            typed = {**old.typed, "copies": str(copies)}
            return replace(_worked_out(work, typed, shop, terms), artwork=piece.artwork)

        split = SplitPiece(stays=alike(piece.copies - which.count), apart=alike(which.count))
    return SplitInTwo(order=order, piece=piece, split=split)


def _check_split(piece: Piece, count: int) -> None:
    if piece.copies == 1:
        raise Invalid.at("count", "There is only one of this piece; nothing can be split off it.")
    if not 1 <= count < piece.copies:
        raise Invalid.at(
            "count",
            f"{count} cannot be split off {piece.copies}; a whole number from 1 to {piece.copies - 1} can.",
        )


def split_in_two(store: Store, at: OrderAt, which: PieceSplit, shop: Shop, act: Stamp) -> int:
    """Make two pieces of one at today's prices; returns the number of the new one.

    Raises: NotFound, Stale, Conflict, Invalid as `look_at_split`.
    """
    looked = look_at_split(store, which, shop, today=act.today)
    return split_piece(store, at, which.number, looked.split, act)


def keep_new_price(store: Store, at: OrderAt, which: DesignAt, shop: Shop, act: Stamp) -> None:
    """Agree a design of a piece anew at today's prices, as typed; the old price stays in its history.

    Raises: NotFound, Stale, Conflict, Invalid.
    """
    priced = price_again(store, at.id, which, shop, today=act.today)
    piece = NewPiece(artwork=priced.piece.artwork, agreed=priced.agreed)
    replace_design(store, at, which, piece, act)
