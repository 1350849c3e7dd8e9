"""An order as it stands now, for what is done to it next."""

from app.services import orders
from app.services.order_transaction import OrderAt
from app.storage import Store


def order_at(store: Store, order_id: int) -> OrderAt:
    """The order at its present version."""
    return OrderAt(id=order_id, version=orders.get(store, order_id).version)
