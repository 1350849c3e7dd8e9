"""Buying as it is done on the pages: what is short, drafts, sending, receiving, closing, costs.

The piece of tests/builders/worked wants one stick of LIN-20 (4.00 a metre in sticks of 3 m: 12.00), one sheet
each of M-101, M-140 (10.00), G-2 (20.00 × 1.92 m² = 38.40) and B-3 (8.00), and two rings, bought by
the hundred (20.00). Nothing in that book names a supplier.
"""

import csv
from dataclasses import replace
from io import StringIO

import pytest

from app.orders import Stage
from app.services import orders, price_book, quotes, stock
from app.services import stages as progress
from app.services.orders import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.stock.levels import Levels
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, in_another_tab, words

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)
SUPPLIERS = {"LIN-20": "Holm Timber", "M-101": "Marl Board Mill", "M-140": "Marl Board Mill"}


@pytest.fixture
def short(counter: Counter, stocked: Store) -> Counter:
    """A shop with one order in work and nothing on the rack."""
    for code, supplier in SUPPLIERS.items():
        kept = price_book.get(stocked, code)
        price_book.save(stocked, code, replace(kept.value, supplier=supplier), kept.version, ACT)
    order = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    progress.take_order(stocked, OrderAt(id=order, version=1), progress.Terms(), ACT)
    return counter


def only(form: dict[str, str], *codes: str, **typed: str) -> dict[str, str]:
    """The form of what is short with some materials ticked and nothing else."""
    ticked = {
        name.replace(".code", ".chosen")
        for name, value in form.items()
        if name.endswith(".code") and value in codes
    }
    fields = {
        name: value
        for name, value in form.items()
        if not name.endswith(".chosen") or name in ticked
    }
    return {**fields, **typed}


def field_of(form: dict[str, str], code: str, field: str) -> str:
    return next(name.replace(".code", f".{field}") for name, value in form.items() if value == code)


def draft(counter: Counter, *codes: str, **quantities: str) -> Shown:
    form = counter.get("/buying").form("/buying")
    typed = {
        field_of(form, code.replace("_", "-"), "quantity"): n for code, n in quantities.items()
    }
    return counter.go("/buying", only(form, *codes, **typed))


def at(shown: Shown) -> str:
    return next(
        form.get("action", "").removesuffix("/sheet.pdf")
        for form in shown.each(tag="form")
        if form.get("action", "").endswith("/sheet.pdf")
    )


def sent(counter: Counter, *codes: str, **quantities: str) -> tuple[str, Shown]:
    made = draft(counter, *codes, **quantities)
    path = at(made)
    return path, counter.go(path, {**made.form(path), "action": "send"})


def only_line(form: dict[str, str]) -> str:
    """The number of the only line of a form."""
    (line,) = {name.split(".")[1] for name in form if name.startswith("lines.")}
    return line


def came(shown: Shown, path: str, **typed: str) -> dict[str, str]:
    """The form of what came, of an order with one line."""
    form = shown.form(f"{path}/came")
    line = only_line(form)
    return {**form, **{f"lines.{line}.{field}": value for field, value in typed.items()}}


def test_an_empty_shop_is_short_of_nothing_and_is_led_on(counter: Counter) -> None:
    shown = counter.get("/buying")
    assert "Nothing is short" in shown.main
    assert shown.links()["See the orders"] == "/buying/orders"
    assert "Nothing was ordered yet" in counter.get("/buying/orders").main
    assert counter.get("/stock").links()["Buying"] == "/buying"


def test_what_is_short_stands_by_supplier_with_its_reason_and_its_pieces(short: Counter) -> None:
    shown = short.get("/buying")
    headings = [" ".join(each.itertext()) for each in shown.each(tag="h2")]
    assert headings == ["Holm Timber", "Marl Board Mill", "Without a supplier"]
    assert "Suppliers 2 3 materials without one At cost" in shown.main
    assert "1 stick wanted by 1 piece, 0 free on the rack: buy 1." in shown.main
    assert "in packs of 100: 100." in shown.main
    assert "3 materials, 66.40 at cost" in shown.main  # 38.40 + 8.00 + 20.00
    units = [words(each) for each in shown.each("figured")]
    assert "stick" in units
    assert "sticks" not in units
    assert shown.links()["2026-0001/1"] == "/orders/1/pieces/1"


