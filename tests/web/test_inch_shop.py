"""A shop in inches reads and types inches, pounds, prices a foot and a sq ft; what is kept stays in SI, exact.

Figures by hand: 1 ft = 304.8 mm, 1 lb = 453.59237 g (yard and pound agreement of 1959; NIST SP 811, appendix B).
"""

from collections.abc import Iterator
from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from app.lengths import Size, Unit, inches, mm
from app.orders import Shop, usual_shop
from app.orders.weight_rules import WeightRules
from app.services import price_book
from app.services import shop as shops
from app.storage import Stamp, Store
from tests.web.conftest import NOW, browser_on
from tests.web.reading import Page
from tests.web.shown import Counter

LB = Fraction(45359237, 100_000_000)


@pytest.fixture
def store(bare: Store) -> Store:
    shop = usual_shop("Sedge Lane Frames", Unit.IN, "USD", Fraction(0))
    shops.set_up(bare, shop, Stamp(who="", now=NOW))
    return bare


@pytest.fixture
def page(store: Store) -> Iterator[TestClient]:
    with browser_on(store) as client:
        yield client


def shop_of(store: Store) -> Shop:
    return shops.get(store).value


def form(page: TestClient, path: str) -> dict[str, str]:
    return Page(page.get(path).text).values


def told(page: TestClient, path: str, field: str) -> str:
    """What stands beside a field of a page."""
    return Counter(page).get(path).words(id=field.replace(".", "-").replace("_", "-") + "-said")


def keep(page: TestClient, path: str, **typed: str) -> Page:
    """A form posted with some fields changed; `__` stands for a dot."""
    changed = {name.replace("__", "."): text for name, text in typed.items()}
    return Page(page.post(path, data={**form(page, path), **changed, "action": "save"}).text)


SECTIONS = ("shop", "allowances", "usual", "work", "tax", "prices", "cutting", "weight", "promises")


@pytest.mark.parametrize("section", SECTIONS)
def test_a_section_kept_untouched_changes_nothing(
    page: TestClient, store: Store, section: str
) -> None:
    before = shop_of(store)
    keep(page, f"/settings/{section}")
    assert shop_of(store).weights == before.weights
    assert shop_of(store).labour == before.labour
    assert (shop_of(store).saw_loss, shop_of(store).keep) == (before.saw_loss, before.keep)
    assert shop_of(store).allowances == before.allowances


def test_a_new_shop_begins_with_round_inches_and_pounds(page: TestClient, store: Store) -> None:
    weights = form(page, "/settings/weight")
    assert weights["no_wire_above_kg"] == "22 lb"
    assert weights["competent_person_above_kg"] == "44 lb"
    assert weights["lift_above_kg"] == "33 lb"
    assert weights["no_wire_above_width"] == "39"
    assert (weights["wire_below_top"], weights["wire_wound"]) == ("2", "4")
    assert weights["cross_bar_over"] == "39"
    assert form(page, "/settings/prices")["saw_loss"] == "3/8"
    assert form(page, "/settings/cutting")["keep"] == "6 × 4"
    # On the cautious side of 10, 15 and 20 kg, 1000 mm, 50 and 100 mm.
    hanging = shop_of(store).weights.hanging
    assert hanging.no_wire_above_kg == 22 * LB < 10
    assert hanging.lift_above_kg == 33 * LB < 15
    assert hanging.competent_person_above_kg == 44 * LB < 20
    assert hanging.no_wire_above_width == inches(39) < mm(1000)
    assert hanging.wire_below_top == inches(2) > mm(50)
    assert shop_of(store).keep == Size(inches(6), inches(4))


def test_what_is_typed_with_another_mark_is_kept_and_told(page: TestClient, store: Store) -> None:
    keep(page, "/settings/weight", lift_above_kg="15 kg", no_wire_above_width="1000 mm")
    hanging = shop_of(store).weights.hanging
    assert (hanging.lift_above_kg, hanging.no_wire_above_width) == (15, mm(1000))
    assert form(page, "/settings/weight")["lift_above_kg"] == "15 kg"
    # 15 / 0.45359237 = 33.0693…; 1000 / 25.4 = 39.3700…, to 1/32: 39 12/32.
    assert told(page, "/settings/weight", "lift_above_kg") == "33.07 lb"
    assert told(page, "/settings/weight", "no_wire_above_width") == '39 3/8"'


def test_weights_by_area_are_told_in_ounces(page: TestClient) -> None:
    # 200 g/m² × 0.09290304 m² / 28.349523125 g = 0.6554 oz; 500 g/m × 0.3048 m / 28.3495… = 5.3758 oz;
    # 2500 kg/m³ × 0.028316846592 m³ / 0.45359237 kg = 156.069 lb; 125 / 28.3495… = 4.409 oz.
    assert told(page, "/settings/weight", "paper") == "0.66 oz a sq ft"
    assert told(page, "/settings/weight", "bar") == "5.38 oz a foot"
    assert told(page, "/settings/weight", "glass") == "156.07 lb a cu ft"
    assert told(page, "/settings/weight", "fixings_grams") == "4.41 oz"


