"""The shop's rules, what is agreed for a piece, and the choice of materials."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from app.errors import Invalid
from app.lengths import ZERO, inches, mm
from app.money import CURRENCIES, Money
from app.pricing import (
    DEFAULT_SAW_LOSS,
    Adjustments,
    Charge,
    ChargeBy,
    Chosen,
    ChosenCount,
    CostPer,
    Operation,
    Selling,
    When,
    loss_at_saw,
)
from tests.builders.values import euro
from tests.builders.watercolour import (
    BOARDS,
    STANDARD,
    backing,
    extra,
    glazing,
    mat,
    moulding,
    ring,
    rules,
)


def paths_of(make: Callable[[], object]) -> list[str]:
    with pytest.raises(Invalid) as caught:
        make()
    return [fault.path for fault in caught.value.faults]


def test_the_loss_at_a_saw_is_twice_the_kerf_on_the_mitre_up_to_a_tenth() -> None:
    # 2 × 3 × 1.414214 = 8.485; 2 × 2.2 × 1.414214 = 6.223; 2 × 3.175 × 1.414214 = 8.980
    assert DEFAULT_SAW_LOSS == loss_at_saw(mm(3)) == mm("8.5")
    assert loss_at_saw(mm("2.2")) == mm("6.3")
    assert loss_at_saw(inches("1/8")) == mm(9)
    assert loss_at_saw(ZERO) == ZERO


def test_all_faults_of_the_rules_are_gathered() -> None:
    yen = Money(-1, CURRENCIES["JPY"])
    twice = Operation(code="op", name="Twice", when=When.ALWAYS)
    assert paths_of(
        lambda: rules(
            hourly_rate=yen,
            rounding_step=-euro("1"),
            saw_loss=mm(-1),
            tax_rates=(STANDARD, STANDARD),
            operations=(twice, twice),
            markup_tables=(BOARDS, BOARDS),
            labour_tax="none",
        )
    ) == [
        "hourly_rate",
        "hourly_rate",
        "rounding_step",
        "saw_loss",
        "tax_rates",
        "operations",
        "markup_tables",
        "labour_tax",
    ]


def test_a_markup_table_is_in_the_shops_currency() -> None:
    yen = CURRENCIES["JPY"]
    assert paths_of(
        lambda: rules(currency=yen, hourly_rate=Money(1, yen), rounding_step=Money(0, yen))
    ) == ["markup_tables.0"]


@pytest.mark.parametrize(
    ("adjustments", "path"),
    [
        ({"discount": Fraction(-1, 100)}, "discount"),
        ({"discount": Fraction(101, 100)}, "discount"),
        ({"rush": Fraction(-1, 100)}, "rush"),
        ({"rush": Fraction(6)}, "rush"),
    ],
)
def test_a_discount_or_rush_out_of_range_is_refused(adjustments: dict[str, Any], path: str) -> None:
    assert paths_of(lambda: Adjustments(**adjustments)) == [path]


def test_a_discount_over_all_says_what_was_given() -> None:
    with pytest.raises(Invalid) as caught:
        Adjustments(discount=Fraction("1.5"))
    assert caught.value.message == "The discount is 150 %; 0 % to 100 % is allowed."


@pytest.mark.parametrize("count", [0, -1, 1001])
def test_a_count_is_from_one_to_a_thousand(count: int) -> None:
    assert paths_of(lambda: ChosenCount(material=ring(), count=count)) == ["count"]


def test_every_material_is_where_its_kind_belongs() -> None:
    assert paths_of(
        lambda: Chosen(
            frames=(moulding(), mat()),
            mats=(moulding(),),
            glazing=backing(),
            mount_board=glazing(),
            backing=mat(),
            spacer=ring(),
            hardware=(ChosenCount(material=extra()),),
            extras=(ChosenCount(material=extra()), ChosenCount(material=ring())),
        )
    ) == [
        "frames.1",
        "mats.0",
        "glazing",
        "mount_board",
        "backing",
        "hardware.0",
        "extras.1",
        "spacer",
    ]


def test_a_material_in_the_wrong_place_is_named() -> None:
    with pytest.raises(Invalid) as caught:
        Chosen(glazing=mat())
    assert caught.value.message == "M1 is a mat; here glazing is wanted."


def test_a_spacer_is_a_strip_charged_by_length() -> None:
    strip = extra(
        per=CostPer.METRE,
        charge=Charge(by=ChargeBy.LENGTH),
        selling=Selling(markup=Fraction(2)),
    )
    assert Chosen(spacer=strip).spacer == strip
    assert Chosen(spacer=moulding()).spacer == moulding()
    assert paths_of(lambda: Chosen(spacer=extra())) == ["spacer"]


def test_rules_are_kept_as_given() -> None:
    assert replace(rules(), labour_tax="reduced").labour_tax == "reduced"
