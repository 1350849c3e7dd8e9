"""One unit of work: the repositories over one transaction."""

from sqlalchemy.orm import Session

from app.storage.customers import Customers
from app.storage.desk import Desk
from app.storage.materials import Materials
from app.storage.numbers import Numbers
from app.storage.order_lists import OrderLists
from app.storage.orders import Orders
from app.storage.shop import ShopKeeping


class Work:
    """Everything that is kept, as one transaction sees it. `Store` makes one and ends it."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.shop = ShopKeeping(session)
        self.materials = Materials(session)
        self.customers = Customers(session)
        self.numbers = Numbers(session)
        self.orders = Orders(session)
        self.order_lists = OrderLists(session)
        self.desk = Desk(session)
