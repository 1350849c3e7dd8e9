"""Laws of days: what is printed is read back, and a day without its year is the nearest of its kind."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from app.days import Calendar, DayOrder, Towards, days_from_now, read_day, show_day, show_short_day
from app.errors import Invalid

days = st.dates(date(2000, 1, 1), date(2200, 12, 31))
around = st.dates(date(2010, 1, 1), date(2190, 12, 31))
calendars = st.builds(
    lambda today, order: Calendar(today=today, order=order), around, st.sampled_from(DayOrder)
)
directions = st.sampled_from(Towards)


@given(days, calendars, directions)
def test_a_printed_day_is_read_as_the_same(day: date, calendar: Calendar, towards: Towards) -> None:
    for written in (show_day(day), show_day(day)[4:], day.isoformat()):
        assert read_day(written, calendar, towards=towards) == day


@given(days, calendars, directions)
def test_numbers_in_the_order_of_the_shop_are_read_as_the_same(
    day: date, calendar: Calendar, towards: Towards
) -> None:
    first, second = (
        (day.day, day.month) if calendar.order is DayOrder.DAY_FIRST else (day.month, day.day)
    )
    assert read_day(f"{first}/{second}/{day.year}", calendar, towards=towards) == day
    assert read_day(f"{day.day}.{day.month}.{day.year}", calendar, towards=towards) == day


@given(days, calendars)
def test_a_day_without_its_year_is_the_nearest_that_way(day: date, calendar: Calendar) -> None:
    coming = read_day(show_short_day(day), calendar, towards=Towards.COMING)
    past = read_day(show_short_day(day), calendar, towards=Towards.PAST)
    assert (coming.month, coming.day) == (past.month, past.day) == (day.month, day.day)
    assert past <= calendar.today <= coming
    if (day.month, day.day) != (2, 29):
        assert (coming - past).days in (0, 365, 366)


@given(calendars, st.integers(-59, 59))
def test_a_day_told_from_today_is_read_back(calendar: Calendar, away: int) -> None:
    day = calendar.today + timedelta(days=away)
    assert read_day(days_from_now(day, calendar.today), calendar) == day


@given(st.text(max_size=20), calendars, directions)
def test_anything_else_is_refused_in_words(text: str, calendar: Calendar, towards: Towards) -> None:
    message = "read."
    try:
        read_day(text, calendar, towards=towards)
    except Invalid as refused:
        message = refused.faults[0].message
    assert message.endswith(".")
