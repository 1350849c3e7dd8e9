"""The stock as a browser meets it, without JavaScript. Figures by hand.

The price book of round figures: LIN-20 at 4.00 a metre; see tests/builders/worked.
"""

import csv
import io
from dataclasses import replace

import pytest
from starlette.testclient import TestClient

from app.documents.labels import GRIDS
from app.lengths import mm
from app.money import show_money
from app.services import price_book, stock
from app.stock.movements import MovementKind
from app.storage import Stamp, Store
from tests.documents.reading import text_of
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, in_another_tab

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)


def receive(counter: Counter, **typed: str) -> Shown:
    fields = {"material": "LIN-20", "count": "5", "size": "3000", "place": "Rack A"}
    return counter.post("/stock/receive", {**fields, **typed})


def keep(counter: Counter, size: str = "740", **typed: str) -> Shown:
    return counter.post("/stock/offcuts/new", {"material": "LIN-20", "size": size, **typed})


@pytest.fixture
def rack(counter: Counter) -> Counter:
    """5 sticks of 3 m at 4.00 a metre (12.00 each) and an offcut of 750 mm (3.00)."""
    receive(counter)
    keep(counter, "750", place="Bin 1")
    return counter


def test_an_empty_rack_teaches_with_one_action(counter: Counter) -> None:
    shown = counter.get("/stock")
    assert "Nothing is on the rack yet" in shown.main
    assert 'href="/stock/receive"' in shown.text


def test_a_rack_without_a_price_book_leads_to_the_first_material(page: TestClient) -> None:
    shown = Counter(page).get("/stock")
    assert shown.links()["Add a moulding"] == "/materials/new?kind=moulding"
    assert "Put the first on the rack" not in shown.main


def test_a_count_of_an_empty_rack_says_that_nothing_is_noted(counter: Counter) -> None:
    assert "Nothing is noted there" not in counter.get("/stock/count").main
    assert "Nothing is noted there" in counter.get("/stock/count?place=&kind=").main


@pytest.mark.documents
@pytest.mark.poppler
def test_a_count_is_printed_on_a_sheet_with_and_without_what_is_noted(rack: Counter) -> None:
    links = rack.get("/stock/count?place=Rack+A&kind=moulding").links()
    sheet = text_of(rack.client.get(links["count sheet"]).content)
    assert "Mouldings at Rack A count sheet" in sheet
    assert "LIN-20" in sheet
    assert "K-" not in sheet  # the offcut lies in Bin 1
    assert "Noted" not in sheet
    assert "Noted" in text_of(rack.client.get(links["with what is noted"]).content)


def test_the_navigation_leads_to_the_stock(counter: Counter) -> None:
    assert 'href="/stock" aria-current="page"' in counter.get("/stock").text


def test_what_was_received_is_on_the_list_with_its_worth(rack: Counter) -> None:
    row = rack.get("/stock").words(tag="tbody")
    # 5 × 12.00 + 3.00
    assert "LIN-20" in row
    assert "5 sticks" in row
    assert "63.00" in row


def test_a_blank_size_cost_and_place_are_the_usual_ones(counter: Counter, stocked: Store) -> None:
    counter.post("/stock/levels/LIN-20", {"place": "Rack C", "pack": "", "version": "0"})
    counter.post("/stock/receive", {"material": "linden", "count": "2"})
    (line,) = stock.every(stocked)
    assert (line.kept.item.length, line.kept.item.place) == (mm(3000), "Rack C")
    assert line.kept.item.unit_cost.minor == 1200


@pytest.mark.parametrize(
    ("material", "size", "cost"),
    [
        ("M-101", "", "10.00"),
        ("M-101", "600 x 1000", "5.00"),  # half of 1200 × 1000
        ("G-2", "", "38.40"),  # 1.6 × 1.2 = 1.92 m² at 20.00
        ("R-1", "", "0.20"),  # 20.00 for a hundred
    ],
)
def test_each_form_of_material_is_received(
    counter: Counter, stocked: Store, material: str, size: str, cost: str
) -> None:
    answer = receive(counter, material=material, size=size)
    assert answer.status == 303
    (line,) = stock.every(stocked)
    assert show_money(line.kept.item.unit_cost) == cost


