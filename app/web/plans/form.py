"""Reads the forms of cutting plans: what is to be planned, and what is kept of a stick or sheet."""

from collections.abc import Mapping, Sequence
from datetime import date

from app.cutting import Together
from app.errors import FaultCollector, Invalid, quoted
from app.services.open_work import OpenWork, WorkFilter
from app.services.plan_bookings import ToKeep
from app.services.plan_drafts import MOST_SECONDS, Wish
from app.stock.planning.plans import BinAt

PIECE = "piece."
MATERIAL = "material."
HABIT = "habit"

LONGEST_PLACE = 60
"""As an item of the stock has it."""

type Typed = Mapping[str, str]


def read_due(text: str) -> date | None:
    """A day in an address; None where there is none or it cannot be read."""
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return None


def read_wish(typed: Typed, work: OpenWork) -> Wish:
    """What is to be planned, of the open work. Raises: Invalid with every fault."""
    faults = FaultCollector()
    pieces = frozenset(
        piece.ref.piece_id for piece in work.pieces if typed.get(f"{PIECE}{piece.ref.piece_id}")
    )
    codes = {part.material.code for part in work.parts}
    materials = frozenset(code for code in codes if typed.get(f"{MATERIAL}{code}"))
    if not pieces:
        faults.add("pieces", "No piece is chosen; tick at least one.")
    if not materials:
        faults.add("materials", "No material is chosen; tick at least one.")
    seconds = _seconds(typed, faults)
    together = _together(typed, faults)
    faults.finish()
    wanted = WorkFilter(pieces=pieces, materials=materials)
    return Wish(work=wanted, seconds=seconds, together=together)


def _seconds(typed: Typed, faults: FaultCollector) -> int | None:
    text = typed.get("seconds", "").strip()
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and 1 <= len(text) <= 4):
        faults.add(
            "seconds",
            f"{quoted(text)} is no number of seconds; 1 to {MOST_SECONDS} are allowed for a material, or none.",
        )
        return None
    if not 1 <= int(text) <= MOST_SECONDS:
        faults.add(
            "seconds",
            f"{int(text)} seconds were asked for; 1 to {MOST_SECONDS} are allowed for a material.",
        )
        return None
    return int(text)


def _together(typed: Typed, faults: FaultCollector) -> Together | None:
    text = typed.get("together", HABIT)
    if text == HABIT:
        return None
    if text in set(Together):
        return Together(text)
    faults.add("together", f"{quoted(text)} is not a way to cut frames; choose one of those shown.")
    return None


def prefix_of(at: BinAt) -> str:
    """How the fields of a stick or sheet begin, so that each has a name of its own on the page."""
    return f"bin.{at.section}.{at.bin}"


def read_to_keep(typed: Typed, at: BinAt, offcuts: int, fallouts: Sequence[str]) -> ToKeep:
    """What is kept of a stick or sheet, and where. fallouts: the ids of those on offer.

    Raises: Invalid at the fields of places.
    """
    faults = FaultCollector()
    prefix = prefix_of(at)

    def place(path: str) -> str | None:
        if not typed.get(f"{path}.keep"):
            return None
        text = typed.get(f"{path}.place", "").strip()
        if len(text) > LONGEST_PLACE:
            faults.add(
                f"{path}.place",
                f"The place has {len(text)} characters; at most {LONGEST_PLACE} are kept.",
            )
        return text

    kept = tuple(place(f"{prefix}.offcut.{number}") for number in range(offcuts))
    dropped = {
        id: where
        for number, id in enumerate(fallouts)
        if (where := place(f"{prefix}.fallout.{number}")) is not None
    }
    faults.finish()
    return ToKeep(offcuts=kept, fallouts=dropped)


def read_part(typed: Typed) -> str:
    """The id of a part that a form is about. Raises: Invalid where there is none."""
    part = typed.get("part", "").strip()
    if not part:
        raise Invalid.at("part", "No part was chosen.")
    return part
