"""Worked examples as data, each with its source beside it."""

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any


@dataclass(frozen=True, slots=True)
class Case:
    """One worked example; lengths are strings in the unit that its names say."""

    id: str
    inputs: dict[str, Any]
    expected: dict[str, Any]
    source: str


@cache
def _published() -> dict[str, Case]:
    text = Path(__file__).with_name("published.json").read_text(encoding="utf-8")
    cases = (
        Case(case["id"], case["inputs"], case["expected"], case["source"])
        for case in json.loads(text)["cases"]
    )
    return {case.id: case for case in cases}


def case(id: str) -> Case:
    """The published case of an id, as "len-1"."""
    return _published()[id]
