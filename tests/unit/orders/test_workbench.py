"""A ticket takes the scale of its unit: settings, pins and marks by hand (B8, L3)."""

from dataclasses import replace

import pytest

from app.bench import Cutter, ExtraWork, Scale, Stops, usual_cutter
from app.documents.ticket.checks import hardware_to_take
from app.lengths import Unit, inches, mm
from app.orders import Shop
from app.orders.hanging_parts import NO_HARDWARE
from app.orders.piece_report import findings
from app.orders.printed import FactKind
from app.orders.ticket_facts import ticket_facts
from app.orders.workbench import Workbench, cutting_limits, extra_work, workbench
from app.pricing import ChosenCount, Kind
from tests.builders.cutters import with_both_scales
from tests.builders.materials import counted, sold_at
from tests.builders.printed import CANVAS, INCHES, SKETCH, a_shop, an_order

BOTH = with_both_scales(usual_cutter(Unit.MM, name="Long bench"))
"""Half millimetres with a hole every 10 from 10 on; sixteenths with one every 1/2 in from 1/2 on."""


def at_bench(typed: dict[str, str], shop: Shop) -> Workbench:
    piece = an_order(typed, shop=shop).pieces[0]
    return workbench(piece.agreed, findings(piece.artwork, piece.agreed, shop), shop)


def set_at(bench: Workbench) -> list[tuple[str, str, str]]:
    """Setting, pin and rest of each move, as they are read off the scale."""
    plan = bench.plan
    assert plan is not None
    return [
        (
            plan.text(setting.at),
            "" if setting.pin is None else plan.text(setting.pin),
            plan.rest_text(setting),
        )
        for setting in plan.settings
    ]


def notices(bench: Workbench) -> list[str]:
    assert bench.plan is not None
    return [notice.code for notice in bench.plan.notices]


IN_MM = [("80", "80", ""), ("70", "70", ""), ("76", "70", "6"), ("86", "80", "6")]
"""SKETCH has borders of 70, 70, 70 and 80; mat 2 is attached and 6 further in."""

IN_INCHES = [("3", "3", ""), ("2 1/2", "2 1/2", "")]
"""INCHES has borders of 2 1/2 in and 3 in."""


@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize(
    ("typed", "settings"), [(SKETCH, IN_MM), (INCHES, IN_INCHES)], ids=["mm", "in"]
)
def test_each_ticket_has_the_scale_of_its_unit_whichever_the_cutter_names_first(
    typed: dict[str, str], settings: list[tuple[str, str, str]], unit: Unit
) -> None:
    bench = at_bench(typed, a_shop(cutters=(BOTH.read_in(unit),)))
    assert set_at(bench) == settings
    assert "two-scales" not in notices(bench)


def test_a_correction_is_a_length_and_holds_for_both_scales() -> None:
    """By hand: 1.5 mm more is 81.5, 71.5, 77.5 and 87.5. 2 1/2 in is 63.5 mm, with it 65 mm or
    65 / 25.4 × 16 = 40.94 sixteenths, 2 9/16; 3 in is 76.2, with it 77.7 mm or 48.94, 3 1/16.
    """
    shop = a_shop(cutters=(replace(BOTH, guide_correction=mm("1.5")),))
    assert [at for at, _, _ in set_at(at_bench(SKETCH, shop))] == ["81.5", "71.5", "77.5", "87.5"]
    assert set_at(at_bench(INCHES, shop)) == [
        ("3 1/16", "3", "1/16"),
        ("2 9/16", "2 1/2", "1/16"),
    ]


def test_a_cutter_without_the_scale_gives_settings_on_the_other_and_says_it() -> None:
    """3 in is 76.2 mm, at 76 on half millimetres, and 2 1/2 in 63.5 (L3)."""
    bench = at_bench(INCHES, a_shop(cutters=(replace(BOTH, scales=BOTH.scales[:1]),)))
    assert set_at(bench) == [("76", "70", "6"), ("63.5", "60", "3.5")]
    assert "two-scales" in notices(bench)


def facts(typed: dict[str, str], cutter: Cutter) -> dict[str, str]:
    shop = a_shop(cutters=(cutter,))
    agreed = an_order(typed, shop=shop).pieces[0].agreed
    return {
        f"{fact.part} {fact.side}".strip(): fact.says for fact in ticket_facts(agreed, shop).facts
    }


def test_what_a_ticket_is_known_to_have_said_is_on_that_scale() -> None:
    """A print is held against these, so that the second scale of a cutter leaves paper in the first unit as it was."""
    one = replace(BOTH, scales=BOTH.scales[:1])
    assert facts(SKETCH, BOTH) == facts(SKETCH, one)
    assert facts(INCHES, BOTH) != facts(INCHES, one)
    assert facts(INCHES, BOTH) == facts(INCHES, BOTH.read_in(Unit.IN))


