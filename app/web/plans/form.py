"""Reads the forms of cutting plans: what is to be planned, and what is kept of a stick or sheet."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from app.cutting import Together
from app.days import Calendar, read_day
from app.errors import Fault, Invalid, quoted
from app.forms.kinds import TICK, FieldKind, Options, text_of
from app.forms.reader import Reader, whole_number
from app.forms.table import Field, Form, Typed
from app.orders import Shop
from app.services.booked_bin import ToKeep
from app.services.open_work import OpenWork, WorkFilter
from app.services.plan_drafts import MOST_SECONDS, Wish
from app.stock.planning.plans import BinAt

PIECE = "piece."
MATERIAL = "material."
HABIT = "habit"

LONGEST_PLACE = 60
"""As an item of the stock has it."""

TOGETHER_WORDS: Mapping[Together, str] = {
    Together.PREFERRED: "From one stick where that needs no extra stick",
    Together.ALWAYS: "From one stick, even where that needs an extra one",
    Together.NO_MATTER: "From any sticks",
}


def _seconds(read: Reader, path: str, _usual: None) -> int | None:
    text = read.raw(path)
    if not text:
        return None
    seconds = whole_number(text, digits=4)
    if seconds is None:
        read.faults.add(
            path,
            f"{quoted(text)} is no number of seconds; 1 to {MOST_SECONDS} are allowed for a material, or none.",
        )
        return None
    if not 1 <= seconds <= MOST_SECONDS:
        read.faults.add(
            path,
            f"{int(text)} seconds were asked for; 1 to {MOST_SECONDS} are allowed for a material.",
        )
        return None
    return int(text)


def _together(read: Reader, path: str, _usual: None) -> Together | None:
    text = read.typed.get(path, HABIT)
    if text in set(Together):
        return Together(text)
    if text != HABIT:
        read.faults.add(
            path, f"{quoted(text)} is not a way to cut frames; choose one of those shown."
        )
    return None


def _ways(shop: Shop) -> Options:
    habit = TOGETHER_WORDS[shop.cutting.together]
    return (
        (HABIT, f"As in Settings: {habit[0].lower()}{habit[1:]}"),
        *((each.value, words) for each, words in TOGETHER_WORDS.items()),
    )


PLANNING = Form[Shop](
    Field(
        "together",
        "The rails of one frame",
        FieldKind(control="radios", read=_together, text=lambda way, _known: str(way)),
        options=_ways,
    ),
    Field(
        "seconds",
        "Time to search, seconds a material",
        FieldKind(control="number", read=_seconds, text=lambda seconds, _known: str(seconds)),
        f"Usually 2, and 10 for over 150 parts; up to {MOST_SECONDS}.",
    ),
)
"""How it is planned; what is, is ticked."""


def read_due(text: str, calendar: Calendar) -> date | None:
    """Read the day in an address; it is None where there is none or it cannot be read."""
    try:
        return read_day(text, calendar) if text.strip() else None
    except Invalid:
        return None


def fault_of_due(text: str, calendar: Calendar, *, listed: bool) -> tuple[Fault, ...]:
    """Say that the day in an address cannot be read; nothing where it can, or there is none.

    listed: whether any work is shown instead.
    """
    if not text.strip():
        return ()
    try:
        read_day(text, calendar, path="due")
    except Invalid as invalid:
        (fault,) = invalid.faults
        return (
            replace(fault, message=f"{fault.message} All open work is shown.") if listed else fault,
        )
    return ()


def read_wish(typed: Typed, work: OpenWork, shop: Shop) -> Wish:
    """Read which pieces and materials of the open work to plan, and how. Raises: Invalid with every fault."""
    read = PLANNING.reader(typed, shop)
    pieces = frozenset(
        piece.ref.piece_id for piece in work.pieces if typed.get(f"{PIECE}{piece.ref.piece_id}")
    )
    codes = {part.material.code for part in work.parts}
    materials = frozenset(code for code in codes if typed.get(f"{MATERIAL}{code}"))
    if not pieces:
        read.faults.add("pieces", "No piece is chosen; tick at least one.")
    if not materials:
        read.faults.add("materials", "No material is chosen; tick at least one.")
    values = PLANNING.values(read, shop)
    read.faults.finish()
    return Wish(work=WorkFilter(pieces=pieces, materials=materials), **values)


def prefix_of(at: BinAt) -> str:
    """Return how the paths of a stick's or sheet's fields begin, so that no two on the page are alike."""
    return f"bin.{at.section}.{at.bin}"


def name_of_bins(bins: Iterable[BinAt]) -> str:
    """Name sticks and sheets in one field: "3.1,4.2"."""
    return ",".join(f"{at.section}.{at.bin}" for at in bins)


def read_bins(named: str) -> tuple[BinAt, ...]:
    """Read the sticks and sheets that a field names. Raises: Invalid where it names none or is unreadable."""
    if not _BINS.fullmatch(named):
        raise Invalid.at("bins", "No stick or sheet was named; choose what is cut.")
    return tuple(
        BinAt(section=int(section), bin=int(number))
        for section, _, number in (each.partition(".") for each in named.split(","))
    )


_BINS = re.compile(r"[0-9]{1,4}\.[0-9]{1,4}(,[0-9]{1,4}\.[0-9]{1,4})*")


def kept_rest(path: str, rest: str = "") -> Form[Shop]:
    """Return the form of a rest that may be kept, beneath a path.

    rest: what it is, in words.
    """
    return Form[Shop](
        Field("keep", f"Keep: {rest}", TICK), Field("place", "Place", text_of(LONGEST_PLACE))
    ).under(path, rest)


def read_to_keep(
    typed: Typed, shop: Shop, at: BinAt, offcuts: int, fallouts: Sequence[str]
) -> ToKeep:
    """Read which rests of a stick or sheet are kept, and where.

    offcuts: how many offcuts are on offer. fallouts: the ids of those on offer.

    Raises: Invalid at the fields of places.
    """
    read = Reader(typed, shop.unit, shop.currency)
    prefix = prefix_of(at)

    def place(path: str) -> str | None:
        kept = read.ticked(f"{path}.keep")
        return kept_rest(path).values(read, shop)["place"] if kept else None

    kept = tuple(place(f"{prefix}.offcut.{number}") for number in range(offcuts))
    dropped = {
        id: where
        for number, id in enumerate(fallouts)
        if (where := place(f"{prefix}.fallout.{number}")) is not None
    }
    read.faults.finish()
    return ToKeep(offcuts=kept, fallouts=dropped)


def read_tick(typed: Typed) -> tuple[str, bool]:
    """Read what a button ticks, and whether it does or takes the tick back: a part, or "section.3" for all of it."""
    for name, ticked in (("tick", True), ("untick", False)):
        if named := typed.get(name, "").strip():
            return named, ticked
    return typed.get("part", "").strip(), typed.get("ticked") == "1"


def read_part(typed: Typed) -> str:
    """Read the id of the part that a form is about. Raises: Invalid where there is none."""
    part = typed.get("part", "").strip()
    if not part:
        raise Invalid.at("part", "No part was chosen.")
    return part
