"""A price through HTTP: the watercolour of 420 × 297 mm, worked by hand from the handbook's rules.

The figures are those of the same piece in the tests of pricing, where each stands beside its arithmetic.
"""

from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.money import TaxPolicy, TaxRounding
from app.orders import Labour
from app.services import price_book
from app.services import shop as shops
from app.storage import Stamp, Store
from tests.builders.values import euro
from tests.builders.watercolour import BOARDS, backing, glazing, mat, moulding, ring
from tests.web.conftest import NOW, SHOP

ACT = Stamp(who="", now=NOW)

WATERCOLOUR: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "420", "height": "297", "kind": "watercolour"},
    "presentation": "window",
    "overlap": "5",
    "mats": [{"material": "M1"}, {"material": "M2", "reveal": "6"}],
    "borders": {"left": "70", "right": "70", "top": "70", "bottom": "80"},
    "frames": [{"material": "W25"}],
    "allowance": "3",
    "glazing": {"material": "G2"},
    "backing": {"material": "B3"},
    "hardware": [{"material": "R1", "count": 2}],
    "discount": "10",
    "rush": True,
}


TWO = [{"width": "80", "height": "90"}, {"width": "60", "height": "50"}]
SLOT = {"width": "40", "height": "10", "gap": "20"}


@pytest.fixture
def book(store: Store) -> Store:
    """The shop and the price book of the hand-worked piece."""
    shop = replace(
        SHOP,
        labour=Labour(hourly_rate=euro("38.40")),
        markup_tables=(BOARDS,),
        rounding_step=euro("0.50"),
        tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT),
    )
    shops.save(store, shop, 1, ACT)
    materials = (moulding(), mat(), mat(code="M2", name="Slate blue"), glazing(), backing(), ring())
    for material in materials:
        price_book.add(store, material, ACT)
    return store


def asked(**changes: Any) -> dict[str, Any]:
    return deepcopy(WATERCOLOUR) | changes


@pytest.mark.usefixtures("book")
def test_the_watercolour_comes_to_what_was_worked_by_hand(page: TestClient) -> None:
    answer = page.post("/api/price", json=WATERCOLOUR)
    assert answer.status_code == 200
    price = answer.json()["price"]
    assert [line["amount"] for line in price["lines"]] == [
        "31.52", "18.00", "18.00", "14.99", "6.00", "1.00", "39.47",
    ]  # fmt: skip
    assert price["currency"] == "EUR"
    assert price["subtotal"] == "128.98"
    assert price["discount"] == "-12.90"
    assert price["rush"] == "29.02"
    assert price["rounding"] == "-0.10"
    assert (price["net"], price["tax"], price["total"]) == ("145.00", "29.00", "174.00")
    assert price["taxes"] == [{"name": "Tax", "percent": "20", "net": "145.00", "tax": "29.00"}]
    assert price["lines"][0] == {
        "label": "Walnut hollow",
        "group": "frame",
        "part": "frame",
        "quantity": "2.22",
        "measure": "m",
        "unit_price": "14.2",
        "copies": 1,
        "together": False,
        "amount": "31.52",
        "why": [
            "2 × 603 mm + 2 × 490 mm = 2186 mm.",
            "Lost at the saw: 4 × 8.5 mm = 34 mm.",
            "2.22 m × 14.20 a metre = 31.52.",
        ],
    }


@pytest.mark.usefixtures("book")
def test_twenty_alike_say_what_is_each_and_what_is_once(page: TestClient) -> None:
    """125.33 − 12.53 + 28.20 = 141.00 for one, as in the tests of pricing; × 20 and 20 % tax."""
    price = page.post("/api/price", json=asked(copies=20)).json()["price"]
    assert (price["copies"], price["each"], price["all"]) == (20, "141.00", "2820.00")
    assert (price["net"], price["tax"], price["total"]) == ("2820.00", "564.00", "3384.00")
    assert price["by_number"] == "0.00"
    frame, *_, each, once = price["lines"]
    assert (frame["copies"], frame["together"], frame["amount"]) == (20, False, "630.40")
    assert (each["copies"], each["together"], each["amount"]) == (20, False, "712.60")
    assert (once["copies"], once["together"], once["amount"]) == (1, True, "3.84")


