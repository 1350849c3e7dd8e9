"""Which copies of the data stay."""

from collections.abc import Collection
from datetime import date, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from app.storage.rotation import DAYS, HELD, MONTHS, MOST_HELD, OF_TODAY, WEEKS, staying

TODAY = date(2026, 11, 25)
"""A Wednesday."""


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


def noon(day: date) -> datetime:
    return at(f"{day}T12:00")


def stays(*texts: str, held: Collection[str] = ()) -> list[str]:
    found = staying({text: at(text) for text in texts}, TODAY, held)
    return sorted(found, reverse=True)


def test_of_today_the_first_and_the_last_three_stay() -> None:
    made = [f"2026-11-25T{hour}:00" for hour in ("08", "10", "12", "14", "16")]
    last = ["2026-11-25T16:00", "2026-11-25T14:00", "2026-11-25T12:00"]
    assert stays(*made) == [*last, "2026-11-25T08:00"]


def test_by_hand_a_day_of_restores_loses_nothing_that_was_there_before_one() -> None:
    """Copied by itself at 8, 11, 15 and 16, by hand at 10, before restores at 12, 13 and 14.

    Of the day the first and the last three stay: 8, 14, 15 and 16. By hand and before a restore: 10, 12, 13 and 14.
    So only the one of 11 goes. A fortnight later, on 9 December, those four are 14 days old and stay still; a day after that
    only the last of the day does.
    """
    by_itself = [f"2026-11-25T{hour}:00" for hour in ("08", "11", "15", "16")]
    held = [f"2026-11-25T{hour}:00" for hour in ("10", "12", "13", "14")]
    kept = stays(*by_itself, *held, held=held)
    assert kept == [f"2026-11-25T{hour}:00" for hour in ("16", "15", "14", "13", "12", "10", "08")]
    made = {text: at(text) for text in kept}
    assert staying(made, date(2026, 12, 9), held) == {"2026-11-25T16:00", *held}
    assert staying(made, date(2026, 12, 10), held) == {"2026-11-25T16:00"}


def test_of_those_that_are_held_the_newest_thirty_stay() -> None:
    """Thirty-five within 35 minutes: the last thirty, and the first of the day."""
    made = [f"2026-11-25T09:{minute:02}" for minute in range(35)]
    assert stays(*made, held=made) == sorted([made[0], *made[5:]], reverse=True)


def test_of_each_day_before_the_last_one_stays() -> None:
    assert stays(
        "2026-11-25T09:00",
        "2026-11-24T18:00",
        "2026-11-24T09:00",
        "2026-11-23T18:00",
        "2026-11-23T12:00",
    ) == ["2026-11-25T09:00", "2026-11-24T18:00", "2026-11-23T18:00"]


def test_by_hand_a_year_of_daily_copies_leaves_these() -> None:
    """One at noon of each of 400 days up to Wednesday, 25 November 2026.

    Days: 12-25 November. Weeks from Monday, of 23 November back to that of 5 October: the Sundays 15 November (a day above), 8 and
    1 November, 25, 18 and 11 October stay for them. Months back to December 2025, by their last days.
    """
    made = {TODAY - timedelta(days=number): number for number in range(400)}
    moments = {day: noon(day) for day in made}
    days = [date(2026, 11, number) for number in range(25, 11, -1)]
    weeks = [
        date(2026, 11, 8),
        date(2026, 11, 1),
        date(2026, 10, 25),
        date(2026, 10, 18),
        date(2026, 10, 11),
    ]
    months = [
        date(2026, 10, 31),
        date(2026, 9, 30),
        date(2026, 8, 31),
        date(2026, 7, 31),
        date(2026, 6, 30),
        date(2026, 5, 31),
        date(2026, 4, 30),
        date(2026, 3, 31),
        date(2026, 2, 28),
        date(2026, 1, 31),
        date(2025, 12, 31),
    ]
    assert staying(moments, TODAY) == frozenset((*days, *weeks, *months))


def test_days_on_which_the_shop_was_closed_are_not_counted() -> None:
    """Copies of every third day: of fourteen days that have one each stays, six weeks back."""
    made = {TODAY - timedelta(days=3 * number): number for number in range(14)}
    moments = {day: noon(day) for day in made}
    assert staying(moments, TODAY) == frozenset(made)


moments = st.datetimes(min_value=at("2024-01-01"), max_value=at("2027-12-31"))


@given(
    st.lists(moments, min_size=1, max_size=120, unique=True),
    st.dates(date(2024, 1, 1), date(2027, 12, 31)),
)
def test_the_newest_stays_and_never_fewer_than_asked(made: list[datetime], today: date) -> None:
    kept = staying({moment: moment for moment in made}, today)
    assert max(made) in kept
    assert kept <= set(made)
    assert len([each for each in kept if each.date() == today]) >= min(
        OF_TODAY, len([each for each in made if each.date() == today])
    )
    for most, span in (
        (DAYS, lambda each: each.date()),
        (WEEKS, lambda each: each.isocalendar()[:2]),
        (MONTHS, lambda each: (each.year, each.month)),
    ):
        newest = sorted({span(each) for each in made}, reverse=True)[:most]
        for asked in newest:
            assert max(each for each in made if span(each) == asked) in kept
    assert len(kept) <= OF_TODAY + 1 + DAYS + WEEKS + MONTHS
    assert staying({moment: moment for moment in kept}, today) == kept


@given(
    st.dictionaries(moments, st.booleans(), min_size=1, max_size=120),
    st.dates(date(2024, 1, 1), date(2027, 12, 31)),
)
def test_none_that_is_held_is_taken_away_before_its_time(
    made: dict[datetime, bool], today: date
) -> None:
    held = [moment for moment, is_held in made.items() if is_held]
    young = sorted((each for each in held if today - each.date() <= HELD), reverse=True)
    kept = staying({moment: moment for moment in made}, today, held)
    assert kept >= set(young[:MOST_HELD])
    assert kept >= staying({moment: moment for moment in made}, today), "nothing else makes room"
    assert len(kept) <= OF_TODAY + 1 + MOST_HELD + DAYS + WEEKS + MONTHS
    assert staying({moment: moment for moment in kept}, today, held) == kept


@given(st.lists(st.integers(0, 3), min_size=1, max_size=200))
def test_what_is_taken_away_day_by_day_is_not_missed_later(a_day: list[int]) -> None:
    """The same copies stay as if none had been taken away before. a_day: how many are made on each."""
    all_made: dict[datetime, datetime] = {}
    kept: dict[datetime, datetime] = {}
    for number, many in enumerate(a_day):
        day = date(2026, 1, 1) + timedelta(days=number)
        new = [at(f"{day}T{9 + hour:02}:00") for hour in range(many)]
        all_made |= {each: each for each in new}
        kept = {each: each for each in staying(kept | {each: each for each in new}, day)}
        assert set(kept) == staying(all_made, day)
