"""What was agreed reads back as it was, for years."""

import json
import os
import subprocess
import sys
from dataclasses import dataclass, make_dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app import codec
from app.bench import PinRow, Scale, Stops, usual_cutter
from app.codec import Codec
from app.errors import Invalid
from app.framing import work_out
from app.framing.notices.artwork_weight import ArtworkFigures, Support
from app.framing.notices.weight import HangingRules
from app.lengths import Length, Unit, inches, mm
from app.money import CURRENCIES, TaxPolicy, TaxRounding
from app.orders import ArtworkKind, Shop, usual_shop
from app.orders.quoting.agreement import agree
from app.orders.weight_rules import WeightRules
from app.pricing import Charge, ChargeBy, Kind, Material, Operation, When
from app.storage.snapshots import AGREED, SHOP
from tests.builders.cutters import with_both_scales, with_pins
from tests.builders.kept import BOOK, MOULDING, TYPED, agreed
from tests.builders.kept import SHOP as SAMPLE_SHOP
from tests.builders.values import TODAY

ROOT = Path(__file__).resolve().parents[2]
PRESENTATIONS = ("window", "float", "close")


@st.composite
def typed_pieces(draw: st.DrawFn) -> dict[str, str]:
    """Typed fields of a piece that can be made, in either unit."""
    unit = draw(st.sampled_from(["mm", "in"]))
    presentation = draw(st.sampled_from(PRESENTATIONS))
    width, height = (draw(st.integers(120, 500)) for _ in range(2))
    size = f"{width} x {height} mm" if unit == "mm" else f"{width}/16 x {height * 2 + 1}/32 in"
    typed = {
        "unit": unit,
        "artwork__size": size,
        "artwork__title": draw(st.text(max_size=40).filter(lambda text: "\x00" not in text)),
        "presentation": presentation,
        "discount": draw(st.sampled_from(["", "10", "12.5 %"])),
    }
    if presentation == "close":
        nothing = ("mats.0.material", "mats.1.material", "mats.1.reveal", *_BORDERS)
        typed |= {name.replace(".", "__"): "" for name in nothing}
    return typed


_BORDERS = tuple(f"borders.{side}" for side in ("left", "right", "top", "bottom"))


@given(typed=typed_pieces(), included=st.booleans(), tax=st.sampled_from(["0", "1/5", "7/93"]))
def test_an_agreed_piece_reads_back_equal(typed: dict[str, str], included: bool, tax: str) -> None:
    shop = replace(
        usual_shop("Kesselhof Frames", Unit.MM, "EUR", Fraction(tax)),
        tax_policy=TaxPolicy(included=included, rounding=TaxRounding.BY_LINE),
    )
    _, frozen = agreed(shop=shop, **typed)
    assert AGREED.read(AGREED.write(frozen)) == frozen


HASHED_ANEW = """
from dataclasses import replace
from app.pricing import Trait
from app.storage.snapshots import AGREED
from tests.builders.kept import agreed
_, value = agreed()
mat = value.chosen.mats[0]
marked = replace(mat, sheet=replace(mat.sheet, traits=frozenset(Trait)- {Trait.ACRYLIC}))
value = replace(value, chosen=replace(value.chosen, mats=(marked,)))
print(AGREED.write(value), end="")
"""


