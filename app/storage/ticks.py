"""The ticks of steps: written once, read as they were written."""

from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.orders.step_ticks import Tick
from app.storage.rows import StepTickRow


class StepTicks:
    """Keeps the ticks of pieces."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def of_piece(self, piece_id: int) -> tuple[Tick, ...]:
        """Every tick and every taking back, the oldest first."""
        rows = self._session.scalars(
            select(StepTickRow).where(StepTickRow.piece_id == piece_id).order_by(StepTickRow.id)
        )
        return tuple(_tick_of(row) for row in rows)

    def add(self, piece_id: int, ticks: Iterable[Tick]) -> None:
        """Write ticks down."""
        self._session.add_all(
            StepTickRow(
                piece_id=piece_id,
                step=tick.step,
                words=tick.words,
                ticked=tick.ticked,
                at=tick.at,
                by=tick.by,
            )
            for tick in ticks
        )
        self._session.flush()


def _tick_of(row: StepTickRow) -> Tick:
    return Tick(step=row.step, words=row.words, ticked=row.ticked, at=row.at, by=row.by)
