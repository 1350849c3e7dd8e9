"""Customers: found, added, changed, given out and erased."""

import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace

from app.errors import Invalid, quoted
from app.framing.mass import exact_text
from app.money import show_money
from app.orders import Customer, Entry, Order, Piece
from app.orders.invoices.invoice import Invoice
from app.services.order_transaction import account_now
from app.storage import (
    CustomerSummary,
    ListPage,
    PageRequest,
    Stamp,
    Store,
    UnitOfWork,
    Versioned,
    digits_of,
    words_of,
)

_LABEL = re.compile(r"(?P<name>.*\S) #(?P<id>[0-9]{1,9})", re.ASCII | re.DOTALL)

_SHORTEST_NUMBER = 3
"""Digits that are taken for a part of a phone number; fewer may be anything."""

type Plain = dict[str, object]


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerRequest:
    """For whom a quote is, as typed: somebody known by label or name, or somebody new."""

    name: str
    phone: str = ""
    email: str = ""

    @classmethod
    def of(cls, form: Mapping[str, str]) -> "CustomerRequest":
        """From the fields "customer", "customer.phone", "customer.email"."""
        return cls(
            name=form.get("customer", "").strip(),
            phone=form.get("customer.phone", "").strip(),
            email=form.get("customer.email", "").strip(),
        )


def label(customer_id: int, name: str) -> str:
    """What stands in a field once a customer is chosen: "Amber Quill #12"."""
    return f"{name} #{customer_id}"


def get(store: Store, customer_id: int) -> Versioned[Customer]:
    """A customer with the version. Raises: NotFound."""
    with store.reading() as work:
        return work.customers.get(customer_id)


def find(store: Store, text: str, *, limit: int = 10) -> tuple[CustomerSummary, ...]:
    """Customers by a part of name, phone, e-mail, address or notes."""
    with store.reading() as work:
        return work.customers.find(text, limit=limit)


def listed(
    store: Store, text: str = "", page: PageRequest | None = None
) -> ListPage[CustomerSummary]:
    """Customers by name, all or those that match."""
    with store.reading() as work:
        return work.customers.listed(text, page)


def add(store: Store, customer: Customer, act: Stamp) -> int:
    """Add a customer. Returns the id."""
    with store.writing() as work:
        return work.customers.add(customer, now=act.now)


def save(
    store: Store, customer_id: int, customer: Customer, expected_version: int, act: Stamp
) -> None:
    """Replace a customer. Raises: NotFound, Stale, Conflict for one that was erased."""
    with store.writing() as work:
        work.customers.save(customer_id, customer, expected_version, now=act.now)


def erase(store: Store, customer_id: int, act: Stamp) -> None:
    """Remove everything personal; orders and their ledgers stay. Raises: NotFound.

    Invoices stay as they were issued, with the name and address on them.
    Source: GDPR art. 17; handbook section 10: invoices the law requires stay.
    """
    with store.writing() as work:
        work.customers.erase(customer_id, now=act.now)


def fitting(store: Store, asked: CustomerRequest) -> tuple[Customer, ...]:
    """The customers who may be meant by what was typed: none is somebody new, several are asked about."""
    with store.reading() as work:
        return tuple(kept.value for kept in _same(work, asked))


def alike(store: Store, asked: CustomerRequest) -> str | None:
    """The label of the only customer whose name is like what was typed, where nobody is meant by it.

    It may as well be the name of somebody new, so whoever asks offers it and does not take it.
    """
    with store.reading() as work:
        if _same(work, asked):
            return None
        found = _only(work, asked.name)
        words = words_of(asked.name)
        if found is None or not all(_begins_a_word(word, found.value.name) for word in words):
            return None
        return label(found.id, found.value.name)


def known_or_new(work: UnitOfWork, asked: CustomerRequest, act: Stamp) -> int:
    """The id of the customer who is meant, added where nobody of that name is known.

    Somebody with the same name but another phone or e-mail is somebody new.
    Raises: Invalid at "customer", "customer.phone", "customer.email".
    """
    same = _same(work, asked)
    if len(same) == 1:
        return same[0].id
    if same:
        raise Invalid.at(
            "customer",
            f"{len(same)} customers are called {quoted(same[0].value.name)}; choose the right one from "
            "the list, or add a phone number.",
            "ambiguous",
        )
    try:
        customer = Customer(name=asked.name, phone=asked.phone, email=asked.email)
    except Invalid as invalid:
        raise _at_the_form(invalid) from invalid
    return work.customers.add(customer, now=act.now)


def _same(work: UnitOfWork, asked: CustomerRequest) -> tuple[Versioned[Customer], ...]:
    """Those whom a label, a name or a part of one phone or e-mail with what else was typed may mean."""
    labelled = _LABEL.fullmatch(asked.name)
    named = work.customers.named(labelled["name"] if labelled else asked.name)
    return tuple(
        kept
        for kept in named or _reached_by(work, asked.name)
        if (labelled is None or kept.id == int(labelled["id"])) and _fits(kept.value, asked)
    )


