"""Days of the calendar: printed one way, and read as a person says them. They know no clock: today is handed in."""

from app.days.printing import days_from_now, show_day, show_moment, show_short_day

__all__ = ["days_from_now", "show_day", "show_moment", "show_short_day"]
