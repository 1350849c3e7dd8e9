"""DEVELOPERS.md draws the floors of the house; the picture shows what the import contract holds."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
BEGIN, END, FLOOR = "┌", "└", "│"
PURE = "╞"


def contract(name: str) -> dict[str, list[str]]:
    """The one contract of pyproject.toml whose name begins so."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    [found] = [
        each
        for each in project["tool"]["importlinter"]["contracts"]
        if each["name"].startswith(name)
    ]
    return found


def pictures(text: str) -> list[list[str]]:
    """The lines of each drawn house in a text, from its top line to its bottom line."""
    drawn = re.findall(rf"(?ms)^{BEGIN}.*?^{END}[^\n]*$", text)
    return [picture.splitlines() for picture in drawn]


def floors(picture: list[str]) -> list[list[str]]:
    """The rooms of each floor from left to right, the top floor first."""
    return [
        [room.strip() for room in line.split(FLOOR)[1:-1]]
        for line in picture
        if line.startswith(FLOOR)
    ]


def the_picture() -> list[str]:
    [picture] = pictures((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))
    return picture


def test_the_floors_are_read_off_a_picture():
    text = "Before.\n┌───┐\n│ a │  on top\n├───┤\n│b│c│  two\n└───┘\n│ no floor │\n"
    assert [floors(picture) for picture in pictures(text)] == [[["a"], ["b", "c"]]]


def test_every_floor_of_the_contract_stands_in_the_picture_in_its_order_and_nothing_else():
    layers = contract("Imports point down")["layers"]
    assert floors(the_picture()) == [[room.strip() for room in each.split("|")] for each in layers]


def test_what_stands_below_the_double_line_is_the_pure_half():
    picture = the_picture()
    [line] = [number for number, each in enumerate(picture) if each.startswith(PURE)]
    below = {room for floor in floors(picture[line:]) for room in floor}
    pure = {each.removeprefix("app.") for each in contract("The pure half")["source_modules"]}
    # The handbook is pure as well, but stands beside drawings, above the line, and says so there.
    assert below == pure - {"handbook"}
    [handbook] = [each for each in picture[:line] if "handbook" in each]
    assert "pure as well" in handbook
