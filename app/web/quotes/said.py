"""What the quote page asks about what was said, and the buttons that answer: units of sizes, who is meant."""

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from app.errors import Fault
from app.forms.table import called
from app.orders.quoting.form import PIECE, PIECE_FIELDS
from app.orders.quoting.overruled import LEAVE_OUT, Overruled
from app.orders.quoting.reader import NOT_FOUND
from app.services.who_is_meant import WHO
from app.web.kit.fields import Answer, Question

FORM = "quote-form"
"""The id of the form of a quote on each of its pages, by which the head sends it to turn the screen."""

SAY = "say"
"""The action of the buttons, before a colon, the field's path, another one and the text."""

TRY = "try"
"""The same for the buttons that try a material which comes near a colour."""

NEW_NAME = "customer.new"
"""The field that says that the name in it is a new customer's, though somebody known may be called so."""

LEAVE = "leave"
"""The action of the buttons that empty fields, before a colon and their paths, with commas between them."""


def questions_at(asked: Iterable[Fault]) -> dict[str, Question]:
    """Return what is asked at each field."""
    return {fault.path: _question(fault.path, _which_unit(fault), fault.offers) for fault in asked}


def _which_unit(fault: Fault) -> str:
    taken = f"Taken as {fault.offers[0]}."
    field = PIECE.at[fault.path]
    if fault.path.startswith("borders."):
        return f"{called(str(field.label), str(field.within))}: in or mm? {taken}"
    return f"cm, in or mm? {taken}"


def choices_at(faults: Iterable[Fault]) -> dict[str, Question]:
    """Return what may be chosen at each field whose text fits several materials, for pages without scripts."""
    return {
        fault.path: replace(_question(fault.path, "Choose one:", fault.offers), unscripted=True)
        for fault in faults
        if fault.code == NOT_FOUND and fault.offers
    }


def not_used_at(overruled: Iterable[Overruled]) -> dict[str, Question]:
    """Return what is said at each field whose text is not used, with a button that uses it instead."""
    return {
        each.path: Question(sentence=each.why, answers=tuple(_choices(each))) for each in overruled
    }


def _choices(overruled: Overruled) -> Iterator[Answer]:
    if overruled.instead is not None:
        words, path, text = overruled.instead
        yield replace(_answer(path, text), text=words)
    if overruled.asks:
        fill = json.dumps(dict.fromkeys(overruled.paths, ""))
        action = f"{LEAVE}:{','.join(overruled.paths)}"
        yield Answer(text=LEAVE_OUT, fill=fill, action=action)


def taken_for(asked: Iterable[Fault]) -> str:
    """Return what drawing and price take doubtful sizes for; empty where none is."""
    sizes = dict.fromkeys(fault.offers[0] for fault in asked)
    return f"Taken as {' and '.join(sizes)} until you say." if sizes else ""


def said(action: str) -> Mapping[str, str]:
    """Return the fields that a pressed button fills, or empties."""
    word, _, answer = action.partition(":")
    if word == LEAVE:
        return {path: "" for path in answer.split(",") if path in PIECE_FIELDS}
    path, _, text = answer.partition(":")
    return (
        {path: text} if word in (SAY, TRY) and path in ("customer", NEW_NAME, *PIECE_FIELDS) else {}
    )


def is_it(label: str | None) -> Question:
    """Tell whether the only known customer of a name like what was typed is meant; None where there is none."""
    return _question("customer", "Somebody known?", (label,)) if label else Question()


def who_is_it(name: str, faults: Iterable[Fault]) -> Question | None:
    """Return what was asked of a name that may be somebody known's, with an answer for each and one for somebody new."""
    fault = next((each for each in faults if each.code == WHO), None)
    if fault is None:
        return None
    asked = _question("customer", "Who is it?", fault.offers)
    somebody_new = replace(_answer(NEW_NAME, name), text=f"A new customer: {name}")
    return replace(asked, answers=(*asked.answers, somebody_new))


def _question(path: str, sentence: str, texts: tuple[str, ...]) -> Question:
    return Question(sentence=sentence, answers=tuple(_answer(path, text) for text in texts))


def _answer(path: str, text: str) -> Answer:
    fill = json.dumps({path: text}, ensure_ascii=False)
    return Answer(text=text, fill=fill, action=f"{SAY}:{path}:{text}")
