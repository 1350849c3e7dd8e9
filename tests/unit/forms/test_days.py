"""Days in a form: read as they are said, from the day that the form knows as today, and written back."""

from dataclasses import dataclass
from datetime import date

import pytest

from app.days import Calendar, DayOrder
from app.errors import Invalid
from app.forms.kinds import DAY, PAST_DAY, In
from app.forms.table import Field, Form
from app.lengths import Unit
from app.money import currency


@dataclass(frozen=True)
class OnADay(In):
    """What a form follows from on 25 November 2026, a Wednesday."""

    calendar: Calendar = Calendar(today=date(2026, 11, 25))


KNOWN = OnADay(Unit.MM, currency("EUR"))
FORM = Form[OnADay](
    Field("due", "Ready on", DAY), Field("paid", "Pay by", DAY), Field("told", "Told on", PAST_DAY)
)
NONE = {"due": "", "paid": "", "told": ""}


def test_a_day_is_read_and_written_back() -> None:
    """29 February 2028 is a day, since 2028 is a leap year."""
    typed = {"due": " 2028-02-29 ", "paid": ""}
    values = FORM.read(typed, KNOWN)
    assert values == {"due": date(2028, 2, 29), "paid": None, "told": None}
    written = FORM.typed(values.__getitem__, KNOWN)
    assert written == NONE | {"due": "29 Feb 2028"}
    assert FORM.read(written, KNOWN) == values


def test_each_field_says_which_way_a_day_without_a_year_lies() -> None:
    values = FORM.read({"due": "10.12.", "paid": "Friday", "told": "10.12."}, KNOWN)
    assert values == {
        "due": date(2026, 12, 10),
        "paid": date(2026, 11, 27),
        "told": date(2025, 12, 10),
    }


def test_the_shop_says_what_stands_first() -> None:
    calendar = Calendar(today=date(2026, 11, 25), order=DayOrder.MONTH_FIRST)
    values = FORM.read({"due": "12/10"}, OnADay(Unit.IN, currency("USD"), calendar))
    assert values["due"] == date(2026, 12, 10)


def test_what_was_understood_stands_beside() -> None:
    told = DAY.told
    assert told is not None
    assert told("in 2 weeks", KNOWN) == "Wed 9 Dec 2026, in 14 days"
    assert told("31 Feb", KNOWN) is None
    assert told("", KNOWN) is None


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "2026-02-29",
            "“2026-02-29” does not exist; February has 28 days in 2026.",
        ),
        (
            "10",
            "“10” is a number without its month; type the day as 13 Dec, 13/12, Friday, in 2 weeks or "
            "2026-12-13.",
        ),
        ("1999-12-31", "“1999-12-31” lies too far away; years from 2000 to 2200 are kept."),
        ("2201-01-01", "“2201-01-01” lies too far away; years from 2000 to 2200 are kept."),
    ],
)
def test_what_is_no_day_is_refused_at_its_field(text: str, sentence: str) -> None:
    with pytest.raises(Invalid) as refused:
        FORM.read({"due": text, "paid": "2026-12-10"}, KNOWN)
    assert [(fault.path, fault.message) for fault in refused.value.faults] == [("due", sentence)]
