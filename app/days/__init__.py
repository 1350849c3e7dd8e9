"""Days of the calendar: printed one way, and read as a person says them. They know no clock: today is handed in."""

from app.days.calendar import Calendar, DayOrder, Towards
from app.days.doubt import Doubt, clock_doubt
from app.days.printing import days_from_now, show_day, show_moment, show_month, show_short_day
from app.days.reading import examples, read_day, read_month
from app.days.spans import Span, read_spans, show_spans, span_text

__all__ = [
    "Calendar",
    "DayOrder",
    "Doubt",
    "Span",
    "Towards",
    "clock_doubt",
    "days_from_now",
    "examples",
    "read_day",
    "read_month",
    "read_spans",
    "show_day",
    "show_moment",
    "show_month",
    "show_short_day",
    "show_spans",
    "span_text",
]