def test_equal_snapshots_are_equal_text_in_every_run_of_the_program() -> None:
    """Python orders a set of texts anew in every process, unless it is told how."""
    written = {
        subprocess.run(
            [sys.executable, "-c", HASHED_ANEW],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in range(1, 5)
    }
    (text,) = written
    assert '"traits":["acid-free","glass","laminated","one-way","uv-filter"]' in text


def test_what_has_no_form_in_a_snapshot_is_refused() -> None:
    odd = make_dataclass("Odd", [("what", Any)])
    with pytest.raises(TypeError, match="object has no form"):
        Codec("odd", odd).write(odd(what=object()))


@given(
    unit=st.sampled_from(Unit),
    code=st.sampled_from(sorted(CURRENCIES)),
    tax=st.fractions(min_value=0, max_value=1, max_denominator=1000),
    name=st.text(min_size=1, max_size=80).filter(str.strip),
)
def test_a_shop_reads_back_equal(unit: Unit, code: str, tax: Fraction, name: str) -> None:
    try:
        name.encode()
    except UnicodeEncodeError:
        return  # half a character cannot be typed
    shop = usual_shop(name, unit, code, tax)
    assert SHOP.read(SHOP.write(shop)) == shop


def test_every_field_is_written_so_that_a_later_default_changes_nothing() -> None:
    body = json.loads(SHOP.write(SAMPLE_SHOP))["shop"]
    assert set(body) == set(Shop.__dataclass_fields__)
    assert body["promise"] == {
        "valid_days": 30,
        "ready_days": 14,
        "deposit": "1/2",
        "rush": "1/4",
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class _Old:
    face: str


def test_a_field_that_came_later_takes_its_default() -> None:
    written = Codec("agreed", _Old).write(_Old(face="20"))
    new_type: Any = make_dataclass(
        "New", [("face", str), ("colour", str, "white")], frozen=True, kw_only=True
    )
    read = Codec("agreed", new_type).read(written)
    assert (read.face, read.colour) == ("20", "white")


def test_an_older_form_is_brought_up_to_date(monkeypatch: pytest.MonkeyPatch) -> None:
    written = Codec("agreed", _Old).write(_Old(face="20"))
    monkeypatch.setattr(codec, "SCHEMA", codec.SCHEMA + 1)
    steps = {codec.SCHEMA - 1: lambda plain: {"face": f"{plain['face']} mm"}}
    assert Codec[_Old]("agreed", _Old, steps).read(written).face == "20 mm"


def _as_first_written(shop: Shop) -> str:
    """A shop as the first form had it: nothing was known of objects in boxes."""
    whole = json.loads(SHOP.write(shop))
    del whole["shop"]["allowances"]["object_clearance"]
    labour = whole["shop"]["labour"]
    labour["operations"] = [each for each in labour["operations"] if each["code"] != "object"]
    return json.dumps(whole | {"schema": 1})


@pytest.mark.parametrize(("unit", "clearance"), [(Unit.MM, mm(3)), (Unit.IN, inches("1/8"))])
def test_a_shop_from_before_objects_in_boxes_has_what_is_usual(
    unit: Unit, clearance: Length
) -> None:
    """G22: 3 mm, or 1/8 in, by the unit that the shop works in."""
    shop = usual_shop("Kesselhof Frames", unit, "EUR", Fraction(1, 5))
    old = SHOP.read(_as_first_written(shop))
    assert old.allowances.object_clearance == clearance
    (mounting,) = [each for each in old.labour.operations if each.when is When.OBJECT]
    assert (mounting.name, mounting.fixed) == ("Mount the object on its board", 12)
    assert len(old.labour.operations) == len(shop.labour.operations)
    assert SHOP.read(SHOP.write(old)) == old


def test_a_shop_that_calls_an_operation_so_itself_keeps_its_own() -> None:
    shop = usual_shop("Kesselhof Frames", Unit.MM, "EUR", Fraction(1, 5))
    own = Operation(code="object", name="Photograph the object", when=When.ALWAYS)
    whole = json.loads(_as_first_written(replace(shop, labour=replace(shop.labour, operations=()))))
    mine = json.loads(SHOP.write(replace(shop, labour=replace(shop.labour, operations=(own,)))))[
        "shop"
    ]["labour"]
    whole["shop"]["labour"] = mine
    assert SHOP.read(json.dumps(whole)).labour.operations == (own,)


def _with_one_scale(shop: Shop) -> str:
    """A shop as the third form had it: unit, step and holes of the one scale among the rest of a cutter."""
    whole = json.loads(SHOP.write(shop))
    for cutter in whole["shop"]["cutters"]:
        (scale,) = cutter.pop("scales")
        pins = scale["pins"] or {"first": None, "pitch": None}
        cutter |= {"unit": scale["unit"], "step": scale["step"]}
        cutter |= {"first_pin": pins["first"], "pin_pitch": pins["pitch"]}
        del cutter["stops"], cutter["arm_reach"]
    return json.dumps(whole | {"schema": 3})


def test_cutters_from_before_there_were_two_scales_have_the_one_they_had() -> None:
    """B8: nothing was said of stops and of the squaring arm then."""
    plain = usual_cutter(Unit.IN, name="Plain")
    pinned = with_pins(usual_cutter(Unit.MM, name="Pinned"), first=mm(20), pitch=mm(10))
    shop = usual_shop("Kesselhof Frames", Unit.MM, "EUR", Fraction(1, 5))
    shop = replace(shop, cutters=(plain, pinned))
    old = SHOP.read(_with_one_scale(shop))
    assert old == shop
    assert [cutter.scales for cutter in old.cutters] == [
        (Scale(unit=Unit.IN, step=inches("1/32")),),
        (Scale(unit=Unit.MM, step=mm("0.5"), pins=PinRow(first=mm(20), pitch=mm(10))),),
    ]
    assert all(not (cutter.stops.near or cutter.stops.far) for cutter in old.cutters)


def test_cutters_with_two_scales_stops_and_an_arm_read_back_equal() -> None:
    stops = Stops(near=True, far=True, near_correction=mm("-0.25"))
    cutter = replace(with_both_scales(usual_cutter(Unit.MM)), stops=stops, arm_reach=mm(1200))
    shop = usual_shop("Kesselhof Frames", Unit.MM, "EUR", Fraction(1, 5))
    shop = replace(shop, cutters=(cutter,))
    assert SHOP.read(SHOP.write(shop)) == shop


def test_what_was_agreed_for_an_object_before_reads_as_lying_flat() -> None:
    """D1 as it was summed then: 2 x 1.4 of mats, 2 of glass, 3 of backing and the artwork."""
    _, frozen = agreed(artwork__kind="object", artwork__thickness="1")
    assert frozen.spec.boxed is not None
    whole = json.loads(AGREED.write(frozen))
    del whole["agreed"]["spec"]["boxed"]
    old = AGREED.read(json.dumps(whole | {"schema": 1}))
    assert old.spec == replace(frozen.spec, boxed=None)
    assert work_out(old.spec).stack == work_out(frozen.spec).stack + mm(1)


def test_a_newer_form_is_refused() -> None:
    now = codec.SCHEMA
    written = AGREED.write(agreed()[1]).replace(f'{{"schema":{now}', f'{{"schema":{now + 1}', 1)
    with pytest.raises(Invalid, match="newer than this program"):
        AGREED.read(written)


def test_a_piece_agreed_before_there_were_fillets_reads_as_one_without() -> None:
    """Such a snapshot has neither the fillet of the spec nor that of the choice."""
    frozen = agreed()[1]
    whole = json.loads(AGREED.write(frozen))
    for part in ("spec", "chosen"):
        del whole["agreed"][part]["fillet"]
    assert AGREED.read(json.dumps(whole)) == frozen


def test_a_piece_and_a_shop_of_before_weights_and_loads_read_as_those_without() -> None:
    """Such a snapshot has neither loads of hardware nor the shop's limits and rules of weight."""
    frozen = agreed()[1]
    whole = json.loads(AGREED.write(frozen))
    for name in ("smallest_border", "least_bridge"):
        del whole["agreed"]["spec"][name]
    for taken in whole["agreed"]["chosen"]["hardware"]:
        del taken["material"]["hanging"]
    assert AGREED.read(json.dumps(whole)) == frozen
    shop = json.loads(SHOP.write(SAMPLE_SHOP))
    del shop["shop"]["weights"]
    for name in ("smallest_border", "least_bridge"):
        del shop["shop"]["allowances"][name]
    assert SHOP.read(json.dumps(shop)) == SAMPLE_SHOP


def test_rules_of_weight_and_hanging_read_back_equal() -> None:
    rules = WeightRules(
        hanging=HangingRules(factor=Fraction(7, 3), wire_below_top=mm(35)),
        figures=ArtworkFigures(wood=550),
        supports=((ArtworkKind.OIL, Support.WOOD),),
    )
    allowances = replace(SAMPLE_SHOP.allowances, smallest_border=mm(45), least_bridge=mm(15))
    shop = replace(SAMPLE_SHOP, weights=rules, allowances=allowances)
    assert SHOP.read(SHOP.write(shop)) == shop


def test_a_fillet_reads_back_equal() -> None:
    """A face of 20 and a lip of 6, as the moulding of the sample has."""
    frozen = agreed(fillet__material="LIN-20", fillet__tuck="5.5", fillet__depth="3")[1]
    read = AGREED.read(AGREED.write(frozen))
    assert read == frozen
    assert read.spec.fillet is not None
    assert read.spec.fillet.tuck == mm("5.5")


def test_a_piece_priced_by_what_a_plan_opens_keeps_its_price_and_the_reason() -> None:
    moulding = replace(MOULDING, charge=Charge(by=ChargeBy.OPENED))
    book = (moulding, *(each for each in BOOK if each is not MOULDING))

    def find(text: str, kind: Kind) -> Material | None:
        return next((each for each in book if each.code == text and each.kind is kind), None)

    frozen = agree(TYPED, SAMPLE_SHOP, find, today=TODAY)[1]
    read = AGREED.read(AGREED.write(frozen))
    assert read == frozen
    line = next(each for each in read.price.lines if each.code == moulding.code)
    assert line.why[0].startswith("Cut by itself the piece opens ")
    assert read.chosen.frames[0].charge.by is ChargeBy.OPENED


def test_rows_of_windows_that_were_typed_under_their_old_names_are_found_under_the_new_ones() -> (
    None
):
    _, value = agreed(windows__count="4", arrangement__rows="2", arrangement__across="30")
    text = AGREED.write(value)
    assert text.count('"arrangement.') == 2
    whole = json.loads(text.replace('"arrangement.', '"layout.'))
    old = AGREED.read(json.dumps(whole | {"schema": 2}))
    assert old.typed["arrangement.rows"] == "2"
    assert old.typed["arrangement.across"] == "30"
    assert old == value
