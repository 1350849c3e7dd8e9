"""Weight and hanging at the counter, on the order, at the bench, on the ticket, in settings and in the JSON.

The piece is the one of tests/unit/orders/test_artwork_weight.py: a panel of 900 × 900 × 18 in a moulding
that weighs 1.86 kg with it; fixings are 0.125.
"""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.framing.notices.artwork_weight import ArtworkFigures, Support
from app.framing.notices.weight import HangingRules
from app.lengths import Unit, mm
from app.orders import ArtworkKind, usual_shop
from app.orders.weight_rules import WeightRules
from app.pricing import Bears, HangingPart
from app.services import orders, price_book, quotes
from app.services import shop as shops
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.web.settings.page import section_of
from app.web.settings.weights_form import read_weights
from tests.builders.worked import RING, TYPED
from tests.documents.reading import text_of
from tests.web.conftest import NOW, SHOP
from tests.web.reading import Page
from tests.web.shown import Counter, Shown

ACT = Stamp(who="", now=NOW)
PANEL = {
    "unit": "mm",
    "artwork.size": "900 x 900",
    "artwork.thickness": "18",
    "artwork.kind": "oil",
    "artwork.support": "wood",
    "presentation": "canvas",
    "sizing": "borders",
    "frames.0.material": "LIN-20",
    "hardware.0.material": "R-1",
    "hardware.0.count": "2",
}


def asked_live(counter: Counter, **typed: str) -> Shown:
    fields = {name.replace("__", "."): text for name, text in typed.items()}
    return counter.post("/quotes?live=1", {**PANEL, **fields})


def load_of_ring(store: Store, load: str) -> None:
    """The hanging ring of the price book is given a load."""
    kept = price_book.get(store, "R-1")
    hanging = HangingPart(bears=Bears.RING, load_kg=Fraction(load))
    price_book.save(store, "R-1", replace(kept.value, hanging=hanging), kept.version, ACT)


def saved(store: Store, **typed: str) -> str:
    fields = {**PANEL, **{name.replace("__", "."): text for name, text in typed.items()}}
    return (
        f"/orders/{quotes.save_new(store, CustomerRequest(name='Amber Quill'), fields, SHOP, ACT)}"
    )


def test_a_panel_is_weighed_at_the_counter(counter: Counter) -> None:
    """Before: about 2.0 kg and a wire."""
    page = asked_live(counter)
    assert page.facts["weight"] == "about 10.7 kg"
    assert page.facts["artwork weighs"] == "about 8.7 kg, estimated as wood"
    assert "The piece is about 10.7 kg: use no wire" in page.main
    assert page.words(id="artwork-weight-said") == "about 8.7 kg"
    assert page.words(id="artwork-asked") == ""


def test_what_is_missing_is_asked_for_beside_what_it_is_made_of(counter: Counter) -> None:
    page = asked_live(counter, artwork__thickness="")
    assert "weighs by its thickness" in page.words(id="artwork-asked")
    assert page.facts["weight"] == "at least 2.0 kg"
    thing = asked_live(counter, artwork__kind="object", artwork__support="", presentation="close")
    assert "weigh it and type what it weighs" in thing.words(id="artwork-asked")
    assert thing.facts["artwork weighs"] == "not known"


@pytest.mark.parametrize(
    ("typed", "said", "weighs"),
    [
        ("2.3 kg", "", "2.3 kg, as weighed"),
        ("2.3", "2.3 kg", "2.3 kg, as weighed"),
        ("850 g", "0.85 kg", "850 g, as weighed"),
        ("5 lb 4 oz", "2.381 kg", "2.4 kg, as weighed"),
    ],
)
def test_a_typed_weight_is_understood_beside_its_field(
    counter: Counter, typed: str, said: str, weighs: str
) -> None:
    page = asked_live(counter, artwork__weight=typed)
    assert page.words(id="artwork-weight-said") == said
    assert page.facts["artwork weighs"] == weighs