@pytest.mark.usefixtures("book")
@pytest.mark.parametrize("copies", [0, -1, 1.5, 10_000, "many", None])
def test_a_number_that_is_none_is_refused_at_its_place(page: TestClient, copies: Any) -> None:
    answer = page.post("/api/price", json=asked(copies=copies))
    assert answer.status_code == 422
    assert answer.json()["error"]["fields"][0]["path"] == "copies"


@pytest.mark.usefixtures("book")
def test_its_dimensions_are_those_of_the_contract(page: TestClient) -> None:
    answer = page.post("/api/price", json=WATERCOLOUR).json()
    dimensions = answer["dimensions"]
    assert answer["unit"] == "mm"
    assert dimensions["package"] == {"width": "562", "height": "449"}
    assert dimensions["frames"][0]["outside"] == {"width": "603", "height": "490"}
    assert dimensions["windows"][1]["width"] == "410"
    assert dimensions["shop"]["package"] == {"width": "562", "height": "449"}
    assert all(set(notice) == {"code", "message", "concern"} for notice in answer["notices"])


@pytest.mark.usefixtures("book")
def test_what_the_shop_pays_and_earns_is_not_in_the_answer(page: TestClient) -> None:
    text = page.post("/api/price", json=WATERCOLOUR).text
    for word in ("margin", "markup", "Cost", "cost", "earnings", "minutes"):
        assert word not in text


@pytest.mark.usefixtures("book")
@pytest.mark.parametrize(
    "artwork",
    [
        {"size": "420 x 297"},
        {"size": "A3 landscape"},  # ISO 216: 297 × 420 mm
        {"size": "42 x 29.7 cm"},
        {"width": "420", "height": "297"},
        {"width": 420, "height": 297},
    ],
)
def test_a_size_may_be_said_in_any_way(page: TestClient, artwork: dict[str, Any]) -> None:
    answer = page.post("/api/price", json=asked(artwork={**artwork, "kind": "watercolour"}))
    assert answer.json()["price"]["total"] == "174.00"


@pytest.mark.usefixtures("book")
def test_a_tax_free_customer_pays_the_net(page: TestClient) -> None:
    price = page.post("/api/price", json=asked(tax_free=True)).json()["price"]
    assert (price["tax"], price["taxes"], price["total"]) == ("0.00", [], "145.00")


@pytest.mark.usefixtures("book")
def test_a_package_gives_equal_borders(page: TestClient) -> None:
    given = asked(package={"size": "562 x 449"})
    del given["borders"]
    layer = page.post("/api/price", json=given).json()["dimensions"]["layers"][0]
    # G5: (562 − 422) / 2 = 70 and (449 − 299) / 2 = 75
    assert layer["borders"] == {"left": "70", "right": "70", "top": "75", "bottom": "75"}


