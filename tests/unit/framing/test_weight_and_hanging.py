"""Weight, wire and hanging against published figures and statics (D2 to D4)."""

from dataclasses import replace
from fractions import Fraction
from math import radians

import pytest

from app.errors import Invalid
from app.framing import Dimensions, Spacer, work_out
from app.framing.notice import Concern
from app.framing.notices.weight import (
    DENSITIES,
    STANDARD_GRAVITY,
    HangingRules,
    HangingWay,
    Masses,
    PieceWeight,
    grams_per_m2,
    hanging,
    hanging_notices,
    sheet_kg,
    tension_over_weight,
    weigh,
    wire_text,
    wire_to_cut,
    without_wire,
)
from app.lengths import ZERO, Size, Unit, inches, mm
from tests.builders.specs import BARE, DOUBLE, frame, panel, size
from tests.cases import case


def test_glass_and_acrylic_weigh_what_the_data_sheets_say() -> None:
    """Source: 2500 kg/m³ as attributed to EN 572-1; cast PMMA 1190 kg/m³ (public material data)."""
    given = case("weight-1")
    sheet = Size(*(inches(side) for side in given.inputs["size_in"]))
    for thickness, kg in zip(("2", "2.5", "3"), given.expected["glass_kg"], strict=True):
        assert sheet_kg(sheet, grams_per_m2(mm(thickness), DENSITIES["float glass"])) == Fraction(
            kg
        )
    acrylic = sheet_kg(sheet, grams_per_m2(mm(2), DENSITIES["acrylic"]))
    assert round(acrylic, 6) == Fraction(given.expected["acrylic_2mm_kg"])


def test_a_square_metre_of_two_millimetre_glass_weighs_five_kilograms() -> None:
    """Source: a public table of glass weights (5 kg, 11 lb per m²)."""
    given = case("weight-2")
    sheet = Size(width=mm(1000), height=mm(1000) * int(given.inputs["m2"]))
    assert sheet_kg(sheet, grams_per_m2(mm(2), 2500)) == Fraction(given.expected["kg"])


def test_the_default_woods_lie_near_published_densities() -> None:
    """Source: a public engineering table of wood densities, about ±10 % within a species."""
    given = case("wood")
    for wood, species in (("pine", "pine Scots"), ("oak", "oak red")):
        published = Fraction(given.expected[species])
        assert abs(DENSITIES[wood] - published) <= published / 10


def test_a_wire_pulls_more_the_flatter_it_is() -> None:
    """Source: statics, T = W / (2 sin α), worked in public physics exercises."""
    given = case("wire-1")
    for angle, ratio in zip(
        given.inputs["degrees"], given.expected["tension_over_weight"], strict=True
    ):
        assert tension_over_weight(radians(angle)) == pytest.approx(float(ratio), abs=5e-5)


def test_a_physics_exercise_with_its_misprint_put_right() -> None:
    """Source: a public physics exercise; its printed 38.1 N has 9.18 for 9.81."""
    given = case("wire-2")
    weight = float(given.inputs["kg"]) * 9.81
    pull = weight * tension_over_weight(radians(given.inputs["degrees"]))
    assert pull == pytest.approx(float(given.expected["tension_N"]), abs=5e-4)
    assert Fraction("9.80665") == STANDARD_GRAVITY


@pytest.mark.parametrize("angle", [0.0, -0.1])
def test_a_wire_without_drop_carries_nothing(angle: float) -> None:
    with pytest.raises(ValueError, match="drop"):
        tension_over_weight(angle)


def test_a_whole_piece_weighs_the_sum_of_its_parts() -> None:
    """By hand: package 419 x 552 mm = 0.231288 m², windows 299 x 422 = 0.126178, 287 x 410 = 0.11767.

    mats 980 g/m²: (0.231288 - 0.126178) x 0.98 = 0.1030078, (0.231288 - 0.11767) x 0.98 = 0.11134564;
    glass 2 mm 5 kg/m²: 1.15644; backing 3 mm MDF 2.25 kg/m²: 0.520398;
    rails 460 + 593 = 1053 mm, twice 2.106 m at 500 g/m: 1.053; artwork 0.15, hardware 0.05.
    In all 3.14419144 kg.
    """
    worked = work_out(replace(DOUBLE, glazing=panel("2"), backing=panel("3")))
    assert worked.frames[0].long_points == (mm(460), mm(593))
    mat = grams_per_m2(mm("1.4"), DENSITIES["mat board"])
    weight = weigh(
        worked,
        Masses(
            mats=(mat, mat),
            frames=(500,),
            glazing=grams_per_m2(mm(2), 2500),
            backing=grams_per_m2(mm(3), DENSITIES["MDF"]),
            artwork_kg=Fraction("0.15"),
            fixed_grams=50,
        ),
    )
    assert dict(weight.parts) == {
        "mat 1": Fraction("0.1030078"),
        "mat 2": Fraction("0.11134564"),
        "glazing": Fraction("1.15644"),
        "backing": Fraction("0.520398"),
        "frame 1": Fraction("1.053"),
        "artwork": Fraction("0.15"),
        "fixings": Fraction("0.05"),
    }
    assert weight.kg == Fraction("3.14419144")


