"""Numbers of all that is numbered: without gaps, never used twice (M4).

A number is taken in the transaction that uses it. If that is rolled back, so is the number.
"""

from enum import StrEnum

from sqlalchemy.dialects.sqlite import insert
from sqlalchemy.orm import Session

from app.storage.rows import CounterRow


class Series(StrEnum):
    """What is numbered. Each series starts at 1 every year."""

    QUOTE = "quote"
    ORDER = "order"
    INVOICE = "invoice"
    OFFCUT = "offcut"
    PLAN = "plan"
    SUPPLIER_ORDER = "supplier-order"

    @property
    def prefix(self) -> str:
        """What stands before the year; nothing for the number that is used most."""
        return _PREFIXES.get(self, "")

    def number(self, year: int, sequence: int) -> str:
        """ "Q-2026-0148"; more than four digits where the year needs them."""
        return f"{self.prefix}{year}-{sequence:04d}"


_PREFIXES = {
    Series.QUOTE: "Q-",
    Series.INVOICE: "R-",
    Series.OFFCUT: "K-",
    Series.PLAN: "P-",
    Series.SUPPLIER_ORDER: "B-",
}


class Numbers:
    """Gives numbers out."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def take(self, series: Series, year: int) -> str:
        """The next number of a series."""
        first = insert(CounterRow).values(series=series.value, year=year, last=1)
        counted = first.on_conflict_do_update(
            index_elements=[CounterRow.series, CounterRow.year], set_={"last": CounterRow.last + 1}
        )
        last = self._session.scalars(counted.returning(CounterRow.last)).one()
        return series.number(year, last)
