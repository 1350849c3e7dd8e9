"""A shop in the middle of its work, with something of everything that pages show, and names as long as they get."""

from dataclasses import replace
from datetime import timedelta

from app.lengths import mm
from app.orders import Stage
from app.services import buying, deliveries, designs, invoices, lines, quotes, reductions
from app.services import stages as progress
from app.services import stock as racks
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.stock.items import Item, StockForm
from app.stock.levels import Levels
from app.stock.movements import MovementKind
from app.stock.offcuts import Offcut
from app.storage import Stamp, Store
from tests.browser.clock import NOW
from tests.builders.at_cutter import CUTTER
from tests.builders.values import euro
from tests.builders.worked import BOOK, SHOP, TYPED
from tests.storage.plan_work import planned


def fill(store: Store) -> None:
    """A quote and an overdue order that is cut and half paid, with a name as long as names get."""
    with store.writing() as work:
        work.shop.add(replace(SHOP, cutters=(CUTTER,)), now=NOW)
        work.materials.add_all(BOOK, now=NOW)
    act = Stamp(who="Ilse", now=NOW - timedelta(days=20))
    quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, act)
    long_name = "Wilhelmina-Konstanze von der Hohenbruchhausen-Lindenthal"
    order = quotes.save_new(store, CustomerRequest(name=long_name), TYPED, SHOP, act)
    terms = progress.Terms(due=(NOW - timedelta(days=3)).date(), deposit=euro("50"))
    progress.take_order(store, OrderAt(id=order, version=1), terms, act)
    with store.reading() as work:
        version = work.orders.get(order).version
    progress.move_order(store, OrderAt(id=order, version=version), Stage.CUT, act)
    issue_invoices(store, order)
    fill_rack(store, act)
    order_material(store)
    offer_designs(store)
    sell_a_line(store)
    quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED | {"copies": "3"}, SHOP, act)
    planned(store)


def sell_a_line(store: Store) -> None:
    """A quote of work without an artwork."""
    posted = lines.LinePosted(typed={"what": "Brass plate, engraved", "price": "24.99"})
    act = Stamp(who="Ilse", now=NOW)
    lines.save_new(store, CustomerRequest(name="Amber Quill"), posted, SHOP, act)


def fill_rack(store: Store, act: Stamp) -> None:
    """Sticks of which more were cut than came, with a batch and a place as long as they get; an offcut."""
    sticks = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("12.00"),
        length=mm(3000),
        batch="finish-lot-" + "9" * 49,
        place="The upper rack behind the door of the cold store, on left",
    )
    item_id = racks.receive(store, racks.Received(item=sticks, count=5), act)
    racks.take(store, item_id, racks.Withdrawal(kind=MovementKind.CUT, count=7, note="all"), act)
    racks.set_levels(store, "LIN-20", Levels(reorder_at=3, pack=10, place="Rack A"), 0)
    offcut = Offcut(material="LIN-20", unit_cost=euro("3.00"), length=mm(750), place="Bin 1")
    racks.keep_offcut(store, offcut, act)


def issue_invoices(store: Store, order: int) -> None:
    """An invoice that was corrected, of an order that differs again from the new one."""
    act = Stamp(who="Ilse", now=NOW)

    def at() -> OrderAt:
        with store.reading() as work:
            return OrderAt(id=order, version=work.orders.get(order).version)

    def take_off() -> None:
        reductions.reduce(store, at(), reductions.Goodwill(amount=euro("5"), reason="late"), act)

    invoices.issue(store, at(), invoices.InvoiceRequest(note="Thank you."), act)
    take_off()
    invoices.correct(store, at(), invoices.InvoiceRequest(), act)
    take_off()


def order_material(store: Store) -> None:
    """An order that came in part at another cost, and a draft, both to a supplier with a long name; a
    customer's order that waits for material."""
    act = Stamp(who="Ilse", now=NOW)
    supplier = "Wholesale of Mouldings and Mats, Hohenbruchhausen-Lindenthal"
    wanted = [
        buying.ToOrder(material=code, quantity=count, supplier=supplier)
        for code, count in (("M-101", 12), ("M-140", 9), ("X-1", 20))
    ]
    (order,) = buying.make_orders(store, wanted, act)
    version = buying.get(store, order).version
    buying.send(store, buying.SupplierOrderAt(id=order, version=version), act)
    sent = buying.get(store, order)
    came = deliveries.CameOfLine(
        line_id=sent.lines[0].id, quantity=4, cost=euro("13.50"), batch="L7", place="Rack A"
    )
    at = buying.SupplierOrderAt(id=order, version=sent.version)
    deliveries.receive(store, at, [came], act, note="LS-2026-88 " + "x" * 60)
    buying.make_orders(store, wanted[:2], act)
    order = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, act)
    progress.take_order(store, OrderAt(id=order, version=1), progress.Terms(), act)


def offer_designs(store: Store) -> None:
    """A quote with three designs, and an order with one that was not taken."""
    act = Stamp(who="Ilse", now=NOW)
    for changed in ({"glazing.material": "A-3"}, {"artwork.size": "400 x 310"}):
        typed = TYPED | changed
        order = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, act)
        piece = quotes.worked_out(store, typed, SHOP, today=NOW.date())
        designs.add(store, OrderAt(id=order, version=1), 1, piece, act)
        designs.add(store, OrderAt(id=order, version=2), 1, piece, act)
    progress.take_order(store, OrderAt(id=order, version=3), progress.Terms(designs={1: 2}), act)
