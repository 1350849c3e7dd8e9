"""One unit of work: the repositories over one transaction."""

from sqlalchemy.orm import Session

from app.storage.memo import Memo, OfBook
from app.storage.tables.clock import TheClock
from app.storage.tables.customers import Customers
from app.storage.tables.desk import Desk
from app.storage.tables.invoices import Invoices
from app.storage.tables.materials import OF_BOOK, Materials
from app.storage.tables.numbered import NumberedPapers
from app.storage.tables.order_lines import OrderLines
from app.storage.tables.order_lists import OrderLists
from app.storage.tables.orders import Orders
from app.storage.tables.part_changes import PartChanges
from app.storage.tables.phones import Phones
from app.storage.tables.pictures import Pictures
from app.storage.tables.pieces import OpenPieces, StepTicks
from app.storage.tables.plan_lists import PlanLists
from app.storage.tables.plans import Plans
from app.storage.tables.sent_forms import SentForms
from app.storage.tables.shop import Numbers, ShopKeeping
from app.storage.tables.stock import Stock
from app.storage.tables.stock_lists import Rack, StockLists
from app.storage.tables.supplier_orders import SupplierOrders
from app.storage.tables.ticket_prints import TicketPrints
from app.storage.tables.told import told_customers


class UnitOfWork:
    """Everything that is kept, as one transaction sees it. `Store` makes one and ends it.

    lasting: what follows from rows that are written once; one that writes has a memory of its own (`Memo.of_writer`).
    book: see `OfBook`; only for a transaction that reads.
    """

    def __init__(
        self, session: Session, lasting: Memo | None = None, book: int | None = None
    ) -> None:
        self.lasting = lasting or Memo()
        self.session = session
        of_book = session.info[OF_BOOK] = OfBook(self.lasting, book)
        self.shop = ShopKeeping(session, self.lasting)
        self.sent_forms = SentForms(session)
        self.phones = Phones(session)
        self.pictures = Pictures(session)
        self.clock = TheClock(session)
        self.customers = Customers(session)
        self.numbers = Numbers(session)
        self.orders = Orders(session, self.lasting)
        self.order_lines = OrderLines(session)
        self.told = told_customers(session)
        self.part_changes = PartChanges(session)
        self.invoices = Invoices(session)
        self.papers = NumberedPapers(session)
        self.ticks = StepTicks(session)
        self.ticket_prints = TicketPrints(session)
        self.order_lists = OrderLists(session)
        self.desk = Desk(session)
        self.stock = Stock(session)
        self.stock_lists = StockLists(session, self.lasting)
        self.rack = Rack(session)
        self.plans = Plans(session, self.lasting)
        self.plan_lists = PlanLists(session)
        self.open_pieces = OpenPieces(session)
        self.supplier_orders = SupplierOrders(session)
        held_by = (
            self.order_lines.holds,
            self.stock.holds,
            self.supplier_orders.holds,
            self.plans.holds,
        )
        self.materials = Materials(session, self.lasting, of_book, held_by)
