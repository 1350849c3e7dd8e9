"""Days as typed. 29 November 2026 was a Sunday, by any calendar; the rest is counted from it by hand."""

from datetime import date

import pytest

from app.days import Calendar, DayOrder, Towards, examples, read_day
from app.errors import Invalid

TODAY = date(2026, 11, 29)
DAY_FIRST = Calendar(today=TODAY)
MONTH_FIRST = Calendar(today=TODAY, order=DayOrder.MONTH_FIRST)
DEC_13 = date(2026, 12, 13)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("13 Dec", DEC_13),
        ("13 dec", DEC_13),
        ("13dec", DEC_13),
        ("13. December", DEC_13),
        ("13th of December", DEC_13),
        ("Dec 13", DEC_13),
        ("December 13, 2027", date(2027, 12, 13)),
        ("13 December 2027", date(2027, 12, 13)),
        ("13-Dec-27", date(2027, 12, 13)),
        ("13.12.", DEC_13),
        ("13.12", DEC_13),
        ("13. 12. 2027", date(2027, 12, 13)),
        ("13.12.26", DEC_13),
        ("2026-12-13", DEC_13),
        ("13/12", DEC_13),
        ("13/12/2027", date(2027, 12, 13)),
        ("1/2", date(2027, 2, 1)),
        ("Sun 13 Dec 2026", DEC_13),
        ("Sunday, 13 Dec", DEC_13),
        ("  13   Dec ", DEC_13),
        ("1 sept", date(2027, 9, 1)),
        ("today", TODAY),
        ("Tomorrow", date(2026, 11, 30)),
        ("yesterday", date(2026, 11, 28)),
        ("in 2 weeks", DEC_13),
        ("2 weeks", DEC_13),
        ("two weeks", DEC_13),
        ("in two weeks", DEC_13),
        ("in a week", date(2026, 12, 6)),
        ("in 18 days", date(2026, 12, 17)),
        ("in 3 months", date(2027, 2, 28)),
        ("in 1 year", date(2027, 11, 29)),
        ("3 days ago", date(2026, 11, 26)),
        ("Friday", date(2026, 12, 4)),
        ("on Fri", date(2026, 12, 4)),
        ("Sunday", date(2026, 12, 6)),  # never today, which has a word of its own
        ("next Tue", date(2026, 12, 1)),  # of the week that begins on Monday, 30 November
        ("this Friday", date(2026, 11, 27)),
        ("last Friday", date(2026, 11, 27)),
        ("29 Nov", TODAY),
        ("28 Nov", date(2027, 11, 28)),
        ("29 Feb", date(2028, 2, 29)),
    ],
)
def test_a_day_is_read_as_said(typed: str, day: date) -> None:
    assert read_day(typed, DAY_FIRST) == day


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("13 Dec", date(2025, 12, 13)),
        ("28 Nov", date(2026, 11, 28)),
        ("29 Nov", TODAY),
        ("Friday", date(2026, 11, 27)),
        ("Sunday", date(2026, 11, 22)),
        ("29 Feb", date(2024, 2, 29)),
        ("13 Dec 2026", DEC_13),
    ],
)
def test_a_day_of_the_past_is_the_last_one(typed: str, day: date) -> None:
    assert read_day(typed, DAY_FIRST, towards=Towards.PAST) == day


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("12/13", DEC_13),
        ("1/2", date(2027, 1, 2)),
        ("12/13/27", date(2027, 12, 13)),
        ("13.12.", DEC_13),  # with full stops the day stands first everywhere
    ],
)
def test_the_shop_says_what_stands_first(typed: str, day: date) -> None:
    assert read_day(typed, MONTH_FIRST) == day


def test_next_is_the_week_after_this() -> None:
    monday = Calendar(today=date(2026, 11, 30))
    assert read_day("Tue", monday) == date(2026, 12, 1)
    assert read_day("next Tue", monday) == date(2026, 12, 8)


@pytest.mark.parametrize(
    ("typed", "calendar", "sentence"),
    [
        ("31 Feb", DAY_FIRST, "“31 Feb” does not exist; February has 28 days, 29 in a leap year."),
        ("31.4.", DAY_FIRST, "“31.4.” does not exist; April has 30 days."),
        ("29 Feb 2027", DAY_FIRST, "“29 Feb 2027” does not exist; February has 28 days in 2027."),
        ("2026-13-01", DAY_FIRST, "“2026-13-01” has a month 13; months run from 1 to 12."),
        (
            "13/12",
            MONTH_FIRST,
            "“13/12” has a month 13, since the month stands first here; type it as 12/13 or 13 Dec.",
        ),
        (
            "12/13",
            DAY_FIRST,
            "“12/13” has a month 13, since the day stands first here; type it as 13/12 or 13 Dec.",
        ),
        (
            "13",
            DAY_FIRST,
            "“13” is a number without its month; type the day as 13 Dec, 13/12, Friday, in 2 weeks or "
            "2026-12-13.",
        ),
        (
            "soon",
            MONTH_FIRST,
            "“soon” is no day that can be read; type it as 13 Dec, 12/13, Friday, in 2 weeks or 2026-12-13.",
        ),
        (
            "in 2 weeks ago",
            DAY_FIRST,
            "“in 2 weeks ago” says both to come and past; type “in 2 weeks” or “2 weeks ago”.",
        ),
        ("Fri 13 Dec 2026", DAY_FIRST, "“Fri 13 Dec 2026” is no Friday; 13 Dec 2026 is a Sunday."),
        (
            "1 Jan 1999",
            DAY_FIRST,
            "“1 Jan 1999” lies too far away; years from 2000 to 2200 are kept.",
        ),
        (
            "in 9999 years",
            DAY_FIRST,
            "“in 9999 years” lies too far away; years from 2000 to 2200 are kept.",
        ),
        ("ma 3", DAY_FIRST, None),
        ("ju 3", DAY_FIRST, None),
        ("0000-01-01", DAY_FIRST, None),
        ("٣ Dec", DAY_FIRST, None),
        ("", DAY_FIRST, None),
    ],
)
def test_what_is_no_day_is_refused_in_words(
    typed: str, calendar: Calendar, sentence: str | None
) -> None:
    with pytest.raises(Invalid) as refused:
        read_day(typed, calendar, path="due")
    (fault,) = refused.value.faults
    assert fault.path == "due"
    if sentence is not None:
        assert fault.message == sentence


@pytest.mark.parametrize("calendar", [DAY_FIRST, MONTH_FIRST])
@pytest.mark.parametrize("towards", list(Towards))
def test_what_is_given_as_an_example_is_read(calendar: Calendar, towards: Towards) -> None:
    said = examples(calendar, towards).replace(" or ", ", ").split(", ")
    assert len(said) == 5
    assert {read_day(said[0], calendar), read_day(said[1], calendar)} == {DEC_13}
    assert all(read_day(each, calendar, towards=towards) for each in said)
