"""The price book on its pages: listed, found, added, priced as one types, changed in two tabs."""

from dataclasses import replace
from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from app.lengths import mm
from app.money import Money
from app.pricing import Charge, ChargeBy, Kind, MarkupStep, MarkupTable, Selling
from app.services import price_book
from app.services import shop as shops
from app.storage import Stamp, Store
from app.web.materials.form import typed_of
from tests.builders.watercolour import backing, glazing, moulding
from tests.web.conftest import NOW, SHOP
from tests.web.reading import Page

ACT = Stamp(who="", now=NOW)

WALNUT = typed_of(moulding(), SHOP)
"""A stick of 3 m costs 15.00, so a metre 5.00; sold at 2.84 times that, 14.20 (hand-worked)."""


@pytest.fixture
def book(store: Store) -> Store:
    for material in (moulding(), glazing(), backing()):
        price_book.add(store, material, ACT)
    return store


def test_an_empty_book_teaches_with_one_action(page: TestClient) -> None:
    shown = Page(page.get("/materials").text)
    assert "The price book is empty" in shown.text
    assert shown.links["Begin with the usual materials"] == "/materials/start"


@pytest.mark.usefixtures("book")
def test_the_list_says_what_each_is_costs_and_sells_for(page: TestClient) -> None:
    text = Page(page.get("/materials").text).text
    assert "face 25, lip 6, rebate 14 mm; stick 3000 mm" in text
    assert "15.00 a stick" in text
    assert "14.20 a metre" in text  # 15.00 / 3 m × 2.84
    assert "54.00 a m²" in text  # 18.00 × 3
    assert "4.00 to 6.00 by size" in text


@pytest.mark.usefixtures("book")
@pytest.mark.parametrize("query", ["walnut", "W25", "kind=moulding"])
def test_the_list_is_narrowed_by_kind_and_by_parts_of_words(page: TestClient, query: str) -> None:
    name, _, value = query.rpartition("=")
    links = Page(page.get("/materials", params={name or "q": value}).text).links
    assert "Walnut hollow" in links
    assert "Clear 2 mm" not in links


def test_a_finder_answers_with_codes_swatches_and_details(page: TestClient, book: Store) -> None:
    answer = page.get("/materials/find?kind=moulding&q=waln").text
    assert 'data-value="W25"' in answer
    assert "<rect" in answer
    assert 'fill="#c8c2b4"' in answer
    assert "25 mm wide" in answer
    assert "style=" not in answer
    assert page.get("/materials/find?kind=mat&q=waln").text.strip() == ""


def test_a_material_is_added_as_it_was_typed(page: TestClient, store: Store) -> None:
    answer = page.post("/materials/new", data={**WALNUT, "action": "save"}, follow_redirects=False)
    assert answer.headers["location"] == "/materials?kind=moulding"
    assert price_book.get(store, "w25").value == moulding()


def test_a_material_may_be_charged_by_what_is_opened_and_is_listed_with_its_price(
    page: TestClient, store: Store
) -> None:
    typed = {**WALNUT, "charge.by": "opened", "charge.minimum_length": "600"}
    page.post("/materials/new", data={**typed, "action": "save"})
    charge = Charge(by=ChargeBy.OPENED, minimum_length=mm(600))
    assert price_book.get(store, "w25").value == moulding(charge=charge)
    # 15.00 a stick of 3 m, × 2.84
    assert "14.20 a metre" in page.get("/materials?kind=moulding").text
    form = page.get("/materials/W25/edit").text
    assert "by whole sticks/sheets used" in form
    assert "so none is added" in form


@pytest.mark.parametrize("kind", Kind)
def test_each_kind_has_a_form_with_its_own_fields(page: TestClient, kind: Kind) -> None:
    answer = page.get(f"/materials/new?kind={kind}")
    names = Page(answer.text).values
    assert answer.status_code == 200
    assert ("profile.face" in names) is (kind in (Kind.MOULDING, Kind.EXTRA))
    assert ("sheet.size" in names) is kind.is_sheet
    assert ("charge.shares" in names) is kind.is_sheet


