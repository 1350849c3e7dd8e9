"""Every page for everyone: nothing found by axe, nothing wider than a phone, light and dark."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from app.lengths import mm
from app.orders import Stage
from app.services import buying, deliveries, designs, invoices, quotes, reductions
from app.services import stages as progress
from app.services import stock as racks
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.stock.items import Item, StockForm
from app.stock.levels import Levels
from app.stock.movements import MovementKind
from app.stock.offcuts import Offcut
from app.storage import DATABASE_NAME, Stamp, Store
from tests.browser.conftest import DESK, NOW, PHONE, Shop, opened, stock, visiting
from tests.builders.values import euro
from tests.builders.worked import SHOP, TYPED

PAGES = (
    "/",
    "/quotes",
    "/quotes?q=nobody",
    "/quotes/new",
    "/orders",
    "/orders?stage=ordered&sort=due",
    "/orders/1",
    "/orders/2",
    "/orders/2/pieces/1",
    "/orders/2/pieces/1?view=measured",
    "/orders/2/pieces/1?view=section",
    "/orders/3",
    "/orders/3/pieces/1",
    "/orders/1/pieces/1/change",
    "/orders/1/pieces/1/price-again",
    "/orders/1/pieces/new",
    "/orders/4",
    "/orders/4/pieces/1",
    "/orders/4/pieces/1/designs",
    "/orders/4/pieces/1/designs/new",
    "/orders/4/pieces/1/change?design=2",
    "/orders/5",
    "/orders/5/pieces/1/designs/1/take",
    "/materials",
    "/materials/new?kind=moulding",
    "/stock",
    "/stock?q=nothing+at+all",
    "/stock/items",
    "/stock/items?material=LIN-20",
    "/stock/items/1",
    "/stock/items/1/edit",
    "/stock/items/2",
    "/stock/receive",
    "/stock/receive?material=LIN-20",
    "/stock/offcuts/new?item=1",
    "/stock/levels/LIN-20",
    "/stock/count",
    "/stock/count?kind=moulding",
    "/bench/together",
    "/bench/together/choose?piece=3.1",
    "/bench/together?piece=3.1&piece=5.1&piece=2.1&piece=abc&marks=3.1",
    "/plans",
    "/plans/new",
    "/invoices",
    "/invoices?month=2025-01",
    "/customers",
    "/customers/1",
    "/customers/2",
    "/customers/new",
    "/buying",
    "/buying/orders",
    "/buying/orders?stage=dropped",
    "/buying/orders/1",
    "/buying/orders/1/costs",
    "/buying/orders/2",
    "/settings",
    "/settings/work",
    "/settings/prices",
    "/settings/usual",
    "/settings/tax",
    "/settings/cutters/new",
    "/materials/raise?percent=5&what=both",
    "/handbook",
    "/handbook?q=rebate",
    "/handbook/work",
)

REFUSED = {"customer": "", "artwork.size": "16x", "borders.left": "12 3/0", "action": "save"}


@pytest.fixture(scope="module")
def busy_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A quote and an overdue order that is cut and half paid, with a name as long as names get."""
    with Store.open(Path(tmp_path_factory.mktemp("pages")) / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
        stock(store)
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
        with opened(store) as shop:
            yield shop


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


@pytest.fixture(scope="module", params=["light", "dark"])
def desk(request: pytest.FixtureRequest, browser: Browser, busy_shop: Shop) -> Iterator[Page]:
    """A page as wide as a laptop."""
    with visiting(browser, busy_shop, viewport=DESK, color_scheme=request.param) as page:
        yield page


@pytest.fixture(scope="module", params=["light", "dark"])
def phone(request: pytest.FixtureRequest, browser: Browser, busy_shop: Shop) -> Iterator[Page]:
    """A page as narrow as WCAG asks for (1.4.10)."""
    with visiting(browser, busy_shop, viewport=PHONE, color_scheme=request.param) as page:
        yield page


def unfold(page: Page) -> None:
    """Open everything that is folded, so that it is looked at too."""
    page.evaluate("() => document.querySelectorAll('details').forEach((each) => each.open = true)")


def found_by_axe(page: Page) -> list[str]:
    """Each finding as a line: rule, element, what to do."""
    findings = Axe().run(page).response["violations"]
    return [
        f"{finding['id']}: {node['target']}: {node['failureSummary']}"
        for finding in findings
        for node in finding["nodes"]
    ]


def wider_than_the_screen(page: Page) -> str:
    """The width of the page and what reaches past the screen; empty where nothing does."""
    return str(
        page.evaluate(
            """() => {
              const room = document.documentElement.clientWidth;
              if (document.documentElement.scrollWidth <= room) return '';
              const past = [...document.body.querySelectorAll('*')]
                .filter((each) => each.getBoundingClientRect().right > room + 1)
                .map((each) => each.tagName + '.' + each.className).slice(0, 5);
              return `${document.documentElement.scrollWidth} of ${room}: ${past.join(', ')}`;
            }"""
        )
    )


def look_at(page: Page, path: str) -> None:
    answer = page.goto(path)
    assert answer is not None
    assert answer.status == 200
    unfold(page)
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""


@pytest.mark.parametrize("path", PAGES)
def test_a_page_on_a_laptop(desk: Page, path: str) -> None:
    look_at(desk, path)


@pytest.mark.parametrize("path", PAGES)
def test_a_page_on_a_phone(phone: Page, path: str) -> None:
    look_at(phone, path)


def refused(page: Page) -> None:
    page.goto("/quotes/new")
    for name in ("artwork.size", "borders.left"):
        page.locator(f"[name='{name}']").fill(REFUSED[name])
    page.get_by_role("button", name="Save the quote").click()
    page.locator(".error-summary").wait_for()
    unfold(page)
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""
    page.once("dialog", lambda dialog: dialog.accept())
    page.goto("about:blank")


def test_a_form_that_came_back_on_a_laptop(desk: Page) -> None:
    refused(desk)


def test_a_form_that_came_back_on_a_phone(phone: Page) -> None:
    refused(phone)


def test_a_missing_page_leads_on(browser: Browser, busy_shop: Shop) -> None:
    """Outside the watch of the others: a missing page is a 404, as it should be."""
    context = browser.new_context(base_url=busy_shop.address, viewport=PHONE)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto("/nothing-here")
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""
    context.close()


def test_the_first_page_of_all(browser: Browser, new_shop: Shop) -> None:
    for viewport in (DESK, PHONE):
        for scheme in ("light", "dark"):
            with visiting(browser, new_shop, viewport=viewport, color_scheme=scheme) as page:
                look_at(page, "/welcome")


def test_targets_at_the_bench_are_as_large_as_a_thumb(phone: Page) -> None:
    """44 px for what moves the work on; WCAG 2.2 asks for 24 of anything (2.5.8)."""
    phone.goto("/orders/2/pieces/1")
    for button in phone.locator("main .actions-large button:visible").all():
        box = button.bounding_box()
        assert box is not None
        assert box["height"] >= 44, button.inner_text()