BAD = {
    "material": "granite",
    "count": "some",
    "size": "20 elephants",
    "unit_cost": "-3",
    "batch": "b" * 61,
    "place": "p" * 61,
    "note": "n" * 501,
}


def test_all_that_was_typed_stays_with_a_sentence_at_each_field(counter: Counter) -> None:
    answer = counter.post("/stock/receive", BAD)
    assert answer.status == 422
    assert answer.fields.items() >= BAD.items()
    assert "“granite” is no material of the price book" in answer.error("material")
    assert "“some”; a whole number from 1 to 100000" in answer.error("count")
    assert "61 characters" in answer.error("batch")
    assert "61 characters" in answer.error("place")
    assert "501 characters" in answer.error("note")
    assert answer.error("unit_cost")
    known = receive(counter, **{**BAD, "material": "LIN-20"})
    assert "“20 elephants”" in known.error("size")


@pytest.mark.parametrize(
    ("address", "material", "size"),
    [
        ("/stock/receive", "LIN-20", '10 1/3"'),
        ("/stock/offcuts/new", "LIN-20", '10 1/3"'),
        ("/stock/offcuts/new", "M-101", '10 x 12 1/3"'),
    ],
)
def test_a_size_too_fine_to_be_kept_is_said_at_its_field(
    counter: Counter, address: str, material: str, size: str
) -> None:
    typed = {"material": material, "size": size, "count": "1", "note": "from the loft"}
    shown = counter.post(address, typed)
    assert shown.status == 422
    assert "too fine to be kept exactly" in shown.error("size")
    assert (shown.fields["size"], shown.fields["note"]) == (size, "from the loft")


def test_control_characters_that_were_pasted_are_left_out(counter: Counter, stocked: Store) -> None:
    receive(counter, batch="lot\x00 7\x07", note="first\r\nsecond\x1b[31m\ttab")
    (line,) = stock.every(stocked)
    assert line.kept.item.batch == "lot 7"
    (movement,) = stock.look(stocked, line.kept.id).movements
    assert movement.entry.note == "first\r\nsecond[31m\ttab"


def test_nothing_typed_asks_for_what_is_needed(counter: Counter) -> None:
    answer = counter.post("/stock/receive", {})
    assert (
        answer.error("material")
        == "Error: Say which material: a part of its code or name is enough."
    )
    assert answer.error("count") == "Error: How many came?"


def test_what_is_counted_takes_no_size(counter: Counter) -> None:
    assert "leave its size blank" in receive(counter, material="R-1").error("size")


def test_an_offcut_is_kept_under_a_label_and_found_by_it(rack: Counter) -> None:
    item = rack.get(rack.get("/stock?q=k-2026-0001").location)
    assert item.heading == "K-2026-0001"
    assert item.facts["size"] == "750 mm"
    assert item.facts["place"] == "Bin 1"
    assert item.facts["value"] == "3.00"  # 12.00 × 750/3000


def test_an_offcut_of_an_item_has_its_batch_and_its_share_of_what_it_cost(rack: Counter) -> None:
    receive(rack, unit_cost="15.00", batch="Lot 9")
    form = rack.get("/stock/offcuts/new?item=3").form("/stock/offcuts/new")
    assert (form["material"], form["batch"], form["place"]) == ("LIN-20", "Lot 9", "Rack A")
    shown = rack.go("/stock/offcuts/new", {**form, "size": "1000"})
    assert (shown.facts["value"], shown.facts["batch"]) == ("5.00", "Lot 9")  # 15.00 / 3
    source = rack.get("/stock/items/3")
    assert "4 sticks" in source.main
    assert "K-2026-0002 was kept" in source.main
    rack.go("/stock/offcuts/new", in_another_tab({**form, "size": "500", "cut_up": ""}))
    assert "4 sticks" in rack.get("/stock/items/3").main