def test_masses_must_match_the_layers_and_frames() -> None:
    with pytest.raises(ValueError, match="zip"):
        weigh(work_out(DOUBLE), Masses(mats=(980,), frames=(500,)))


def framed(width: str, height: str = "500", unit: Unit = Unit.MM) -> Dimensions:
    """A close fit whose outside is the size given: face 20, lip 6, allowance 3 add 31 mm."""
    outside = size(width, height, unit)
    artwork = Size(width=outside.width - mm(31), height=outside.height - mm(31))
    worked = work_out(
        replace(BARE, unit=unit, artwork=artwork, frames=(frame("20", "6", "12", "3"),))
    )
    assert worked.outside == outside
    return worked


def weighing(kg: str, *, at_least: bool = False) -> PieceWeight:
    return PieceWeight(parts=(("all", Fraction(kg)),), at_least=at_least)


def test_over_ten_kilograms_or_a_metre_no_wire_is_offered() -> None:
    """Source: D4, common practice; the limits themselves still take a wire."""
    at_limit = hanging(size("1000", "700"), mm(20), Fraction(10))
    heavy = hanging(size("1000", "700"), mm(20), Fraction("10.001"))
    wide = hanging(size("1000.5", "700"), mm(20), Fraction(1))
    assert [h.way for h in (at_limit, heavy, wide)] == [
        HangingWay.WIRE,
        HangingWay.STRAPS,
        HangingWay.STRAPS,
    ]
    assert heavy.angle is heavy.pull is wide.angle is wide.pull is None


@pytest.mark.parametrize(
    ("width", "kg", "codes"),
    [
        ("1000", "10", []),
        ("1000", "10.1", ["no-wire"]),
        ("1000.5", "1", ["no-wire"]),
        ("800", "20", ["no-wire"]),
        ("800", "20.1", ["no-wire", "competent-person"]),
    ],
)
def test_the_limits_of_hanging_are_said(width: str, kg: str, codes: list[str]) -> None:
    found = hanging_notices(framed(width), weighing(kg))
    assert [notice.code for notice in found] == codes
    for notice in found:
        if notice.code == "competent-person":
            assert notice.concern is Concern.RISK
            assert "20 kg" in notice.message
            assert "local codes" in notice.message


def test_a_width_over_a_metre_is_said_in_inches_on_an_inch_piece() -> None:
    """40 in = 1016 mm is over 1000 mm; 39 in = 990.6 mm is not."""
    (notice,) = hanging_notices(framed("40", "20", Unit.IN), weighing("5"))
    assert '40"' in notice.message
    assert hanging_notices(framed("39", "20", Unit.IN), weighing("5")) == ()


def test_a_wire_by_hand() -> None:
    """Outside 603 x 490, face 25, 3 kg. Fixings 490/3 = 163 1/3 down, 603 - 25 = 578 apart.

    Drop = 163.33 - 50 = 113.33 (a tenth of 578 is less); tan α = 113.33/289, α = 21.41°.
    Weight 29.42 N; pull = 29.42 / (2 x sin 21.41°) = 40.30, up to 41 N; load = 40.30 x 4 = 161.2, up to 162 N.
    The taut wire is √(578² + 226.67²) = 620.86, up to 621, and 100 is wound at each end (D10).
    """
    found = hanging(size("603", "490"), mm(25), Fraction(3))
    assert found.fixings_down == mm("490/3")
    assert found.fixings_apart == mm(578)
    assert (found.way, found.angle, found.pull, found.load) == (HangingWay.WIRE, 21, 41, 162)
    assert found.wire == mm(821)
    assert wire_text(mm(821), Unit.MM) == "about 0.83 m"
    assert wire_text(mm(821), Unit.IN) == "about 33 in"  # 32.3


def test_straps_without_a_wire_carry_the_piece_and_no_pull() -> None:
    """By hand: 3 kg × 9.80665 is 29.4 N, up to 30; × 4 is 117.7, up to 118 (D3)."""
    asked = hanging(size("603", "490"), mm(25), Fraction(3))
    found = without_wire(asked, Fraction(3))
    assert (found.way, found.force, found.load) == (HangingWay.STRAPS, 30, 118)
    assert (found.wire, found.pull, found.angle, found.wireless) == (None, None, None, True)
    assert found.fixings_down == asked.fixings_down
    heavy = hanging(size("603", "490"), mm(25), Fraction(12))
    assert without_wire(heavy, Fraction(12)) == heavy


def test_a_wire_whose_halves_are_whole_is_not_cut_longer() -> None:
    """Half of 160 apart and 60 of drop: 80, 60, 100 (3-4-5), so 200 taut."""
    assert wire_to_cut(mm(160), mm(60), ZERO) == mm(200)
    assert wire_to_cut(mm(160), mm(60), mm("12.3")) == mm(225)  # 224.6
    assert wire_to_cut(mm("160.1"), mm(60), ZERO) == mm(201)


