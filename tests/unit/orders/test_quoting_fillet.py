"""A fillet as it is typed on the quote page, read into the spec and the choice, and what it comes to."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from app.errors import Fault, Invalid
from app.framing import Fillet
from app.framing.notices.care import Work
from app.lengths import mm
from app.money import Money
from app.orders import Agreed
from app.orders.order import ArtworkRecord
from app.orders.piece_report import findings
from app.orders.quoting.agreement import agree
from app.orders.quoting.form import PIECE_FIELDS, form_path
from app.orders.quoting.reader import NEEDED
from app.orders.quoting.request import PieceRequest, read_piece
from app.pricing import ChargeBy, Selling, SizeBand
from tests.builders.values import EUR, euro, finder
from tests.builders.worked import BOOK, FILLET, SHOP, TYPED

LINED = {**TYPED, "fillet.material": "FIL-10", "fillet.depth": "3"}

BANDED = replace(
    FILLET,
    code="FIL-B",
    charge=replace(
        FILLET.charge,
        by=ChargeBy.SIZE_BAND,
        step=mm(0),
        bands=(SizeBand(up_to=mm(900), price=euro("9.00")),),
    ),
    selling=Selling(),
)
assert FILLET.profile is not None
FLAT = replace(FILLET, code="FIL-0", profile=replace(FILLET.profile, lip=mm(0)))


find = finder((*BOOK, FILLET, BANDED, FLAT))


def read(**typed: str) -> PieceRequest:
    """The lined piece with fields typed as well; a__b stands for a.b."""
    fields = {name.replace("__", "."): text for name, text in typed.items()}
    return read_piece(LINED | fields, SHOP, find)


def faults(**typed: str) -> tuple[Fault, ...]:
    fields = {name.replace("__", "."): text for name, text in typed.items()}
    with pytest.raises(Invalid) as raised:
        agree(LINED | fields, SHOP, find, today=date(2026, 11, 25))
    return raised.value.faults


def lined() -> tuple[ArtworkRecord, Agreed]:
    return agree(LINED, SHOP, find, today=date(2026, 11, 25))


def test_a_piece_without_a_fillet_reads_as_it_did() -> None:
    asked = read_piece(TYPED, SHOP, find)
    assert asked.spec.fillet is None
    assert asked.chosen.fillet is None


def test_a_blank_tuck_is_the_lip_of_the_moulding() -> None:
    asked = read()
    assert asked.chosen.fillet == FILLET
    assert asked.spec.fillet == Fillet(face=mm(10), lip=mm(4), tuck=mm(4), thickness=mm(3))
    assert read(fillet__tuck="3.5").spec.fillet == Fillet(
        face=mm(10), lip=mm(4), tuck=mm("3.5"), thickness=mm(3)
    )


def test_its_fields_are_fields_of_a_piece() -> None:
    assert {"fillet.material", "fillet.tuck", "fillet.depth"} <= set(PIECE_FIELDS)


def test_its_depth_is_asked_for_and_never_guessed() -> None:
    (fault,) = faults(fillet__depth="")
    assert (fault.path, fault.code) == ("fillet.depth", NEEDED)
    assert "as 3 mm" in fault.message


def test_a_moulding_without_a_lip_is_asked_for_its_tuck() -> None:
    (fault,) = faults(fillet__material="FIL-0")
    assert (fault.path, fault.code) == ("fillet.tuck", NEEDED)
    assert read(fillet__material="FIL-0", fillet__tuck="4").spec.fillet is not None


def test_a_fillet_by_size_band_is_refused_at_its_field() -> None:
    (fault,) = faults(fillet__material="FIL-B")
    assert fault.path == "fillet.material"
    assert "charged by length" in fault.message


@pytest.mark.parametrize(
    ("typed", "path", "part"),
    [
        ({"fillet__material": ""}, "fillet.material", "choose what it is cut from"),
        ({"fillet__material": "", "fillet__tuck": "4"}, "fillet.material", "choose what"),
        ({"fillet__material": "NO-SUCH"}, "fillet.material", "“NO-SUCH”"),
        ({"fillet__depth": "0"}, "fillet.depth", "above zero"),
        ({"fillet__depth": "thick"}, "fillet.depth", "thick"),
        ({"fillet__tuck": "10"}, "fillet.tuck", "whole face is 10 mm"),
        ({"fillet__tuck": "80", "fillet__depth": "3"}, "fillet.tuck", "80 mm"),
        ({"windows__0__shape": "oval"}, "fillet.material", "an oval"),
        ({"presentation": "float", "gap": "6"}, "fillet.material", "touched"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(typed: dict[str, str], path: str, part: str) -> None:
    found = faults(**typed)
    assert {fault.path for fault in found} == {path}
    assert any(part in fault.message for fault in found)


def test_a_piece_without_mats_leaves_its_fillet_for_later() -> None:
    """As its mats are: shown otherwise again, they are there again."""
    asked = read(presentation="close")
    assert (asked.spec.fillet, asked.chosen.fillet) == (None, None)


@pytest.mark.parametrize(
    ("path", "field"),
    [
        ("fillet", "fillet.material"),
        ("fillet.face", "fillet.material"),
        ("fillet.lip", "fillet.material"),
        ("fillet.tuck", "fillet.tuck"),
        ("fillet.thickness", "fillet.depth"),
    ],
)
def test_every_path_of_a_fillet_has_its_field(path: str, field: str) -> None:
    assert form_path(path) == field


def test_the_piece_comes_to_what_was_worked_by_hand() -> None:
    """The sums stand beside FILLET; weight (D2): 1.432 m × 100 g = 143.2 g."""
    artwork, agreed = lined()
    found = findings(artwork, agreed, SHOP)
    assert agreed.price.to_pay == Money(11581, EUR)
    assert found.exact.stack == mm(11)
    assert dict(found.weight.parts)["fillet"] == Fraction(1432, 10_000)
    codes = {notice.code for notice in found.notices}
    assert {"fillet-covers-artwork", "fillet-on-paper"} <= codes


def test_a_fillet_without_a_weight_is_named() -> None:
    artwork, agreed = lined()
    assert FILLET.profile is not None
    light = replace(FILLET, profile=replace(FILLET.profile, grams_per_metre=0))
    weightless = replace(agreed, chosen=replace(agreed.chosen, fillet=light))
    said = [n.message for n in findings(artwork, weightless, SHOP).notices]
    assert any("no weight entered for “Gilt bead fillet”" in message for message in said)


def test_a_fillet_without_a_frame_is_sawn_with_care_as_well() -> None:
    artwork, agreed = agree(LINED | {"frames.0.material": ""}, SHOP, find, today=date(2026, 11, 25))
    works = {work for work, _ in findings(artwork, agreed, SHOP).cautions}
    assert {Work.RAILS, Work.JOIN} <= works


def test_a_shop_that_says_mount_is_asked_for_a_mount() -> None:
    shop = replace(SHOP, mat_word=type(SHOP.mat_word).MOUNT)
    with pytest.raises(Invalid) as raised:
        read_piece({"artwork.size": "410 x 310"}, shop, find)
    messages = [fault.message for fault in raised.value.faults]
    assert "Choose a mount, or show the artwork close in the frame." in messages
