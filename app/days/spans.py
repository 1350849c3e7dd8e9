"""Reads days and spans of days, one a line, as a list of closed days is typed: "25 Dec", "24 Dec to 2 Jan"."""

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from app.days.calendar import Calendar, Towards
from app.days.printing import show_day, show_short_day
from app.days.reading import read_day
from app.errors import FaultCollector, Invalid, quoted

type Span = tuple[date, date]
"""The first and the last day; the same one twice for a single day."""

_BETWEEN = re.compile(r"\s+(?:to|until|till|–|-)\s+", re.IGNORECASE)


def read_spans(
    text: str, calendar: Calendar, *, longest: int, path: str = "days"
) -> tuple[Span, ...]:
    """Return the day or the span of days of each line that is not blank.

    Without its year the first day is the next such one, and the last day the next such one from the first on.
    longest: how many days a span may be of.

    Raises: Invalid at the path, with a sentence for each line that cannot be read, which quotes it.
    """
    faults = FaultCollector()
    spans: list[Span] = []
    for line in filter(str.strip, text.splitlines()):
        try:
            spans.append(_span(line, calendar, longest, path))
        except Invalid as invalid:
            faults.take(invalid)
    faults.finish()
    return tuple(spans)


def _span(line: str, calendar: Calendar, longest: int, path: str) -> Span:
    parts = _BETWEEN.split(line.strip())
    first = read_day(parts[0], calendar, path=path)
    if len(parts) == 1:
        return first, first
    if len(parts) > 2:
        raise Invalid.at(
            path, f"{quoted(line)} is no span of days; type its first and its last day, {_SPAN}."
        )
    last = read_day(parts[1], replace(calendar, today=first), towards=Towards.COMING, path=path)
    if not 0 <= (last - first).days < longest:
        raise Invalid.at(
            path,
            f"{quoted(line)} is no span of days; it runs from the first to the last, over at most "
            f"{longest} of them, {_SPAN}.",
        )
    return first, last


def show_spans(spans: Iterable[Span]) -> str:
    """Say days and spans: "Tue 8 Dec 2026; Thu 24 Dec 2026 to Sat 2 Jan 2027"."""
    return "; ".join(
        show_day(first) if first == last else f"{show_day(first)} to {show_day(last)}"
        for first, last in spans
    )


def span_text(span: Span) -> str:
    """Write a span for its field: "24 Dec 2026 to 2 Jan 2027"."""
    first, last = span
    text = f"{show_short_day(first)} {first.year}"
    return text if first == last else f"{text} to {show_short_day(last)} {last.year}"


_SPAN = "as 24 Dec to 2 Jan"
