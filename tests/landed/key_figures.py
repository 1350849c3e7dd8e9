"""What a shop stands and falls by, each figure under its name: sums, prices, cut sizes, plans, stock, invoices.

Alone among these tests it asks the app's own services. Where they change it follows; the figures stay.
"""

from typing import Any

from sqlalchemy import text

from app.documents.kit.printing import Figures
from app.documents.ticket.cut_list import CutListBasis, cut_list
from app.money import Money
from app.orders import Order, Piece, Shop
from app.orders.piece_report import findings
from app.services import invoices, orders, plans, stock
from app.services.order_transaction import account_now
from app.storage import Store

type Plain = dict[str, Any]


def key_figures(store: Store) -> Plain:
    """All of them, as plain values for JSON."""
    shop = store.current_shop()
    assert shop is not None, "a shop that landed is set up"
    kept = [orders.get(store, id) for id in _ids(store, "orders")]
    return {
        "orders": {order.quote_number: _order(order, shop) for order in kept},
        "invoices": {
            each.invoice.number: _money(
                each.invoice.charged.net, each.invoice.charged.tax, each.invoice.charged.gross
            )
            for order in kept
            for each in invoices.of_order(store, order).issued
        },
        "plans": {
            plan.number: _plan(plan)
            for plan in (plans.get(store, id) for id in _ids(store, "cutting_plans"))
        },
        "stock": {
            each.material.code: f"{each.whole} + {each.offcuts}, {_money(each.value)}"
            for each in stock.balances(store)
        },
    }


def _ids(store: Store, table: str) -> list[int]:
    with store.reading() as work:
        return list(work.session.scalars(text(f"SELECT id FROM {table} ORDER BY id")))


def _money(*amounts: Money) -> str:
    return ", ".join(f"{each.currency.code} {each.minor}" for each in amounts)


def _order(order: Order, shop: Shop) -> Plain:
    account = account_now(order)
    return {
        "to pay, received, balance": _money(account.to_pay, account.received, account.balance),
        "taxes": _money(*(part.tax for part in account.taxes)),
        "pieces": {str(piece.number): _piece(piece, shop) for piece in order.pieces},
    }


def _piece(piece: Piece, shop: Shop) -> Plain:
    """Its price, lines and cut list; sizes in its own unit and the shop's steps, bare."""
    agreed = piece.agreed
    cutting = CutListBasis(
        agreed=agreed,
        found=findings(piece.artwork, agreed, shop),
        figures=Figures(steps=agreed.steps),
        mat_word=shop.mat_word.value,
        saw_loss=shop.saw_loss,
    )
    return {
        "price": _money(agreed.price.to_pay),
        "lines": [f"{line.part} {line.code}: {_money(line.amount)}" for line in agreed.price.lines],
        "cut": [
            f"{group.name} {row.label}: {row.figure.text}"
            + (f", short {row.short.text}" if row.short else "")
            for group in cut_list(cutting)
            for row in group.rows
        ],
    }


def _plan(plan: Any) -> Plain:
    return {
        section.material.code: f"{len(section.plan.bins)} opened, {len(section.parts)} parts: "
        + ", ".join(sorted(part.key for part in section.parts))
        for section in plan.sections
    }
