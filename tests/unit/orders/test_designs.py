"""Designs of a piece: which one counts, what that comes to, and what is said of the one artwork.

The prices are those of the worked piece, in euro. A: two mats and glass, 103.51. B: one mat, whose borders are 10
wider all round so that the package stays; the other mat, 10.00, goes, and of the work sizing it 2 min and cutting its window 4 min, so 62.52 − 6 = 56.52 min × 0.60 = 33.912: 103.51 − 10.00 − 37.51 +
33.91 = 89.91. C: acrylic, 0.3 m² at 100.00 instead of 50.00, so 15.00 more: 118.51.
"""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from app.errors import NotFound
from app.framing import ObjectInBox
from app.lengths import mm
from app.money import Money
from app.orders import Design, DesignAct, DesignChange, Piece, Stage, design_letter
from app.orders.designs import at_odds, by_price, standing_designs, taken_of, undecided, with_taken
from app.orders.quoting.agreement import agree
from app.orders.quoting.artwork import carried
from app.orders.totals import account_of, range_of
from tests.builders.ordered import quote_of
from tests.builders.values import TODAY, euro, finder
from tests.builders.worked import BOOK, SHOP, TYPED

ONE_MAT = {
    "mats.1.material": "",
    "mats.1.reveal": "",
    "borders.left": "100",
    "borders.top": "90",
    "borders.bottom": "110",
}
ACRYLIC = {"glazing.material": "A-3"}
ZERO = euro("0")


def a_piece(*designs: dict[str, str], number: int = 1, **changes: object) -> Piece:
    """A piece with a design for each way in which it differs from the worked one."""
    made = [agree({**TYPED, **design}, SHOP, finder(BOOK), today=TODAY) for design in designs]
    piece = Piece(
        id=number,
        number=number,
        artwork=made[0][0],
        designs=tuple(
            Design(number=n, agreed=agreed) for n, (_, agreed) in enumerate(made, start=1)
        ),
    )
    return replace(piece, **changes)  # type: ignore[arg-type]


THREE = a_piece({}, ONE_MAT, ACRYLIC)


def act(design: int, what: DesignAct) -> DesignChange:
    return DesignChange(at=datetime(2026, 11, 25, tzinfo=UTC), by="Ilse", design=design, act=what)


TAKEN_2, OPEN_2 = act(2, DesignAct.TAKEN), act(2, DesignAct.LEFT_OPEN)


@pytest.mark.parametrize(
    ("number", "letter"), [(1, "A"), (2, "B"), (26, "Z"), (27, "AA"), (28, "AB"), (703, "AAA")]
)
def test_designs_are_called_by_letters(number: int, letter: str) -> None:
    assert design_letter(number) == letter


def test_the_prices_are_as_worked_by_hand() -> None:
    prices = [each.agreed.price.to_pay for each in THREE.designs]
    assert prices == [euro("103.51"), euro("89.91"), euro("118.51")]
    assert [each.letter for each in by_price(THREE)] == ["B", "A", "C"]


def test_while_none_is_taken_the_first_stands_for_the_piece() -> None:
    assert THREE.undecided
    assert THREE.counted.letter == "A"
    assert THREE.agreed == THREE.designs[0].agreed


def test_the_taken_one_counts_and_the_others_stay() -> None:
    piece = THREE.by_design(2)
    assert not piece.undecided
    assert piece.agreed == THREE.designs[1].agreed
    assert [each.letter for each in piece.others] == ["A", "C"]
    assert THREE.by_design(None) is THREE


def test_the_only_design_counts_by_itself() -> None:
    piece = a_piece({})
    assert not piece.undecided
    assert piece.others == ()


@pytest.mark.parametrize("number", [0, 4])
def test_a_design_that_is_not_there_is_said(number: int) -> None:
    with pytest.raises(NotFound, match="Piece 1 has no design"):
        THREE.by_design(number)


@pytest.mark.parametrize(
    ("numbers", "changes", "taken"),
    [
        ((1,), (), 1),
        ((1, 2), (), None),
        ((1, 2), (TAKEN_2,), 2),
        ((1, 2), (TAKEN_2, act(1, DesignAct.TAKEN)), 1),
        ((1, 2), (TAKEN_2, OPEN_2), None),
        ((1, 2, 3), (TAKEN_2, act(3, DesignAct.ADDED)), 2),
        ((1, 3), (OPEN_2, act(2, DesignAct.REMOVED)), None),
        ((3,), (act(1, DesignAct.REMOVED), act(2, DesignAct.REMOVED)), 3),
    ],
)
def test_the_one_that_was_taken_last_counts(
    numbers: tuple[int, ...], changes: tuple[DesignChange, ...], taken: int | None
) -> None:
    assert taken_of(numbers, changes) == taken


