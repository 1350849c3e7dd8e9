"""Offset clips that hold a canvas in its frame: what is chosen against what is needed (G16).

A clip says by its name how far it is offset, "Offset clip, 12 mm"; one that says nothing of it is not judged.
"""

import re
from collections.abc import Iterable, Iterator

from app.errors import Invalid
from app.framing import Dimensions, Notice
from app.framing.notices.frames import clip_offset
from app.lengths import Length, Unit, mm, parse_length, say, show_on_rule
from app.pricing import ChosenCount

BENDS = mm(3)
"""So far from its own offset a clip still lies flat when it is screwed down. Source: from memory, a default."""

_CLIP = re.compile(r"\bclips?\b", re.IGNORECASE)
_LENGTH = re.compile(r'\d+(?:[.,]\d+)?(?:[ -]\d+/\d+|/\d+)?\s*(?:mm|in\b|")')


def offset_of(name: str) -> Length | None:
    """Return the offset of a clip by its name; None of what is no clip or says none."""
    said = _LENGTH.search(name)
    if not _CLIP.search(name) or said is None:
        return None
    try:
        return parse_length(said.group(), unit=Unit.MM)
    except Invalid:
        return None


def clip_notices(
    chosen: Iterable[ChosenCount], exact: Dimensions, unit: Unit
) -> tuple[Notice, ...]:
    """Return which of the chosen clips do not fit how far a canvas stands past its rebate.

    exact: not in steps, as depths are. Source: handbook G16.
    """
    return tuple(_notices(chosen, exact, unit))


def _notices(chosen: Iterable[ChosenCount], exact: Dimensions, unit: Unit) -> Iterator[Notice]:
    needed = clip_offset(exact)
    if needed is None:
        return
    for each in chosen:
        offset = offset_of(each.material.name)
        if offset is not None and abs(offset - needed) > BENDS:
            yield Notice(
                code="clip-does-not-fit",
                message=f"“{each.material.name}” is offset by {show_on_rule(offset, unit, mark=True)} and the offset needed is "
                f"{say(needed, unit)}: choose clips that are nearer to it"
                f"{'' if needed else ', or flat ones'}.",
            )