def test_a_weight_that_cannot_be_read_is_kept_with_its_reason(counter: Counter) -> None:
    form = {**PANEL, "artwork.weight": "heavy", "customer": "Amber Quill", "action": "save"}
    page = counter.post("/quotes", form)
    assert page.status == 422
    assert page.fields["artwork.weight"] == "heavy"
    assert page.fields["artwork.support"] == "wood"
    assert "“heavy” cannot be read as a weight" in page.error("artwork.weight")


def test_weight_and_support_stay_with_the_piece_and_change_no_price(
    counter: Counter, stocked: Store
) -> None:
    order = saved(stocked)
    change = f"{order}/pieces/1"
    form = counter.get(f"{change}/change").form(change)
    assert form["artwork.support"] == "wood"
    kept = {**form, "artwork.weight": "9.5 kg", "artwork.support": "mdf", "action": "save"}
    assert "its price stays as agreed" in counter.go(change, kept).main
    artwork = orders.get(stocked, int(order.rpartition("/")[2])).pieces[0].artwork
    assert (artwork.support, artwork.weight_kg) == (Support.MDF, Fraction("9.5"))
    assert counter.get(order).facts["artwork weighs"] == "9.5 kg, as weighed"
    assert counter.get(change).facts["weight"] == "about 11.5 kg"


@pytest.mark.documents
@pytest.mark.poppler
def test_ticket_order_and_bench_say_what_is_too_weak(counter: Counter, stocked: Store) -> None:
    """10.733 kg × 9.80665 N = 105.25…, × 4 = 421.02, up to 422 N: 43.03 kg, up to 43.1."""
    load_of_ring(stocked, "15")
    strong = HangingPart(bears=Bears.RING, load_kg=Fraction(50))
    price_book.add(stocked, replace(RING, code="R-9", name="Strap", hanging=strong), ACT)
    order = saved(stocked)
    sentence = (
        "“Hanging ring” (R-1) bears 15 kg, but each part must bear 43.1 kg. Take R-9 (50 kg) "
        "of the price book."
    )
    assert sentence in asked_live(counter).main
    assert sentence in counter.get(order).main
    assert sentence in counter.get(f"{order}/pieces/1").main
    ticket = text_of(counter.client.get(f"{order}/pieces/1/ticket.pdf").content)
    assert sentence in ticket
    assert "Take 2 × R-1 Hanging ring (TOO WEAK: take R-9 instead)" in ticket
    assert "about 10.7 kg · artwork about 8.7 kg, estimated as wood" in ticket
    assert "each part bears at least 43.1 kg (422 N)" in ticket
    load_of_ring(stocked, "44")
    assert "each part must bear" not in counter.get(order).main
    assert "TOO WEAK" not in text_of(counter.client.get(f"{order}/pieces/1/ticket.pdf").content)


@pytest.mark.documents
@pytest.mark.poppler
def test_a_ticket_of_unknown_weight_says_at_least_and_an_unknown_load_quietly(
    counter: Counter, stocked: Store
) -> None:
    """1.985 kg, rings without a wire: × 9.80665 × 4 is 77.87, up to 78 N, and 7.95 kg, up to 8.0."""
    order = saved(stocked, artwork__kind="object", artwork__support="", presentation="close")
    ticket = text_of(counter.client.get(f"{order}/pieces/1/ticket.pdf").content)
    assert "Weight at least 2.0 kg · artwork not known" in ticket
    assert (
        "Hanging no wire · each part bears at least 8.0 kg (78 N); load of R-1 not known" in ticket
    )
    assert "An object is not estimated" in ticket
    assert "The price book has no working load for “Hanging ring”" in counter.get(order).main
    quote = text_of(counter.client.get(f"{order}/quote.pdf").content)
    assert "at least 2.0 kg" in quote


def test_an_inch_piece_says_pounds_and_ounces(counter: Counter) -> None:
    """8.748 / 0.028349523125 = 308.6 oz, 19 × 16 + 4.6; 10.733 is 378.6 oz, 23 × 16 + 10.6."""
    page = asked_live(counter, unit="in", artwork__size="900 x 900 mm", artwork__thickness="18 mm")
    assert page.facts["weight"] == "about 23 lb 11 oz"
    assert page.facts["artwork weighs"] == "about 19 lb 5 oz, estimated as wood"