@pytest.mark.usefixtures("book")
@pytest.mark.parametrize(
    ("changes", "paths"),
    [
        ({"artwork": {"width": "0", "height": "-3"}}, {"artwork.width", "artwork.height"}),
        ({"artwork": {"size": "16x"}}, {"artwork.size"}),
        ({"artwork": {"size": "16 x 20 x 3"}}, {"artwork.size"}),
        ({"artwork": {}}, {"artwork"}),
        ({"artwork": {"size": "A3", "width": "3"}}, {"artwork"}),
        ({"artwork": {"width": "12 3/0", "height": "NaN"}}, {"artwork.width", "artwork.height"}),
        ({"mats": [{"material": "nothing like it"}]}, {"mats.0.material"}),
        ({"frames": [{"material": "<b>"}], "glazing": "🖼"}, {"frames.0.material", "glazing.material"}),
        ({"borders": {"left": "x" * 150}}, {"borders.left"}),
        ({"discount": "101"}, {"discount"}),
        ({"hardware": [{"material": "R1", "count": 0}]}, {"hardware.0.count"}),
        ({"mats": [{"material": "M1"}] * 4}, {"mats"}),
        ({"rabbit": 1}, {"rabbit"}),
        ({"unit": "furlong"}, {"unit"}),
        ({"artwork": {"width": "8", "height": "8"}}, {"overlap"}),
        ({"windows": [{"width": "80"}]}, {"windows.0.height"}),
        ({"windows": [{}]}, {"windows.0.width", "windows.0.height"}),
        (
            {"windows": [{"width": "80", "height": "9", "artwork": {"width": "8", "height": "9"}}]},
            {"windows.0"},
        ),
        ({"windows": [{"artwork": {"width": "x", "height": "9"}}]}, {"windows.0.artwork.width"}),
        ({"windows": [{"width": "80", "height": "90", "overlap": "-1"}]}, {"windows.0.overlap"}),
        ({"windows": [{"size": "80 x 90", "edge": "-1"}]}, {"windows.0.edge"}),
        ({"windows": [{"size": "80 x"}]}, {"windows.0.size"}),
        ({"windows": [{"size": "80 x 90", "width": "80", "height": "90"}]}, {"windows.0"}),
        ({"windows": [{"size": "80 x 90", "kind": "frame"}]}, {"windows.0.kind"}),
        ({"windows": [{"size": "80 x 90", "overlap": "3", "edge": "3"}]}, {"windows.0.overlap"}),
        (
            {"windows": [{"size": "80 x 90", "name": "A", "id": "A", "shown": "float", "presentation": "float"}]},
            {"windows.0.id", "windows.0.presentation"},
        ),
        ({"windows": [{"size": "80 x 90", "slot": "60", "slot_gap": "x"}]}, {"windows.0.slot.size", "windows.0.slot_gap"}),
        ({"windows": [{"size": "80 x 90", "slot": SLOT, "slot_gap": "20"}]}, {"windows.0.slot_gap"}),
        ({"windows": [{"size": "80 x 90", "slot": {"gap": "20"}}]}, {"windows.0.slot.width", "windows.0.slot.height"}),
        ({"windows": [{"width": "80", "height": "90", "x": "5"}]}, {"windows.0"}),
        (
            {"windows": [{"width": "80", "height": "90", "slot": SLOT | {"gap": "a"}}]},
            {"windows.0.slot.gap"},
        ),
        ({"windows": TWO, "arrangement": {"rows": [1]}}, {"arrangement.rows"}),
        ({"windows": TWO, "arrangement": {"rows": [2], "columns": 2}}, {"arrangement.columns"}),
        ({"windows": TWO, "arrangement": {"across": "0"}}, {"arrangement.across"}),
        ({"windows": TWO * 13}, {"windows"}),
        ({"groove": "1e9"}, {"groove"}),
        ({"mats": [], "windows": [TWO[0] | {"x": "5", "y": "5"}]}, {"mats.0.material"}),
    ],
)  # fmt: skip
def test_every_fault_stands_at_the_path_of_the_request(
    page: TestClient, changes: dict[str, Any], paths: set[str]
) -> None:
    answer = page.post("/api/price", json=asked(**changes))
    error = answer.json()["error"]
    assert answer.status_code == 422
    assert set(error) == {"code", "message", "fields"}
    assert {field["path"] for field in error["fields"]} == paths
    assert all(len(field["message"]) < 400 for field in error["fields"])


