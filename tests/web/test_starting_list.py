"""A price book begins on one page: what most shops sell, with the costs left to fill in."""

from collections.abc import Iterator
from fractions import Fraction

import pytest

from app.lengths import Unit, mm
from app.orders import usual_shop
from app.pricing import CostPer, Kind
from app.services import price_book
from app.services import shop as shops
from app.storage import Stamp, Store
from tests.builders.values import euro
from tests.web.conftest import NOW, browser_on
from tests.web.shown import Counter

MOULDING = {
    "name": "Plain oak 20",
    "code": "OAK-20",
    "profile.face": "20",
    "profile.lip": "6",
    "profile.rebate_depth": "14",
    "cost": "12.60",
}


@pytest.fixture
def empty(store: Store) -> Iterator[Counter]:
    """A counter of a shop whose price book is empty."""
    with browser_on(store) as client:
        yield Counter(client)


@pytest.fixture
def inches(bare: Store) -> Iterator[Counter]:
    """The same of a shop that works in inches."""
    shops.set_up(bare, usual_shop("Fen Edge", Unit.IN, "USD", Fraction(0)), Stamp(who="", now=NOW))
    with browser_on(bare) as client:
        yield Counter(client)


def filled(counter: Counter, **costs: str) -> dict[str, str]:
    """The form with some costs filled in by code, at two and a half times the cost."""
    form = counter.get("/materials/start").form("/materials/start")
    roots = {form[name]: name.removesuffix("code") for name in form if name.endswith(".code")}
    typed = {f"{roots[code.replace('_', '-')]}cost": cost for code, cost in costs.items()}
    return form | {"selling.markup": "2.5", "action": "save"} | typed


def moulding(**changes: str) -> dict[str, str]:
    row = MOULDING | {path.replace("__", "."): text for path, text in changes.items()}
    return {f"materials.0.{path}": text for path, text in row.items()}


def test_what_has_a_cost_is_in_the_price_book(empty: Counter, store: Store) -> None:
    form = filled(empty, MAT_WHITE="9.40", GLASS="14.00", BACKING="4.20", RING="0.12", WIRE="0.40")
    page = empty.go("/materials/start", form | moulding())
    assert "6 materials added to the price book." in page.main
    book = {each.code: each for each in price_book.listed(store)}
    assert sorted(book) == ["BACKING", "GLASS", "MAT-WHITE", "OAK-20", "RING", "WIRE"]
    oak = book["OAK-20"]
    assert oak.kind is Kind.MOULDING
    assert oak.profile is not None
    assert (oak.profile.face, oak.profile.lip, oak.profile.stick) == (mm(20), mm(6), mm(3000))
    assert oak.cost == euro("12.60")
    assert oak.selling.markup is not None
    assert oak.selling.markup * 2 == 5
    glass = book["GLASS"].sheet
    assert glass is not None
    # 2 mm of glass weigh 5 kg/m² (2500 kg/m³, EN 572-1).
    assert (glass.thickness, glass.grams_per_m2) == (mm(2), 5000)
    assert book["WIRE"].per is CostPer.METRE


def test_a_quote_can_be_made_of_nothing_else(empty: Counter) -> None:
    costs = filled(empty, MAT_WHITE="9.40", GLASS="14.00", BACKING="4.20", RING="0.12")
    empty.go("/materials/start", costs | moulding())
    form = empty.get("/quotes/new").form("/quotes") | {
        "customer": "Adaeze Holt",
        "artwork.size": "300 x 400",
        "mats.0.material": "MAT-WHITE",
        "frames.0.material": "OAK-20",
        "glazing.material": "GLASS",
        "backing.material": "BACKING",
        "hardware.0.material": "RING",
        "hardware.0.count": "2",
        "action": "save",
    }
    assert empty.post("/quotes", form).status == 303


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"profile__lip": ""}, "materials.0.profile.lip", "lip"),
        ({"cost": ""}, "materials.0.cost", "The cost is empty"),
        ({"code": "OAK 20"}, "materials.0.code", "OAK 20"),
        ({"profile__face": "wide"}, "materials.0.profile.face", "wide"),
    ],
)
def test_a_row_that_is_wrong_is_told_at_its_field_and_keeps_the_rest(
    empty: Counter, store: Store, changes: dict[str, str], field: str, sentence: str
) -> None:
    page = empty.post("/materials/start", filled(empty, GLASS="14.00") | moulding(**changes))
    assert page.status == 422
    assert sentence in page.error(field)
    assert "14.00" in page.fields.values()
    assert price_book.listed(store) == ()


def test_the_list_of_faults_says_which_row_each_is_of(empty: Counter) -> None:
    """Two costs that cannot be read are told apart by their materials, also where a name was emptied."""
    typed = filled(empty, GLASS="abc", ACRYLIC="12.50.3") | moulding(cost="-1")
    (named,) = (path for path, text in typed.items() if text == "Acrylic, clear")
    page = empty.post("/materials/start", typed | {named: ""})
    said = page.words("error-summary")
    for row in ("Float glass, cost", "Acrylic, clear, cost", "Moulding 1, cost"):
        assert row in said, said


def test_the_number_to_multiply_by_is_needed(empty: Counter) -> None:
    page = empty.post("/materials/start", filled(empty, GLASS="14.00") | {"selling.markup": ""})
    assert page.status == 422
    assert page.error("selling.markup")


def test_nothing_filled_in_is_said(empty: Counter) -> None:
    page = empty.post("/materials/start", filled(empty))
    assert page.status == 422
    assert "No cost is filled in yet" in page.main


def test_one_code_for_two_is_said(empty: Counter, store: Store) -> None:
    form = filled(empty, GLASS="14.00", ACRYLIC="22.00")
    twice = {name: "GLASS" if text == "ACRYLIC" else text for name, text in form.items()}
    page = empty.post("/materials/start", twice)
    assert "Two materials have the code GLASS" in page.main
    assert price_book.listed(store) == ()


def test_what_is_there_already_is_not_asked_again(empty: Counter) -> None:
    more = empty.go("/materials/start", filled(empty, GLASS="14.00") | {"action": "more"})
    assert "1 material added. Fill in the next." in more.main
    assert "GLASS" not in more.fields.values()
    assert "ACRYLIC" in more.fields.values()


def test_a_shop_in_inches_begins_with_sizes_in_inches(inches: Counter) -> None:
    """Boards of 32 by 40 and glass of 36 by 48, as shops that work in inches buy them. Source: common practice."""
    fields = [*inches.get("/materials/start").fields.values()]
    assert fields.count("40 x 32") == 5
    assert fields.count("48 x 36") == 2
    assert "120" in fields


def test_in_inches_wire_is_by_the_foot_and_a_least_area_is_told_in_square_feet(
    inches: Counter, bare: Store
) -> None:
    """0.2405 m² / 0.09290304 = 2.5887 sq ft."""
    page = inches.go("/materials/start", filled(inches, GLASS="14.00", WIRE="0.15"))
    assert "2 materials added to the price book." in page.main
    book = {each.code: each for each in price_book.listed(bare)}
    assert (book["WIRE"].name, book["WIRE"].per) == ("Picture wire, a foot", CostPer.FOOT)
    form = inches.get("/materials/GLASS/edit").fields
    seen = inches.post("/materials/GLASS/edit?live=1", form | {"charge.minimum_area": "0.2405"})
    assert "2.59 sq ft" in seen.text
