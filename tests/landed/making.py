"""Makes the data that a version leaves behind, to be opened by every version after it.

The sample shop with few orders, and upon it whatever a shop does that the sample does not; a shop in inches. Each act is
a form that is sent as a browser sends it. Done once for a version that lands; see `shops`.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path
from sqlite3 import connect
from threading import Event

from starlette.testclient import TestClient

from app.cutting import Plan, StickProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.services.cutting import NamedProblem
from app.services.cutting_runs import PlanRuns
from app.storage import Store
from app.web.app import create_app
from seed_demo.build import build_demo
from tests.landed.designs import CHANGED, INCHES, NEW, OTHER_DESIGN, Typed
from tests.landed.shops import IMPERIAL_0_2, METRIC_0_2, TODAY, LandedShop
from tests.web.conftest import OWN_ADDRESS, Clock
from tests.web.shown import Counter, Shown

SEEDED = 24
"""Orders of the sample that come first."""


class Acts:
    """A shop in which one act follows the other, each on its day."""

    def __init__(self, counter: Counter, clock: Clock) -> None:
        self.counter = counter
        self._clock = clock

    def on(self, days_ago: int, hour: int = 10) -> None:
        """What follows happens then."""
        self._clock.time = TODAY.replace(hour=hour) - timedelta(days=days_ago)

    def sent(self, action: str, form: Typed) -> Shown:
        """Send a form that is accepted; the page that it leads to."""
        self._clock.time += timedelta(minutes=3)
        return self.counter.go(action, {name: text for name, text in form.items() if text})

    def filled(self, page: str, action: str, /, **fields: str) -> Shown:
        """Fill in a form of a page, with all that stands in it, and send it."""
        return self.sent(action, _forms(self.counter.get(page), action)[-1] | _paths(fields))

    def quoted(self, typed: Typed, /, **customer: str) -> int:
        """A new quote; its id."""
        page = self.sent("/quotes", _paths(customer) | typed | {"action": "save"})
        found = re.search(r"/orders/(\d+)/take", page.text)
        assert found is not None, page.main
        return int(found[1])

    def act(self, order: int, what: str, /, **fields: str) -> Shown:
        """An act on an order, at its present version."""
        version = self.counter.get(f"/orders/{order}").fields["version"]
        return self.sent(f"/orders/{order}/{what}", {"version": version} | _paths(fields))

    def came_to(self, order: int, *stages: str) -> None:
        """All pieces come to these stages, one after the other."""
        for stage in stages:
            if stage == "collected":
                self.act(order, "hand-over", action="owed")
            else:
                self.act(order, "stage", stage=stage)

    def planned(self) -> str:
        """A cutting plan for everything that is open, kept; its address."""
        form = _forms(self.counter.get("/plans/new"), "/plans/new")[0]
        address = self.counter.post("/plans/new", {k: v for k, v in form.items() if v}).location
        found = self.counter.get(address)
        while found.has(id="making"):
            Event().wait(0.01)
            found = self.counter.get(address)
        return self.counter.post(f"{address}/keep").location.partition("?")[0]


def _paths(fields: Typed) -> Typed:
    """customer__phone -> customer.phone"""
    return {name.replace("__", "."): text for name, text in fields.items()}


@contextmanager
def _shop(store: Store) -> Iterator[Acts]:
    clock = Clock()
    with TestClient(
        create_app(store, now=clock, runs=PlanRuns(_by_our_own_rule)),
        base_url=OWN_ADDRESS,
        headers={"sec-fetch-site": "same-origin"},
        cookies={"bevelbook_who": "Tobin"},
    ) as browser:
        yield Acts(Counter(browser), clock)


def _by_our_own_rule(
    problems: Sequence[NamedProblem], *, stop: Event, progress: Callable[[int, int, str], None]
) -> tuple[Plan, ...]:
    """The same plans every time."""
    return tuple(
        simple_stick_plan(each.asked)
        if isinstance(each.asked, StickProblem)
        else simple_sheet_plan(each.asked)
        for each in problems
    )


def make(folder: Path) -> None:
    """Make every shop and keep it. Raises: FileExistsError where one is kept already."""
    for shop, acts in ((METRIC_0_2, _metric), (IMPERIAL_0_2, _imperial)):
        _make(shop, acts, folder)


def _make(shop: LandedShop, acts: Callable[[Store], None], folder: Path) -> None:
    used, whole = folder / f"{shop.name}.used", folder / shop.name
    with Store.open(used) as store:
        acts(store)
    with closing(connect(used, isolation_level=None)) as connection:
        connection.execute("VACUUM INTO ?", (str(whole),))
    shop.keep(whole)


def _metric(store: Store) -> None:
    build_demo(store, orders=SEEDED, today=TODAY.date())
    with _shop(store) as shop:
        orders = _quotes(shop)
        _work(shop, orders)
        _money(shop, orders)
        _plans(shop)
        _rack(shop)
        _buying(shop)
        _book(shop)


def _quotes(shop: Acts) -> list[int]:
    """Orders in work; one with a piece changed and priced again, one with designs beside each other."""
    orders: list[int] = []
    for place, typed in enumerate(NEW):
        shop.on(14 - place)
        customer = {
            "customer": f"Wren Aldous the {place + 1}.",
            "customer__phone": f"01632 96000{place}",
        }
        orders.append(shop.quoted(typed, **customer))
    first, second = orders[:2]
    shop.on(8)
    shop.act(first, "pieces/1", action="save", **_dotted(NEW[0] | CHANGED))
    shop.act(first, "pieces", action="save", **_dotted(NEW[0] | OTHER_DESIGN))
    shop.act(second, "pieces", action="save", **_dotted(NEW[5]))
    shop.act(second, "pieces/2/remove")
    raised = shop.counter.get("/materials/raise?percent=4&kind=moulding")
    shop.sent("/materials/raise", _forms(raised, "/materials/raise")[-1])
    shop.filled(f"/orders/{second}/pieces/1/price-again", f"/orders/{second}/pieces/1/price-again")
    for place, order in enumerate(orders):
        shop.on(7 - place)
        shop.act(order, "take", due="2026-12-04", deposit="40", method="card")
    shop.on(3)
    shop.quoted(NEW[3], customer="Ottoline Marsh", customer__email="ottoline@marsh.example")
    return orders


def _dotted(typed: Typed) -> Typed:
    return {path.replace(".", "__"): text for path, text in typed.items()}


def _work(shop: Acts, orders: list[int]) -> None:
    """Steps ticked, one taken back; pieces cut, framed, cancelled; a stage taken back."""
    shop.on(1, 11)
    page = f"/orders/{orders[0]}/pieces/1"
    steps = [form["step"] for form in _forms(shop.counter.get(page), f"{page}/steps")][:4]
    for step in steps:
        shop.sent(f"{page}/steps", {"step": step, "ticked": "1"})
    shop.sent(f"{page}/steps", {"step": steps[0], "ticked": "0"})
    shop.came_to(orders[4], "cut", "framed")
    shop.came_to(orders[5], "cut", "framed", "collected")
    shop.act(orders[5], "take-back")
    shop.came_to(orders[2], "cut")
    shop.act(orders[2], "terms", terms__due="2026-12-09", terms__note="Ring before ten.")


def _forms(page: Shown, action: str) -> list[Typed]:
    """What a browser would send of each form that is posted there, as they stand on the page."""
    return [
        dict(form.form_values())
        for form in page.each(tag="form")
        if form.get("action") == action and form.get("method") == "post"
    ]


def _money(shop: Acts, orders: list[int]) -> None:
    """Payments, a mistake corrected, money given back, goodwill with one undone, invoices corrected."""
    order = orders[4]
    shop.on(1, 14)
    shop.act(
        order, "entries", payment__amount="55.55", payment__method="cash", payment__kind="payment"
    )
    shop.act(
        order, "entries", payment__amount="5", payment__kind="refund", payment__note="Scuffed."
    )
    entries = re.findall(
        rf"/orders/{order}/entries/(\d+)/correct", shop.counter.get(f"/orders/{order}").text
    )
    shop.act(order, f"entries/{entries[-1]}/correct")
    shop.act(order, "reductions", goodwill__amount="12.50", goodwill__reason="Late by a week")
    shop.act(order, "reductions", goodwill__amount="3", goodwill__reason="A slip")
    undo = re.findall(
        rf"/orders/{order}/reductions/(\d+)/undo", shop.counter.get(f"/orders/{order}").text
    )
    shop.act(order, f"reductions/{undo[-1]}/undo")
    shop.act(order, "invoices", invoice__pay_by="2026-12-20", invoice__note="Thank you.")
    shop.act(order, "reductions", goodwill__amount="4", goodwill__reason="A scratch")
    shop.act(order, "invoices/correct")
    shop.act(orders[5], "invoices")


def _plans(shop: Acts) -> None:
    """A plan ticked, partly booked, a booking taken back, a part spoiled; one dropped; one done."""
    shop.on(1, 15)
    plan = shop.planned()
    page = shop.counter.get(plan)
    buttons = re.findall(r'name="tick" value="([^"]+)"', page.text)
    parts = [each for each in buttons if not each.startswith(("station.", "section.", "bin."))]
    for part in parts[:6]:
        shop.sent(f"{plan}/ticks", {"tick": part})
    shop.sent(f"{plan}/ticks", {"untick": parts[0]})
    bins = list(dict.fromkeys(re.findall(rf"{plan}/(bins/\d+/\d+)/book", page.text)))
    for each in bins[:4]:
        booking = _forms(shop.counter.get(plan), f"{plan}/{each}/book")[0]
        shop.sent(f"{plan}/{each}/book", booking | {"anyway": "1"})
    shop.sent(f"{plan}/{bins[0]}/take-back", {})
    shop.sent(f"{plan}/spoiled", {"part": parts[-1], "note": "Slipped."})
    again = shop.planned()
    shop.filled(f"{again}/drop", f"{again}/drop")
    last = shop.planned()
    for each in dict.fromkeys(
        re.findall(rf"{last}/(bins/\d+/\d+)/book", shop.counter.get(last).text)
    ):
        booking = _forms(shop.counter.get(last), f"{last}/{each}/book")[0]
        shop.sent(f"{last}/{each}/book", booking | {"anyway": "1"})


def _rack(shop: Acts) -> None:
    """Received, kept, spoiled and taken back, counted, levels set."""
    shop.on(1, 16)
    shop.filled(
        "/stock/receive",
        "/stock/receive",
        material="B20-OAK",
        count="6",
        batch="H-2301",
        place="Rack A",
    )
    offcut = shop.filled(
        "/stock/offcuts/new", "/stock/offcuts/new", material="B30-OAK", size="780", place="Bin 2"
    )
    item = re.search(r"/stock/items/(\d+)/take", offcut.text)
    assert item is not None, offcut.main
    at = f"/stock/items/{item[1]}"
    taken = shop.sent(f"{at}/take", {"kind": "spoiled", "count": "1", "note": "Fell."})
    movement = re.search(rf"{at}/movements/(\d+)/take-back", taken.text)
    assert movement is not None, taken.main
    shop.sent(movement[0], {})
    shop.filled(f"{at}/edit", f"{at}/edit", place="Bin 3", note="Nick at one end.")
    shop.filled(
        "/stock/levels/B20-OAK", "/stock/levels/B20-OAK", reorder_at="6", pack="10", place="Rack A"
    )
    sheet = _forms(shop.counter.get("/stock/count?kind=hardware"), "/stock/count")[-1]
    counts = [name for name in sheet if name.startswith("count.")]
    found = shop.counter.post("/stock/count", sheet | {counts[0]: "91", counts[1]: "12"})
    shop.sent("/stock/count", _forms(found, "/stock/count")[0] | {"action": "save"})


def _buying(shop: Acts) -> None:
    """What is short is ordered; one delivery is taken back, one order closed, one dropped."""
    shop.on(0, 8)
    short = _forms(shop.counter.get("/buying"), "/buying")[0]
    shop.sent("/buying", short | {"supplier": "Holm Timber"})
    orders = sorted(
        int(id)
        for id in set(
            re.findall(r"/buying/orders/(\d+)", shop.counter.get("/buying/orders?stage=draft").text)
        )
    )
    first, second = (f"/buying/orders/{id}" for id in orders[-2:])
    shop.sent(first, _forms(shop.counter.get(first), first)[0] | {"action": "send"})
    form = _forms(shop.counter.get(first), f"{first}/came")[0]
    form |= {name: "2" for name in form if name.endswith(".came")}
    came = shop.sent(f"{first}/came", form | {"came.note": "LS-88"})
    delivery = re.search(rf"{first}/deliveries/(\d+)/take-back", came.text)
    assert delivery is not None, came.main
    version = came.fields["version"]
    shop.sent(delivery[0], {"version": version})
    shop.sent(f"{first}/close", {"version": shop.counter.get(first).fields["version"]})
    shop.sent(f"{second}/drop", {"version": shop.counter.get(second).fields["version"]})


def _book(shop: Acts) -> None:
    """A material called otherwise, one off offer, a new one; a cutter corrected by a test cut."""
    shop.on(0, 9)
    shop.filled("/materials/B20-OAK/edit", "/materials/B20-OAK/edit", code="OAK-20", action="save")
    retired = shop.counter.get("/materials/ZINC14/edit").fields["version"]
    shop.sent("/materials/ZINC14/offer", {"version": retired, "offer": "0"})
    shop.filled("/customers/1/edit", "/customers/1", notes="Prefers the morning.", action="save")
    shop.sent("/customers/2/remove", {})
    shop.filled(
        "/settings/cutters/new", "/settings/cutters/new", name="The inch cutter", action="save"
    )


def _imperial(store: Store) -> None:
    with _shop(store) as shop:
        shop.on(40)
        first_run = {"name": "Larkspur Framing", "unit": "in", "currency": "USD", "tax": "8.875"}
        shop.sent(
            "/welcome", first_run | {"stated": "without", "paper": "Letter", "hourly_rate": "48"}
        )
        with store.writing() as work:
            work.materials.add_all(INCHES.materials, now=TODAY - timedelta(days=39))
        shop.filled(
            "/settings/cutters/new?unit=in", "/settings/cutters/new", name="The rail", action="save"
        )
        order = 0
        for typed in INCHES.pieces:
            shop.on(9)
            order = shop.quoted(typed, customer="Dorothea Finch", customer__phone="555 0142")
            shop.on(8)
            shop.act(order, "take", deposit="20", due="2026-12-01", method="card")
        shop.came_to(order, "cut", "framed", "collected")
        shop.act(order, "invoices", invoice__note="Thank you.")
        shop.filled("/stock/receive", "/stock/receive", material=INCHES.stick, count="4")
        shop.planned()