def test_one_button_makes_a_draft_for_each_supplier(short: Counter) -> None:
    form = short.get("/buying").form("/buying")
    shown = short.go("/buying", only(form, "LIN-20", "M-101", "M-140"))
    assert "2 drafts are made" in shown.main
    assert set(shown.links()) >= {"B-2026-0001", "B-2026-0002"}
    # What stands in a draft is not short a second time.
    left = short.get("/buying").form("/buying")
    assert {value for name, value in left.items() if name.endswith(".code")} == {
        "B-3",
        "G-2",
        "R-1",
    }


def test_a_list_that_is_sent_twice_orders_once(short: Counter) -> None:
    form = short.get("/buying").form("/buying")
    quantity = field_of(form, "M-101", "quantity")
    short.go("/buying", only(form, "LIN-20", **{quantity: "7"}))
    other = in_another_tab(only(form, "LIN-20", "M-101", **{quantity: "7"}))
    again = short.post("/buying", other)
    assert again.status == 409
    assert "LIN-20: ordered in the meantime, or come in" in again.main
    assert short.get("/buying/orders/1").fields["lines.1.quantity"] == "1"
    # What was typed is kept, and may be ordered from the list as it stands now.
    listed = again.form("/buying")
    assert listed[field_of(listed, "M-101", "quantity")] == "7"
    made = short.go("/buying", only(listed, "M-101"))
    assert made.fields["lines.2.quantity"] == "7"


def test_more_than_one_form_holds_is_ordered_in_turns(counter: Counter, stocked: Store) -> None:
    """120 materials of no supplier: 95 rows are shown, and the whole form can be read."""
    ring = price_book.get(stocked, "R-1").value
    further = tuple(replace(ring, code=f"RX-{number}", supplier="") for number in range(120))
    with stocked.writing() as work:
        work.materials.add_all(further, now=NOW)
    for each in further:
        stock.set_levels(stocked, each.code, Levels(reorder_at=1), 0)
    shown = counter.get("/buying")
    assert "25 more are short" in shown.main
    form = {**shown.form("/buying"), "supplier": "Draht & Haken"}
    made = counter.go("/buying", form)
    assert (
        sum(
            path.startswith("lines.") and path.endswith(".quantity") for path in made.form(at(made))
        )
        == 95
    )


def test_without_a_supplier_one_is_asked_for_and_everything_typed_stays(short: Counter) -> None:
    form = short.get("/buying").form("/buying")
    quantity = field_of(form, "G-2", "quantity")
    refused = short.post("/buying", only(form, "G-2", **{quantity: "7"}))
    assert refused.status == 422
    assert refused.error("supplier") == "Error: Say who G-2 is ordered from."
    assert refused.fields[quantity] == "7"
    assert refused.fields[field_of(form, "G-2", "chosen")] == "1"
    assert refused.fields[field_of(form, "R-1", "chosen")] == ""
    again = only(form, "G-2", **{quantity: "7", "supplier": "Pale Harbour Glass"})
    shown = short.go("/buying", again)
    assert "to Pale Harbour Glass" in shown.main
    assert "268.80" in shown.main  # 7 × 38.40


@pytest.mark.parametrize("typed", ["", "0", "-3", "two", "100001"])
def test_a_quantity_that_cannot_be_is_said_at_its_field(short: Counter, typed: str) -> None:
    form = short.get("/buying").form("/buying")
    quantity = field_of(form, "LIN-20", "quantity")
    refused = short.post("/buying", only(form, "LIN-20", **{quantity: typed}))
    assert refused.status == 422
    assert refused.error(quantity)
    assert refused.fields[quantity] == typed
    assert short.get("/buying/orders").main.count("B-2026") == 0


def test_nothing_ticked_is_said(short: Counter) -> None:
    refused = short.post("/buying", only(short.get("/buying").form("/buying")))
    assert refused.status == 422
    assert "Nothing is chosen" in refused.main


