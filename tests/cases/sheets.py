"""The published and planted cases for sheets as questions, and invented frames for sizes between.

Source of each case: its own `source` in cutting.json.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from app.cutting import Sheet, SheetPart, SheetProblem
from app.lengths import ZERO, Length, Size, Unit, mm
from tests.builders.values import size


@dataclass(frozen=True, slots=True)
class SheetCase:
    """A question with the least cost that it is known to have."""

    name: str
    asked: SheetProblem
    best_known: Fraction
    seconds: int


@cache
def sheet_cases() -> dict[str, SheetCase]:
    text = Path(__file__).with_name("cutting.json").read_text(encoding="utf-8")
    cases = json.loads(text, parse_float=Fraction)["cases"]
    return {case["name"]: _case(case) for case in cases if case["kind"] == "sheets"}


def _case(case: dict[str, Any]) -> SheetCase:
    request = case["request"]
    unit = Unit(request["unit"])

    def size(each: dict[str, str]) -> Size:
        return Size(Length.of(each["width"], unit), Length.of(each["height"], unit))

    asked = SheetProblem(
        unit=unit,
        stock=tuple(
            Sheet(
                id=each["id"],
                size=size(each),
                copies=each["copies"],
                cost=Fraction(each["cost"]),
            )
            for each in request["stock"]
        ),
        parts=tuple(
            SheetPart(id=each["id"], size=size(each), copies=each["copies"], turn=each["turn"])
            for each in request["parts"]
        ),
        kerf=Length.of(request["kerf"], unit),
        trim=Length.of(request["trim"], unit),
    )
    return SheetCase(case["name"], asked, Fraction(case["best_known"]), request["seconds"])


NEW = Sheet(id="new", size=size(1120, 815))
"""A sheet of mat board, 44 x 32 in as it is sold in millimetres. Source: common practice."""


def asked_for(
    *parts: SheetPart,
    stock: Iterable[Sheet] = (NEW,),
    kerf: Length = ZERO,
    trim: Length = ZERO,
    stages: int | None = 3,
    keep: Size | None = None,
) -> SheetProblem:
    """A question in millimetres; a cut takes nothing away and no edge is trimmed unless it says so."""
    return SheetProblem(
        unit=Unit.MM,
        stock=tuple(stock),
        parts=parts,
        kerf=kerf,
        trim=trim,
        stages=stages,
        keep=keep,
    )


PICTURES = ((130, 180), (180, 240), (210, 297), (240, 300), (297, 420), (300, 400), (400, 500))
BORDERS = (0, 20, 40, 50, 60, 75)

SHEETS = {"mats": (1120, 815), "glass": (1220, 915), "backs": (2440, 1220)}
"""The sheet of each material. Source: usual sizes as sold, common practice."""


def invented_blanks(count: int, material: str, *, seed: int = 1) -> SheetProblem:
    """What so many invented frames need of one material: mats may lie either way round, backs too.

    Backs are sawn, so a kerf and trims are lost; knife and glass cutter lose nothing. Three offcuts lie on
    the rack.
    """
    chance = Random(seed)
    whole = size(*SHEETS[material])
    sawn = material == "backs"
    rack = tuple(
        Sheet(
            id=f"o{place}",
            size=size(chance.randrange(250, 800), chance.randrange(250, 800)),
            copies=1,
            cost=Fraction(0),
        )
        for place in range(1, 4)
    )
    parts = []
    for number in range(1, count + 1):
        more = 2 * chance.choice(BORDERS) + chance.randrange(-10, 11)
        width, height = (side + more for side in chance.choice(PICTURES))
        parts.append(SheetPart(id=f"F{number}", size=size(width, height)))
    return SheetProblem(
        unit=Unit.MM,
        stock=(*rack, Sheet(id="new", size=whole)),
        parts=tuple(parts),
        kerf=mm(3) if sawn else ZERO,
        trim=mm(5) if sawn else ZERO,
        keep=size(100, 150),
    )
