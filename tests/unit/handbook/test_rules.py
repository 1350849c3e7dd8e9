"""The handbook holds together: cited numbers exist, rules are cited, examples are what the arithmetic says."""

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from app.handbook import BY_NUMBER, RULES, SUBJECTS, Rule
from app.handbook.rule import PUBLISHED
from app.handbook.worked import WORKED, Given
from app.lengths import Unit
from app.orders import usual_shop
from app.web.settings.page import SECTIONS

ROOT = Path(__file__).parents[3]
CITED = re.compile(r"(?<![\w#\"'“-])([LGDBPCM])([1-9][0-9]?)(?![\w\"'”-])")
NOT_RULES = {"C28", "C18", "B20"}
"""Codes of sizes and of invented materials in docstrings, which look like numbers of rules."""
DRAWINGS = ROOT / "templates" / "pages" / "handbook" / "drawings"


def texts() -> Iterator[tuple[Path, str]]:
    """Docstrings and comments of the code, whole where they are cheap to tell from it."""
    for path in sorted((ROOT / "app").rglob("*.py")):
        if path.is_relative_to(ROOT / "app" / "handbook"):
            continue
        source = path.read_text(encoding="utf-8")
        for block in re.findall(r'"""(.*?)"""', source, re.DOTALL):
            yield path, block
        for comment in re.findall(r"#(.*)", source):
            yield path, comment


@cache
def cited() -> dict[str, set[str]]:
    """Each number that code names, with the files that do; "G4 to G6" names G5 as well."""
    found: dict[str, set[str]] = {}
    for path, text in texts():
        numbers = {letter + number for letter, number in CITED.findall(text)}
        for letter, first, last in re.findall(r"([LGDBPCM])(\d+) to \1(\d+)", text):
            numbers |= {f"{letter}{number}" for number in range(int(first), int(last) + 1)}
        for number in numbers - NOT_RULES:
            found.setdefault(number, set()).add(path.relative_to(ROOT).as_posix())
    return found


def test_every_number_that_code_cites_is_in_the_handbook() -> None:
    missing = {number: files for number, files in cited().items() if number not in BY_NUMBER}
    assert missing == {}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.number)
def test_every_rule_is_cited_or_says_why_not(rule: Rule) -> None:
    assert bool(rule.uncited) is (rule.number not in cited())


def test_numbers_are_given_once_and_in_order_within_a_subject() -> None:
    numbers = [(list(SUBJECTS).index(rule.subject), int(rule.number[1:])) for rule in RULES]
    assert numbers == sorted(set(numbers))


@pytest.mark.parametrize("rule", [rule for rule in RULES if rule.example], ids=lambda r: r.number)
def test_the_arithmetic_gives_the_figures_that_were_worked_by_hand(rule: Rule) -> None:
    assert rule.example is not None
    shop = usual_shop("Millimetres", Unit.MM, "EUR", Fraction(1, 5))
    assert WORKED[rule.number](Given(shop)) == rule.example.figures


def test_no_worked_example_is_without_its_rule() -> None:
    assert set(WORKED) == {rule.number for rule in RULES if rule.example}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.number)
def test_a_rule_reads_as_sentences_and_names_its_sources(rule: Rule) -> None:
    assert rule.text.endswith(".")
    assert rule.sources
    assert all(source.text for source in rule.sources if source.standing is PUBLISHED)


@pytest.mark.parametrize("rule", [rule for rule in RULES if rule.settings], ids=lambda r: r.number)
def test_the_settings_of_a_rule_are_settings(rule: Rule) -> None:
    shop = usual_shop("Millimetres", Unit.MM, "EUR", Fraction(1, 5))
    paths = {f"{section.slug}.{path}" for section in SECTIONS for path in section.typed(shop)} | {
        "cutters",
        "work.operations",
        "tax.rates",
        "prices.tables",
        "prices.number_breaks",
    }
    assert set(rule.settings) <= paths


def test_every_drawing_belongs_to_a_rule() -> None:
    drawn = {path.stem for path in DRAWINGS.glob("*.svg")}
    assert drawn == {rule.drawing for rule in RULES if rule.drawing}
