"""Hanging parts against what is asked of them (D3), and what would do instead."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.framing import Concern
from app.framing.notices.weight import Hanging, HangingWay
from app.lengths import Unit, mm
from app.orders.hanging_parts import (
    bearing_parts,
    bears_of,
    hanging_part_notices,
    load_text,
    loads_not_known,
)
from app.orders.piece_report import findings
from app.orders.quoting.agreement import agree
from app.pricing import Bears, Charge, ChargeBy, ChosenCount, CostPer, HangingPart, Kind, Material
from tests.builders.worked import BOOK, RING, SHOP, TYPED


def part(code: str, bears: Bears | None, load: str = "", *, active: bool = True) -> Material:
    hanging = None
    if bears is not None:
        hanging = HangingPart(bears=bears, load_kg=Fraction(load) if load else None)
    by_length = code.startswith("W")
    return replace(
        RING,
        code=code,
        name=f"Part {code}",
        per=CostPer.METRE if by_length else CostPer.HUNDRED,
        charge=Charge(by=ChargeBy.LENGTH if by_length else ChargeBy.EACH),
        hanging=hanging,
        active=active,
    )


WIRE15, WIRE20 = part("W15", Bears.WIRE, "15"), part("W20", Bears.WIRE, "20")
RING10, RING40 = part("R10", Bears.RING, "10"), part("R40", Bears.RING, "40")
CLEAT50 = part("C50", Bears.CLEAT, "50")
BUMPER = part("B1", Bears.NOTHING)
HARDWARE = {
    each.code.casefold(): each for each in (WIRE15, WIRE20, RING10, RING40, CLEAT50, BUMPER)
}


def asking(load: int, force: int = 1, way: HangingWay = HangingWay.WIRE) -> Hanging:
    return Hanging(way=way, load=load, force=force, fixings_down=mm(100), fixings_apart=mm(400))


def notices(
    hanging: Hanging, *taken: Material, hardware: dict[str, Material] | None = None
) -> list[tuple[str, str, Concern]]:
    book = HARDWARE if hardware is None else hardware
    parts = bearing_parts([ChosenCount(material=each) for each in taken], book)
    return [
        (n.code, n.message, n.concern) for n in hanging_part_notices(hanging, parts, book, Unit.MM)
    ]


def test_a_part_that_bears_what_is_asked_says_nothing() -> None:
    """15 kg × 9.80665 = 147.09975 N."""
    assert notices(asking(147), WIRE15) == []


def test_a_part_below_what_is_asked_says_so_and_what_would_do() -> None:
    """148 N is 15.09 kg, up to 15.1."""
    assert notices(asking(148), WIRE15) == [
        (
            "hanging-part-too-weak",
            "“Part W15” (W15) bears 15 kg, but each part must bear 15.1 kg. Take W20 (20 kg) "
            "of the price book.",
            Concern.LOOK,
        )
    ]


def test_a_shop_in_inches_reads_every_load_of_the_sentence_in_pounds() -> None:
    """A pound is 0.45359237 kg: 15 kg are 33.069 lb and 20 kg 44.092 lb, down to 33 and 44; 15.0918 kg are 33.27, up to 33.3."""
    parts = bearing_parts([ChosenCount(material=WIRE15)], HARDWARE)
    (found,) = hanging_part_notices(asking(148), parts, HARDWARE, Unit.IN)
    assert found.message == (
        "“Part W15” (W15) bears 33 lb, but each part must bear 33.3 lb. Take W20 (44 lb) "
        "of the price book."
    )


def test_a_load_is_told_as_exactly_as_its_unit_has_it_and_never_higher() -> None:
    """33 lb are 14.968548 kg exactly, down to 14.9; 0.375 lb keep their decimals."""
    pound = Fraction("0.45359237")
    assert load_text(33 * pound, Unit.IN) == "33 lb"
    assert load_text(33 * pound, Unit.MM) == "14.9 kg"
    assert load_text(pound * 3 / 8, Unit.IN) == "0.375 lb"
    assert load_text(Fraction(100), Unit.MM) == "100 kg"


def test_every_part_is_looked_at_by_itself() -> None:
    found = notices(asking(148), WIRE20, RING10, BUMPER)
    assert [(code, "(R10)" in message) for code, message, _ in found] == [
        ("hanging-part-too-weak", True)
    ]
    assert "Take R40 (40 kg) of the price book." in found[0][1]


def test_what_bears_less_than_the_piece_pulls_is_a_risk() -> None:
    """Without the factor the piece pulls 148 N, the part bears 147."""
    ((_, _, concern),) = notices(asking(592, force=148), WIRE15)
    assert concern is Concern.RISK
    ((_, _, concern),) = notices(asking(588, force=147), WIRE15)
    assert concern is Concern.LOOK


def test_where_nothing_of_its_kind_would_do_that_is_said() -> None:
    ((_, message, _),) = notices(asking(300), WIRE15)
    assert message.endswith("No wire of the price book bears as much.")


def test_where_no_wire_can_be_straps_and_cleats_are_named_the_weakest_first() -> None:
    ((_, message, _),) = notices(asking(300, way=HangingWay.STRAPS), WIRE15)
    assert message.endswith("Take R40 (40 kg) or C50 (50 kg) of the price book.")
    ((_, message, _),) = notices(asking(600, way=HangingWay.STRAPS), WIRE15)
    assert message.endswith("No ring or strap or cleat of the price book bears as much.")


def test_what_is_off_offer_is_not_proposed_but_its_load_is_known() -> None:
    retired = part("W20", Bears.WIRE, "20", active=False)
    book = {"w15": WIRE15, "w20": retired}
    ((_, message, _),) = notices(asking(148), WIRE15, hardware=book)
    assert message.endswith("No wire of the price book bears as much.")
    assert notices(asking(148), replace(retired, hanging=None), hardware=book) == []


def test_the_load_is_that_of_the_price_book_of_today() -> None:
    """A part that was agreed before loads were kept has the one that it is given now."""
    frozen = replace(WIRE15, hanging=None)
    assert [code for code, _, _ in notices(asking(148), frozen)] == ["hanging-part-too-weak"]
    assert [code for code, _, _ in notices(asking(148), WIRE15, hardware={})] == [
        "hanging-part-too-weak"
    ]


def test_a_part_of_unknown_load_is_said_quietly_and_a_bumper_not_at_all() -> None:
    ring, wire = part("R-1", None), part("W-1", Bears.WIRE)
    found = notices(asking(148), ring, wire, BUMPER)
    assert found == [
        (
            "hanging-load-not-known",
            "The price book has no working load for “Part R-1”, “Part W-1”: each part that "
            "carries the piece must bear 15.1 kg or more.",
            Concern.NOTE,
        )
    ]
    assert loads_not_known((ring, WIRE15)) == (ring,)


def test_of_a_part_that_nobody_named_what_goes_by_length_is_a_wire() -> None:
    assert bears_of(part("W-1", None)) is Bears.WIRE
    assert bears_of(part("R-1", None)) is Bears.RING


def test_of_a_piece_that_is_not_weighed_whole_it_is_at_least_so_much() -> None:
    ((_, message, _),) = notices(replace(asking(148), at_least=True), WIRE15)
    assert "but each part must bear at least 15.1 kg." in message


def test_a_piece_says_it_with_its_other_notices() -> None:
    """The worked piece takes two rings R-1; of a load of 1 kg that is too little, of 30 enough."""

    def find(text: str, kind: Kind) -> Material | None:
        return next((each for each in BOOK if each.code == text and each.kind is kind), None)

    artwork, agreed = agree(dict(TYPED), SHOP, find, today=date(2026, 11, 25))

    def codes(hardware: dict[str, Material]) -> set[str]:
        of = findings(artwork, agreed, SHOP, hardware)
        return {n.code for n in of.notices if n.code.startswith("hanging")}

    def bearing(load: str) -> dict[str, Material]:
        loaded = replace(RING, hanging=HangingPart(bears=Bears.RING, load_kg=Fraction(load)))
        return {"r-1": loaded}

    assert codes({}) == {"hanging-load-not-known"}
    assert codes(bearing("1")) == {"hanging-part-too-weak"}
    assert codes(bearing("30")) == set()


@pytest.mark.parametrize("load", ["0", "-1", "1001"])
def test_a_load_that_cannot_be_is_refused(load: str) -> None:
    with pytest.raises(Invalid) as raised:
        HangingPart(bears=Bears.RING, load_kg=Fraction(load))
    assert [fault.path for fault in raised.value.faults] == ["hanging.load"]


def test_a_load_of_what_bears_nothing_is_refused() -> None:
    with pytest.raises(Invalid, match="nothing hangs by it"):
        HangingPart(bears=Bears.NOTHING, load_kg=Fraction(5))


def test_no_load_goes_with_anything_but_hardware() -> None:
    hanging = HangingPart(bears=Bears.RING, load_kg=Fraction(5))
    with pytest.raises(Invalid, match="No load goes with a moulding"):
        replace(BOOK[0], hanging=hanging)
