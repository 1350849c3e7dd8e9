"""Faults are put in where figures are made, one at a time, and the tests that ran them are found."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from coverage import CoverageData

from tests.benchmarks.mutants import (
    Fate,
    Mutant,
    Seen,
    named_by,
    named_modules,
    nearest_first,
    score_text,
)
from tests.benchmarks.mutating import Fault, faults, with_fault


def _instead(source: str) -> list[str]:
    return [fault.now for fault in faults(source)]


@pytest.mark.parametrize(
    ("source", "instead"),
    [
        ("a < b", ["a <= b"]),
        ("a == b", ["a != b"]),
        ("a < b <= c", ["a <= b <= c", "a < b < c"]),
        ("a is None", ["a is not None"]),
        ("a in b", ["a not in b"]),
        ("a - b", ["a + b"]),
        ("a // b", ["a * b"]),
        ("a += b", ["a -= b"]),
        ("a and b", ["a or b"]),
        ("not a", ["a"]),
        ("-a", ["a"]),
        ("a = True", ["False"]),
        ("a = 7", ["8"]),
        ("min(a, b)", ["max(a, b)"]),
        ("all(a)", ["any(a)"]),
        ("for a in b: break", ["continue"]),
        ("a | b", []),
        ("a = 'text'", []),
        ("def f(a: A | 1 = 2) -> B[3]: pass", ["3"]),
        ("@d(1)\nclass A:\n    a: B[1] = 2", ["3"]),
        ("zip(a, strict=True)", []),
        ("f(a, key=1)", ["2"]),
        ("assert a < b", []),
        ("type A = B[1]", []),
    ],
)
def test_a_fault_is_one_that_hands_make(source: str, instead: list[str]) -> None:
    assert _instead(source) == instead


SOURCE = """\
def bounded(a, b):
    return min(
        a + 1,
        b,
    )
"""


def test_a_fault_knows_its_line_and_where_its_statement_begins() -> None:
    assert faults(SOURCE) == [
        Fault(statement=2, line=3, was="1", now="2"),
        Fault(statement=2, line=3, was="a + 1", now="a - 1"),
        Fault(statement=2, line=2, was="min(a + 1, b)", now="max(a + 1, b)"),
    ]


@pytest.mark.parametrize(("number", "answer"), [(0, 5), (1, 2), (2, 9)])
def test_a_mutant_has_one_fault_and_keeps_its_lines(number: int, answer: int) -> None:
    # min(3 + 1, 9) is 4; with the faults min(3 + 2, 9), min(3 - 1, 9), max(3 + 1, 9).
    tree = with_fault(SOURCE, number)
    names: dict[str, object] = {}
    exec(compile(tree, "bounded", "exec"), names)
    assert names["bounded"](3, 9) == answer  # type: ignore[operator]
    assert [node.lineno for node in ast.walk(tree) if isinstance(node, ast.Return)] == [2]


@pytest.mark.parametrize(
    ("patterns", "named"),
    [
        ([], ["app/errors.py", "app/money/kinds/tax.py", "app/money/tax.py", "app/moneybox.py"]),
        (["app/money"], ["app/money/kinds/tax.py", "app/money/tax.py"]),
        (["app/money/"], ["app/money/kinds/tax.py", "app/money/tax.py"]),
        (["*/tax.py"], ["app/money/kinds/tax.py", "app/money/tax.py"]),
        (
            ["app/errors.py", "app/m*x.py"],
            [
                "app/errors.py",
                "app/money/kinds/tax.py",
                "app/money/tax.py",
                "app/moneybox.py",
            ],
        ),
    ],
)
def test_modules_are_named_by_folders_and_patterns(patterns: list[str], named: list[str]) -> None:
    modules = ["app/errors.py", "app/money/kinds/tax.py", "app/money/tax.py", "app/moneybox.py"]
    assert named_modules(modules, patterns) == named


def test_a_context_names_a_test_or_the_import_of_a_module() -> None:
    assert named_by("tests/unit/money/test_tax.py::test_a") == (
        "tests/unit/money/test_tax.py",
        "test_a",
    )
    assert named_by("") is None


def test_the_tests_of_the_module_have_the_first_turn() -> None:
    own = ("tests/unit/money/test_tax.py", "test_a")
    room = ("tests/unit/money/test_amount.py", "test_b")
    law = ("tests/property/test_laws.py", "test_c")
    other = ("tests/unit/pricing/test_tax.py", "test_d")
    assert nearest_first([law, other, room, own, own], "app/money/tax.py") == [
        own,
        room,
        law,
        other,
    ]


@pytest.fixture
def data() -> Iterator[CoverageData]:
    kept = CoverageData(no_disk=True)
    yield kept
    kept.close(force=True)


def test_a_module_in_an_inner_room_has_its_own_tests_too() -> None:
    own = ("tests/unit/money/test_kinds_tax.py", "test_b")
    room = ("tests/unit/money/test_amount.py", "test_a")
    assert nearest_first([room, own], "app/money/kinds/tax.py") == [own, room]


def test_a_module_outside_the_rooms_is_near_to_the_tests_named_after_it() -> None:
    named = ("tests/unit/test_errors_quote.py", "test_b")
    other = ("tests/unit/cutting/test_errors.py", "test_a")
    assert nearest_first([other, named], "app/errors.py") == [named, other]


def test_the_tests_of_a_line_and_of_its_module_are_those_that_ran_it(
    tmp_path: Path, data: CoverageData
) -> None:
    module = str(tmp_path / "app" / "money" / "tax.py")
    for context, lines in {
        "": [1],
        "tests/unit/money/test_tax.py::test_a": [5],
        "tests/property/test_laws.py::test_c": [5, 9],
        "tests/unit/pricing/test_tax.py::test_d": [9],
    }.items():
        data.set_context(context)
        data.add_lines({module: lines})
    tests = Seen(data, tmp_path)

    def at(statement: int, line: int) -> Mutant:
        fault = Fault(statement=statement, line=line, was="a", now="b")
        return Mutant(module="app/money/tax.py", number=0, fault=fault)

    assert tests.modules == ["app/money/tax.py"]
    by_both = [
        ("tests/unit/money/test_tax.py", "test_a"),
        ("tests/property/test_laws.py", "test_c"),
    ]
    assert tests.of_line(at(5, 5)) == (True, by_both)
    assert tests.of_line(at(5, 7)) == (True, by_both)
    assert tests.of_line(at(1, 1)) == (True, [])
    assert tests.of_line(at(3, 4)) == (False, [])
    assert tests.of_module(at(3, 4)) == [
        "tests/unit/money/test_tax.py",
        "tests/property/test_laws.py",
    ]


def test_the_score_counts_a_fault_that_loops_as_noticed() -> None:
    fates = [Fate.KILLED, Fate.TIMED_OUT, Fate.SURVIVED, Fate.NEVER_RUN, Fate.KILLED]
    assert score_text(fates) == (
        "3 of 5 noticed (60 %): 2 killed, 1 timed out, 1 survived, 1 never run"
    )
