"""Reads the forms on an order's page: taking the quote, payments, goodwill, date and note, the invoice."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from app.days import Calendar
from app.days import show_day as day
from app.errors import Fault, Invalid
from app.forms.kinds import DAY, MONEY, Options, choice, optional, text_of
from app.forms.reader import Reader
from app.forms.table import Field, Form, Typed, value_of, values_in
from app.journal import standing
from app.money import Currency, Money, show_money, show_percent
from app.orders import EntryKind, Method, Order, Shop, Stage
from app.orders.designs import undecided
from app.orders.invoices import invoice
from app.orders.invoices.issue import Dated, LaterDay
from app.orders.reductions import LONGEST_REASON
from app.orders.totals import Account, range_of
from app.services import orders, payments
from app.services.stages import untaken_designs
from app.web.kit import stating
from app.web.kit.fields import Fields, FieldView, OfShop
from app.web.kit.promised import PROMISED, past

METHODS: Options = tuple((method.value, method.value.capitalize()) for method in Method)
KINDS: Options = (
    (EntryKind.PAYMENT.value, "Payment"),
    (EntryKind.DEPOSIT.value, "Deposit"),
    (EntryKind.REFUND.value, "Refund"),
)


@dataclass(frozen=True, slots=True)
class OfOrder(OfShop):
    """The order that the forms are about, with its account, its shop and the date.

    account: the least while a design is still to be chosen; most: what it may come to then, None where it is settled (P10).
    """

    order: Order
    account: Account
    today: date
    most: Account | None = None

    @property
    def calendar(self) -> Calendar:
        """How days are understood in the shop today."""
        return self.shop.calendar(self.today)

    @property
    def currency(self) -> Currency:
        """The currency of the order, which may be an earlier one of the shop."""
        return self.account.to_pay.currency


def of_order(order: Order, shop: Shop, today: date) -> OfOrder:
    """Return what the forms of an order follow from."""
    found = range_of(order, Money.zero(shop.currency))
    return OfOrder(shop, order, found.least, today, found.most if found.is_open else None)


def _usual_deposit(known: OfOrder) -> str:
    """Say the shop's usual deposit, with tax as it is paid. It is not filled in: what is typed was received."""
    share = known.shop.promise.deposit
    deposit = _deposit(known.most or known.account, share)
    if deposit is None:
        return ""
    if known.most:
        return f"Blank for none; usual is {show_percent(share)} of what it comes to, up to {show_money(deposit)}."
    return f"Blank for none; usual is {show_money(deposit)}."


def _deposit(account: Account, share: Fraction) -> Money | None:
    """Return the usual deposit less what was received; None where nothing is asked."""
    deposit = account.to_pay.times(share) - account.received
    return deposit if deposit.minor > 0 else None


def _kind(read: Reader, path: str, usual: EntryKind) -> EntryKind:
    """Read the kind of an entry. A correction is no choice: it has a button at the entry that it undoes."""
    kind = read.choice(path, EntryKind, usual)
    if kind is EntryKind.CORRECTION:
        read.faults.add(path, "Correct an entry by the button beside it.")
    return kind


def _on_the_invoice(known: OfOrder) -> str:
    if any(each.agreed.tax_free for each in known.order.all_of_it):
        return "Say why no tax is charged, as local law asks."
    return "Printed beside the sums."


def days_hint(known: OfOrder) -> str:
    """Say how a day to come may be typed."""
    return f"As 13 Dec, {known.calendar.example}, Friday or in 2 weeks; the next such day."


def _pay_by_hint(known: OfOrder) -> str:
    return f"Blank for at collection, or on receipt. {days_hint(known)}"


_METHOD = choice(Method, METHODS)

TAKE = Form[OfOrder](
    Field("due", "Ready on", PROMISED, days_hint),
    Field(
        "deposit",
        "Deposit received",
        optional(MONEY),
        _usual_deposit,
        stated=lambda known, _typed: stating.payment(known.account),
    ),
    Field("method", "Paid by", _METHOD, usual=Method.CASH, beside=True),
)

PAYMENT = Form[OfOrder](
    Field("kind", "What", replace(choice(EntryKind, KINDS), read=_kind), usual=EntryKind.PAYMENT),
    Field("method", "Paid by", _METHOD, usual=Method.CASH, beside=True),
    Field(
        "amount",
        "Amount",
        MONEY,
        needed=True,
        stated=lambda known, _typed: stating.payment(known.account),
    ),
    Field("note", "Note", text_of(payments.LONGEST_NOTE)),
).under("payment")

HAND_OVER = Form[OfOrder](
    Field(
        "amount",
        "Received now",
        optional(MONEY),
        stated=lambda known, _typed: stating.payment(known.account),
    ),
    Field("method", "Paid by", _METHOD, usual=Method.CASH),
).under("handover")

GOODWILL = Form[OfOrder](
    Field(
        "amount",
        "Taken off",
        MONEY,
        needed=True,
        stated=lambda known, _typed: stating.goodwill(known.account),
    ),
    Field(
        "reason",
        "Why",
        text_of(LONGEST_REASON),
        "The customer reads it on the confirmation.",
        needed=True,
        wish="The reason is empty; type it as the customer is to read it.",
    ),
).under("goodwill")

TERMS = Form[OfOrder](
    Field("due", "Ready on", PROMISED, days_hint),
    Field("note", "Note", text_of(orders.LONGEST_NOTE, "lines")),
).under("terms")

