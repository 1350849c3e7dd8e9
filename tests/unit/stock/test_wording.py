"""What a material is called where no heading says its kind, and how it is counted."""

from dataclasses import replace

import pytest

from app.lengths import Unit, inches
from app.pricing import Material
from app.stock.wording import named, unit_word
from tests.builders.printed import BOOK


def with_name(code: str, name: str) -> Material:
    return replace(BOOK[code], name=name)


@pytest.mark.parametrize(
    ("material", "said"),
    [
        (BOOK["M1"], "Chalk white · mat, 1.4 mm"),
        (BOOK["G2"], "Clear 2 mm, UV filter · glazing"),
        (BOOK["B3"], "Backing 3 mm · board"),
        (BOOK["K1"], "Museum board · 1.4 mm"),
        (BOOK["W25"], "Walnut hollow 25 · moulding"),
        (BOOK["C30"], "Canvas moulding"),
        (BOOK["R1"], "Hanging ring · hardware"),
        (BOOK["X1"], "Brass label"),
        (with_name("M1", "Matt grey 11.4 mm"), "Matt grey 11.4 mm · mat, 1.4 mm"),
    ],
)
def test_a_material_is_named_with_its_kind_and_thickness_unless_its_name_says_them(
    material: Material, said: str
) -> None:
    assert named(material, Unit.MM) == said


def test_it_speaks_as_the_shop_does() -> None:
    board = BOOK["M1"]
    assert named(board, Unit.MM, "mount") == "Chalk white · mount, 1.4 mm"
    assert board.sheet is not None
    ply = replace(board, sheet=replace(board.sheet, thickness=inches("1/16")))
    assert named(ply, Unit.IN) == 'Chalk white · mat, 1/16"'


@pytest.mark.parametrize(
    ("code", "word"), [("W25", "sticks"), ("M1", "sheets"), ("R1", ""), ("H5", "m")]
)
def test_what_is_counted_has_its_word(code: str, word: str) -> None:
    assert unit_word(BOOK[code]) == word
