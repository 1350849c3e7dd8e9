"""Days as text. 10 December 2026 was a Thursday, by any calendar."""

from datetime import UTC, date, datetime

import pytest

from app.days import days_from_now, show_day, show_moment, show_short_day

TODAY = date(2026, 11, 29)


def test_a_day_prints_one_way() -> None:
    assert show_day(date(2026, 12, 10)) == "Thu 10 Dec 2026"
    assert show_day(date(2027, 1, 3)) == "Sun 3 Jan 2027"
    assert show_short_day(date(2026, 12, 2)) == "2 Dec"
    assert show_moment(datetime(2026, 12, 10, 7, 5, tzinfo=UTC)) == "Thu 10 Dec 2026, 07:05"


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 11, 29), "today"),
        (date(2026, 11, 30), "tomorrow"),
        (date(2026, 11, 28), "yesterday"),
        (date(2026, 12, 1), "in 2 days"),
        (date(2026, 12, 17), "in 18 days"),
        (date(2026, 11, 26), "3 days ago"),
        (date(2027, 1, 28), "in 60 days"),
        (date(2027, 1, 29), "in 2 months"),
        (date(2026, 9, 30), "60 days ago"),
        (date(2026, 9, 29), "2 months ago"),
        (date(2028, 11, 28), "in 23 months"),
        (date(2028, 11, 29), "in 2 years"),
        (date(2024, 11, 30), "23 months ago"),
        (date(2023, 11, 29), "3 years ago"),
    ],
)
def test_a_day_is_told_from_today(day: date, said: str) -> None:
    assert days_from_now(day, TODAY) == said


def test_a_moment_counts_as_its_day() -> None:
    assert days_from_now(datetime(2026, 11, 30, 0, 1, tzinfo=UTC), TODAY) == "tomorrow"
    assert (
        days_from_now(date(2026, 11, 30), datetime(2026, 11, 29, 23, 59, tzinfo=UTC)) == "tomorrow"
    )