INVOICE = Form[OfOrder](
    Field("pay_by", "Pay by", DAY, _pay_by_hint),
    Field("note", "Note on the invoice", text_of(invoice.LONGEST_NOTE, "area"), _on_the_invoice),
).under("invoice")


@dataclass(frozen=True, slots=True)
class OfLaterDay(OfShop):
    """The day after today that an invoice bears already."""

    today: date
    later: LaterDay


def _dates(known: OfLaterDay) -> Options:
    """Return both days, each with what it means for the numbers."""
    later, today = known.later, known.today
    if later.own:
        out_of_order = f"{day(today)}, today; its number then follows one of a later day"
        in_order = f"{day(later.day)}, as {later.number}; days go on running with numbers"
    else:
        out_of_order = f"{day(today)}, today; its number goes on in the series of {today.year}"
        in_order = f"{day(later.day)}, as {later.number}; its number goes on in the series of {later.day.year}"
    return ((Dated.TODAY.value, out_of_order), (Dated.LAST.value, in_order))


def _why_asked(known: OfLaterDay) -> str:
    return f"Invoice {known.later.number} is dated {day(known.later.day)}, which is still to come. Check local law."


DATED = Form[OfLaterDay](
    Field(
        "dated",
        "Date",
        choice(Dated, (), "radios"),
        _why_asked,
        usual=lambda _: None,
        options=_dates,
    ),
).under("invoice")
"""How an invoice is dated, where another bears a later day than today."""

AMOUNTS = tuple(
    field for form in (TAKE, PAYMENT, HAND_OVER, GOODWILL) for field in form.fields if field.stated
)
"""The fields in which an amount of the order is typed."""


def suggested_due(shop: Shop, today: date) -> date:
    """Return the day for which work is promised by habit: on which the shop is open."""
    return shop.open_days.next_open(today + timedelta(days=shop.promise.ready_days))


def closed_then(shop: Shop, due: date | None) -> str:
    """Say that the shop is closed on the due day, and when it is open next; nothing where it is open."""
    if due is None or shop.open_days.open_on(due):
        return ""
    following = shop.open_days.next_open(due)
    return f" The shop is closed on {day(due)}; it is open next on {day(following)}."


def beginning(known: OfOrder) -> dict[str, str]:
    """Return the text that the forms begin with: the shop's habits, and what the order says."""
    ready = known.order.due
    if ready is None or ready < known.today:
        ready = suggested_due(known.shop, known.today)
    balance = known.account.balance
    settled = balance.minor > 0 and known.most is None
    returning = known.order.order_number is not None and balance.minor < 0
    payment = {
        "kind": EntryKind.REFUND if returning else EntryKind.PAYMENT,
        "amount": abs(balance) if settled or returning else None,
        "method": _last_method(known.order) if returning else Method.CASH,
        "note": "",
    }
    return {
        **TAKE.typed(values_in({"due": ready, "deposit": None, "method": Method.CASH}), known),
        **PAYMENT.typed(values_in(payment), known),
        **TERMS.typed(values_in(known.order), known),
    }


def _last_method(order: Order) -> Method:
    """Return how the last money was received that stands; it is given back the same way."""
    received = [
        each.entry.method for each in standing(order.entries) if each.entry.amount.minor > 0
    ]
    return received[-1] if received else Method.CASH


def faults_of_amounts(typed: Typed, known: OfOrder) -> tuple[Fault, ...]:
    """Return what is wrong with the amounts that were typed; a blank one is not asked for yet."""
    read = Reader(typed, known.unit, known.currency)
    for field in AMOUNTS:
        if read.given(field.path):
            value_of(field, read, known)
    return read.faults.faults


def taken_in(typed: Typed, order: Order) -> dict[int, int]:
    """Return the designs that the form of ordering takes, by the numbers of their pieces."""
    return {
        piece.number: each.number
        for piece in order.pieces
        for each in piece.designs
        if typed.get(f"design.{piece.number}") == str(each.number)
    }


def design_fields(make: Fields, order: Order) -> tuple[FieldView, ...]:
    """Return a choice of one design for each piece that is ordered with the quote and of which none is taken."""
    return tuple(
        make.field(
            f"design.{piece.number}",
            piece.artwork.title or f"Piece {piece.number}",
            options=tuple(
                (str(each.number), f"Design {each.letter}, {show_money(each.agreed.price.to_pay)}")
                for each in piece.designs
            ),
            required=True,
        )
        for piece in undecided(order)
        if piece.stage is Stage.QUOTED
    )


def read_taking(typed: Typed, known: OfOrder) -> dict[str, Any]:
    """Read the form of ordering. known: with the designs that it takes.

    Raises: Invalid with every fault, also where no design of a piece is taken or the day is past.
    """
    untaken = untaken_designs(known.order)
    try:
        values = TAKE.read(typed, known)
    except Invalid as invalid:
        raise Invalid((*untaken, *invalid.faults)) from invalid
    if faults := (*untaken, *past("due", values["due"], known.today)):
        raise Invalid(faults)
    return values


def read_terms(typed: Typed, known: OfOrder) -> dict[str, Any]:
    """Read the form of date and note. Raises: Invalid, also where another day is promised than before and it is past."""
    values = TERMS.read(typed, known)
    if faults := past("terms.due", values["due"], known.today, known.order.due):
        raise Invalid(faults)
    return values