def test_the_form_names_the_unit_of_a_bare_number_and_the_percentage_of_a_tax(
    page: TestClient,
) -> None:
    form = page.get("/materials/new?kind=moulding").text
    assert "Face width, mm" in form
    assert "Length of a stick, mm" in form
    assert ">Tax · 20 %</option>" in form


def test_the_price_is_worked_out_as_one_types_and_nothing_is_kept(
    page: TestClient, store: Store
) -> None:
    answer = page.post("/materials/new?live=1", data={**WALNUT, "code": "", "name": ""})
    text = Page(answer.text).text
    assert answer.status_code == 200
    assert "14.20 a metre" in text
    assert "Cost 5.00 a metre × markup 2.84 = 14.20 a metre." in text
    assert price_book.listed(store, inactive=True) == ()


def test_a_price_below_cost_is_said(page: TestClient) -> None:
    # 5.50 with 20 % tax in it is 4.58 without, and the metre costs 5.00.
    typed = {**WALNUT, "selling": "price", "selling.price": "5.50"}
    assert "below what it costs" in Page(page.post("/materials/new?live=1", data=typed).text).text


def test_without_javascript_a_button_works_it_out(page: TestClient) -> None:
    answer = page.post("/materials/new", data={**WALNUT, "action": "recalculate"})
    assert "14.20 a metre" in Page(answer.text).text


def test_every_fault_stands_at_its_field_and_the_rest_is_kept(
    page: TestClient, store: Store
) -> None:
    typed = {**WALNUT, "code": "no blanks", "cost": "NaN", "profile.lip": "40", "notes": "🖼"}
    answer = page.post("/materials/new", data={**typed, "action": "save"})
    shown = Page(answer.text)
    assert answer.status_code == 422
    assert set(shown.errors) == {"code", "cost", "profile-lip"}
    assert shown.values["cost"] == "NaN"
    assert shown.values["notes"] == "🖼"
    assert price_book.listed(store) == ()


@pytest.mark.usefixtures("book")
def test_a_code_that_is_taken_is_refused_in_any_case(page: TestClient) -> None:
    answer = page.post("/materials/new", data={**WALNUT, "code": "w25", "action": "save"})
    assert set(Page(answer.text).errors) == {"code"}


@pytest.mark.usefixtures("book")
def test_a_taken_code_is_told_with_what_is_still_empty_in_one_wording(page: TestClient) -> None:
    typed = {"kind": "moulding", "code": "w25", "name": "Walnut", "per": "stick", "action": "save"}
    errors = Page(page.post("/materials/new", data=typed).text).errors
    assert "is taken" in errors["code"]
    assert errors["cost"].startswith("The cost is empty; type ")
    assert errors["profile-face"].startswith("The face width is empty; type ")
    assert errors["selling-markup"].startswith("The markup factor is empty; type ")


@pytest.mark.usefixtures("book")
def test_a_copy_begins_with_everything_but_the_code(page: TestClient) -> None:
    values = Page(page.get("/materials/new?copy=W25").text).values
    assert values["code"] == ""
    assert values["profile.face"] == "25"
    assert values["selling.markup"] == "2.84"


def test_the_second_of_two_tabs_sees_both_field_by_field(page: TestClient, book: Store) -> None:
    first = Page(page.get("/materials/W25/edit").text).values
    page.post("/materials/W25/edit", data={**first, "cost": "16", "action": "save"})
    answer = page.post("/materials/W25/edit", data={**first, "cost": "17", "action": "save"})
    shown = Page(answer.text)
    assert answer.status_code == 409
    assert "Cost, without tax" in shown.text
    assert "16.00" in shown.text
    assert "17" in shown.text
    assert price_book.get(book, "W25").value.cost.minor == 1600
    page.post("/materials/W25/edit", data={**shown.values, "action": "save"})
    assert price_book.get(book, "W25").value.cost.minor == 1700


def test_off_offer_a_material_is_found_no_more_and_comes_back(
    page: TestClient, book: Store
) -> None:
    form = Page(page.get("/materials/W25/edit").text).values
    page.post("/materials/W25/offer", data={"version": form["version"], "offer": "0"})
    assert not price_book.get(book, "W25").value.active
    assert "Walnut hollow" not in Page(page.get("/materials").text).links
    assert "Walnut hollow" in Page(page.get("/materials?retired=1").text).links
    form = Page(page.get("/materials/W25/edit").text).values
    page.post("/materials/W25/offer", data={"version": form["version"], "offer": "1"})
    assert price_book.get(book, "W25").value.active


