"""A moulding that the price book has not is entered on the quote, and comes into the book when that is saved.

Its section is that of the worked piece (tests/builders/worked), so rails and work are the same; without a charge step
2320 + 4 × 8.5 = 2354 mm are charged: at 10.00 a metre 23.54, 0.46 less than 24.00, so 103.05.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import NotFound
from app.lengths import mm
from app.pricing import ChargeBy, CostPer, Kind, MarkupStep, MarkupTable, Selling
from app.services import price_book
from app.services import shop as shops
from app.storage import Stamp, Store
from tests.builders.values import euro
from tests.builders.worked import TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter

ACT = Stamp(who="Ilse", now=NOW)
PIECE = {path: text for path, text in TYPED.items() if path != "frames.0.material"}
NEW = {
    "new_moulding.name": "Pear, waxed",
    "new_moulding.face": "20",
    "new_moulding.lip": "6.5",
    "new_moulding.rebate_depth": "14",
    "new_moulding.price": "10.00",
}
CODE = "PEAR-WAXED"
SAVE = {"customer": "Amber Quill", "action": "save", "version": "0"}


def test_while_it_is_typed_the_piece_is_drawn_and_priced_with_it(
    counter: Counter, stocked: Store
) -> None:
    page = counter.post("/quotes?live=1", {**PIECE, **NEW})
    assert page.words("price") == "103.05"
    assert page.facts["outside"] == "630 × 530 mm"
    assert "Pear, waxed" in page.words(id="price")
    with pytest.raises(NotFound):
        price_book.get(stocked, CODE)


def test_it_comes_into_the_price_book_with_the_quote(counter: Counter, stocked: Store) -> None:
    page = counter.go("/quotes", {**PIECE, **NEW, "new_moulding.cost": "4.00", **SAVE})
    assert (
        f"The quote is saved as Q-2026-0001. {CODE} is in the price book now; complete it there."
        in page.text
    )
    assert f"Pear, waxed ({CODE})" in page.main
    kept = price_book.get(stocked, CODE).value
    assert (kept.name, kept.kind, kept.cost, kept.per) == (
        "Pear, waxed", Kind.MOULDING, euro("4.00"), CostPer.METRE,
    )  # fmt: skip
    assert (kept.charge.by, kept.selling) == (ChargeBy.LENGTH, Selling(price=euro("10.00")))
    assert kept.profile is not None
    assert (kept.profile.face, kept.profile.lip, kept.profile.rebate_depth) == (
        mm(20),
        mm("6.5"),
        mm(14),
    )
    assert kept.tags == ("from-quote",)
    assert kept.notes.startswith("Entered on a quote, 2026-11-25.")


def test_the_list_of_materials_says_that_it_is_to_be_completed(counter: Counter) -> None:
    counter.go("/quotes", {**PIECE, **NEW, **SAVE})
    listed = counter.get("/materials?kind=moulding")
    assert "from a quote, to be completed" in listed.main
    assert counter.get("/materials?kind=glazing").main.count("from a quote") == 0


def test_the_piece_is_changed_and_priced_again_as_any_other(counter: Counter) -> None:
    order = counter.post("/quotes", {**PIECE, **NEW, **SAVE}).address
    piece = counter.get(f"{order}/pieces/1/change")
    assert piece.fields["frames.0.material"] == CODE
    assert piece.fields["new_moulding.name"] == ""
    assert "Nothing has changed" in counter.get(f"{order}/pieces/1/price-again").main


def test_a_second_one_of_the_name_has_a_code_of_its_own(counter: Counter, stocked: Store) -> None:
    counter.go("/quotes", {**PIECE, **NEW, **SAVE})
    counter.go("/quotes", {**PIECE, **NEW, **SAVE, "customer": "Bram Fell"})
    assert price_book.get(stocked, f"{CODE}-2").value.name == "Pear, waxed"


def test_with_a_cost_alone_it_sells_by_the_table_of_markups(
    counter: Counter, stocked: Store
) -> None:
    """4.00 × 2.5 is 10.00 a metre."""
    table = MarkupTable(
        code="mouldings", name="Mouldings", steps=(MarkupStep(up_to=None, factor=Fraction(5, 2)),)
    )
    kept = shops.get(stocked)
    shops.save(stocked, replace(kept.value, markup_tables=(table,)), kept.version, ACT)
    typed = {**NEW, "new_moulding.price": "", "new_moulding.cost": "4.00"}
    counter.go("/quotes", {**PIECE, **typed, **SAVE})
    assert price_book.get(stocked, CODE).value.selling == Selling(table="mouldings")


@pytest.mark.parametrize(
    ("typed", "field", "sentence"),
    [
        ({"name": ""}, "name", "Name the moulding, as you will look for it."),
        ({"face": ""}, "face", "Type its face width, such as 20 mm or 3/4\"."),
        ({"face": "wide"}, "face", "“wide”"),
        ({"rebate_depth": ""}, "rebate_depth", "Type its rebate depth"),
        ({"rebate_depth": "0"}, "rebate_depth", "The rebate depth is 0 mm (0\"); it must be above zero."),
        ({"lip": "20"}, "lip", "the lip must be narrower"),
        ({"price": ""}, "cost", "Type what it costs, or what it sells for."),
        ({"price": "", "cost": "4"}, "price", "Type what it sells for as well; the shop has no table"),
        ({"price": "dear"}, "price", "“dear”"),
    ],
)  # fmt: skip
def test_what_is_missing_or_wrong_is_said_and_all_that_was_typed_stays(
    counter: Counter, stocked: Store, typed: dict[str, str], field: str, sentence: str
) -> None:
    form = {
        **PIECE,
        **NEW,
        **{f"new_moulding.{name}": text for name, text in typed.items()},
        **SAVE,
    }
    page = counter.post("/quotes", form)
    assert page.status == 422
    assert sentence in page.error(f"new_moulding.{field}")
    assert {path: page.fields[path] for path in form if path not in SAVE} == {
        path: text for path, text in form.items() if path not in SAVE
    }
    with stocked.reading() as work:
        assert work.order_lists.count() == 0


def test_it_is_not_entered_beside_one_that_is_chosen(counter: Counter) -> None:
    page = counter.post("/quotes", {**TYPED, **NEW, **SAVE})
    assert page.status == 422
    assert "“LIN-20” is chosen as the moulding already" in page.error("new_moulding.name")


@pytest.mark.parametrize("source", ["own", "ready-made", "none"])
def test_it_is_not_entered_where_no_frame_is_made(
    counter: Counter, stocked: Store, source: str
) -> None:
    page = counter.post("/quotes", {**PIECE, **NEW, **SAVE, "frame.source": source})
    assert page.status == 422
    assert "No frame is made for this piece" in page.error("new_moulding.name")
    with pytest.raises(NotFound):
        price_book.get(stocked, CODE)


def test_a_quote_that_is_refused_leaves_no_moulding_behind(
    counter: Counter, stocked: Store
) -> None:
    page = counter.post("/quotes", {**PIECE, **NEW, **SAVE, "artwork.size": "wide"})
    assert page.status == 422
    assert page.fields["new_moulding.name"] == "Pear, waxed"
    with pytest.raises(NotFound):
        price_book.get(stocked, CODE)


def test_it_is_entered_on_a_further_piece_a_design_and_a_change_too(
    counter: Counter, stocked: Store
) -> None:
    order = counter.post("/quotes", {**TYPED, **SAVE}).address
    for number, (address, name) in enumerate(
        (("pieces", "Plum"), ("pieces/1/designs", "Quince"), ("pieces/1?design=1", "Rowan"))
    ):
        version = counter.get(order).fields["version"]
        form = {**PIECE, **NEW, "new_moulding.name": name, "action": "save", "version": version}
        counter.go(f"{order}/{address}", form)
        assert price_book.get(stocked, name.upper()).value.name == name, number


def test_of_two_tabs_the_second_keeps_what_was_entered(counter: Counter, stocked: Store) -> None:
    order = counter.post("/quotes", {**TYPED, **SAVE}).address
    version = counter.get(order).fields["version"]
    first = {**TYPED, "borders.left": "95", "action": "save", "version": version}
    counter.go(f"{order}/pieces/1", first)
    page = counter.post(f"{order}/pieces/1", {**PIECE, **NEW, "action": "save", "version": version})
    assert page.status == 409
    counter.go(f"{order}/pieces/1", {**page.form(f"{order}/pieces/1"), "action": "save"})
    assert price_book.get(stocked, CODE).value.name == "Pear, waxed"
