"""The version stands in one place, and the changelog knows it."""

import re
import tomllib
from collections import Counter
from pathlib import Path

import pytest

from app import __version__
from app.__main__ import main

ROOT = Path(__file__).parents[2]
CHANGELOG = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")

# Source: Keep a Changelog 1.1.0, "Types of changes".
KINDS = ("Added", "Changed", "Deprecated", "Removed", "Fixed", "Security")


def releases() -> list[tuple[str, str]]:
    """Each section of the changelog, newest first: its heading and what stands below."""
    parts = re.split(r"(?m)^## (.+)\n", CHANGELOG)[1:]
    return list(zip(parts[::2], parts[1::2], strict=True))


def test_packaging_reads_the_version_from_the_app():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert "version" not in project["project"]
    assert project["project"]["dynamic"] == ["version"]
    assert project["tool"]["hatch"]["version"] == {"path": "app/__init__.py"}


def test_the_program_says_its_version(capsys):
    with pytest.raises(SystemExit):
        main(["--version"])
    assert capsys.readouterr().out == f"Bevelbook {__version__}\n"


def test_the_newest_release_of_the_changelog_is_the_version_of_the_app():
    headings = [heading for heading, _ in releases()]
    assert headings[0] == "Unreleased"
    assert re.fullmatch(rf"{re.escape(__version__)} - \d{{4}}-\d\d-\d\d", headings[1])


def test_a_release_has_each_heading_once_and_only_the_usual_ones():
    for heading, text in releases():
        kinds = Counter(re.findall(r"(?m)^### (.+)$", text))
        assert set(kinds) <= set(KINDS), heading
        assert set(kinds.values()) <= {1}, heading


def test_no_entry_of_the_changelog_stands_twice():
    entries = Counter(re.findall(r"(?m)^- .+$", CHANGELOG))
    assert [entry for entry, count in entries.items() if count > 1] == []