def test_a_removed_design_stands_no_more() -> None:
    assert standing_designs((3, 1, 2, 1), (act(2, DesignAct.REMOVED),)) == (1, 3)


# A piece of 103.51 beside the three: 103.51 + 89.91 = 193.42 to 103.51 + 118.51 = 222.02. The tax within is a sixth, 32.2366… and 37.0033….
def test_a_quote_is_from_the_least_to_the_most_of_each_piece() -> None:
    found = range_of(quote_of(a_piece({}), replace(THREE, number=2)), ZERO)
    assert found.is_open
    assert (found.least.to_pay, found.most.to_pay) == (euro("193.42"), euro("222.02"))
    assert [part.tax for part in found.least.taxes] == [euro("32.24")]
    assert [part.tax for part in found.most.taxes] == [euro("37.00")]


# 89.91 + 89.91 = 179.82 to 118.51 + 103.51 = 222.02.
def test_two_open_pieces_are_each_at_their_least_and_at_their_most() -> None:
    two = quote_of(THREE, replace(a_piece(ONE_MAT, {}), number=2))
    found = range_of(two, ZERO)
    assert (found.least.to_pay, found.most.to_pay) == (euro("179.82"), euro("222.02"))
    assert [piece.number for piece in undecided(two)] == [1, 2]


# 103.51 + 89.91 = 193.42 and 103.51 + 118.51 = 222.02, whichever way it is asked.
@pytest.mark.parametrize(("design", "comes_to"), [(1, "207.02"), (2, "193.42"), (3, "222.02")])
def test_a_taken_design_counts_once_and_the_range_closes(design: int, comes_to: str) -> None:
    quote = with_taken(quote_of(a_piece({}), replace(THREE, number=2)), {2: design})
    found = range_of(quote, ZERO)
    assert not found.is_open
    assert found.least.to_pay == account_of(quote, ZERO).to_pay == euro(comes_to)


def test_a_declined_piece_leaves_the_range() -> None:
    quote = quote_of(a_piece({}), replace(THREE, number=2, stage=Stage.DECLINED))
    assert not range_of(quote, ZERO).is_open
    assert range_of(quote, ZERO).most.to_pay == euro("103.51")


def test_designs_of_one_price_leave_no_range_but_are_still_to_be_taken() -> None:
    quote = quote_of(a_piece({}, {"mats.0.core": "black"}))
    assert undecided(quote) == quote.pieces
    assert not range_of(quote, Money.zero(ZERO.currency)).is_open


# --- one artwork -----------------------------------------------------------------------------


def test_designs_of_one_size_are_at_no_odds() -> None:
    assert list(at_odds(THREE)) == []


def test_a_size_of_the_artwork_that_differs_is_said_with_the_way_to_mend_it() -> None:
    (said,) = at_odds(a_piece({}, {"artwork.size": "400 x 310"}))
    assert said.startswith(
        "Design B is for an artwork of 400 × 310 mm, design A for one of 410 × 310 mm."
    )
    assert "change the design whose size is wrong" in said


def test_flat_in_one_and_a_box_in_another_is_said() -> None:
    flat = a_piece({"artwork.kind": "print"})
    spec = replace(flat.agreed.spec, boxed=ObjectInBox(clearance=mm(5)))
    boxed = replace(flat.agreed, spec=spec)
    (said,) = at_odds(replace(flat, designs=(*flat.designs, Design(number=2, agreed=boxed))))
    assert "design B for an object in a box" in said


def test_what_is_noted_of_the_artwork_is_carried_at_no_change_of_price() -> None:
    agreed = THREE.designs[1].agreed
    typed = {**TYPED, "artwork.title": "Harbour at dawn", "artwork.place": "Rack C2"}
    new = carried(agreed, typed)
    assert new.typed["artwork.title"] == "Harbour at dawn"
    assert new.typed["artwork.place"] == "Rack C2"
    assert new.typed["mats.1.material"] == ""
    assert replace(new, typed=agreed.typed) == agreed


def test_what_says_the_same_is_not_carried() -> None:
    agreed = THREE.designs[1].agreed
    assert carried(agreed, agreed.typed) is agreed
    assert carried(agreed, {**TYPED, "artwork.support": ""}) is agreed


def test_what_becomes_an_object_leaves_the_other_designs_as_they_were_worked_out() -> None:
    agreed = THREE.designs[1].agreed
    new = carried(agreed, {**TYPED, "artwork.kind": "object", "artwork.title": "A medal"})
    assert new.typed["artwork.title"] == "A medal"
    assert new.typed["artwork.kind"] == "watercolour"
