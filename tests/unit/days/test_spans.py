"""Days and spans of days, a line each. The days of the week by the calendar; today is Wed 25 Nov 2026."""

from datetime import date

import pytest

from app.days import Calendar, DayOrder, read_month, read_spans, show_month, show_spans, span_text
from app.errors import Invalid

TODAY = Calendar(today=date(2026, 11, 25))
MONTH_FIRST = Calendar(today=date(2026, 11, 25), order=DayOrder.MONTH_FIRST)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("25 Dec", "Fri 25 Dec 2026"),
        ("24 Dec to 2 Jan", "Thu 24 Dec 2026 to Sat 2 Jan 2027"),
        ("2026-12-24 to 2027-01-02", "Thu 24 Dec 2026 to Sat 2 Jan 2027"),
        ("24.12. – 2.1.", "Thu 24 Dec 2026 to Sat 2 Jan 2027"),
        ("1/5 until 3/5", "Sat 1 May 2027 to Mon 3 May 2027"),
        ("tomorrow", "Thu 26 Nov 2026"),
    ],
)
def test_a_line_is_a_day_or_a_span(line: str, said: str) -> None:
    assert show_spans(read_spans(line, TODAY, longest=400)) == said


def test_lines_are_read_one_by_one_in_the_order_of_the_shop() -> None:
    assert read_spans("\n12/25\n\n1/4 to 1/5\n", MONTH_FIRST, longest=400) == (
        (date(2026, 12, 25), date(2026, 12, 25)),
        (date(2027, 1, 4), date(2027, 1, 5)),
    )


def test_what_is_written_reads_back() -> None:
    span = (date(2026, 12, 24), date(2027, 1, 2))
    assert span_text(span) == "24 Dec 2026 to 2 Jan 2027"
    assert read_spans(span_text(span), TODAY, longest=400) == (span,)
    assert span_text((date(2026, 12, 8),) * 2) == "8 Dec 2026"


def test_every_line_that_is_none_is_told_with_what_is_allowed() -> None:
    """From 25 Dec 2026 to 24 Dec 2027 are 365 days."""
    typed = "50 × 40 cm\n25/12\n25 Dec to 24 Dec\n1 Jan to 2 Jan to 3 Jan"
    with pytest.raises(Invalid) as refused:
        read_spans(typed, MONTH_FIRST, longest=300, path="open.closed")
    said = [fault.message for fault in refused.value.faults]
    assert "type it as 13 Dec, 12/13, Friday" in said[0]
    assert "the month stands first here" in said[1]
    assert "at most 300 of them, as 24 Dec to 2 Jan" in said[2]
    assert "its first and its last day" in said[3]
    assert {fault.path for fault in refused.value.faults} == {"open.closed"}


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("2026-11", date(2026, 11, 1)),
        ("Nov 2026", date(2026, 11, 1)),
        ("11/2026", date(2026, 11, 1)),
        ("3.2025", date(2025, 3, 1)),
        ("November", date(2026, 11, 1)),
        ("december", date(2025, 12, 1)),
    ],
)
def test_a_month_is_read_as_it_is_said(typed: str, first: date) -> None:
    assert read_month(typed, TODAY) == first


@pytest.mark.parametrize("typed", ["2026-13", "x", "13/2026", "9999-01", "", "2026-11-25"])
def test_what_is_no_month_is_refused(typed: str) -> None:
    with pytest.raises(Invalid, match=r"type it as Nov 2026, 11/2026 or 2026-11|2000 to 2200"):
        read_month(typed, TODAY)


def test_a_month_prints_one_way() -> None:
    assert show_month(date(2026, 11, 25)) == "November 2026"
