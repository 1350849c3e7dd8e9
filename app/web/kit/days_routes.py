"""Tells which day is meant by what is typed, while it is typed."""

from dataclasses import dataclass, replace
from enum import StrEnum

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.days import Calendar, Towards, read_day, read_spans, show_spans
from app.errors import Fault, Invalid
from app.forms.kinds import say_day
from app.orders.open_days import MOST_CLOSED
from app.web.kit.context import Here
from app.web.kit.fields import Fields, FieldView
from app.web.kit.promised import promised_day
from app.web.kit.templating import render_part

router = APIRouter()

LONGEST = 60
"""Characters of a day; what is longer is told when the form is sent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPart:
    """The field of the day, with what it was understood as, or what is wrong: that stands as a fault once the field is left."""

    field: FieldView


class Meant(StrEnum):
    """What a field asks for: a day to come, one of the past, one for which work is promised, or closed days and spans of them, a line each."""

    COMING = "coming"
    PAST = "past"
    PROMISED = "promised"
    CLOSED = "closed"


@router.get("/days")
def tell(
    here: Here, field: str = "", text: str = "", towards: Meant = Meant.COMING
) -> HTMLResponse:
    """Show what was understood by a day, or by days, or what is wrong with it; nothing for a blank one."""
    calendar = here.shop.calendar(here.today)
    faults: tuple[Fault, ...] = ()
    try:
        understood = _understood(text, here, calendar, towards, field)
    except Invalid as invalid:
        understood, faults = "", invalid.faults
    view = Fields({}, faults).field(field, "")
    told = replace(view, understood=view.error or understood)
    return render_part("partials/_day.html", DayPart(field=told))


def _understood(text: str, here: Here, calendar: Calendar, meant: Meant, path: str) -> str:
    """Raises: Invalid at the path where a day cannot be read."""
    if meant is Meant.CLOSED:
        return show_spans(read_spans(text, calendar, longest=MOST_CLOSED, path=path))
    typed = text.strip()[:LONGEST]
    if not typed:
        return ""
    towards = Towards.PAST if meant is Meant.PAST else Towards.COMING
    day = read_day(typed, calendar, towards=towards, path=path)
    if meant is Meant.PROMISED:
        return promised_day(day, calendar, here.shop.open_days)
    return say_day(day, calendar)