def test_a_draft_is_changed_added_to_and_sent(short: Counter) -> None:
    made = draft(short, "M-101", "M-140")
    path = at(made)
    form = made.form(path)
    lines = sorted({name.split(".")[1] for name in form if name.startswith("lines.")}, key=int)
    typed = {
        f"lines.{lines[0]}.quantity": "5",
        f"lines.{lines[0]}.cost": "9.50",
        f"lines.{lines[0]}.note": "no. 4471",
        f"lines.{lines[1]}.quantity": "0",
        "note": "Before noon, please.",
        "action": "keep",
    }
    kept = short.go(path, {**form, **typed})
    assert "The draft is saved." in kept.main
    assert "1 line, 47.50 at cost" in kept.main
    added = short.go(
        path,
        {**kept.form(path), "add.material": "slate", "add.quantity": "2", "action": "add"},
    )
    assert "2 lines, 67.50 at cost" in added.main  # + 2 × 10.00
    done = short.go(path, {**added.form(path), "action": "send"})
    assert "is sent" in done.main
    assert "Still to come: 5 sheets of M-101, 2 sheets of M-140." in done.main
    assert short.post(path, {**added.form(path), "action": "keep"}).status == 409


def test_what_is_wrong_with_a_draft_stands_at_its_fields_with_all_that_was_typed(
    short: Counter,
) -> None:
    made = draft(short, "M-101")
    path = at(made)
    form = made.form(path)
    line = only_line(form)
    typed = {
        f"lines.{line}.quantity": "many",
        f"lines.{line}.cost": "cheap",
        "supplier": " ",
        "note": "Before noon",
        "action": "send",
    }
    refused = short.post(path, {**form, **typed})
    assert refused.status == 422
    for field in (f"lines.{line}.quantity", f"lines.{line}.cost", "supplier"):
        assert refused.error(field)
        assert refused.fields[field].strip() == typed[field].strip()
    assert refused.fields["note"] == "Before noon"
    added = {**form, f"lines.{line}.quantity": "7", "add.material": "granite", "action": "add"}
    unknown = short.post(path, added)
    assert "granite" in unknown.error("add.material")
    assert unknown.fields[f"lines.{line}.quantity"] == "7"
    assert "Say which material" in short.post(path, {**form, "action": "add"}).error("add.material")


def test_what_is_typed_in_the_lines_is_kept_where_a_material_is_put_on_the_draft(
    short: Counter,
) -> None:
    """7 of the first, then 2 of slate with the same press; nothing that is typed is left behind when it is sent."""
    made = draft(short, "M-101")
    path = at(made)
    form = made.form(path)
    line = only_line(form)
    typed = {f"lines.{line}.quantity": "7", "add.material": "slate", "add.quantity": "2"}
    unsent = short.post(path, {**form, **typed, "action": "send"})
    assert unsent.status == 422
    assert "“slate” is not on the draft yet." in unsent.error("add.material")
    page = short.go(path, {**form, **typed, "action": "add"})
    assert "The draft is saved, with M-140 on it." in page.main
    assert page.fields[f"lines.{line}.quantity"] == "7"
    assert page.fields["add.material"] == ""
    sent = short.go(path, {**page.form(path), "action": "send"})
    assert "Still to come: 7 sheets of M-101, 2 sheets of M-140." in sent.main


def test_another_tab_is_not_overwritten(short: Counter) -> None:
    made = draft(short, "M-101")
    path = at(made)
    form = {**made.form(path), "action": "keep"}
    short.go(path, form)
    short.go(path, {**short.get(path).form(path), "lines.1.quantity": "12", "action": "keep"})
    refused = short.post(path, {**form, "note": "mine"})
    assert refused.status == 409
    assert "Nothing was overwritten" in refused.main
    rows = [words(each) for each in refused.one(tag="tbody")]
    assert rows == ["Note on the order – mine", "M-101, how many sheets 12 1"]
    again = short.post(path, {**refused.form(path), "action": "edit"})
    assert (again.status, again.fields["note"], again.fields["lines.1.quantity"]) == (
        200,
        "mine",
        "1",
    )
    assert short.get(path).fields["lines.1.quantity"] == "12"
    assert short.go(path, {**refused.form(path), "action": "save"}).fields["note"] == "mine"


