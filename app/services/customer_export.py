"""What is kept about a customer, as a file that the customer may ask for."""

import json
from collections.abc import Iterable
from dataclasses import asdict

from app.documents.kit.pictures import picture_uri
from app.framing.mass import exact_text
from app.money import show_money
from app.orders import Design, Entry, Order, OrderLine, Piece
from app.orders.invoices.invoice import Invoice
from app.services.order_transaction import range_now
from app.storage import Store, UnitOfWork

type Plain = dict[str, object]


def export(store: Store, customer_id: int) -> str:
    """Return everything that is kept about a customer, as JSON for the customer. Raises: NotFound.

    Source: GDPR art. 15 and 20. What the shop earns is the shop's own and not in it.
    """
    with store.reading() as work:
        kept = work.customers.get(customer_id)
        ids = work.order_lists.ids_of_customer(customer_id)
        kept_orders = [work.orders.get(order_id) for order_id in ids]
        orders = [_order(order) for order in kept_orders]
        photos = _photos(work, kept_orders)
        invoices = [_invoice(each.invoice) for each in work.invoices.of_customer(customer_id)]
    return json.dumps(
        {
            "customer": asdict(kept.value),
            "orders": orders,
            "invoices": invoices,
            **({"photos": photos} if photos else {}),
        },
        ensure_ascii=False,
        indent=2,
    )


def _photos(work: UnitOfWork, orders: Iterable[Order]) -> Plain:
    """Return the photos of artworks by their ids, each as an address that a browser opens."""
    ids = {piece.artwork.photo for order in orders for piece in order.pieces} - {""}
    contents = work.pictures.contents_of(ids)
    return {id: picture_uri(contents[id]) for id in sorted(contents)}


def _order(order: Order) -> Plain:
    found = range_now(order)
    account = found.least
    return {
        "quote": order.quote_number,
        "order": order.order_number,
        "stage": order.stage.value,
        "quoted_on": order.quoted_on.isoformat(),
        "ordered_on": order.ordered_on.isoformat() if order.ordered_on else None,
        "due": order.due.isoformat() if order.due else None,
        "note": order.note,
        "to_pay": show_money(account.to_pay),
        "to_pay_at_most": show_money(found.most.to_pay) if found.is_open else None,
        "received": show_money(account.received),
        "pieces": [_piece(piece) for piece in order.pieces],
        "lines": [_line(line) for line in order.lines],
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
        **({"photo": artwork.photo} if artwork.photo else {}),
        "stage": piece.stage.value,
        **({"copies": piece.copies} if piece.copies > 1 else {}),
        "typed": piece.agreed.typed,
        "to_pay": show_money(piece.agreed.price.to_pay),
        "designs": [_design(piece, each) for each in piece.designs if piece.several],
        "changes": [
            {
                "to": change.new.value,
                **({"count": change.count} if change.count else {}),
                "at": change.at.isoformat(),
                "by": change.by,
            }
            for change in piece.changes
        ],
    }


def _design(piece: Piece, design: Design) -> Plain:
    """Return one of several designs of a piece."""
    return {
        "design": design.letter,
        "taken": design.number == piece.taken,
        "typed": design.agreed.typed,
        "to_pay": show_money(design.agreed.price.to_pay),
    }


def _line(line: OrderLine) -> Plain:
    agreed = line.agreed
    return {
        "number": line.number,
        "what": agreed.what,
        "quantity": agreed.quantity,
        "to_pay": show_money(agreed.price.to_pay),
        "stage": line.stage.value,
        "struck": line.struck,
        "changes": [
            {"to": change.new.value, "at": change.at.isoformat(), "by": change.by}
            for change in line.changes
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
