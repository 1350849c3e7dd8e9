"""The first page of the day."""

from datetime import date

from app.storage import DeskView, Store


def view(store: Store, *, today: date, rows: int = 12) -> DeskView:
    """Return what is due, what can be cut, what waits, who owes. rows: the most in each tray."""
    with store.reading() as work:
        return work.desk.view(today, rows=rows)