def _reached_by(work: UnitOfWork, part: str) -> tuple[Versioned[Customer], ...]:
    """The only customer whose phone or e-mail has this part; nobody is called so."""
    number = digits_of(part) if not any(char.isalpha() for char in part) else ""
    if "@" not in part and len(number) < _SHORTEST_NUMBER:
        return ()
    found = _only(work, part)
    if found is None:
        return ()
    customer = found.value
    has = part.casefold() in customer.email.casefold() or (
        number and number in digits_of(customer.phone)
    )
    return (found,) if has else ()


def _only(work: UnitOfWork, part: str) -> Versioned[Customer] | None:
    """The only customer who is found by a part of anything."""
    found = work.customers.find(part, limit=2)
    return work.customers.get(found[0].id) if len(found) == 1 else None


def _begins_a_word(word: str, name: str) -> bool:
    return any(each.startswith(word) for each in words_of(name))


def _fits(customer: Customer, asked: CustomerRequest) -> bool:
    """Whether what was typed beside the name is blank or what is known."""
    phone = digits_of(asked.phone) in ("", digits_of(customer.phone))
    return phone and asked.email.casefold() in ("", customer.email.casefold())


def _at_the_form(invalid: Invalid) -> Invalid:
    paths = {"name": "customer", "phone": "customer.phone", "email": "customer.email"}
    return Invalid(replace(fault, path=paths[fault.path]) for fault in invalid.faults)


def export(store: Store, customer_id: int) -> str:
    """Everything that is kept about a customer, as JSON for the customer. Raises: NotFound.

    Source: GDPR art. 15 and 20. What the shop earns is the shop's own and not in it.
    """
    with store.reading() as work:
        kept = work.customers.get(customer_id)
        ids = work.order_lists.ids_of_customer(customer_id)
        orders = [_order(work.orders.get(order_id)) for order_id in ids]
        invoices = [_invoice(each.invoice) for each in work.invoices.of_customer(customer_id)]
    return json.dumps(
        {"customer": asdict(kept.value), "orders": orders, "invoices": invoices},
        ensure_ascii=False,
        indent=2,
    )


def _order(order: Order) -> Plain:
    account = account_now(order)
    return {
        "quote": order.quote_number,
        "order": order.order_number,
        "stage": order.stage.value,
        "quoted_on": order.quoted_on.isoformat(),
        "ordered_on": order.ordered_on.isoformat() if order.ordered_on else None,
        "due": order.due.isoformat() if order.due else None,
        "note": order.note,
        "to_pay": show_money(account.to_pay),
        "received": show_money(account.received),
        "pieces": [_piece(piece) for piece in order.pieces],
        "payments": [_entry(entry) for entry in order.entries],
        "reductions": [
            {
                "amount": show_money(each.entry.amount),
                "with_tax": each.entry.with_tax,
                "reason": each.entry.reason,
            }
            for each in order.reductions
        ],
    }


def _piece(piece: Piece) -> Plain:
    artwork, value = piece.artwork, piece.artwork.declared_value
    return {
        "number": piece.number,
        "title": artwork.title,
        "kind": artwork.kind.value,
        "support": artwork.support and artwork.support.value,
        "weight_kg": None if artwork.weight_kg is None else exact_text(artwork.weight_kg),
        "condition": artwork.condition,
        "declared_value": show_money(value) if value is not None else None,
        "place": artwork.place,
        "stage": piece.stage.value,
        "typed": piece.agreed.typed,
        "to_pay": show_money(piece.agreed.price.to_pay),
        "changes": [
            {"to": change.new.value, "at": change.at.isoformat(), "by": change.by}
            for change in piece.changes
        ],
    }


def _invoice(invoice: Invoice) -> Plain:
    charged, corrects = invoice.charged, invoice.corrects
    return {
        "number": invoice.number,
        "kind": invoice.kind.value,
        "issued_on": invoice.issued_on.isoformat(),
        "corrects": corrects.number if corrects else None,
        "order": invoice.order_number,
        "buyer": [invoice.buyer.name, *invoice.buyer.lines],
        "lines": [
            {"name": line.name, "details": line.details, "amount": show_money(line.amount)}
            for line in charged.lines
        ],
        "without_tax": show_money(charged.net),
        "tax": show_money(charged.tax),
        "with_tax": show_money(charged.gross),
        "note": invoice.note,
    }


def _entry(written: Entry) -> Plain:
    entry = written.entry
    return {
        "kind": entry.kind.value,
        "amount": show_money(entry.amount),
        "at": entry.at.isoformat(),
        "method": entry.method.value,
        "note": entry.note,
    }
