"""The house is counted as it says, on a small invented tree."""

from pathlib import Path

import pytest

from tests.benchmarks.house import (
    EXAMPLES,
    TOP,
    Room,
    Spoken,
    files_that_speak_of,
    house_text,
    long_modules,
    rooms,
    spoken_text,
)

TREE = {
    "app/errors.py": "class Invalid(Exception):\n    pass\n",
    "app/framing/__init__.py": "",
    "app/framing/spec.py": '''"""The overlap."""
# overlap
class Mat:
    """How far the mat covers: overlap."""
    overlap: int
    reveal: int


class Board:
    overlaps: int
''',
    "app/framing/working.py": "def cut(mat):\n    return mat.overlap + mat.overlap - 1\n",
    "app/web/form.py": """LABELS = {"overlap": "Overlap of the mat", "reveal": "Reveal"}
PATHS = ("mats.0.overlap", f"piece-overlap", "the overlap is small")
def read(overlap, reveal):
    return Mat(overlap=overlap, reveal=reveal)
""",
    "app/web/order_sheet.py": "class OrderSheet:\n    pass\n",
    "app/web/routes.py": "from app.web.order_sheet import OrderSheet as Paper\n",
    "templates/pages/piece.html": '<p class="overlap">overlap: {{ page.overlap }}</p>{# overlap #}\n',
    "templates/pages/mats.html": '{% for name in ("overlap", "gap") %}<p id="x">overlap</p>{% endfor %}',
    "templates/pages/other.html": '<p title="the overlap">overlap</p>',
    "templates/papers/order_sheet.html": "<p>{{ page.title }}</p>",
}


@pytest.fixture
def top(tmp_path: Path) -> Path:
    for name, text in TREE.items():
        place = tmp_path / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text, encoding="utf-8")
    (tmp_path / "app" / "__pycache__").mkdir()
    return tmp_path


def test_rooms_are_counted_by_lines_files_and_classes(top: Path) -> None:
    assert rooms(top / "app") == (
        Room(name="framing", lines=12, files=3, classes=2),
        Room(name="web", lines=7, files=3, classes=1),
        Room(name="errors", lines=2, files=1, classes=1),
    )
    assert "app               21       7        4" in house_text(top)
    assert "Modules over 400 lines: none" in house_text(top)


def test_a_module_is_long_above_the_figure_and_not_at_it(top: Path) -> None:
    assert long_modules(top / "app", most=9) == (("framing/spec.py", 10),)
    assert long_modules(top / "app", most=10) == ()


def test_what_is_declared_is_told_from_what_is_only_read(top: Path) -> None:
    assert files_that_speak_of("overlap", top) == (
        Spoken(file="app/framing/spec.py", declared=1, read=0),
        Spoken(file="app/framing/working.py", declared=0, read=2),
        # A key, two paths, an argument and a keyword; the name is read once.
        Spoken(file="app/web/form.py", declared=5, read=1),
        Spoken(file="templates/pages/mats.html", declared=1, read=0),
        Spoken(file="templates/pages/piece.html", declared=1, read=1),
    )


def test_a_document_is_found_by_its_module_its_class_and_its_template(top: Path) -> None:
    assert files_that_speak_of("order_sheet*", top) == (
        Spoken(file="app/web/order_sheet.py", declared=2, read=0),
        Spoken(file="app/web/routes.py", declared=0, read=2),
        Spoken(file="templates/papers/order_sheet.html", declared=1, read=0),
    )


def test_what_nobody_speaks_of_has_no_files(top: Path) -> None:
    assert files_that_speak_of("core", top) == ()
    assert spoken_text("named", "core", top) == (
        "named, core: 0 files declare or copy it, 0 only read it"
    )


@pytest.mark.parametrize("pattern", EXAMPLES.values(), ids=EXAMPLES)
def test_every_example_is_still_in_the_house(pattern: str) -> None:
    assert files_that_speak_of(pattern, TOP)
