"""The first page of the day."""

from datetime import date

from app.orders import Stage
from app.storage import DeskView, KeptPiece, Store


def view(store: Store, *, today: date, rows: int = 12) -> DeskView:
    """Return what is due, what can be cut, what waits, who owes. rows: the most in each tray."""
    with store.reading() as work:
        return work.desk.view(today, rows=rows)


def at_bench(store: Store, stage: Stage | None = None) -> tuple[KeptPiece, ...]:
    """Return the pieces that are ordered or cut and not finished, the first due first. stage: those that stand there alone."""
    with store.reading() as work:
        return work.open_pieces.at(*((Stage.ORDERED, Stage.CUT) if stage is None else (stage,)))