# --- the price book --------------------------------------------------------------------------


def test_a_load_is_typed_kept_and_listed(counter: Counter, stocked: Store) -> None:
    form = counter.get("/materials/R-1/edit").form("/materials/R-1/edit")
    assert form["hanging.bears"] == form["hanging.load"] == ""
    counter.go("/materials/R-1/edit", {**form, "hanging.load": "33 lb", "action": "save"})
    hanging = price_book.get(stocked, "R-1").value.hanging
    assert hanging == HangingPart(bears=Bears.RING, load_kg=Fraction("0.45359237") * 33)
    assert "bears 33 lb" in counter.get("/materials?kind=hardware").main
    assert counter.get("/materials/R-1/edit").fields["hanging.load"] == "33 lb"
    assert "bears 33 lb" in counter.get("/materials/find?kind=hardware&q=ring").text
    assert not counter.get("/materials/LIN-20/edit").has(id="hanging-load")


def test_a_load_that_cannot_be_read_is_said_at_its_field(counter: Counter) -> None:
    form = counter.get("/materials/R-1/edit").form("/materials/R-1/edit")
    page = counter.post("/materials/R-1/edit", {**form, "hanging.load": "strong", "action": "save"})
    assert page.status == 422
    assert page.fields["hanging.load"] == "strong"
    assert "“strong” cannot be read as a weight" in page.error("hanging.load")
    nothing = {**form, "hanging.load": "5 kg", "hanging.bears": "nothing", "action": "save"}
    assert "nothing hangs by it" in counter.post("/materials/R-1/edit", nothing).error(
        "hanging.load"
    )


# --- settings --------------------------------------------------------------------------------


def keep(page: TestClient, section: str, **typed: str) -> Page:
    values = Page(page.get(f"/settings/{section}").text).values
    changed = {name.replace("__", "."): text for name, text in typed.items()}
    return Page(
        page.post(f"/settings/{section}", data={**values, **changed, "action": "save"}).text
    )


def test_the_rules_of_weight_and_hanging_are_kept_as_typed(page: TestClient, store: Store) -> None:
    keep(
        page, "weight", factor="2.5", no_wire_above_kg="22 lb", no_wire_above_width="90 cm",
        competent_person_above_kg="15", lift_above_kg="12 kg", fixings_down="1/4",
        wire_below_top="40", wire_wound="80", least_drop="1/8", paper="250", bar="600", cross_bar_over="1200",
        mdf="800", fixings_grams="200", supports__oil="asked", supports__print="board",
    )  # fmt: skip
    rules = shops.get(store).value.weights
    assert rules.hanging == HangingRules(
        factor=Fraction(5, 2),
        no_wire_above_kg=Fraction("0.45359237") * 22,
        no_wire_above_width=mm(900),
        competent_person_above_kg=Fraction(15),
        lift_above_kg=Fraction(12),
        fixings_down=Fraction(1, 4),
        wire_below_top=mm(40),
        least_drop=Fraction(1, 8),
        wire_wound=mm(80),
    )
    assert rules.figures == ArtworkFigures(paper=250, bar=600, cross_bar_over=mm(1200), mdf=800)
    assert rules.fixings_grams == 200
    assert rules.support_of(ArtworkKind.OIL) is None
    assert rules.support_of(ArtworkKind.PRINT) is Support.BOARD
    assert rules.support_of(ArtworkKind.TEXTILE) is Support.TEXTILE


def test_blank_is_the_usual(page: TestClient, store: Store) -> None:
    keep(page, "weight", factor="2", mdf="800")
    keep(page, "weight", **dict.fromkeys(("factor", "mdf", "no_wire_above_kg", "least_drop"), ""))
    assert shops.get(store).value.weights == WeightRules()


