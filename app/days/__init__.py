"""Days of the calendar: printed one way, and read as a person says them. They know no clock: today is handed in."""

from app.days.calendar import Calendar, DayOrder, Towards
from app.days.printing import days_from_now, show_day, show_moment, show_short_day
from app.days.reading import examples, read_day

__all__ = [
    "Calendar",
    "DayOrder",
    "Towards",
    "days_from_now",
    "examples",
    "read_day",
    "show_day",
    "show_moment",
    "show_short_day",
]