def test_part_deliveries_reach_the_rack_and_the_last_one_closes_the_order(short: Counter) -> None:
    path, order = sent(short, "LIN-20", LIN_20="5")
    part = short.go(f"{path}/came", came(order, path, came="2", batch="L7", place="Rack A"))
    assert "Still to come: 3 sticks of LIN-20." in part.main
    assert "2 sticks of LIN-20 at 12.00 a stick" in part.main
    assert "2 sticks" in short.get("/stock").main
    done = short.go(f"{path}/came", came(part, path, came="3"))
    assert "All of it has come; the order is closed." in done.main
    assert not done.has(tag="form", id="came")
    assert f"{path}/came" not in [form.get("action") for form in done.each(tag="form")]
    assert "5 sticks" in short.get("/stock").main


def test_what_came_is_taken_back_by_its_order_to_which_the_rack_leads(short: Counter) -> None:
    path, order = sent(short, "LIN-20", LIN_20="5")
    short.go(f"{path}/came", came(order, path, came="2", batch="L7", place="Rack A"))
    item = short.get("/stock/items/1")
    assert item.links()["on B-2026-0001"] == path
    refused = short.post("/stock/items/1/movements/1/take-back", {})
    assert refused.status == 409
    assert "This came of the order B-2026-0001." in refused.main
    assert "2 sticks" in short.get("/stock").main


def test_what_cannot_have_come_is_said_and_kept(short: Counter) -> None:
    path, order = sent(short, "LIN-20", LIN_20="5")
    form = came(order, path, came="some", paid="x", batch="b" * 61, place="Rack A")
    refused = short.post(f"{path}/came", form)
    line = only_line(form)
    assert refused.status == 422
    assert "Nothing came" not in refused.main
    for field in ("came", "paid", "batch"):
        assert refused.error(f"lines.{line}.{field}")
        assert refused.fields[f"lines.{line}.{field}"] == form[f"lines.{line}.{field}"]
    assert refused.fields[f"lines.{line}.place"] == "Rack A"
    nothing = short.post(f"{path}/came", came(order, path))
    assert "Nothing came by this list" in nothing.main
    assert (
        "Nothing came by this list" in short.post(f"{path}/came", came(order, path, came="0")).main
    )
    beyond = short.post(f"{path}/came", came(order, path, came="100001"))
    assert beyond.error(f"lines.{line}.came")


def test_a_delivery_is_taken_back_and_the_order_closed_short_and_opened_again(
    short: Counter,
) -> None:
    path, order = sent(short, "LIN-20", LIN_20="5")
    part = short.go(f"{path}/came", came(order, path, came="2"))
    back = next(
        form.get("action", "")
        for form in part.each(tag="form")
        if form.get("action", "").endswith("/take-back")
    )
    undone = short.go(back, part.form(back))
    assert "here and on the rack" in undone.main
    assert "Still to come: 5 sticks of LIN-20." in undone.main
    closed = short.go(f"{path}/close", undone.form(f"{path}/close"))
    assert "5 never came" in closed.main
    again = short.go(f"{path}/await", closed.form(f"{path}/await"))
    assert "Still to come: 5 sticks of LIN-20." in again.main


def test_a_draft_is_dropped(short: Counter) -> None:
    made = draft(short, "M-101")
    path = at(made)
    form = made.form(f"{path}/drop")
    dropped = short.go(f"{path}/drop", form)
    assert "deleted" in dropped.words("stage")
    assert short.post(f"{path}/drop", in_another_tab(form)).status == 409


def test_costs_that_were_paid_are_looked_at_and_taken_over_by_an_act(
    short: Counter, stocked: Store
) -> None:
    path, order = sent(short, "LIN-20", LIN_20="5")
    part = short.go(f"{path}/came", came(order, path, came="2", paid="13.50"))
    assert "1 cost that was paid is not what the price book says" in part.main
    before = orders.get(stocked, 1)
    look = short.get(f"{path}/costs")
    # 13.50 for 3 m is 4.50 a metre; the sell price is 2.5 times the cost
    assert all(figure in look.main for figure in ("4.00", "4.50", "10.00 a metre", "11.25 a metre"))
    form = look.form(f"{path}/costs")
    untouched = short.post(f"{path}/costs", {})
    assert "Nothing is chosen" in untouched.main
    done = short.go(f"{path}/costs", form)
    assert "1 cost is in the price book" in done.main
    assert price_book.get(stocked, "LIN-20").value.cost.minor == 450
    assert orders.get(stocked, 1) == before
    stale = short.post(f"{path}/costs", in_another_tab(form))
    assert stale.status == 409
    assert "Nothing was taken over" in stale.main
    assert "Every cost is as the price book says" in stale.main
    assert short.post(f"{path}/costs", {"cost.0": "LIN-20"}).status == 422