@pytest.mark.usefixtures("book")
def test_several_windows_are_laid_out_as_on_the_quote_page(page: TestClient) -> None:
    """Windows of the inner mat 4 in × 100 and 60 × 50; with the reveal of 6 those of the top mat are
    113.6 × 112 and 72 × 62 (G3). Borders 70, 70, 70, 80 and the usual gap of 40:
    70 + 113.6 + 40 + 72 + 70 = 365.6 wide, 70 + 112 + 80 = 262 high. B hangs (112 − 62) / 2 = 25 lower."""
    windows = [
        {"id": "left", "width": "4 in", "height": "100", "shape": "oval"},
        {"artwork": {"width": "70", "height": "60"}},
    ]
    answer = page.post("/api/price", json=asked(windows=windows))
    assert answer.status_code == 200
    dimensions = answer.json()["dimensions"]
    assert dimensions["package"] == {"width": "365.6", "height": "262"}
    assert dimensions["gaps"] == {"across": "40", "down": None}
    top = dimensions["windows"][:2]
    assert [(w["id"], w["x"], w["y"], w["width"], w["height"]) for w in top] == [
        ("left", "70", "70", "113.6", "112"),
        ("B", "223.6", "95", "72", "62"),
    ]
    assert [w["shape"] for w in top] == ["oval", "rectangle"]


@pytest.mark.usefixtures("book")
def test_a_window_in_the_words_of_the_form_is_the_one_in_those_of_a_spec(page: TestClient) -> None:
    """Each window once by its spec and once as it is typed; the slot's usual gap is 20 mm (G9)."""
    by_spec = [
        {"id": "left", "width": "80", "height": "90", "shape": "arch", "rise": "30", "slot": SLOT},
        {"artwork": {"width": "70", "height": "60"}, "overlap": "4"},
        {"artwork": {"width": "70", "height": "60"}, "presentation": "float", "gap": "7"},
    ]
    as_typed = [
        {
            "name": "left",
            "size": "80 x 90",
            "kind": "hole",
            "shape": "arch",
            "rise": "30",
            "slot": "40 x 10",
        },
        {"size": "70 x 60", "edge": "4", "shown": "piece"},
        {"size": "70 x 60", "edge": "7", "shown": "float"},
    ]
    answer, other = (
        page.post("/api/price", json=asked(windows=windows)) for windows in (by_spec, as_typed)
    )
    assert answer.status_code == 200
    assert other.json() == answer.json()
    # Of the innermost mat: 80 and the slot's 40, 70 less twice 4 (G1), 70 and twice 7 (G2).
    holes = [w["width"] for w in answer.json()["dimensions"]["windows"] if w["layer"] == 2]
    assert holes == ["80", "40", "62", "84"]


@pytest.mark.usefixtures("book")
def test_windows_may_say_their_places(page: TestClient) -> None:
    """Top windows 92 × 102 and 72 × 62; right 70 after 300 + 72, bottom 80 after 90 + 102."""
    windows = [
        {"width": "80", "height": "90", "x": "75", "y": "90"},
        {"width": "60", "height": "50", "x": "300", "y": "100"},
    ]
    dimensions = page.post("/api/price", json=asked(windows=windows)).json()["dimensions"]
    assert dimensions["package"] == {"width": "442", "height": "272"}
    assert dimensions["gaps"] is None


@pytest.mark.usefixtures("book")
def test_rows_and_a_groove_may_be_asked_for(page: TestClient) -> None:
    """Four top windows of 92 × 102 two by two with gaps of 30: 70 + 214 + 70 wide, 70 + 234 + 80 high."""
    arrangement = {"columns": 2, "across": "30", "down": "30"}
    given = asked(
        windows=[{"width": "80", "height": "90"}] * 4, arrangement=arrangement, groove="8"
    )
    dimensions = page.post("/api/price", json=given).json()["dimensions"]
    assert dimensions["package"] == {"width": "354", "height": "384"}
    assert [groove["id"] for groove in dimensions["grooves"]] == ["A", "B", "C", "D"]


@pytest.mark.usefixtures("book")
def test_nothing_is_kept(page: TestClient, store: Store) -> None:
    page.post("/api/price", json=WATERCOLOUR)
    with store.reading() as work:
        assert work.order_lists.count() == 0


def test_without_a_shop_there_are_no_prices(first_page: TestClient) -> None:
    answer = first_page.post("/api/price", json=WATERCOLOUR)
    assert answer.status_code == 409
    assert answer.json()["error"]["code"] == "not-set-up"