def test_the_limits_of_the_guide_are_said_on_that_scale() -> None:
    """A guide that reaches 2 3/4 in or 69.85 mm: 3 in lies beyond it."""
    shop = a_shop(cutters=(replace(BOTH, guide_reach=inches("11/4")),))
    piece = an_order(INCHES, shop=shop).pieces[0]
    (limit,) = cutting_limits(findings(piece.artwork, piece.agreed, shop), shop)
    assert limit.code == "setting-beyond-reach"
    assert 'the guide reaches 2 3/4", too short for' in limit.message
    assert 'at 3"' in limit.message


def test_another_cutter_is_asked_on_its_scale_of_that_unit() -> None:
    """By hand: 2 1/2 in is 63.5 mm: on steps of 5 mm 65, which is beyond a reach of 64, on sixteenths 63.5."""
    coarse = Scale(unit=Unit.MM, step=mm(5))
    second = replace(BOTH, name="Second", guide_reach=mm(64), scales=(coarse, BOTH.scales[1]))
    typed = {**INCHES, "borders.bottom": "2 1/2"}
    first = replace(BOTH, guide_reach=mm(50))
    shop = a_shop(cutters=(first, second))
    piece = an_order(typed, shop=shop).pieces[0]
    (limit,) = cutting_limits(findings(piece.artwork, piece.agreed, shop), shop)
    assert "Second" in limit.message
    alone = replace(second, scales=(coarse,))
    shop = a_shop(cutters=(first, alone))
    (limit,) = cutting_limits(findings(piece.artwork, piece.agreed, shop), shop)
    assert "Second" not in limit.message


# --- stops and squaring arm (B9, B11) ---------------------------------------------------------------

STOPPED = replace(
    usual_cutter(Unit.MM), stops=Stops(near=True, far=True), start_offset=mm(1), end_offset=mm(2)
)


def facts_of_cutter(cutter: Cutter) -> dict[str, str]:
    shop = a_shop(cutters=(cutter,))
    agreed = an_order(SKETCH, shop=shop).pieces[0].agreed
    facts = ticket_facts(agreed, shop).facts
    return {fact.part: fact.says for fact in facts if fact.kind is not FactKind.PART}


def test_a_ticket_notes_where_the_stops_stand_and_no_mark_that_they_make_needless() -> None:
    """By hand: a package of 562 x 449, borders 70 70 70 80. Bottom edge: near 70 - 2, far 562 - 70 + 1."""
    said = facts_of_cutter(STOPPED)
    assert said["stops-1--bottom"] == "near stop 68, far stop 493"
    assert not any(part.startswith("mark") for part in said)
    one = facts_of_cutter(replace(STOPPED, stops=Stops(near=True)))
    assert one["stops-1--bottom"] == "near stop 68"
    assert one["mark-1--bottom"] == "80, 69 from the left to the stop"
    none = facts_of_cutter(replace(STOPPED, stops=Stops()))
    assert none["mark-1--bottom"] == "80, 69 from the left to 68 from the right"
    assert not any(part.startswith("stops") for part in none)


def test_every_board_of_a_piece_is_sized_on_the_arm_the_longest_first() -> None:
    """By hand: mat 1, mount board and backing 562 x 449; the under mat 3 smaller at each edge. Glass is cut elsewhere."""
    found = at_bench(SKETCH, a_shop(cutters=(replace(STOPPED, arm_reach=mm(800)),))).sizing
    assert found is not None
    assert [(str(one.at.mm), one.in_words) for one in found.settings] == [
        ("562", "width of mat 1, mount board, backing"),
        ("556", "width of mat 2"),
        ("449", "height of mat 1, mount board, backing"),
        ("443", "height of mat 2"),
    ]


def test_a_cutter_without_stops_and_arm_says_nothing_of_sizing() -> None:
    assert at_bench(SKETCH, a_shop(cutters=(usual_cutter(Unit.MM),))).sizing is None


def test_a_blank_beyond_the_arm_is_said_before_it_is_promised() -> None:
    shop = a_shop(cutters=(replace(usual_cutter(Unit.MM), arm_reach=mm(560)),))
    piece = an_order(SKETCH, shop=shop).pieces[0]
    limits = cutting_limits(findings(piece.artwork, piece.agreed, shop), shop)
    (notice,) = [one for one in limits if one.code == "blank-beyond-arm"]
    assert "reaches 560 mm, and longer are mat 1 (562 mm), mount board (562 mm)" in notice.message
    assert "glazing" not in notice.message


def test_extras_are_work_by_their_tags_and_no_longer_taken_from_a_drawer() -> None:
    shop = a_shop()
    piece = an_order(CANVAS, shop=shop).pieces[0]
    agreed = piece.agreed
    stretch, plate = (
        counted(code, name, Kind.EXTRA, "5.00", sold_at("38.00"), tags=(tag,))
        for code, name, tag in (("ST", "Stretch canvas", "canvas"), ("PL", "Title plate", "label"))
    )
    extras = (ChosenCount(material=stretch), ChosenCount(material=plate))
    agreed = replace(agreed, chosen=replace(agreed.chosen, extras=extras))
    assert extra_work(agreed) == (ExtraWork(code="ST", name="Stretch canvas", stretched=True),)
    found = findings(piece.artwork, agreed, shop)
    assert hardware_to_take(agreed, found, NO_HARDWARE) == ("1 × PL Title plate",)
