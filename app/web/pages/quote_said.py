"""What the quote page asks about a size that was said without a unit, and the buttons that answer."""

import json
from collections.abc import Iterable, Mapping

from app.errors import Fault
from app.orders.typed import PIECE_FIELDS
from app.web.fields import Answer, Question

SAY = "say"
"""The action of the buttons, before a colon, the field's path, another one and the size."""


def questions_at(asked: Iterable[Fault]) -> dict[str, Question]:
    """What is asked at each field."""
    return {fault.path: _question(fault) for fault in asked}


def taken_for(asked: Iterable[Fault]) -> str:
    """What drawing and price take doubtful sizes for; empty where none is."""
    sizes = dict.fromkeys(fault.offers[0] for fault in asked)
    return f"Taken as {' and '.join(sizes)} until you say." if sizes else ""


def said(action: str) -> Mapping[str, str]:
    """The field that a pressed button fills."""
    word, _, answer = action.partition(":")
    path, _, size = answer.partition(":")
    return {path: size} if word == SAY and path in PIECE_FIELDS else {}


def _question(fault: Fault) -> Question:
    return Question(
        sentence=f"cm, in or mm? Taken as {fault.offers[0]}.",
        answers=tuple(_answer(fault.path, size) for size in fault.offers),
    )


def _answer(path: str, size: str) -> Answer:
    fill = json.dumps({path: size}, ensure_ascii=False)
    return Answer(text=size, fill=fill, action=f"{SAY}:{path}:{size}")
