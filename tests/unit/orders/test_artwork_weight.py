"""What a piece weighs with its artwork in it, and what is said where that is only guessed (D2, D3, D4, D8).

All pieces are in the moulding of tests/builders/worked: face 20, lip 6.5, allowance 3, 500 g a metre. Around
900 × 900 it is 903 + 2 × 13.5 = 930 long, 3.72 m in all, 1.86 kg; with fixings of 0.125 it is 1.985 kg.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.framing import Concern
from app.framing.notices.artwork_weight import ArtworkFigures, Support
from app.framing.notices.care import Work
from app.framing.notices.weight import HangingRules, HangingWay
from app.lengths import Unit
from app.orders import ArtworkKind, ArtworkRecord, Shop, usual_shop
from app.orders.artwork_weight import Known
from app.orders.piece_report import Findings, findings
from app.orders.quoting.agreement import agree
from app.orders.weight_rules import USUAL_SUPPORTS, WeightRules
from tests.builders.values import finder
from tests.builders.worked import BOOK, SHOP, TYPED

PANEL = {
    "artwork.size": "900 x 900",
    "artwork.kind": "oil",
    "presentation": "canvas",
    "frames.0.material": "LIN-20",
}
FRAME_AND_FIXINGS = Fraction("1.985")


find = finder(BOOK)


def found(shop: Shop = SHOP, base: Mapping[str, str] = PANEL, **typed: str) -> Findings:
    fields = {name.replace("__", "."): text for name, text in typed.items()}
    artwork, agreed = agree({**base, **fields}, shop, find, today=date(2026, 11, 25))
    return findings(artwork, agreed, shop)


def said(of: Findings) -> dict[str, str]:
    """Of weight and hanging: what is said, by its code."""
    return {
        notice.code: notice.message
        for notice in of.notices
        if "weight" in notice.code or notice.code in ("no-wire", "competent-person")
    }


@pytest.mark.parametrize(
    ("support", "artwork", "whole"),
    [("wood", "8.748", "10.733"), ("mdf", "10.935", "12.92")],
)
def test_a_panel_of_18_mm_weighs_what_it_weighs_and_takes_no_wire(
    support: str, artwork: str, whole: str
) -> None:
    """0.9 × 0.9 × 0.018 m³ × 600 or 750 kg/m³; before, any artwork and its fixings were 0.15 kg."""
    of = found(artwork__support=support, artwork__thickness="18")
    assert dict(of.weight.parts)["artwork"] == Fraction(artwork)
    assert of.weight.kg == Fraction(whole)
    assert of.hanging is not None
    assert of.hanging.way is HangingWay.STRAPS
    assert "no wire" in said(of)["no-wire"]
    assert of.artwork.known is Known.ESTIMATED
    assert not of.weight.at_least


def test_a_canvas_weighs_with_its_stretcher() -> None:
    """1200 × 800: 0.384 + (4 + 0.8) × 0.5 = 2.784. Frame 2 × (1.23 + 0.83) × 0.5 = 2.06, fixings 0.125."""
    of = found(artwork__size="1200 x 800", artwork__kind="canvas")
    assert of.weight.kg == Fraction("4.969")
    assert said(of)["artwork-weight-estimated"] == (
        "The artwork weighs about 2.8 kg, estimated as canvas on a stretcher; type its weight if you "
        "know it."
    )


@pytest.mark.parametrize(
    ("typed", "kg"),
    [
        ("2.3 kg", Fraction("2.3")),
        ("850 g", Fraction("0.85")),
        ("5 lb 4 oz", Fraction("0.45359237") * Fraction("5.25")),
        ("2.3", Fraction("2.3")),
    ],
)
def test_a_weight_that_was_typed_is_taken_exactly_whatever_it_is_made_of(
    typed: str, kg: Fraction
) -> None:
    for support in ("", "wood"):
        of = found(artwork__weight=typed, artwork__support=support)
        assert of.artwork.known is Known.TYPED
        assert of.weight.kg == FRAME_AND_FIXINGS + kg
        assert said(of) == {}


def test_a_bare_weight_is_in_pounds_in_a_shop_of_inches() -> None:
    shop = usual_shop("Sedge Lane Frames", Unit.IN, "EUR", Fraction(1, 5))
    of = found(shop=shop, artwork__size="900 x 900 mm", artwork__weight="5")
    assert of.artwork.kg == Fraction("0.45359237") * 5


def test_a_weight_that_cannot_be_read_is_a_fault_at_its_field() -> None:
    with pytest.raises(Invalid) as raised:
        found(artwork__weight="heavy", artwork__support="tin")
    faults = {fault.path: fault.message for fault in raised.value.faults}
    assert set(faults) == {"artwork.weight", "artwork.support"}
    assert "“heavy” cannot be read as a weight" in faults["artwork.weight"]


def test_an_object_is_never_guessed() -> None:
    """Whatever it is said to be made of; without its weight all figures are “at least”."""
    for support in ("", "glass"):
        of = found(
            artwork__kind="object",
            presentation="close",
            artwork__support=support,
            artwork__thickness="20",
        )
        assert of.artwork.known is Known.MISSING
        assert "artwork" not in dict(of.weight.parts)
        assert of.weight.at_least
        assert of.hanging is not None
        assert of.hanging.at_least
        assert "An object is not estimated" in said(of)["artwork-weight-missing"]
    weighed = found(artwork__kind="object", presentation="close", artwork__weight="12 kg")
    assert weighed.weight.kg == FRAME_AND_FIXINGS + 12
    assert not weighed.weight.at_least


def test_what_stands_in_a_box_is_an_object_whatever_its_kind() -> None:
    """As a program may say it; an object of which it says otherwise is one by its kind all the same."""
    box = {"presentation": "close", "artwork__thickness": "2"}
    boxed = found(**box, artwork__kind="textile", artwork__object="yes")
    assert boxed.artwork.known is Known.MISSING
    flat = found(**box, artwork__kind="object", artwork__object="no")
    assert flat.artwork.known is Known.MISSING
    assert found(**box, artwork__kind="textile").artwork.known is Known.ESTIMATED


def test_a_panel_of_unknown_thickness_is_asked_for_it() -> None:
    of = found(artwork__support="hardboard")
    assert of.artwork.known is Known.MISSING
    assert of.weight.kg == FRAME_AND_FIXINGS
    assert "hardboard weighs by its thickness" in said(of)["artwork-weight-missing"]
    assert of.hanging is not None
    assert of.hanging.at_least


def test_an_oil_of_which_nobody_says_more_is_at_least_a_canvas() -> None:
    """3.6 m × 0.5 + 0.81 × 0.4 = 2.124 kg; on a panel it would be several times as much."""
    of = found(artwork__thickness="18")
    assert of.artwork.known is Known.LEAST
    assert of.weight.kg == FRAME_AND_FIXINGS + Fraction("2.124")
    assert of.weight.at_least
    assert "An oil on a panel weighs more" in said(of)["artwork-weight-at-least"]
    sure = found(artwork__thickness="18", artwork__support="canvas")
    assert sure.artwork.known is Known.ESTIMATED


def test_what_is_thick_is_no_paper() -> None:
    thin = found(base=TYPED, artwork__thickness="5")
    assert thin.artwork.known is Known.ESTIMATED
    thick = found(base=TYPED, artwork__thickness="5.5")
    assert thick.artwork.known is Known.LEAST
    assert "5.5 mm is thick for paper" in said(thick)["artwork-weight-at-least"]


def test_a_guess_that_does_not_count_is_said_beside_the_weight_alone() -> None:
    """410 × 310: 0.1271 m² × 0.2 = 0.02542 kg, of about 4."""
    of = found(base=TYPED)
    assert of.artwork.kg == Fraction("0.02542")
    assert of.artwork.in_words(Unit.MM) == "about 25 g, estimated as paper"
    assert said(of) == {}


@pytest.mark.parametrize(
    ("kind", "support"), [(kind, dict(USUAL_SUPPORTS).get(kind)) for kind in ArtworkKind]
)
def test_every_kind_but_an_object_has_a_usual_support(
    kind: ArtworkKind, support: Support | None
) -> None:
    of = found(base=TYPED, artwork__kind=kind.value)
    assert of.artwork.support is support
    assert (support is None) == (kind is ArtworkKind.OBJECT)


def test_an_unnamed_artwork_in_a_canvas_frame_is_on_a_stretcher() -> None:
    assert found(artwork__kind="").artwork.support is Support.CANVAS
    assert found(artwork__kind="", presentation="close").artwork.support is Support.PAPER


def test_several_windows_weigh_all_their_artworks() -> None:
    """Twice 410 × 310 at 0.2 kg/m²."""
    of = found(base=TYPED, windows__count="2")
    assert of.artwork.kg == Fraction("0.02542") * 2


def test_the_figures_and_the_usual_supports_are_the_shops() -> None:
    rules = WeightRules(
        figures=ArtworkFigures(mdf=800),
        supports=((ArtworkKind.OIL, Support.MDF),),
        fixings_grams=0,
    )
    of = found(shop=replace(SHOP, weights=rules), artwork__thickness="18")
    assert of.artwork.kg == Fraction("0.01458") * 800
    assert of.weight.kg == Fraction("0.01458") * 800 + Fraction("1.86")
    asked = found(shop=replace(SHOP, weights=rules), artwork__kind="print")
    assert asked.artwork.known is Known.MISSING
    assert "Say what it is made of" in asked.artwork.why
    with pytest.raises(Invalid, match="0 to 10000"):
        WeightRules(fixings_grams=-1)


def test_lifting_and_a_competent_person_follow_the_whole_weight() -> None:
    """Glass of 10 mm: 0.81 × 25 = 20.25 kg, in all 22.235."""
    of = found(artwork__support="glass", artwork__thickness="10")
    assert of.weight.kg == Fraction("22.235")
    assert {"no-wire", "competent-person"} <= set(said(of))
    assert Work.LIFT in {work for work, _ in of.cautions}
    light = found(artwork__support="glass", artwork__thickness="4")
    assert Work.LIFT not in {work for work, _ in light.cautions}
    rules = WeightRules(hanging=HangingRules(lift_above_kg=Fraction(5)))
    careful = found(
        shop=replace(SHOP, weights=rules), artwork__support="glass", artwork__thickness="4"
    )
    assert Work.LIFT in {work for work, _ in careful.cautions}


def test_a_picture_on_metal_is_no_work_on_paper() -> None:
    close = {"presentation": "close", "artwork__kind": "photograph"}
    on_paper = {notice.code for notice in found(**close).notices}
    assert "paper-without-glazing" in on_paper
    on_metal = {
        notice.code
        for notice in found(**close, artwork__support="aluminium", artwork__thickness="3").notices
    }
    assert "paper-without-glazing" not in on_metal


def test_what_the_price_book_cannot_weigh_makes_it_at_least_as_well() -> None:
    artwork, agreed = agree(dict(TYPED), SHOP, find, today=date(2026, 11, 25))
    assert agreed.chosen.glazing is not None
    assert agreed.chosen.glazing.sheet is not None
    light = replace(
        agreed.chosen.glazing, sheet=replace(agreed.chosen.glazing.sheet, grams_per_m2=0)
    )
    of = findings(artwork, replace(agreed, chosen=replace(agreed.chosen, glazing=light)), SHOP)
    assert of.weight.at_least
    assert of.weight.how == "at least"


def test_no_notice_of_weight_is_a_risk_by_itself() -> None:
    thing = found(artwork__kind="object", presentation="close")
    for of in (thing, found(), found(artwork__support="wood")):
        notices = [n for n in of.notices if n.code.startswith("artwork-weight")]
        assert notices
        assert all(notice.concern is not Concern.RISK for notice in notices)


@pytest.mark.parametrize("kg", [Fraction(0), Fraction(-1), Fraction(1001)])
def test_a_record_takes_no_weight_that_cannot_be(kg: Fraction) -> None:
    with pytest.raises(Invalid) as raised:
        ArtworkRecord(weight_kg=kg)
    assert [fault.path for fault in raised.value.faults] == ["artwork.weight"]


def test_one_artwork_behind_several_windows_weighs_all_of_its_size() -> None:
    """A panel of 400 × 200 and 10 mm at 600 kg/m³ weighs 0.08 m² × 0.01 × 600 = 0.48 kg, and not what two windows show of it."""
    windows = {
        "artwork.size": "400x200", "artwork.support": "wood", "artwork.thickness": "10",
        "windows.count": "2", "windows.0.size": "100x150", "windows.0.kind": "hole",
    }  # fmt: skip
    of = found(base={**TYPED, **windows})
    assert dict(of.weight.parts)["artwork"] == Fraction("0.48")
