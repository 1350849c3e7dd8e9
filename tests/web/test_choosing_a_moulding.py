"""A moulding is chosen by what the piece costs with it and by what lies on the rack.

The piece is the worked one (tests/builders/worked): rails of 630 and 530, 2.32 m along the long points; 2.4 m are charged, at
10.00 a metre 24.00 of 103.51.
"""

from dataclasses import replace

import pytest

from app.lengths import mm
from app.services import price_book, stock
from app.stock.items import Item, StockForm
from app.storage import Stamp, Store
from tests.builders.values import euro, size
from tests.builders.worked import MOULDING, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words

ACT = Stamp(who="Ilse", now=NOW)
FIND = "/quotes/materials?at=frames.0.material"
DEAR = replace(MOULDING, code="LIN-25", name="Linden, gilt", cost=euro("6.00"))
NARROW = replace(MOULDING, code="OAK-1", name="Oak, shallow", cost=euro("2.00"))


@pytest.fixture
def mouldings(counter: Counter, stocked: Store) -> Counter:
    for each in (DEAR, NARROW):
        price_book.add(stocked, each, ACT)
    return counter


def received(store: Store, code: str, count: int, length: int = 3000) -> None:
    stick = Item(material=code, form=StockForm.STICK, unit_cost=euro("12.00"), length=mm(length))
    stock.receive(store, stock.Received(item=stick, count=count), ACT)


def found(counter: Counter, text: str, **typed: str) -> dict[str, str]:
    """What the list under the field offers, by its code."""
    changed = {name.replace("__", "."): value for name, value in typed.items()}
    page = counter.post(f"{FIND}&q={text}", {**TYPED, **changed})
    assert page.status == 200
    return {
        each.get("data-value") or "": words(each)
        for each in page.tree.iter()
        if each.get("role") == "option"
    }


def test_each_match_says_what_the_piece_costs_with_it(mouldings: Counter) -> None:
    """6.00 × 2.5 = 15.00 a metre is 36.00, 12.00 more than 24.00; 2.00 × 2.5 = 5.00 is 12.00, so 91.51."""
    listed = found(mouldings, "lin")
    assert listed["LIN-20"].endswith("103.51")
    assert listed["LIN-25"].endswith("115.51")
    assert "OAK-1" not in listed
    assert found(mouldings, "oak")["OAK-1"].endswith("91.51")


def test_each_match_says_what_lies_on_the_rack(mouldings: Counter, stocked: Store) -> None:
    """Two sticks of 3 m are enough for 2.32 m; one of 1.2 m is not."""
    received(stocked, "LIN-20", 2)
    received(stocked, "LIN-25", 1, length=1200)
    listed = found(mouldings, "lin")
    assert "LIN-20 · 20 mm wide · 2 sticks, 6.0 m" in listed["LIN-20"]
    assert "1 stick, 1.2 m: order more" in listed["LIN-25"]
    assert "to be ordered" in found(mouldings, "oak")["OAK-1"]


def test_without_a_size_the_matches_have_no_price(mouldings: Counter) -> None:
    assert found(mouldings, "oak", artwork__size="")["OAK-1"].endswith("to be ordered")


def test_what_is_typed_of_a_doubtful_size_is_taken_as_the_quote_takes_it(
    mouldings: Counter,
) -> None:
    with_cm = found(mouldings, "oak", artwork__size="50x70 cm")["OAK-1"]
    assert found(mouldings, "oak", artwork__size="50x70")["OAK-1"] == with_cm


def test_a_list_for_something_else_is_refused(counter: Counter) -> None:
    assert counter.post("/quotes/materials?at=artwork.title&q=x", TYPED).status == 404


def test_every_field_of_a_material_asks_with_the_whole_form(counter: Counter) -> None:
    page = counter.get("/quotes/new")
    asking = [
        each.get("data-finder")
        for each in page.tree.iter()
        if each.get("data-finder-form") is not None
    ]
    assert [each for each in asking if "frames" in str(each)] == [
        f"/quotes/materials?at=frames.{row}.material" for row in range(3)
    ]
    others = (
        "mats.0",
        "fillet",
        "given_frame",
        "glazing",
        "backing",
        "mount_board",
        "spacer",
        "hardware.0",
        "extras.0",
    )
    for path in others:
        assert f"/quotes/materials?at={path}.material" in asking
    finders = [each for each in page.tree.iter() if "/find" in (each.get("data-finder") or "")]
    assert [each.get("data-finder") for each in finders] == ["/customers/find"]


def offered(counter: Counter, path: str, text: str) -> dict[str, str]:
    """What the list under the field of a material offers, by its code."""
    page = counter.post(f"/quotes/materials?at={path}.material&q={text}", TYPED)
    return {
        each.get("data-value") or "": words(each)
        for each in page.tree.iter()
        if each.get("role") == "option"
    }


def test_other_materials_say_what_the_piece_costs_with_them_too(counter: Counter) -> None:
    """Acrylic at 40.00 × 2.5 = 100.00 a m² is 30.00 for 0.3 m², 15.00 more than glass; a mat as dear changes nothing."""
    glazing = offered(counter, "glazing", "mm")
    assert glazing["G-2"].endswith("103.51")
    assert glazing["A-3"].startswith("Acrylic 3 mm A-3 · 3 mm")
    assert glazing["A-3"].endswith("118.51")
    assert offered(counter, "mats.0", "slate")["M-140"].endswith("103.51")
    assert list(offered(counter, "hardware.0", "ring")) == ["R-1"]


