"""The address of a list of pieces that are cut together: which pieces it names, read and written."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from app.errors import quoted
from app.services.bench import PieceAt
from app.services.cut_together import StepAt
from app.web.kit.context import LARGEST_ID

TOGETHER = "/bench/together"

MOST_NAMED = 200
"""What an address names beyond so many is not looked at. Source: ours."""

_NAMED = re.compile(r"([1-9][0-9]{0,18})\.([1-9][0-9]{0,18})", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPieces:
    """The pieces that an address names, each once, and what is wrong with the rest, in sentences."""

    pieces: tuple[PieceAt, ...]
    unread: tuple[str, ...]


def named_pieces(texts: Sequence[str]) -> NamedPieces:
    """Read the pieces of an address, each as "12.1": the id of its order, its number there."""
    pieces: dict[PieceAt, None] = {}
    unread: list[str] = []
    for text in dict.fromkeys(texts[:MOST_NAMED]):
        at = piece_named(text)
        if at is None:
            unread.append(f"{quoted(text, limit=24)} names no piece.")
        else:
            pieces[at] = None
    if len(texts) > MOST_NAMED:
        unread.append(
            f"The address names {len(texts)} pieces; only the first {MOST_NAMED} were looked at."
        )
    return NamedPieces(pieces=tuple(pieces), unread=tuple(unread))


def piece_named(text: str) -> PieceAt | None:
    """Read one piece; None for what names none."""
    named = _NAMED.fullmatch(text.strip())
    if named is None:
        return None
    order_id, number = int(named[1]), int(named[2])
    if max(order_id, number) > LARGEST_ID:
        return None
    return PieceAt(order_id=order_id, number=number)


def name_in_address(at: PieceAt) -> str:
    """Write a piece as an address names it: "12.1"."""
    return f"{at.order_id}.{at.number}"


def together_at(pieces: Iterable[PieceAt], marks: PieceAt | None = None, path: str = "") -> str:
    """Return the address of a page about some pieces. marks: of which of them the marks are shown; path: below it."""
    query = [("piece", name_in_address(at)) for at in pieces]
    if marks is not None:
        query.append(("marks", name_in_address(marks)))
    return f"{TOGETHER}{path}?{urlencode(query)}" if query else f"{TOGETHER}{path}"


def steps_named(text: str) -> tuple[StepAt, ...]:
    """Read the steps of a box, "12.1/mat-1-cut-2" each, blanks between them; what names none is left out."""
    found = []
    for each in text.split():
        named, _, step = each.partition("/")
        at = piece_named(named)
        if at is not None and step:
            found.append(StepAt(piece=at, step=step))
    return tuple(found)


def steps_in_box(steps: Iterable[StepAt]) -> str:
    """Write the steps of a box as `steps_named` reads them."""
    return " ".join(f"{name_in_address(each.piece)}/{each.step}" for each in steps)