@pytest.mark.parametrize("unit", Unit)
def test_the_rules_come_back_from_their_form_as_they_were(unit: Unit) -> None:
    shop = usual_shop("Sedge Lane Frames", unit, "EUR", Fraction(0))
    odd = replace(
        shop,
        weights=WeightRules(
            hanging=HangingRules(factor=Fraction(7, 3), no_wire_above_kg=Fraction(100, 7)),
            supports=((ArtworkKind.OIL, Support.WOOD),),
        ),
    )
    section = section_of("weight")
    assert section is not None
    for each in (shop, odd):
        assert read_weights(section.typed(each), each) == each


def test_all_faults_of_the_rules_stand_at_their_fields(page: TestClient, store: Store) -> None:
    kept = keep(
        page, "weight", factor="0.5", no_wire_above_kg="heavy", fixings_down="1", mdf="0",
        supports__oil="stone",
    )  # fmt: skip
    for sentence in (
        "The factor must be from 1 to 20.",
        "“heavy” cannot be read as a weight",
        "at most 9/10",
        "a whole number from 1 to",
        "“stone” is not a choice here",
    ):
        assert sentence in kept.text
    assert shops.get(store).value == SHOP


def test_a_factor_that_was_corrected_holds_for_pieces_agreed_before(
    counter: Counter, stocked: Store
) -> None:
    """105.25… N × 2 = 210.5, up to 211 N: 21.52 kg, up to 21.6."""
    load_of_ring(stocked, "20")
    order = saved(stocked)
    assert "must bear 43.1 kg" in counter.get(order).main
    keep(counter.client, "weight", factor="2")
    assert "must bear 21.6 kg" in counter.get(order).main


def test_smallest_border_and_least_bridge_are_settings(page: TestClient, store: Store) -> None:
    keep(page, "allowances", smallest_border="95", least_bridge="0")
    allowances = shops.get(store).value.allowances
    assert (allowances.smallest_border, allowances.least_bridge) == (mm(95), mm(0))
    keep(page, "allowances", smallest_border="", least_bridge="")
    assert shops.get(store).value == SHOP


def test_a_border_below_the_shops_smallest_is_said(counter: Counter, stocked: Store) -> None:
    """The worked piece has borders of 90, 90, 80 and 100."""
    assert "Narrow border" not in counter.post("/quotes?live=1", TYPED).main
    keep(counter.client, "allowances", smallest_border="85")
    page = counter.post("/quotes?live=1", TYPED)
    assert "Narrow border: top 80 mm. The smallest usual border is 85 mm." in page.main


def test_the_pages_of_settings_name_the_sources(page: TestClient) -> None:
    text = Page(page.get("/settings/weight").text).text
    assert "Usual: 4 (from memory; sources differ, one asks for 2)." in text
    assert "Usual: 2500 (EN 572-1, as quoted publicly)." in text


# --- JSON ------------------------------------------------------------------------------------

PRICED: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "900", "height": "900", "thickness": "18", "kind": "oil"},
    "presentation": "canvas",
    "frames": [{"material": "LIN-20"}],
    "hardware": [{"material": "R-1", "count": 2}],
}


def priced(counter: Counter, **artwork: str) -> dict[str, Any]:
    asked = {**PRICED, "artwork": {**PRICED["artwork"], **artwork}}
    answer = counter.client.post("/api/price", json=asked)
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.json()
    return found


def test_the_json_answers_weight_and_hanging(counter: Counter) -> None:
    """Outside 930 × 930: fixings a third of 930 down, 930 − 20 apart; 422 N as on the ticket."""
    found = priced(counter, support="wood")
    assert found["weight"] == {
        "kg": "10.733",
        "at_least": False,
        "artwork": {"kg": "8.748", "known": "estimated", "support": "wood"},
    }
    assert found["weight_kg"] == "10.73"
    assert found["hanging"] == {
        "way": "straps",
        "at_least": False,
        "load_newton": 422,
        "pull_newton": None,
        "wire": None,
        "angle_degrees": None,
        "fixings_down": "310",
        "fixings_apart": "910",
    }
    codes = {notice["code"] for notice in found["notices"]}
    assert {"artwork-weight-estimated", "no-wire", "hanging-load-not-known"} <= codes


