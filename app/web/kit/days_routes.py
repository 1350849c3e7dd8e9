"""Tells which day is meant by what is typed, while it is typed."""

from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.days import Towards, read_day
from app.errors import Fault, Invalid
from app.forms.table import understood_day
from app.web.kit.context import Here
from app.web.kit.fields import Fields, FieldView
from app.web.kit.templating import render_part

router = APIRouter()

LONGEST = 60
"""Characters of a day; what is longer is told when the form is sent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPart:
    """The field of the day, with what it was understood as."""

    field: FieldView


@router.get("/days")
def tell(
    here: Here, field: str = "", text: str = "", towards: Towards = Towards.COMING
) -> HTMLResponse:
    """Show what was understood by a day, or what is wrong with it; nothing for a blank one."""
    calendar, typed = here.shop.calendar(here.today), text.strip()[:LONGEST]
    faults: tuple[Fault, ...] = ()
    if typed:
        try:
            read_day(typed, calendar, towards=towards, path=field)
        except Invalid as invalid:
            faults = invalid.faults
    understood = understood_day(typed, calendar, towards)
    told = {field: understood} if understood else {}
    return render_part(
        "partials/_day.html", DayPart(field=Fields({}, faults, told).field(field, ""))
    )