def test_the_file_has_sizes_in_the_shops_unit_costs_only_when_asked_and_no_formula(
    short: Counter, stocked: Store
) -> None:
    kept = price_book.get(stocked, "LIN-20")
    odd = replace(kept.value, name="=cmd()", supplier="@Holm")
    price_book.save(stocked, "LIN-20", odd, kept.version, ACT)
    path, _ = sent(short, "LIN-20", LIN_20="5")
    answer = short.client.get(f"{path}/order.csv")
    assert answer.headers["content-disposition"] == 'attachment; filename="B-2026-0001.csv"'
    (row,) = csv.DictReader(StringIO(answer.text.removeprefix("\ufeff")))
    assert (row["quantity"], row["unit"], row["length"], row["measured_in"]) == (
        "5",
        "stick",
        "3000",
        "mm",
    )
    assert (row["name"], row["supplier"]) == ("'=cmd() · moulding", "'@Holm")
    assert "cost" not in row
    (dear,) = csv.DictReader(StringIO(short.client.get(f"{path}/order.csv?costs=1").text))
    assert (dear["cost"], dear["cost_for"], dear["total"], dear["currency"]) == (
        "12.00",
        "1",
        "60.00",
        "EUR",
    )


def test_the_list_is_narrowed_by_stage_and_what_is_not_there_is_said(short: Counter) -> None:
    sent(short, "LIN-20", LIN_20="5")
    draft(short, "M-101")
    assert set(short.get("/buying/orders").links()) >= {"B-2026-0001", "B-2026-0002"}
    drafts = short.get("/buying/orders?stage=draft")
    assert "B-2026-0001" not in drafts.links()
    assert "5 of 5" in short.get("/buying/orders?stage=sent").main
    assert "None stands there" in short.get("/buying/orders?stage=dropped").main
    assert short.get("/buying/orders?stage=lost&page=x").status == 200
    for path in ("/buying/orders/99", "/buying/orders/99/sheet.pdf", "/buying/orders/99/costs"):
        assert short.get(path).status == 404


def test_what_open_work_no_longer_wants_is_not_short(short: Counter, stocked: Store) -> None:
    def move(stage: Stage) -> None:
        version = orders.get(stocked, 1).version
        progress.move_order(stocked, OrderAt(id=1, version=version), stage, ACT)

    move(Stage.CUT)
    left = short.get("/buying").form("/buying")
    assert [value for name, value in left.items() if name.endswith(".code")] == ["R-1"]
    move(Stage.FRAMED)
    assert "Nothing is short" in short.get("/buying").main


def test_an_order_and_its_bench_say_how_it_stands_with_each_material(
    short: Counter, stocked: Store
) -> None:
    def states(path: str) -> dict[str, str]:
        shown = short.get(path)
        lines = [words(line).split() for line in shown.one("stands").iter("li")]
        return {line[-1]: " ".join(line[:2]) for line in lines}

    before = dict.fromkeys(("M-101", "M-140", "G-2", "B-3", "LIN-20"), "to buy")
    assert states("/orders/1") == states("/orders/1/pieces/1") == before
    path, order = sent(short, "LIN-20")
    assert states("/orders/1") == before | {"LIN-20": "on order"}
    short.go(f"{path}/came", came(order, path, came="1"))
    assert states("/orders/1/pieces/1") == before | {"LIN-20": "in hand"}
    version = orders.get(stocked, 1).version
    progress.move_order(stocked, OrderAt(id=1, version=version), Stage.CUT, ACT)
    assert not short.get("/orders/1").has("stands")
    quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    assert not short.get("/orders/2").has("stands")