def test_a_weight_in_the_json_is_exact_and_has_its_mark(counter: Counter) -> None:
    assert priced(counter, weight="2.3 kg")["weight"]["artwork"] == {
        "kg": "2.3",
        "known": "typed",
        "support": None,
    }
    # 5.25 × 0.45359237 = 2.3813599425
    assert priced(counter, weight="5 lb 4 oz")["weight"]["artwork"]["kg"] == "2.3813599425"
    asked = {**PRICED, "artwork": {**PRICED["artwork"], "weight": "2.3"}}
    answer = counter.client.post("/api/price", json=asked)
    assert answer.status_code == 422
    (field,) = answer.json()["error"]["fields"]
    assert field["path"] == "artwork.weight"
    assert "has no mark" in field["message"]


def test_an_object_in_the_json_is_missing_its_weight(counter: Counter) -> None:
    found = priced(counter, kind="object")
    assert found["weight"]["at_least"] is True
    assert found["weight"]["artwork"] == {"kg": None, "known": "missing", "support": None}
    assert "artwork-weight-missing" in {notice["code"] for notice in found["notices"]}


def test_an_old_request_is_answered_as_before_and_more(counter: Counter) -> None:
    """Without support and weight: an oil is at least a canvas, 1.985 + 2.124."""
    found = priced(counter)
    assert found["weight_kg"] == "4.11"
    assert found["weight"]["artwork"]["known"] == "least"


DIMENSIONS: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "900", "height": "900", "thickness": "18"},
    "presentation": "close",
}


@pytest.mark.parametrize(
    ("artwork", "answered"),
    [
        ({"support": "wood"}, {"kg": "8.748", "known": "estimated", "support": "wood"}),
        ({"support": "mdf"}, {"kg": "10.935", "known": "estimated", "support": "mdf"}),
        (
            {"support": "canvas", "width": "1200", "height": "800"},
            {"kg": "2.784", "known": "estimated", "support": "canvas"},
        ),
        ({"weight": "850 g"}, {"kg": "0.85", "known": "typed", "support": None}),
        (
            {"support": "glass", "thickness": "0"},
            {"kg": None, "known": "missing", "support": None},
        ),
    ],
)
def test_dimensions_weigh_an_artwork_of_which_enough_is_said(
    api: TestClient, artwork: dict[str, str], answered: dict[str, str | None]
) -> None:
    asked = {**DIMENSIONS, "artwork": {**DIMENSIONS["artwork"], **artwork}}
    assert api.post("/api/dimensions", json=asked).json()["artwork_weight"] == answered


def test_dimensions_of_which_nothing_is_said_have_no_weight(api: TestClient) -> None:
    assert "artwork_weight" not in api.post("/api/dimensions", json=DIMENSIONS).json()


def test_an_object_of_dimensions_is_missing_its_weight_whatever_it_is_made_of(
    api: TestClient,
) -> None:
    artwork = {**DIMENSIONS["artwork"], "object": True, "support": "glass"}
    box = {**DIMENSIONS, "artwork": artwork, "mount_board": {"thickness": "2"}, "spacer": "20"}
    answer = api.post("/api/dimensions", json=box)
    assert answer.status_code == 200, answer.text
    assert answer.json()["artwork_weight"]["known"] == "missing"


@pytest.mark.parametrize(
    ("artwork", "path"),
    [({"weight": "heavy"}, "artwork.weight"), ({"support": "tin"}, "artwork.support")],
)
def test_dimensions_refuse_what_is_no_weight_and_no_support(
    api: TestClient, artwork: dict[str, str], path: str
) -> None:
    asked = {**DIMENSIONS, "artwork": {**DIMENSIONS["artwork"], **artwork}}
    answer = api.post("/api/dimensions", json=asked)
    assert answer.status_code == 422
    assert [field["path"] for field in answer.json()["error"]["fields"]] == [path]


def test_the_customers_record_has_weight_and_support(counter: Counter, stocked: Store) -> None:
    saved(stocked, artwork__weight="9.5 kg")
    record = counter.client.get("/customers/1/export")
    assert record.status_code == 200
    assert '"support": "wood"' in record.text
    assert '"weight_kg": "9.5"' in record.text
