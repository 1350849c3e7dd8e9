"""On which days a shop is open; dates by the calendar: 29 November 2026 is a Sunday."""

from datetime import date

import pytest

from app.errors import Invalid
from app.orders.open_days import MOST_CLOSED, OpenDays, Weekday, in_spans, weekday_of


def test_a_date_knows_its_weekday() -> None:
    assert weekday_of(date(2026, 11, 29)) is Weekday.SUNDAY
    assert weekday_of(date(2024, 2, 29)) is Weekday.THURSDAY


@pytest.mark.parametrize(
    ("day", "following"),
    [
        (date(2026, 11, 28), date(2026, 11, 28)),  # a Saturday
        (date(2026, 11, 29), date(2026, 11, 30)),  # a Sunday
        (date(2026, 12, 24), date(2026, 12, 28)),  # Thursday to Saturday closed, then a Sunday
        (date(2026, 12, 31), date(2026, 12, 31)),
    ],
)
def test_the_next_open_day_is_the_day_itself_or_a_later_one(day: date, following: date) -> None:
    closed = (date(2026, 12, 24), date(2026, 12, 25), date(2026, 12, 26))
    assert OpenDays(closed=closed).next_open(day) == following


def test_a_shop_that_opens_on_one_day_a_week_has_a_next_day() -> None:
    days = OpenDays(weekdays=(Weekday.TUESDAY,), closed=(date(2026, 12, 1),))
    assert days.next_open(date(2026, 11, 29)) == date(2026, 12, 8)


def test_no_day_at_all_and_too_many_closed_ones_are_refused() -> None:
    with pytest.raises(Invalid, match="at least one day"):
        OpenDays(weekdays=())
    many = tuple(date.fromordinal(740_000 + n) for n in range(MOST_CLOSED + 1))
    with pytest.raises(Invalid, match="401 days are named as closed; at most 400"):
        OpenDays(closed=many)


def test_days_that_follow_each_other_are_one_span() -> None:
    days = (date(2027, 1, 1), date(2026, 12, 31), date(2026, 12, 24), date(2027, 1, 1))
    assert in_spans(days) == (
        (date(2026, 12, 24), date(2026, 12, 24)),
        (date(2026, 12, 31), date(2027, 1, 1)),
    )
