"""The page of the handbook: its search, the shop's own figures, and shops whose figures fit no example."""

from dataclasses import replace

from app.bench import StepCode
from app.handbook import BY_NUMBER
from app.handbook.how_to import HOW_TO
from app.lengths import mm
from app.orders.shop import MatWord
from app.services import shop as shops
from app.storage import Stamp, Store
from tests.builders.worked import TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown

ACT = Stamp(who="Ilse", now=NOW)


def working_with(store: Store, **lengths: int) -> None:
    """The shop with other allowances, in mm."""
    kept = shops.get(store)
    changed = {name: mm(length) for name, length in lengths.items()}
    shop = replace(kept.value, allowances=replace(kept.value.allowances, **changed))
    shops.save(store, shop, kept.version, ACT)


def test_a_search_finds_the_rules_that_have_every_word(counter: Counter) -> None:
    page = counter.get("/handbook?q=rails+short")
    assert [each.get("id") for each in page.each("rule")] == ["G12"]


def test_an_example_is_worked_again_with_the_allowances_of_the_shop(
    counter: Counter, stocked: Store
) -> None:
    working_with(stocked, overlap=4)
    # 297 - 2 x 4 and 420 - 2 x 4.
    own = "An artwork of 297 × 420 mm with 4 mm covered at each edge gets a window of 289 × 412 mm."
    assert own in counter.get("/handbook").words(id="G1")


def test_a_shop_whose_figures_make_an_example_impossible_reads_the_usual_one(
    counter: Counter, stocked: Store
) -> None:
    working_with(stocked, overlap=200, border=0, spacer_width=300)
    words = counter.get("/handbook").words(id="G1")
    assert "gets a window of 287 × 410 mm" in words
    assert "In your shop" not in words


def rules_linked(page: Shown) -> list[str]:
    hrefs = (link.get("href") or "" for link in page.each(tag="a"))
    return [href.removeprefix("/handbook#") for href in hrefs if href.startswith("/handbook#")]


def test_fields_and_price_lines_lead_to_the_rules_that_they_rest_on(counter: Counter) -> None:
    page = counter.post("/quotes?live=1", TYPED)
    allowances = rules_linked(counter.get("/settings/allowances"))
    assert {"L2", "G1", "G2", "G3", "G4", "G7", "G11", "G14", "G17", "G22"} <= set(allowances)
    assert {"G11", "G12", "D1", "P1", "P4"} <= set(
        rules_linked(counter.get("/materials/LIN-20/edit"))
    )
    linked = rules_linked(page)
    assert set(linked) <= set(BY_NUMBER)
    # An overlap, a gap, the reveals of two under mats; rails, their length, labour.
    assert {"G1", "G2", "G3", "G11", "L4"} <= set(linked)
    assert {"G12", "P2", "P3", "P4", "P5"} <= set(linked)


def test_how_each_kind_of_step_is_done_has_an_address_and_a_drawing(counter: Counter) -> None:
    page = counter.get("/handbook/work")
    assert [each.get("id") for each in page.each("rule")] == [code.value for code in StepCode]
    for code in StepCode:
        assert HOW_TO[code].text in page.words(id=code.value)
        assert HOW_TO[code].caution in page.words(id=code.value)
    assert len(list(page.each("drawing-how"))) == len(StepCode)


def test_the_handbook_leads_to_how_the_work_is_done_and_back(counter: Counter) -> None:
    assert "/handbook/work" in counter.get("/handbook").links().values()
    assert "/handbook" in counter.get("/handbook/work").links().values()
    assert "a licensed trade say otherwise, they count" in counter.get("/handbook/work").main


def test_how_the_work_is_done_speaks_of_mats_as_the_shop_does(
    counter: Counter, store: Store
) -> None:
    assert "Lay the mats on each other" in counter.get("/handbook/work").main
    kept = shops.get(store)
    shops.save(store, replace(kept.value, mat_word=MatWord.MOUNT), kept.version, ACT)
    page = counter.get("/handbook/work")
    assert page.words(id="fix-behind").startswith("Fix the under mount behind the cut one")
    assert "Lay the mounts on each other" in page.main
    assert not {"mat", "mats"} & set(page.main.replace(",", " ").split())
