"""Pieces worked out by hand from the handbook's rules, as requests and the answers they must get.

`working` is the sum as it stands on paper. Expected trees are parts of the answer: what is named there
must be equal, what is not named is not looked at. Lengths are exact text as in the JSON contract.
"""

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any


@dataclass(frozen=True, slots=True)
class Worked:
    """One piece by hand. notices: the codes of all notices, in order, or None where not listed."""

    id: str
    working: tuple[str, ...]
    asked: dict[str, Any]
    answer: dict[str, Any]
    notices: tuple[str, ...] | None


@cache
def worked_pieces() -> tuple[Worked, ...]:
    """Every piece of worked.json."""
    text = Path(__file__).with_name("worked.json").read_text(encoding="utf-8")
    return tuple(
        Worked(
            id=piece["id"],
            working=tuple(piece["working"]),
            asked=piece["asked"],
            answer=piece["answer"],
            notices=tuple(piece["notices"]) if "notices" in piece else None,
        )
        for piece in json.loads(text)
    )


def differences(expected: Any, given: Any, path: str = "") -> list[str]:
    """Where an answer differs from what is expected of it; members not expected are not read."""
    if isinstance(expected, dict) and isinstance(given, dict):
        return [
            line
            for key, value in expected.items()
            for line in differences(value, given.get(key, "missing"), f"{path}.{key}")
        ]
    if isinstance(expected, list) and isinstance(given, list) and len(expected) == len(given):
        return [
            line
            for index, (one, other) in enumerate(zip(expected, given, strict=True))
            for line in differences(one, other, f"{path}.{index}")
        ]
    return [] if expected == given else [f"{path.lstrip('.')}: {given!r}, by hand {expected!r}"]
