"""DEVELOPERS.md says of each requirement of a published standard whether it holds, and by which test."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
TESTS = ROOT / "tests"

# Source: OWASP Application Security Verification Standard 5.0.0, all requirements of level 1.
LEVEL_1 = [
    "1.2.1",
    "1.2.2",
    "1.2.3",
    "1.2.4",
    "1.2.5",
    "1.3.1",
    "1.3.2",
    "1.5.1",
    "2.1.1",
    "2.2.1",
    "2.2.2",
    "2.3.1",
    "3.2.1",
    "3.2.2",
    "3.3.1",
    "3.4.1",
    "3.4.2",
    "3.5.1",
    "3.5.2",
    "3.5.3",
    "4.1.1",
    "4.4.1",
    "5.2.1",
    "5.2.2",
    "5.3.1",
    "5.3.2",
    "6.1.1",
    "6.2.1",
    "6.2.2",
    "6.2.3",
    "6.2.4",
    "6.2.5",
    "6.2.6",
    "6.2.7",
    "6.2.8",
    "6.3.1",
    "6.3.2",
    "6.4.1",
    "6.4.2",
    "7.2.1",
    "7.2.2",
    "7.2.3",
    "7.2.4",
    "7.4.1",
    "7.4.2",
    "8.1.1",
    "8.2.1",
    "8.2.2",
    "8.3.1",
    "9.1.1",
    "9.1.2",
    "9.1.3",
    "9.2.1",
    "10.4.1",
    "10.4.2",
    "10.4.3",
    "10.4.4",
    "10.4.5",
    "11.3.1",
    "11.3.2",
    "11.4.1",
    "12.1.1",
    "12.2.1",
    "12.2.2",
    "13.4.1",
    "14.2.1",
    "14.3.1",
    "15.1.1",
    "15.2.1",
    "15.3.1",
]


def rows() -> list[tuple[str, str, str]]:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return re.findall(r"(?m)^\| V([\d.]+) [^|]+ \| ([^|]+) \| ([^|]+) \|$", text)


def test_each_requirement_of_the_level_has_a_row_and_nothing_else_has_one():
    assert [number for number, _, _ in rows()] == LEVEL_1
    assert {verdict for _, verdict, _ in rows()} == {"met", "not applicable", "exception"}


def test_what_is_met_names_tests_that_are_there_and_all_else_gives_a_reason():
    for number, verdict, why in rows():
        named = re.findall(r"`([\w/]+)::(test_\w+)`", why)
        if verdict != "met":
            assert len(why.split()) >= 3, number
            continue
        assert named, number
        for path, test in named:
            text = (TESTS / f"{path}.py").read_text(encoding="utf-8")
            assert re.search(rf"(?m)^def {test}\b", text), (number, path, test)
