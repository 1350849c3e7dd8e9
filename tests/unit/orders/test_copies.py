"""How several pieces that are alike stand, from the record of their changes (P11); by hand."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from app.errors import Conflict, Invalid
from app.orders import Piece, Stage, StageChange
from app.orders.copies import came_to, in_words, least, may_become, moving
from app.orders.material_usage import MOST_ALIKE_LOOKED_AT, real_use
from app.orders.order import sole_design
from app.orders.quoting.agreement import agree
from app.pricing import Charge, ChargeBy, OpenedSticks
from tests.builders.kept import BOOK, MOULDING, SHOP, TYPED, agreed
from tests.builders.values import TODAY, finder

ARTWORK, ONE = agreed()
_, TWENTY = agreed(copies="20")
AT = datetime(2026, 11, 25, 10, tzinfo=UTC)


def change(old: Stage, new: Stage, count: int | None = None, *, back: bool = False) -> StageChange:
    return StageChange(old=old, new=new, count=count, takes_back=back, at=AT, by="Ilse")


def piece(*changes: StageChange) -> Piece:
    made = Piece(id=17, number=1, artwork=ARTWORK, designs=sole_design(TWENTY))
    for each in changes:
        made = made.after(each)
    return made


ORDERED = change(Stage.QUOTED, Stage.ORDERED)
ALL_CUT = change(Stage.ORDERED, Stage.CUT)


def test_all_stand_where_the_piece_stands_until_some_move() -> None:
    assert piece().stands == {Stage.QUOTED: 20}
    assert piece(ORDERED, ALL_CUT).stands == {Stage.CUT: 20}
    assert in_words(piece(ORDERED, ALL_CUT).stands) == ""


def test_the_piece_is_at_the_least_stage_and_the_rest_is_said() -> None:
    found = piece(ORDERED, ALL_CUT, change(Stage.CUT, Stage.FRAMED, 12))
    assert found.stands == {Stage.CUT: 8, Stage.FRAMED: 12}
    assert found.stage is Stage.CUT
    found = found.after(change(Stage.CUT, Stage.FRAMED))
    assert (found.stage, found.stands) == (Stage.FRAMED, {Stage.FRAMED: 20})
    found = found.after(change(Stage.FRAMED, Stage.COLLECTED, 8))
    assert in_words(found.stands) == "12 framed, 8 collected"
    assert found.stage is Stage.FRAMED


def test_taking_back_brings_back_as_many_as_moved() -> None:
    found = piece(
        ORDERED,
        ALL_CUT,
        change(Stage.CUT, Stage.FRAMED, 12),
        change(Stage.FRAMED, Stage.CUT, 12, back=True),
    )
    assert (found.stage, found.stands) == (Stage.CUT, {Stage.CUT: 20})


def test_a_single_piece_stands_where_its_record_says() -> None:
    """As before there were several: also where the record says less than the stage."""
    found = Piece(id=17, number=1, artwork=ARTWORK, designs=sole_design(ONE), stage=Stage.FRAMED)
    assert found.stands == {Stage.FRAMED: 1}
    assert replace(found, stage=Stage.DECLINED).stands == {Stage.DECLINED: 1}


STANDS: Mapping[Stage, int] = {Stage.CUT: 3, Stage.FRAMED: 12, Stage.COLLECTED: 5}


def test_those_move_that_stand_before_the_stage() -> None:
    assert may_become(STANDS, Stage.FRAMED) == {Stage.CUT: 3}
    assert moving(STANDS, Stage.FRAMED, None) == {Stage.CUT: 3}
    assert moving(STANDS, Stage.COLLECTED, 5) == {Stage.FRAMED: 5}
    assert least(STANDS) is Stage.CUT


@pytest.mark.parametrize(
    ("stands", "new", "count", "sentence"),
    [
        (
            STANDS,
            Stage.FRAMED,
            5,
            "5 cannot become “framed”: of 20 only 3 “cut” are ready for it.",
        ),
        ({Stage.FRAMED: 3}, Stage.COLLECTED, 5, "of 3 only 3 “framed” are ready for it."),
        (STANDS, Stage.FRAMED, 0, "0 cannot become “framed”; give a whole number from 1 to 3."),
        (STANDS, Stage.FRAMED, -1, "-1 cannot become “framed”"),
        ({Stage.ORDERED: 20}, Stage.CANCELLED, 5, "All 20 become “cancelled” together"),
        ({Stage.ORDERED: 20}, Stage.FRAMED, 5, "of 20 only none are ready for it."),
    ],
)
def test_more_than_are_ready_are_refused_in_words(
    stands: Mapping[Stage, int], new: Stage, count: int, sentence: str
) -> None:
    with pytest.raises(Conflict) as refused:
        moving(stands, new, count)
    assert sentence in refused.value.message


def test_none_is_left_out_of_the_way_while_some_are_collected() -> None:
    assert may_become(STANDS, Stage.CANCELLED) == {}
    assert may_become({Stage.ORDERED: 8, Stage.CUT: 12}, Stage.CANCELLED) == {
        Stage.ORDERED: 8,
        Stage.CUT: 12,
    }


BY_OPENED = finder((replace(MOULDING, charge=Charge(by=ChargeBy.OPENED)), *BOOK[1:]))


def test_by_what_is_opened_the_rails_of_all_are_cut_at_once() -> None:
    """Rails of 573 and 460 with 8.5 each (C1): a stick of 3000 holds five of 581.5 or six of 468.5, or 2 and 3 of
    them; forty of each are 20 × 2100 = 42 000 mm, which 14 sticks of 3000 hold at the least.
    """
    _, priced = agree({**TYPED, "copies": "20"}, SHOP, BY_OPENED, today=TODAY)
    opened = next(each.opened for each in real_use(priced, SHOP) if each.material.code == "LIN-20")
    assert isinstance(opened, OpenedSticks)
    assert 14 <= opened.count <= 20
    line = next(each for each in priced.price.lines if each.code == "LIN-20")
    assert (line.copies, line.together) == (1, True)
    # In metres, up to the step of 10 mm of the material
    assert opened.used_up.mm <= line.quantity * 1000 < opened.used_up.mm + 10


def test_of_very_many_it_is_not_told_what_they_really_use() -> None:
    _, priced = agreed(copies=str(MOST_ALIKE_LOOKED_AT + 1))
    assert real_use(priced, SHOP) == ()


def test_more_parts_than_one_plan_holds_are_refused_at_the_number() -> None:
    typed = {**TYPED, "copies": "999", "frames.1.material": "LIN-20"}
    with pytest.raises(Invalid) as refused:
        agree(typed, SHOP, BY_OPENED, today=TODAY)
    # 999 × 8 rails of one moulding
    assert [(fault.path, fault.message) for fault in refused.value.faults] == [
        ("copies", "There are 7992 parts; at most 5000 can be planned at once.")
    ]


ALL_FRAMED = change(Stage.CUT, Stage.FRAMED)
TWELVE_CUT = change(Stage.ORDERED, Stage.CUT, 12)


@pytest.mark.parametrize(
    ("changes", "wanted", "by"),
    [
        ([ORDERED], Stage.CUT, None),
        ([ORDERED, ALL_CUT], Stage.CUT, ALL_CUT),
        ([ORDERED, ALL_CUT, ALL_FRAMED], Stage.CUT, ALL_CUT),
        ([ORDERED, ALL_CUT, ALL_FRAMED], Stage.FRAMED, ALL_FRAMED),
        ([ORDERED, TWELVE_CUT], Stage.CUT, None),
        ([ORDERED, TWELVE_CUT, ALL_FRAMED], Stage.CUT, None),
        ([ORDERED, TWELVE_CUT, ALL_CUT], Stage.CUT, ALL_CUT),
        ([ORDERED, ALL_CUT, change(Stage.CUT, Stage.FRAMED, 3)], Stage.FRAMED, None),
        ([ORDERED, ALL_CUT, change(Stage.CUT, Stage.CANCELLED)], Stage.CUT, None),
    ],
)
def test_all_that_are_alike_come_to_a_stage_with_the_last_of_them(changes, wanted, by) -> None:
    """Twelve of twenty are cut: the twenty are not, whatever becomes of the twelve; with the other eight they are."""
    found = piece(*changes)
    assert came_to(found.copies, found.standing_changes, wanted) == by


def test_a_change_that_was_taken_back_brings_none_to_its_stage() -> None:
    found = piece(ORDERED, ALL_CUT, change(Stage.CUT, Stage.ORDERED, back=True))
    assert came_to(found.copies, found.standing_changes, Stage.CUT) is None
