"""Lines without a piece: sold on a quote of their own, added to one that is there, changed, struck (P12).

Their way through the stages is that of pieces, see `stages`.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from app.errors import Conflict, Invalid
from app.forms.table import Typed
from app.orders import (
    LEFT_THE_WAY,
    LineAgreed,
    LineEntry,
    Method,
    Order,
    OrderLine,
    Shop,
    Stage,
    StageChange,
)
from app.orders.quoting.line import MOST_NAMED, GoodsMeant, LineTerms, agree_line, same_price
from app.pricing import Kind, Material
from app.services.order_transaction import OrderAt, account_now, changing, line_of, settle
from app.services.orders import QuoteHead, add_quote
from app.services.payments import Payment, receive
from app.services.stages import move_all_to, take_as_order
from app.services.who_is_meant import CustomerRequest, known_or_new
from app.stock.consumption import UsedUp
from app.storage import Stamp, Store, UnitOfWork

MOST_LINES = 200

COUNTER_SALE = "Counter sale"
"""The customer under whom sales over the counter stand that nobody gave a name for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinePosted:
    """A line as it was typed.

    number: of a line that is changed. paid_by: of a sale over the counter, which is paid and handed over at once.
    anew: priced at today's prices, whatever is typed.
    """

    typed: Typed
    number: int = 0
    paid_by: Method | None = None
    anew: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sold:
    """The quote or order that was made, or sold at once. used: what left the rack by it.

    jobs: what of it was work, called as the customer reads it, and counts as done.
    """

    order_id: int
    used: tuple[UsedUp, ...] = ()
    jobs: tuple[str, ...] = ()


def worked_out(
    store: Store, typed: Typed, shop: Shop, *, today: date, tax_free: bool = False
) -> LineAgreed:
    """Return what a typed line comes to today. Raises: Invalid with every fault at its field."""
    with store.reading() as work:
        return _worked_out(work, typed, shop, LineTerms(today=today, tax_free=tax_free))


def goods_meant(store: Store, text: str) -> Material | None:
    """Return the goods that a typed text means; None where it may be any or none."""
    with store.reading() as work:
        return _goods_meant(work, text).goods if text else None


def _goods_meant(work: UnitOfWork, text: str) -> GoodsMeant:
    """Return what a text means among the goods; a code or whole name of another kind means none, though some are like it."""
    named = work.materials.named(text, Kind.GOODS)
    if named is not None:
        return GoodsMeant(goods=named)
    other = work.materials.named(text)
    if other is not None:
        return GoodsMeant(other=other)
    found = work.materials.find(text, kind=Kind.GOODS, limit=MOST_NAMED + 1)
    if len(found) > 1:
        return GoodsMeant(several=found)
    return GoodsMeant(goods=found[0] if found else None, similar=True)


def _worked_out(work: UnitOfWork, typed: Typed, shop: Shop, terms: LineTerms) -> LineAgreed:
    return agree_line(typed, shop, lambda text: _goods_meant(work, text), terms)


def save_new(
    store: Store, asked: CustomerRequest, posted: LinePosted, shop: Shop, act: Stamp
) -> Sold:
    """Keep a new quote of one line for a customer, who is found or added; where it is paid, sell it at once.

    What is paid at once needs no name: it is a counter sale, all of which stand under one customer. Raises: Invalid with every fault, at "customer" or the line's fields; then nothing is kept.
    """
    if posted.paid_by is not None and not asked.name:
        _check_nothing_to_note(asked)
        asked = CustomerRequest(name=COUNTER_SALE)
    with store.writing() as work:
        order_id = _new_quote(work, asked, posted, shop, act)
        if posted.paid_by is None:
            return Sold(order_id=order_id)
        return _sell_at_once(work, order_id, posted.paid_by, act)


def _check_nothing_to_note(asked: CustomerRequest) -> None:
    """Raises: Invalid at "customer" for a phone or an e-mail without a name that it could be kept with."""
    if asked.phone or asked.email:
        what = "phone number" if asked.phone else "e-mail address"
        raise Invalid.at(
            "customer",
            f"Whose {what} is it? Type the name, or leave the {what} blank too: a counter sale needs neither.",
        )


def sell_quote(store: Store, at: OrderAt, method: Method, act: Stamp) -> Sold:
    """Sell all of a quote over the counter: ordered, paid, handed over.

    Raises: NotFound, Stale, Conflict where it is no quote, or has a piece, which takes its time.
    """
    with changing(store, at, act) as (work, order):
        if order.pieces:
            raise Conflict(f"{order.number} has a piece to be made; take it as an order instead.")
        return _sell_at_once(work, order.id, method, act)


def _sell_at_once(work: UnitOfWork, order_id: int, method: Method, act: Stamp) -> Sold:
    """Order, pay and hand over what was just quoted; work is taken as done, since it is taken along."""
    take_as_order(work, work.orders.get(order_id), act.today, act)
    order = work.orders.get(order_id)
    if to_pay := account_now(order).to_pay:
        receive(work, order, Payment(amount=to_pay, method=method), act)
    move_all_to(work, order, Stage.FRAMED, act)
    used = move_all_to(work, work.orders.get(order_id), Stage.COLLECTED, act)
    settle(work, order_id, act)
    jobs = tuple(
        line.agreed.what for line in order.lines if line.agreed.is_work and not line.struck
    )
    return Sold(order_id=order_id, used=used, jobs=jobs)