def test_what_lies_on_the_rack_is_counted_as_it_is_kept(counter: Counter, stocked: Store) -> None:
    assert "none on the rack" in offered(counter, "glazing", "float")["G-2"]
    sheet = Item(
        material="G-2", form=StockForm.SHEET, unit_cost=euro("24.00"), size=size(1600, 1200)
    )
    stock.receive(stocked, stock.Received(item=sheet, count=3), ACT)
    assert "3 sheets on the rack" in offered(counter, "glazing", "float")["G-2"]


# --- the page, which goes without scripts ------------------------------------------------------


def chosen_from(counter: Counter, **typed: str) -> Shown:
    form = {**counter.get("/quotes/new").fields, **TYPED, "customer": "Amber Quill"}
    changed = {name.replace("__", "."): value for name, value in typed.items()}
    return counter.post("/quotes", {**form, "action": "mouldings:frames.0.material", **changed})


def rows_of(page: Shown) -> list[str]:
    return [words(row) for row in page.one(tag="tbody").iter("tr")]


def test_the_page_lists_all_mouldings_with_price_and_rack(
    mouldings: Counter, stocked: Store
) -> None:
    received(stocked, "LIN-20", 2)
    rows = rows_of(chosen_from(mouldings))
    assert [row.split()[0] for row in rows] == ["Linden,", "Linden,", "Oak,"]
    assert "2 sticks, 6.0 m 103.51" in rows[0]
    assert "to be ordered 91.51" in rows[2]


def test_the_page_is_narrowed_by_a_search(mouldings: Counter) -> None:
    rows = rows_of(chosen_from(mouldings, moulding__search="gilt"))
    assert len(rows) == 1
    assert "nothing" not in rows[0]
    none = chosen_from(mouldings, moulding__search="plum")
    assert "No moulding on offer is like “plum”" in none.main


def test_taking_one_leads_back_with_everything_typed(mouldings: Counter) -> None:
    page = chosen_from(mouldings)
    form = page.form("/quotes")
    take = next(
        each.get("value")
        for each in page.each(tag="button")
        if "OAK-1" in (each.get("value") or "")
    )
    quote = mouldings.post("/quotes", {**form, "action": str(take)})
    assert quote.fields["frames.0.material"] == "OAK-1"
    assert quote.fields["customer"] == "Amber Quill"
    assert {path: quote.fields[path] for path in TYPED if path != "frames.0.material"} == {
        path: text for path, text in TYPED.items() if path != "frames.0.material"
    }
    assert quote.words("price") == "91.51"


def test_going_back_changes_nothing(mouldings: Counter) -> None:
    form = {**chosen_from(mouldings).form("/quotes"), "action": "recalculate"}
    assert mouldings.post("/quotes", form).fields["frames.0.material"] == "LIN-20"


def test_a_moulding_that_the_piece_does_not_go_into_says_why(
    mouldings: Counter, stocked: Store
) -> None:
    """What stands in the way with it is said in the place of its price."""
    table = replace(MOULDING, code="ZED-1", name="Zed", tax="none-such")
    price_book.add(stocked, table, ACT)
    rows = rows_of(chosen_from(mouldings, moulding__search="zed"))
    assert "There is no tax rate" in rows[0]


def test_a_long_list_goes_on_by_a_button(counter: Counter, stocked: Store) -> None:
    """24 are priced at a time; with the one of the book 30 are 24 and 6."""
    for number in range(29):
        price_book.add(stocked, replace(MOULDING, code=f"X-{number:02}"), ACT)
    page = chosen_from(counter)
    assert len(rows_of(page)) == 24
    more = next(
        each.get("value") for each in page.each(tag="button") if words(each) == "More mouldings"
    )
    after = counter.post("/quotes", {**page.form("/quotes"), "action": str(more)})
    assert len(rows_of(after)) == 6
    assert "More mouldings" not in after.buttons()


def test_without_scripts_a_text_that_fits_several_offers_them_to_choose_from(
    mouldings: Counter,
) -> None:
    page = mouldings.post(
        "/quotes", {**TYPED, "frames.0.material": "linden", "action": "recalculate"}
    )
    asked = page.words(id="frames-0-material-question")
    assert asked == "Choose one: Linden, limewashed Linden, gilt"
    taken = mouldings.post(
        "/quotes",
        {**TYPED, "frames.0.material": "linden", "action": "say:frames.0.material:Linden, gilt"},
    )
    assert taken.status == 200
    assert taken.words("price") == "115.51"


def test_all_mouldings_begin_with_what_was_typed_and_say_why_none_has_a_price(
    mouldings: Counter,
) -> None:
    typed = {**TYPED, "frames.0.material": "linden", "mats.0.material": "no such"}
    page = mouldings.post("/quotes", {**typed, "action": "mouldings:frames.0.material"})
    assert page.fields["moulding.search"] == "linden"
    assert "Oak, shallow" not in page.text
    assert "No price can be shown before this is mended." in page.words("notice")
    assert "“no such”" in page.words("notice")
    chosen = mouldings.post("/quotes", {**TYPED, "action": "mouldings:frames.0.material"})
    assert "Oak, shallow" in chosen.text
    assert not chosen.has("notice")