def test_an_offcut_of_another_material_uses_up_nothing_of_an_item(rack: Counter) -> None:
    form = rack.get("/stock/offcuts/new?item=1").form("/stock/offcuts/new")
    typed = {**form, "material": "M-101", "size": "400 x 300"}
    refused = rack.post("/stock/offcuts/new", typed)
    assert refused.status == 422
    assert "An offcut of M-101 is not cut from LIN-20" in refused.error("material")
    assert refused.fields["size"] == "400 x 300"
    rack.go("/stock/offcuts/new", {**typed, "cut_up": ""})
    assert "5 sticks" in rack.get("/stock/items/1").main


@pytest.mark.parametrize(
    ("typed", "path", "said"),
    [
        ({"size": ""}, "size", "Say how large it is"),
        ({"size": "3001"}, "size", "3001 mm is longer than a stick of LIN-20, 3000 mm"),
        ({"size": "400 x 500"}, "size", "one length is wanted"),
        ({"material": "M-101", "size": "1300 x 200"}, "size", "larger than a sheet of M-101"),
        ({"material": "R-1", "size": "20"}, "material", "leaves no offcuts"),
        ({"material": "M-1"}, "material", "may be M-101, M-140"),
    ],
)
def test_an_offcut_that_cannot_be_is_said_at_its_field(
    counter: Counter, typed: dict[str, str], path: str, said: str
) -> None:
    answer = counter.post(
        "/stock/offcuts/new", {"material": "LIN-20", "size": "740", "place": "Bin 1", **typed}
    )
    assert answer.status == 422
    assert said in answer.error(path)
    assert answer.fields["place"] == "Bin 1"


def test_an_offcut_of_a_sheet_may_lie_turned(counter: Counter) -> None:
    assert keep(counter, "900 x 1200", material="M-101").status == 303


def test_what_was_spoiled_leaves_the_rack_and_may_be_taken_back(rack: Counter) -> None:
    shown = rack.go("/stock/items/1/take", {"count": "2", "kind": "spoiled", "note": "split"})
    assert "3 sticks" in shown.main
    assert "spoiled −2" in shown.words(tag="tbody").replace("Undo", "")
    back = rack.go("/stock/items/1/movements/3/take-back")
    assert "5 sticks" in back.main
    assert "undone since" in back.main
    again = rack.post("/stock/items/1/movements/3/take-back")
    assert again.status == 409
    assert "undone already" in again.main


def test_more_may_be_cut_than_is_there_and_it_is_said(rack: Counter) -> None:
    shown = rack.go("/stock/items/1/take", {"count": "7", "kind": "cut", "note": ""})
    assert "−2 sticks on hand: more was cut or spoiled than was ever entered" in shown.main
    assert "below zero" in rack.get("/stock").main
    assert "Count what is there" in rack.get("/stock/items?material=LIN-20").main


def test_what_is_typed_wrongly_about_what_leaves_stays(rack: Counter) -> None:
    answer = rack.post("/stock/items/1/take", {"count": "0", "kind": "lost", "note": "split"})
    assert answer.status == 422
    assert "whole number from 1" in answer.error("count")
    assert "spoiled or cut" in answer.error("kind")
    assert (answer.fields["count"], answer.fields["note"]) == ("0", "split")


def test_an_item_is_put_elsewhere(rack: Counter) -> None:
    form = rack.get("/stock/items/1/edit").form("/stock/items/1/edit")
    assert form["unit_cost"] == "12.00"
    shown = rack.go("/stock/items/1/edit", {**form, "place": "Rack Z", "unit_cost": "13.50"})
    assert (shown.facts["place"], shown.facts["cost of one"]) == ("Rack Z", "13.50")
    stale = rack.post("/stock/items/1/edit", {**form, "place": "Rack Q"})
    assert stale.status == 409
    assert "Rack Z" in stale.main
    assert "Rack Q" in stale.main
    wrong = rack.post("/stock/items/1/edit", {**form, "version": "2", "unit_cost": ""})
    assert wrong.status == 422
    assert wrong.error("unit_cost")


