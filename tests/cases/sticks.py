"""The published and planted cases for sticks as questions, and invented frames for sizes between.

Source of each case: its own `source` in cutting.json.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from app.cutting import Stick, StickPart, StickProblem, Together
from app.lengths import Length, Unit, mm


@dataclass(frozen=True, slots=True)
class StickCase:
    """A question with the least cost that it is known to have."""

    name: str
    asked: StickProblem
    best_known: Fraction
    seconds: int


@cache
def stick_cases() -> dict[str, StickCase]:
    text = Path(__file__).with_name("cutting.json").read_text(encoding="utf-8")
    cases = json.loads(text, parse_float=Fraction)["cases"]
    return {case["name"]: _case(case) for case in cases if case["kind"] == "sticks"}


def _case(case: dict[str, Any]) -> StickCase:
    request = case["request"]
    unit = Unit(request["unit"])
    stock = tuple(
        Stick(
            id=each["id"],
            length=Length.of(each["length"], unit),
            copies=each["copies"],
            cost=Fraction(each["cost"]),
        )
        for each in request["stock"]
    )
    parts = tuple(
        StickPart(id=each["id"], length=Length.of(each["length"], unit), copies=each["copies"])
        for each in request["parts"]
    )
    asked = StickProblem(
        unit=unit,
        stock=stock,
        parts=parts,
        kerf=Length.of(request["kerf"], unit),
        end_trim=Length.of(request["end_trim"], unit),
    )
    return StickCase(case["name"], asked, Fraction(case["best_known"]), request["seconds"])


PICTURES = ((130, 180), (180, 240), (210, 297), (240, 300), (297, 420), (300, 400), (400, 500))
BORDERS = (0, 0, 40, 50, 60)
FACES = (15, 20, 30, 40)


def invented_frames(
    count: int, *, seed: int = 1, together: Together = Together.PREFERRED
) -> StickProblem:
    """Frames of a busy week: pictures of usual sizes in mats, sticks of 3 m, three on the rack."""
    owned = (2210, 1430, 980)
    return StickProblem(
        unit=Unit.MM,
        stock=(
            *(
                Stick(id=f"o{place}", length=mm(each), copies=1, cost=Fraction(0))
                for place, each in enumerate(owned, start=1)
            ),
            Stick(id="new", length=mm(3000)),
        ),
        parts=tuple(part for frame in _frames(count, Random(seed)) for part in frame),
        kerf=mm(8),
        end_trim=mm(10),
        keep=mm(400),
        together=together,
    )


def _frames(count: int, chance: Random) -> Iterator[tuple[StickPart, StickPart]]:
    for number in range(1, count + 1):
        more = 2 * (chance.choice(BORDERS) + chance.choice(FACES)) + chance.randrange(-10, 11)
        width, height = (side + more for side in chance.choice(PICTURES))
        group = f"F{number}"
        yield (
            StickPart(id=f"{group}w", length=mm(width), copies=2, group=group),
            StickPart(id=f"{group}h", length=mm(height), copies=2, group=group),
        )
