"""One unit of work: the repositories over one transaction."""

from sqlalchemy.orm import Session

from app.storage.customers import Customers
from app.storage.desk import Desk
from app.storage.invoices import Invoices
from app.storage.materials import Answers, Materials
from app.storage.memo import Memo
from app.storage.number_series import Numbers
from app.storage.open_pieces import OpenPieces
from app.storage.order_lists import OrderLists
from app.storage.orders import Orders
from app.storage.plans import Plans
from app.storage.rack import Rack
from app.storage.shop import ShopKeeping
from app.storage.stock import Stock
from app.storage.supplier_orders import SupplierOrders
from app.storage.ticks import StepTicks


class UnitOfWork:
    """Everything that is kept, as one transaction sees it. `Store` makes one and ends it.

    answers: see `Materials`; lasting: what follows from rows that are written once. Both only for a
    transaction that reads; one that writes keeps nothing beyond its end.
    """

    def __init__(
        self, session: Session, answers: Answers | None = None, lasting: Memo | None = None
    ) -> None:
        self.lasting = lasting or Memo()
        self.session = session
        self.shop = ShopKeeping(session)
        self.materials = Materials(session, answers, self.lasting)
        self.customers = Customers(session)
        self.numbers = Numbers(session)
        self.orders = Orders(session)
        self.invoices = Invoices(session)
        self.ticks = StepTicks(session)
        self.order_lists = OrderLists(session)
        self.desk = Desk(session)
        self.stock = Stock(session, self.lasting)
        self.rack = Rack(session)
        self.plans = Plans(session, self.lasting)
        self.open_pieces = OpenPieces(session)
        self.supplier_orders = SupplierOrders(session)