def test_levels_say_when_to_buy(rack: Counter) -> None:
    form = rack.get("/stock/levels/LIN-20").form("/stock/levels/LIN-20")
    levels = {**form, "reorder_at": "5", "pack": "10", "place": "Rack A"}
    shown = rack.go("/stock/levels/LIN-20", levels)
    # 5 free, level 5: one more is wanted, and they come by tens.
    assert "LIN-20: 5 sticks free, and the reorder level is 5. Buy 10 sticks." in shown.main
    assert shown.facts["bought by"] == "10 sticks"
    assert "LIN-20" in rack.get("/stock?low=1").main
    assert rack.post("/stock/levels/LIN-20", in_another_tab(levels)).status == 409
    wrong = rack.post("/stock/levels/LIN-20", {**levels, "reorder_at": "few", "pack": "0"})
    assert wrong.status == 422
    assert wrong.fields["reorder_at"] == "few"
    assert "1 to 100000" in wrong.error("pack")


def counting(rack: Counter, **counts: str) -> Shown:
    sheet = rack.get("/stock/count?place=").form("/stock/count", items="1,2")
    typed = {f"count.{name[1:]}": text for name, text in counts.items()}
    return rack.post("/stock/count", {**sheet, **typed, "action": "preview"})


def test_a_count_shows_its_differences_before_it_is_written_down(rack: Counter) -> None:
    looked = counting(rack, c1="3", c2="1")
    # 2 sticks of 12.00 are missing; the offcut is there.
    assert looked.facts["missing, at cost"] == "24.00"
    assert looked.facts["as noted"] == "1 item"
    assert "−2" in looked.words(tag="tbody")
    assert "5 sticks" in rack.get("/stock/items/1").main
    rack.go("/stock/count", {**looked.form("/stock/count"), "action": "save"})
    item = rack.get("/stock/items/1")
    assert "3 sticks" in item.main
    assert "counted −2" in item.words(tag="tbody")
    assert "counted as noted" in rack.get("/stock/items/2").words(tag="tbody")


def test_a_count_may_be_changed_again_and_keeps_what_was_typed(rack: Counter) -> None:
    looked = counting(rack, c1="3")
    again = rack.post("/stock/count", {**looked.form("/stock/count"), "action": "edit"})
    assert again.fields["count.1"] == "3"


def test_a_count_of_a_rack_that_moved_is_looked_at_again(rack: Counter) -> None:
    form = counting(rack, c1="3").form("/stock/count")
    rack.post("/stock/items/1/take", {"count": "1", "kind": "cut"})
    answer = rack.post("/stock/count", {**form, "action": "save"})
    assert answer.status == 409
    assert "The record moved since" in answer.main
    assert "−1" in answer.words(tag="tbody")  # 3 counted, 4 noted by now
    rack.go("/stock/count", {**answer.form("/stock/count"), "action": "save"})
    assert "3 sticks" in rack.get("/stock/items/1").main


def test_what_is_noted_below_zero_has_a_minus_sign_on_the_count_sheet(rack: Counter) -> None:
    rack.post("/stock/items/1/take", {"count": "7", "kind": "cut"})  # of 5
    assert "−2" in rack.get("/stock/count?kind=moulding").words(tag="tbody")
    assert "−2 4 +6" in counting(rack, c1="4").words(tag="tbody")
    assert "−2 below zero" in rack.get("/stock/items").words(tag="tbody")


def test_a_count_that_cannot_be_read_stays_as_it_was_typed(rack: Counter) -> None:
    answer = counting(rack, c1="three", c2="1")
    assert answer.status == 422
    assert "“three”; a whole number from 0" in answer.error("count.1")
    assert (answer.fields["count.1"], answer.fields["count.2"]) == ("three", "1")
    assert "Nothing was counted" in counting(rack).main


def test_a_place_with_nothing_noted_says_so(rack: Counter) -> None:
    assert "Nothing is noted there" in rack.get("/stock/count?place=Attic").main
    assert rack.post("/stock/count", {"items": "77"}).status == 404
    assert rack.post("/stock/count", {"items": "; drop"}).status == 422