def test_taking_one_out_asks_first(page: TestClient, book: Store) -> None:
    asked = Page(page.get("/materials/W25/remove").text)
    assert "keep it as it was agreed" in asked.text
    page.post("/materials/W25/remove", data={"version": asked.values["version"]})
    assert page.get("/materials/W25/edit").status_code == 404
    assert len(price_book.listed(book)) == 2


def test_a_code_with_a_stroke_has_pages_like_any_other(page: TestClient, store: Store) -> None:
    price_book.add(store, moulding(code="A/1.b-2"), ACT)
    assert page.get("/materials/A/1.b-2/edit").status_code == 200
    assert page.get("/materials/new?copy=A/1.b-2").status_code == 200


@pytest.mark.usefixtures("book")
def test_markup_in_names_is_plain_text(page: TestClient) -> None:
    typed = {**WALNUT, "code": "X1", "name": "<b>bold</b>", "supplier": "<i>it</i>"}
    page.post("/materials/new", data={**typed, "action": "save"})
    for path in ("/materials", "/materials/X1/edit", "/materials/find?q=bold", "/materials/raise"):
        assert "<b>bold" not in page.get(path).text
        assert "<i>it" not in page.get(path).text


def test_a_raise_is_looked_at_before_it_is_carried_out(page: TestClient, book: Store) -> None:
    asked = page.get(
        "/materials/raise", params={"kind": "moulding", "percent": "10", "what": "cost"}
    )
    shown = Page(asked.text)
    assert "1 material changes" in shown.text
    assert "16.50" in shown.text  # 15.00 × 1.1
    assert "15.62 a metre" in shown.text  # 5.50 × 2.84
    assert price_book.get(book, "W25").value.cost.minor == 1500
    page.post("/materials/raise", data=shown.values)
    assert price_book.get(book, "W25").value.cost.minor == 1650
    assert price_book.get(book, "G2").value == glazing()


def test_a_raise_of_what_changed_since_is_shown_again(page: TestClient, book: Store) -> None:
    shown = Page(page.get("/materials/raise?percent=10&what=both").text)
    price_book.retire(book, "W25", 1, ACT)
    answer = page.post("/materials/raise", data=shown.values)
    assert answer.status_code == 409
    assert "Nothing was raised" in Page(answer.text).text
    assert price_book.get(book, "W25").value.cost.minor == 1500
    page.post("/materials/raise", data=Page(answer.text).values)
    assert price_book.get(book, "W25").value.cost.minor == 1650
    bands = price_book.get(book, "B3").value.charge.bands
    assert [band.price.minor for band in bands] == [440, 660]  # 4.00 and 6.00 × 1.1


def test_a_raise_rounds_fixed_prices_as_the_shop_does_unless_it_is_told_otherwise(
    page: TestClient, store: Store
) -> None:
    shops.save(store, replace(SHOP, rounding_step=Money(10, SHOP.currency)), 1, ACT)
    price_book.add(store, moulding(selling=Selling(price=Money(1420, SHOP.currency))), ACT)
    shown = Page(page.get("/materials/raise?percent=5&what=both").text)
    assert "14.90 a metre" in shown.text  # 14.20 × 1.05 = 14.91
    assert "15.75" in shown.text  # the cost, 15.00 × 1.05
    assert "14.91 a metre" in Page(page.get("/materials/raise?percent=5&what=both&step=").text).text
    page.post("/materials/raise", data=shown.values)
    assert price_book.get(store, "W25").value.selling.price == Money(1490, SHOP.currency)
    assert price_book.get(store, "W25").value.cost.minor == 1575