def test_minutes_are_typed_a_foot_and_come_back(page: TestClient, store: Store) -> None:
    typed = {"operations__0__per_metre": "0.7", "operations__0__per_m2": "1.25"}
    keep(page, "/settings/work", **typed)
    operation = shop_of(store).labour.operations[0]
    assert operation.per_metre == Fraction(7, 10) / Fraction("0.3048")
    assert operation.per_m2 == Fraction(5, 4) / Fraction("0.09290304")
    shown = form(page, "/settings/work")
    assert shown["operations.0.per_metre"] == "0.7"
    assert shown["operations.0.per_m2"] == "1.25"
    text = page.get("/settings/work").text
    assert "<span>a foot</span>" in text
    assert "<span>a sq ft</span>" in text
    assert "a metre" not in text


def test_the_table_of_work_begins_with_round_minutes(page: TestClient) -> None:
    shown = form(page, "/settings/work")
    per_foot = {shown[path] for path in shown if path.endswith(".per_metre")}
    # 1/2, 1, 3/2 and 2 minutes a metre × 0.3048 are 0.1524, 0.3048, 0.4572, 0.6096; to a twentieth.
    assert per_foot == {"", "0.15", "0.3", "0.45", "0.6"}
    # 8 minutes a m² × 0.09290304 are 0.743…
    assert {shown[path] for path in shown if path.endswith(".per_m2")} == {"", "0.75"}


MOULDING = {
    "kind": "moulding", "code": "ASH-20", "name": "Ash 20", "cost": "24.50", "per": "stick",
    "selling": "markup", "selling.markup": "2.5", "profile.face": "3/4", "profile.lip": "1/4",
    "profile.rebate_depth": "5/8", "profile.stick": "120", "profile.grams_per_metre": "500",
}  # fmt: skip


def test_a_price_that_follows_from_a_stick_is_said_a_foot(page: TestClient, store: Store) -> None:
    page.post("/materials/new", data={**form(page, "/materials/new"), **MOULDING, "action": "save"})
    # A stick of 120 in is 10 ft: 2.45 a foot, × 2.5 = 6.125, half up 6.13.
    assert "6.13 a foot" in page.get("/materials").text
    edit = Page(page.get("/materials/ASH-20/edit").text)
    assert "Cost 2.45 a foot × markup 2.5 = 6.125 a foot." in edit.text
    assert told(page, "/materials/ASH-20/edit", "profile.grams_per_metre") == "5.38 oz a foot"
    assert price_book.get(store, "ASH-20").value.profile is not None


@pytest.mark.parametrize(
    ("typed", "kept", "shown"),
    [
        ("1.5 sq ft", Fraction("0.13935456"), "1.5 sq ft"),
        ("0.1", Fraction(1, 10), "0.1"),
        ("", Fraction(0), "0"),
    ],
)
def test_a_least_area_comes_back_as_it_was_typed(
    page: TestClient, store: Store, typed: str, kept: Fraction, shown: str
) -> None:
    glass = {
        **form(page, "/materials/new?kind=glazing"), "code": "PANE", "name": "Pane", "cost": "30",
        "charge.by": "area", "selling": "markup", "selling.markup": "3", "sheet.size": "48 x 36",
        "sheet.thickness": "3/32", "charge.minimum_area": typed, "action": "save",
    }  # fmt: skip
    page.post("/materials/new", data=glass)
    assert price_book.get(store, "PANE").value.charge.minimum_area == kept
    assert form(page, "/materials/PANE/edit")["charge.minimum_area"] == shown
    keep(page, "/materials/PANE/edit")
    assert price_book.get(store, "PANE").value.charge.minimum_area == kept


def test_what_is_bought_by_length_costs_so_much_a_foot(page: TestClient) -> None:
    start = Page(page.get("/materials/start").text)
    assert "Picture wire, a foot" in start.values.values()
    assert "Picture wire, a metre" not in start.values.values()
    assert "Cost a foot" in start.text


def test_a_shop_that_goes_over_to_another_unit_takes_its_round_figures(
    page: TestClient, store: Store
) -> None:
    keep(page, "/settings/shop", unit="mm", confirm="1")
    assert shop_of(store).weights == WeightRules()
    assert (shop_of(store).saw_loss, shop_of(store).keep) == (mm("8.5"), Size(mm(150), mm(100)))
    keep(page, "/settings/shop", unit="in", confirm="1")
    assert shop_of(store).weights == WeightRules.usual(Unit.IN)
    assert (shop_of(store).saw_loss, shop_of(store).keep) == (
        inches("3/8"),
        Size(inches(6), inches(4)),
    )