def test_the_file_is_for_a_spreadsheet_and_no_formula_is_in_it(rack: Counter) -> None:
    receive(rack, place="=HYPERLINK(1)", batch="-lot", count="4")
    rack.post("/stock/items/3/take", {"count": "6", "kind": "cut"})
    answer = rack.get("/stock/stock.csv")
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert "stock-2026-11-25.csv" in answer.headers["content-disposition"]
    rows = list(csv.DictReader(io.StringIO(answer.text.removeprefix("\ufeff"))))
    assert [row["label"] for row in rows] == ["", "", "K-2026-0001"]
    odd = rows[1]
    assert (odd["place"], odd["batch"]) == ("'=HYPERLINK(1)", "'-lot")
    assert (odd["on_hand"], odd["value"]) == ("-2", "-24.00")  # our own numbers stay numbers
    offcut = rows[2]
    assert (offcut["length"], offcut["unit"], offcut["value"]) == ("750", "mm", "3.00")


@pytest.mark.parametrize(
    ("query", "there"),
    [
        ("q=linden", True),
        ("q=granite", False),
        ("kind=moulding", True),
        ("kind=mat", False),
        ("kind=nonsense", True),
        ("place=Bin+1", True),
        ("place=Attic", False),
        ("offcuts=1", True),
        ("low=1", False),
        ("page=7", True),
        ("page=1e9", True),
    ],
)
def test_the_list_is_narrowed_by_its_address(rack: Counter, query: str, *, there: bool) -> None:
    shown = rack.get(f"/stock?{query}")
    assert shown.status == 200
    assert ("5 sticks" in shown.main or "3.00" in shown.main) is there


def test_items_are_listed_with_a_way_to_their_labels(rack: Counter) -> None:
    shown = rack.get("/stock/items?offcuts=1")
    assert "K-2026-0001" in shown.main
    assert shown.links()["Labels"] == "/stock/labels?items=2"
    assert "Nothing like that is on the rack" in rack.get("/stock/items?place=Attic").main
    assert rack.get("/stock/items?material=NONE").status == 404


def test_the_items_of_a_page_fill_sheets_of_labels(rack: Counter) -> None:
    for number in range(24):
        receive(rack, place=f"Bin {number}")
    labels = rack.get("/stock/items").links()["Labels"]
    of_a_page = len(labels.partition("items=")[2].split(","))
    assert of_a_page == 24  # of 26
    assert {of_a_page % (columns * rows) for columns, rows in GRIDS.values()} == {0}


def test_what_is_not_there_is_not_found(rack: Counter) -> None:
    for path in ("/stock/items/99", "/stock/labels?items=99", "/stock/levels/NONE"):
        assert rack.get(path).status == 404
    assert rack.get("/stock/labels?items=").status == 422


def test_a_material_shows_what_is_on_the_rack(rack: Counter) -> None:
    links = rack.get("/materials/LIN-20/edit").links()
    assert links["5 sticks and 1 offcut"] == "/stock/items?material=LIN-20"


def test_a_material_with_stock_is_not_taken_out(rack: Counter, stocked: Store) -> None:
    version = price_book.get(stocked, "LIN-20").version
    answer = rack.post("/materials/LIN-20/remove", {"version": str(version)})
    assert answer.status == 409
    assert "LIN-20 is in the record of the stock" in answer.main


def test_thousands_of_items_come_in_pages(counter: Counter, stocked: Store) -> None:
    receive(counter)
    item = stock.look(stocked, 1).kept.item
    taken = stock.Withdrawal(kind=MovementKind.CUT, count=1)
    with stocked.writing() as work:
        entry = work.stock.movements(1)[0].entry
        for number in range(120):
            work.stock.add(replace(item, batch=f"Lot {number}"), entry)
    stock.take(stocked, 1, taken, ACT)
    for page, rows in ((5, 24), (6, 1)):  # 121 = 5 × 24 + 1
        shown = counter.get(f"/stock/items?page={page}")
        assert "121 items" in shown.main
        assert len(list(shown.one(tag="tbody").iter("tr"))) == rows
    sheet = counter.get("/stock/count?kind=moulding")
    assert "121 items" in sheet.main


@pytest.mark.documents
@pytest.mark.parametrize("query", ["items=1,2", "items=2&cut=single"])
def test_labels_are_a_pdf(rack: Counter, query: str) -> None:
    answer = rack.client.get(f"/stock/labels?{query}")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")