def test_a_raise_says_first_where_a_markup_table_lets_prices_fall(
    page: TestClient, store: Store
) -> None:
    steps = (MarkupStep(up_to=Money(500, SHOP.currency), factor=Fraction(3)),
             MarkupStep(up_to=None, factor=Fraction(2)))  # fmt: skip
    table = MarkupTable(code="mouldings", name="Mouldings", steps=steps)
    shops.save(store, replace(SHOP, markup_tables=(table,)), 1, ACT)
    # 4.90 a metre × 3 = 14.70; 15.44 / 3 = 5.1467 × 2 = 10.2933, 30 % less.
    cost = Money(1470, SHOP.currency)
    price_book.add(store, moulding(cost=cost, selling=Selling(table="mouldings")), ACT)
    text = Page(page.get("/materials/raise?percent=5&what=cost").text).text
    assert "Materials that change 1 none left out Costs 1 exact" in text
    assert "Sell prices change by −30 % 1 fall: another step of a markup table" in text


def test_a_raise_leaves_out_what_is_not_ticked(page: TestClient, book: Store) -> None:
    shown = Page(page.get("/materials/raise?percent=10&what=cost").text)
    boxes = {name for name in shown.values if name.startswith("with.")}
    assert {"with.W25", "with.G2"} <= boxes
    none = Page(page.post("/materials/raise", data=shown.values | {"action": "none"}).text)
    assert not any(name.startswith("with.") for name in none.values)
    assert "0 of 1" in none.text
    refused = page.post("/materials/raise", data=none.values)
    assert refused.status_code == 422
    assert "Nothing is ticked" in Page(refused.text).text
    again = Page(page.post("/materials/raise", data=none.values | {"action": "all:moulding"}).text)
    assert [name for name in again.values if name.startswith("with.")] == ["with.W25"]
    page.post("/materials/raise", data=again.values)
    assert price_book.get(book, "W25").value.cost.minor == 1650
    assert price_book.get(book, "G2").value == glazing()


def test_more_materials_than_a_short_form_has_fields_can_be_raised(
    page: TestClient, store: Store
) -> None:
    price_book.add_all(store, [moulding(code=f"W{number}") for number in range(510)], ACT)
    shown = Page(page.get("/materials/raise?percent=10&what=cost").text)
    page.post("/materials/raise", data=shown.values)
    assert {each.cost.minor for each in price_book.listed(store)} == {1650}


@pytest.mark.parametrize("percent", ["", "0", "-100", "501", "NaN", "x" * 10_000])
def test_a_percentage_that_makes_no_sense_is_refused(page: TestClient, percent: str) -> None:
    answer = page.get("/materials/raise", params={"percent": percent, "what": "cost"})
    assert answer.status_code == 422
    assert set(Page(answer.text).errors) == {"percent"}


@pytest.mark.parametrize(("path", "text"), [("kind", "mouldings"), ("what", "everything")])
def test_a_raise_of_what_there_is_not_is_refused(
    page: TestClient, book: Store, path: str, text: str
) -> None:
    asked = {"percent": "10", path: text}
    answer = Page(page.get("/materials/raise", params=asked).text)
    assert f"“{text}” is not a choice here" in answer.errors[path]
    seen = Page(page.get("/materials/raise?percent=10").text).values["seen"]
    posted = page.post("/materials/raise", data=asked | {"seen": seen})
    assert posted.status_code == 422
    assert price_book.get(book, "W25").value.cost.minor == 1500


def test_long_lists_come_in_pages(page: TestClient, store: Store) -> None:
    for number in range(26):
        price_book.add(store, moulding(code=f"W{number:03}", name=f"Profile {number:03}"), ACT)
    first = Page(page.get("/materials").text)
    assert "26 materials" in first.text
    assert "Profile 025" not in first.links
    assert "Profile 025" in Page(page.get(first.links["2"]).text).links


def test_glazing_knows_its_weight_from_what_it_is_made_of(page: TestClient, store: Store) -> None:
    typed = typed_of(glazing(code="UV"), SHOP) | {
        "sheet.matter": "float glass",
        "sheet.grams_per_m2": "",
    }
    page.post("/materials/new", data={**typed, "action": "save"})
    sheet = price_book.get(store, "UV").value.sheet
    assert sheet is not None
    assert sheet.grams_per_m2 == 5000  # 2.5 kg per m² and mm (EN 572-1 as quoted), 2 mm
    assert glazing().charge.waste == Fraction(1, 10)
