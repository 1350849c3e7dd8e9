"""The first page of the day."""

from datetime import date

from app.storage import DeskView, Store


def view(store: Store, *, today: date, days: int = 7, rows: int = 8) -> DeskView:
    """Return what is due, what can be cut, what waits, who owes.

    days: how far ahead “soon” reaches. rows: the most in each tray.
    """
    with store.reading() as work:
        return work.desk.view(today, days=days, rows=rows)