def _new_quote(
    work: UnitOfWork, asked: CustomerRequest, posted: LinePosted, shop: Shop, act: Stamp
) -> int:
    customer_id = _for_whom(work, asked, posted, shop, act)
    tax_free = work.customers.get(customer_id).value.tax_free
    agreed = _worked_out(work, posted.typed, shop, _terms(posted, act, tax_free=tax_free))
    head = QuoteHead(
        customer_id=customer_id, valid_until=act.today + timedelta(days=shop.promise.valid_days)
    )
    return add_quote(work, head, (), act, (agreed,))


def _terms(posted: LinePosted, act: Stamp, *, tax_free: bool = False) -> LineTerms:
    return LineTerms(today=act.today, tax_free=tax_free, exact=posted.paid_by is not None)


def _for_whom(
    work: UnitOfWork, asked: CustomerRequest, posted: LinePosted, shop: Shop, act: Stamp
) -> int:
    """Return the customer. Raises: Invalid with the faults of the line as well, so that all are told at once."""
    try:
        return known_or_new(work, asked, act)
    except Invalid as of_customer:
        try:
            _worked_out(work, posted.typed, shop, _terms(posted, act))
        except Invalid as of_line:
            raise Invalid((*of_customer.faults, *of_line.faults)) from of_customer
        raise


def add_line(store: Store, at: OrderAt, posted: LinePosted, shop: Shop, act: Stamp) -> None:
    """Add a line to a quote, or to an order that is not collected.

    Raises: NotFound, Stale, Conflict, Invalid with every fault.
    """
    with changing(store, at, act) as (work, order):
        _check_open(order)
        if len(order.lines) >= MOST_LINES:
            raise Conflict(f"{order.number} has {MOST_LINES} lines already; make a new quote.")
        agreed = _for_order(work, order, posted.typed, shop, act)
        _bring_along(work, order, work.order_lines.add(order.id, agreed, act), act)


def change_line(store: Store, at: OrderAt, posted: LinePosted, shop: Shop, act: Stamp) -> bool:
    """Agree a line anew, until it is collected. Returns whether its price stayed as agreed (P7).

    Raises: NotFound, Stale, Conflict, Invalid with every fault.
    """
    with changing(store, at, act) as (work, order):
        line = line_of(order, posted.number)
        _check_changeable(order, line)
        agreed = _for_order(work, order, posted.typed, shop, act)
        kept = None if posted.anew else same_price(line.agreed, agreed)
        if kept is not None:
            agreed = kept
        work.order_lines.write(line.id, LineEntry(agreed=agreed, at=act.now, by=act.who))
        return kept is not None


def strike_line(store: Store, at: OrderAt, number: int, act: Stamp) -> None:
    """Take a line off, until it is collected; it stays in the record. Raises: NotFound, Stale, Conflict."""
    with changing(store, at, act) as (work, order):
        line = line_of(order, number)
        _check_changeable(order, line)
        others = [each for each in order.lines if each.number != number and not each.struck]
        if not order.pieces and not others:
            quoted = order.stage is Stage.QUOTED
            what = "Decline or delete the quote" if quoted else "Cancel the order"
            raise Conflict(f"Line {number} is all there is of {order.number}. {what} instead.")
        entry = LineEntry(agreed=line.agreed, struck=True, at=act.now, by=act.who)
        work.order_lines.write(line.id, entry)


def put_back_line(store: Store, at: OrderAt, number: int, act: Stamp) -> None:
    """Sell a line after all that was struck, as it was agreed. Raises: NotFound, Stale, Conflict."""
    with changing(store, at, act) as (work, order):
        line = line_of(order, number)
        if not line.struck:
            raise Conflict(f"Line {number} is not struck.")
        _check_open(order)
        work.order_lines.write(line.id, LineEntry(agreed=line.agreed, at=act.now, by=act.who))
        _bring_along(work, order, number, act)


def _for_order(work: UnitOfWork, order: Order, typed: Typed, shop: Shop, act: Stamp) -> LineAgreed:
    tax_free = work.customers.get(order.customer_id).value.tax_free
    agreed = _worked_out(work, typed, shop, LineTerms(today=act.today, tax_free=tax_free))
    theirs, ours = agreed.price.currency, order.currency
    if theirs != ours:
        raise Conflict(
            f"{order.number} is priced in {ours.code} and the line in {theirs.code}; make a new quote for it."
        )
    return agreed


def _bring_along(work: UnitOfWork, order: Order, number: int, act: Stamp) -> None:
    """A line of what is ordered is ordered as well. order: before the line was added or put back."""
    line = line_of(work.orders.get(order.id), number)
    if order.stage is not Stage.QUOTED and line.stage is Stage.QUOTED:
        change = StageChange(old=line.stage, new=Stage.ORDERED, at=act.now, by=act.who)
        work.order_lines.add_change(line.id, change)


def _check_open(order: Order) -> None:
    if order.stage is Stage.COLLECTED or order.stage in LEFT_THE_WAY:
        raise Conflict(
            f"{order.number} is {order.stage}; lines can be added until it is collected. Undo the last change, "
            "or make a new quote."
        )


def _check_changeable(order: Order, line: OrderLine) -> None:
    if line.struck:
        raise Conflict(f"Line {line.number} is struck; put it back first.")
    if line.stage is Stage.COLLECTED or line.stage in LEFT_THE_WAY:
        raise Conflict(
            f"Line {line.number} of {order.number} is {line.stage}; a line can be changed or struck until it is "
            "collected. Undo that first."
        )
