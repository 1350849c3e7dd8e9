"""Which materials come nearest to a colour: what is near enough on the rack first, and a word for how near."""

from dataclasses import replace

import pytest

from app.colours import Colour, difference, lab_of
from app.pricing import Kind, Material
from app.pricing.nearest import FARTHEST, NearMaterial, Nearness, best, near, paler
from tests.builders.materials import marked_up, moulding, profile, sheet, stock

RED = Colour.parse("#a8322c")


def mat(code: str, colour: str, thickness: str = "1.4") -> Material:
    return sheet(
        code, code.title(), Kind.MAT, stock(thickness, 900), "9.00", marked_up("3"), colour=colour
    )


def rail(code: str, colour: str) -> Material:
    return moulding(
        code, code.title(), profile("20", "6", "14", 240), "9.40", marked_up("3"), colour=colour
    )


def codes(found: tuple[NearMaterial, ...]) -> list[str]:
    return [each.material.code for each in found]


def lying(found: tuple[NearMaterial, ...], *on_rack: str) -> list[NearMaterial]:
    return [replace(each, on_rack=each.material.code in on_rack) for each in found]


def test_the_nearest_comes_first_and_another_colour_not_at_all():
    book = [mat("sea", "#2f5a78"), mat("rust", "#a45a42"), mat("brick", "#a8342e")]
    assert codes(near(RED, book)) == ["brick", "rust"]


def test_none_is_passed_over_that_is_near_enough():
    """Greys from black to white beside a middle grey: those that the difference itself finds near, and no others."""
    greys = [mat(f"grey-{part}", f"#{part:02x}{part:02x}{part:02x}") for part in range(0, 256, 3)]
    middle = Colour.parse("#777777")
    seen = lab_of(middle)
    wanted = {
        each.code
        for each in greys
        if difference(seen, lab_of(Colour.parse(each.colour))) <= FARTHEST
    }
    assert set(codes(near(middle, greys))) == wanted
    assert 10 < len(wanted) < 40


def test_a_material_of_which_nobody_said_a_colour_is_left_out():
    nobody_said = sheet("plain", "Plain", Kind.MAT, stock("1.4", 900), "9.00", marked_up("3"))
    assert near(Colour.parse(nobody_said.colour), [nobody_said]) == ()


def test_what_lies_on_the_rack_comes_first_among_those_that_are_near():
    book = [mat("one", "#a8332d"), mat("two", "#a83a30"), mat("three", "#b03a30")]
    found = near(RED, book)
    assert codes(found) == ["one", "two", "three"]
    assert codes(best(lying(found, "three"), 5)) == ["three", "one", "two"]


def test_what_is_not_so_near_on_the_rack_takes_no_place_from_what_is_near():
    """Where both have room, what lies on the rack stands first all the same, under its own heading."""
    found = near(RED, [rail("near", "#a83a30"), rail("off", "#a45a42")])
    assert found[1].nearness is Nearness.NOT_SO_NEAR
    assert codes(best(lying(found, "off"), 1)) == ["near"]
    assert codes(best(lying(found, "off"), 5)) == ["off", "near"]


def test_by_nearness_alone_the_rack_counts_for_nothing():
    found = near(RED, [rail("one", "#a8332d"), rail("two", "#a83a30"), rail("three", "#b03a30")])
    assert codes(best(lying(found, "three"), 5, rack_first=False)) == ["one", "two", "three"]


@pytest.mark.parametrize("rack_first", [True, False])
def test_what_harms_the_artwork_comes_last_and_gives_way_to_the_same_face_that_does_not(rack_first):
    book = [mat("poor", "#a8332d"), mat("sound", "#b03a30"), mat("same", "#a8332d", "2.4")]
    found = [
        replace(each, on_rack=True, harms=each.material.code == "poor") for each in near(RED, book)
    ]
    assert codes(best(found, 5, rack_first=rack_first)) == ["same", "sound"]
    assert codes(best(found[:1] + found[2:], 5, rack_first=rack_first)) == ["sound", "poor"]


def test_of_mats_with_one_face_that_on_the_rack_is_named_alone_and_mouldings_all():
    faces = [mat("thin", "#a8332d"), mat("thick", "#a8332d", "2.4")]
    assert codes(best(lying(near(RED, faces), "thick"), 5)) == ["thick"]
    rails = [rail("narrow", "#a8332d"), rail("wide", "#a8332d")]
    assert codes(best(near(RED, rails), 5)) == ["narrow", "wide"]


def test_so_many_are_returned():
    book = [rail(f"rail-{at}", f"#a8332{at}") for at in range(9)]
    assert len(best(near(RED, book), 5)) == 5


@pytest.mark.parametrize(
    ("apart", "word"),
    [
        (0, "the same"),
        (1, "the same"),
        (1.1, "very near"),
        (4, "very near"),
        (10, "near"),
        (FARTHEST, "not so near"),
    ],
)
def test_how_near_is_a_word(apart, word):
    assert NearMaterial(material=mat("m", "#a8332d"), apart=apart).nearness == word


def test_it_is_called_by_a_plain_word():
    assert NearMaterial(material=mat("m", "#1d2f5c"), apart=0).called == "dark blue"


def test_a_strong_colour_has_a_paler_relative_of_its_hue():
    let_down = paler(RED)
    # 38 of 100 parts of #a8322c and 62 of white, each rounded half up: 168 -> 222, 50 -> 177, 44 -> 175.
    assert let_down == Colour(red=222, green=177, blue=175)
    assert lab_of(let_down).light > lab_of(RED).light
    assert difference(lab_of(let_down), lab_of(RED)) > FARTHEST


@pytest.mark.parametrize("shade", ["#808080", "#f4f4f2", "#f3ead2", "#000000"])
def test_a_grey_or_pale_one_has_none(shade):
    assert paler(Colour.parse(shade)) is None
