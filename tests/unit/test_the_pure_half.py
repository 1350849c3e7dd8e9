"""The pure half must be right for years: no clock, chance, files or binary fractions in it.

The import contract in pyproject.toml names what may not come in; this reads the source itself, and
so also sees calls and literals. Only what is listed here may be imported from the standard library.
"""

import ast
from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from pathlib import Path

import pytest

APP = Path(__file__).parents[2] / "app"
PURE = (
    "errors.py",
    "colours.py",
    "counting.py",
    "days",
    "journal.py",
    "lengths",
    "money",
    "framing",
    "bench",
    "forms",
    "pricing",
    "cutting",
    "orders",
    "stock",
    "handbook",
)
EXACT = ("lengths", "money")

MAY_IMPORT = {
    "abc",
    "app",
    "bisect",
    "calendar",
    "collections",
    "copy",
    "dataclasses",
    "datetime",
    "decimal",
    "enum",
    "fractions",
    "functools",
    "heapq",
    "itertools",
    "math",
    "operator",
    "re",
    "string",
    "types",
    "typing",
    "unicodedata",
}
WAYS_OUT = {"open", "print", "input", "eval", "exec", "__import__", "breakpoint"}
CLOCKS = {"now", "utcnow", "today"}

# The one library that has a way in, and the only modules that it has it by.
SOLVER = "packingsolver"
SOLVER_MODULES = "cutting/s*/solver.py"


def _imported(node: ast.AST) -> list[str]:
    match node:
        case ast.Import(names=names):
            return [alias.name for alias in names]
        case ast.ImportFrom(level=0, module=str(module)):
            return [module]
    return []


def _faults(node: ast.AST, *, exact: bool, may_import: AbstractSet[str]) -> Iterator[str]:
    yield from (
        f"imports {name}" for name in _imported(node) if name.split(".")[0] not in may_import
    )
    match node:
        case ast.Call(func=ast.Name(id=name)) if name in WAYS_OUT:
            yield f"calls {name}"
        case ast.Call(func=ast.Attribute(attr=name)) if name in CLOCKS:
            yield f"reads the clock by {name}"
        case ast.Call(func=ast.Name(id="float")) if exact:
            yield "makes a float"
        case ast.Constant(value=float()) if exact:
            yield f"holds the float {node.value}"


def impurities(source: str, *, exact: bool, solver: bool = False) -> list[str]:
    """What in a module's source the pure half may not hold, each with its line.

    exact: whether binary fractions are out too, as they are for lengths and money. solver: whether
    the module may speak to the solver.
    """
    may_import = MAY_IMPORT | ({SOLVER} if solver else set())
    return [
        f"line {node.lineno}: {fault}"
        for node in ast.walk(ast.parse(source))
        for fault in _faults(node, exact=exact, may_import=may_import)
    ]


def pure_modules() -> list[Path]:
    places = [APP / name for name in PURE]
    return sorted(
        module
        for place in places
        for module in ([place] if place.suffix else place.rglob("*.py"))
        if module.exists()
    )


@pytest.mark.parametrize("module", pure_modules(), ids=lambda path: str(path.relative_to(APP)))
def test_a_module_of_the_pure_half_is_pure(module):
    place = module.relative_to(APP)
    exact, solver = place.parts[0] in EXACT, place.match(SOLVER_MODULES)
    assert impurities(module.read_text(encoding="utf-8"), exact=exact, solver=solver) == []


def test_only_the_modules_named_after_the_solver_may_speak_to_it():
    source = "def f():\n    from packingsolver import onedimensional"
    assert impurities(source, exact=False, solver=True) == []
    assert impurities(source, exact=False) == ["line 2: imports packingsolver"]


@pytest.mark.parametrize(
    ("source", "fault"),
    [
        ("import random", "line 1: imports random"),
        ("import os.path", "line 1: imports os.path"),
        ("from pathlib import Path", "line 1: imports pathlib"),
        ("def f():\n    import time", "line 2: imports time"),
        ("import sqlalchemy", "line 1: imports sqlalchemy"),
        ("open('x')", "line 1: calls open"),
        ("print('x')", "line 1: calls print"),
        ("datetime.now()", "line 1: reads the clock by now"),
        ("datetime.date.today()", "line 1: reads the clock by today"),
    ],
)
def test_a_way_out_of_the_pure_half_is_seen(source, fault):
    assert impurities(source, exact=False) == [fault]


@pytest.mark.parametrize(
    ("source", "fault"),
    [("x = 25.4", "line 1: holds the float 25.4"), ("float('1')", "line 1: makes a float")],
)
def test_a_binary_fraction_is_seen_where_numbers_are_exact(source, fault):
    assert impurities(source, exact=True) == [fault]
    assert impurities(source, exact=False) == []


def test_plain_arithmetic_is_pure():
    source = "from fractions import Fraction\nfrom app.errors import Invalid\nx = Fraction(254, 10)"
    assert impurities(source, exact=True) == []
