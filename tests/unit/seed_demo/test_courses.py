"""The course of a quote keeps to the table of stages, to the clock and to the shop's opening days."""

from datetime import UTC, date, datetime, time, timedelta
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from app.orders import MAY_FOLLOW, Stage, StageChange
from seed_demo.courses import Asked, Course, follow
from seed_demo.days import moment, open_day

LAST = date(2026, 11, 24)


@st.composite
def asked(draw: st.DrawFn) -> Asked:
    return Asked(
        number=draw(st.integers(1, 500)),
        quoted_on=open_day(LAST - timedelta(days=draw(st.integers(0, 365)))),
        pieces=draw(st.integers(1, 6)),
        rush=draw(st.booleans()),
        last=LAST,
    )


@st.composite
def courses(draw: st.DrawFn) -> Course:
    return follow(draw(asked()), Random(draw(st.integers(0, 10_000))))


def allowed(change: StageChange) -> bool:
    if change.takes_back:
        return change.old in MAY_FOLLOW[change.new]
    return change.new in MAY_FOLLOW[change.old]


@given(courses())
def test_each_change_may_follow_the_one_before(course: Course) -> None:
    for changes in course.changes:
        stage = Stage.QUOTED
        for change in changes:
            assert change.old is stage
            assert allowed(change)
            stage = change.new


@given(courses())
def test_time_runs_forward_from_the_quote_to_the_last_day(course: Course) -> None:
    for changes in course.changes:
        moments = [course.quoted_at, *(change.at for change in changes)]
        assert moments == sorted(set(moments))
        assert moments[-1].date() <= LAST


@given(courses())
def test_an_order_has_a_promised_day_and_a_quote_has_none(course: Course) -> None:
    ordered = [
        change for piece in course.changes for change in piece if change.new is Stage.ORDERED
    ]
    assert (course.ordered_at is not None) == bool(ordered) == (course.promised is not None)
    if course.ordered_at is not None and course.promised is not None:
        assert {change.at for change in ordered} == {course.ordered_at}
        assert course.promised > course.ordered_at.date()


@given(st.dates(date(2020, 1, 1), date(2040, 12, 31)), st.integers(0, 10**6))
def test_nothing_happens_on_a_sunday(day: date, seed: int) -> None:
    """Sunday is weekday 6 of Python's calendar; the Saturday before it is taken."""
    at = moment(day, Random(seed))
    assert at.isoweekday() != 7
    assert at.date() in (day, day - timedelta(days=1))
    assert time(9) <= at.time() <= time(17, 30)


def test_a_moment_comes_after_the_one_it_follows() -> None:
    closing = datetime(2026, 11, 24, 17, 30, tzinfo=UTC)
    for seed in range(50):
        assert moment(closing.date(), Random(seed), after=closing) > closing