def test_what_is_wound_of_a_wire_is_the_shops_and_straps_have_none() -> None:
    found = hanging(size("603", "490"), mm(25), Fraction(3), HangingRules(wire_wound=mm(60)))
    assert found.wire == mm(741)
    assert hanging(size("603", "490"), mm(25), Fraction(12)).wire is None


def test_straps_carry_the_weight_times_the_factor() -> None:
    """12 kg: 12 x 9.80665 = 117.68 N, x 4 = 470.7, up to 471 N; factor 2: 235.4, up to 236 N."""
    assert hanging(size("800", "900"), mm(20), Fraction(12)).load == 471
    assert (
        hanging(size("800", "900"), mm(20), Fraction(12), HangingRules(factor=Fraction(2))).load
        == 236
    )


def test_a_low_wide_piece_gets_no_wire_that_would_show_above_it() -> None:
    """900 x 100: the fixings sit 33 mm down, a drop of a tenth of 880 is 88 mm: above the top edge."""
    found = hanging(size("900", "100"), mm(20), Fraction(2))
    assert found.way is HangingWay.STRAPS
    assert found.pull is None
    (notice,) = hanging_notices(framed("900", "100"), weighing("2"))
    assert notice.code == "no-wire"
    assert "low for its width" in notice.message


def test_spacers_are_no_weight_of_their_own_but_of_the_fixed_parts() -> None:
    spaced = work_out(replace(BARE, spacer=Spacer(depth=mm(3), width=mm(5))))
    assert weigh(spaced, Masses(fixed_grams=50)).kg == Fraction("0.05")


def test_the_rules_of_hanging_are_the_shops() -> None:
    """Outside 800 x 900, face 20, 3 kg; fixings a quarter down: 225; wire 25 mm under the top: drop 200.

    Half the distance between the fixings is 390: tan α = 200/390, α = 27.15°, sin α = 0.4563. Weight
    3 x 9.80665 = 29.42 N; pull = 29.42 / 0.9126 = 32.24, up to 33; with factor 2: 64.5, up to 65.
    """
    rules = HangingRules(
        factor=Fraction(2),
        fixings_down=Fraction(1, 4),
        wire_below_top=mm(25),
        lift_above_kg=Fraction(9),
    )
    found = hanging(size("800", "900"), mm(20), Fraction(3), rules)
    assert (found.fixings_down, found.angle, found.pull) == (mm(225), 27, 33)
    assert (found.load, found.force) == (65, 33)
    narrow = HangingRules(no_wire_above_width=mm(700), no_wire_above_kg=Fraction(5))
    assert hanging(size("701", "900"), mm(20), Fraction(3), narrow).way is HangingWay.STRAPS
    assert hanging(size("700", "900"), mm(20), Fraction(3), narrow).way is HangingWay.WIRE
    assert hanging(size("700", "900"), mm(20), Fraction("5.1"), narrow).way is HangingWay.STRAPS
    (notice,) = hanging_notices(framed("701"), weighing("3"), narrow)
    assert "701 mm wide" in notice.message
    codes = [
        n.code
        for n in hanging_notices(
            framed("701"), weighing("4"), HangingRules(competent_person_above_kg=Fraction("3.5"))
        )
    ]
    assert codes == ["competent-person"]


def test_the_drop_of_the_wire_is_at_least_the_shops_share() -> None:
    """800 x 300: fixings 100 down, 780 apart; a tenth drops 78, a twentieth 50 = 100 - 50 (39 is less).

    tan α = 78/390 = 0.2, α = 11.3°; tan α = 50/390, α = 7.3°.
    """
    assert hanging(size("800", "300"), mm(20), Fraction(3)).angle == 11
    flat = HangingRules(least_drop=Fraction(1, 20))
    assert hanging(size("800", "300"), mm(20), Fraction(3), flat).angle == 7


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("factor", Fraction(1, 2)),
        ("factor", Fraction(21)),
        ("no_wire_above_kg", Fraction(0)),
        ("competent_person_above_kg", Fraction(0)),
        ("lift_above_kg", Fraction(2000)),
        ("no_wire_above_width", mm(0)),
        ("fixings_down", Fraction(0)),
        ("fixings_down", Fraction(1)),
        ("wire_below_top", mm(-1)),
        ("wire_wound", mm(-1)),
        ("least_drop", Fraction(0)),
    ],
)
def test_rules_of_hanging_that_cannot_be_meant_are_refused(field: str, value: object) -> None:
    with pytest.raises(Invalid) as raised:
        HangingRules(**{field: value})  # type: ignore[arg-type]
    assert [fault.path for fault in raised.value.faults] == [field]


def test_of_a_piece_that_is_not_weighed_whole_all_is_at_least() -> None:
    (notice,) = hanging_notices(framed("800"), weighing("12", at_least=True))
    assert "The piece is at least 12.0 kg" in notice.message
    assert hanging(size("800", "900"), mm(20), Fraction(12), at_least=True).at_least
