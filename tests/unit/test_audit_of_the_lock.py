"""What is said of an audit of the lock file, and that a known hole fails."""

import json
import runpy
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
verdict = runpy.run_path(str(ROOT / ".make" / "audited.py"))["verdict"]

WHOLE = {"name": "a", "version": "1.0", "vulns": []}
# Shaped as pip-audit's JSON is. Source: the readme of pip-audit 2.10, "--format json".
WITH_HOLE = {
    "name": "b",
    "version": "2.0",
    "vulns": [{"id": "PYSEC-2021-1", "fix_versions": ["2.1", "3.0"], "description": ""}],
}
UNKNOWN = {"name": "c", "skip_reason": "Dependency not found on PyPI"}


def said(*dependencies: dict[str, object]) -> tuple[str, int]:
    return verdict(json.dumps({"dependencies": dependencies, "fixes": []}))


def test_a_known_hole_fails_and_says_where_it_is_mended():
    text, code = said(WHOLE, WITH_HOLE, UNKNOWN)
    assert code == 1
    assert "b 2.0: PYSEC-2021-1, mended in 2.1, 3.0" in text


def test_without_a_hole_it_says_how_many_were_looked_up():
    assert said(WHOLE, UNKNOWN) == (
        "No hole is known in what the lock file names (1 looked up, 1 not known there).",
        0,
    )


@pytest.mark.parametrize("text", ["", "no network", json.dumps({"dependencies": [UNKNOWN]})])
def test_a_database_that_was_not_reached_is_no_verdict(text: str):
    assert verdict(text) == (
        "The lock file was not audited: no database of known holes could be reached.",
        0,
    )
