"""The shop's settings, one row, and the numbers of all that is numbered: without gaps, never used twice (M4).

A number is taken in the transaction that uses it. If that is rolled back, so is the number.
"""

from datetime import datetime
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.dialects.sqlite import insert
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import Conflict, NotFound
from app.orders import Shop
from app.storage.mapping import (
    KEYED,
    STRICT,
    Row,
)
from app.storage.memo import Memo
from app.storage.paging import Stale, Versioned
from app.storage.snapshots import SHOP


class ShopRow(Row):
    """The one row of the shop; settings is the JSON of a Shop."""

    __tablename__ = "shop"
    __table_args__ = (STRICT,)
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    settings: Mapped[str]
    updated_at: Mapped[datetime]


class CounterRow(Row):
    """The last number given in a series and year."""

    __tablename__ = "counters"
    __table_args__ = (KEYED,)
    series: Mapped[str] = mapped_column(primary_key=True)
    year: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    last: Mapped[int]


_ID = 1


class ShopKeeping:
    """Keeps the shop. lasting: remembers the settings, which are read once for each of their versions."""

    def __init__(self, session: Session, lasting: Memo | None = None) -> None:
        self._session = session
        self._lasting = lasting or Memo()

    def exists(self) -> bool:
        """Tell whether the first run is done."""
        return self.version() is not None

    def version(self) -> int | None:
        """Return the version of the settings; None before the first run."""
        return self._session.scalars(select(ShopRow.version).where(ShopRow.id == _ID)).one_or_none()

    def get(self) -> Shop:
        """Return the shop. Raises: NotFound before the first run."""
        return self.kept().value

    def current(self) -> Shop | None:
        """Return the shop; None before the first run."""
        version = self.version()
        return None if version is None else self._read(version)

    def kept(self) -> Versioned[Shop]:
        """Return the shop with its version. Raises: NotFound before the first run."""
        version = self.version()
        if version is None:
            raise NotFound("The shop is not set up yet; start with its name.")
        return Versioned(id=_ID, version=version, value=self._read(version))

    def _read(self, version: int) -> Shop:
        settings = select(ShopRow.settings).where(ShopRow.id == _ID)
        return self._lasting.of(
            "shop", version, lambda: SHOP.read(self._session.scalars(settings).one()), most=1
        )

    def add(self, shop: Shop, *, now: datetime) -> None:
        """Set the shop up. Raises: Conflict where there is one."""
        if self.exists():
            raise Conflict("The shop is set up already; change it on the settings page.")
        self._session.add(ShopRow(id=_ID, version=1, settings=SHOP.write(shop), updated_at=now))
        self._session.flush()

    def save(self, shop: Shop, expected_version: int, *, now: datetime) -> None:
        """Replace the settings. Raises: NotFound, Stale."""
        stored = self.kept()
        if stored.version != expected_version:
            raise Stale("The shop's settings", stored)
        row = self._session.get_one(ShopRow, _ID)
        row.version, row.settings, row.updated_at = stored.version + 1, SHOP.write(shop), now
        self._session.flush()


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
        """The text before the year in a number; empty for the series that is used most."""
        return _PREFIXES.get(self, "")

    @property
    def words(self) -> str:
        """What bears such a number: "supplier order"."""
        return self.value.replace("-", " ")

    @property
    def with_article(self) -> str:
        """With its article: "an invoice"."""
        return f"{'an' if self.value[0] in 'aeiou' else 'a'} {self.words}"

    def number(self, year: int, sequence: int) -> str:
        """Return "Q-2026-0148"; more than four digits where the year needs them."""
        return f"{self.prefix}{year}-{sequence:04d}"


_PREFIXES = {
    Series.QUOTE: "Q-",
    Series.INVOICE: "R-",
    Series.OFFCUT: "K-",
    Series.PLAN: "P-",
    Series.SUPPLIER_ORDER: "B-",
}


class Numbers:
    """Allocates gap-free document numbers."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def take(self, series: Series, year: int) -> str:
        """Allocate the next number of a series."""
        first = insert(CounterRow).values(series=series.value, year=year, last=1)
        counted = first.on_conflict_do_update(
            index_elements=[CounterRow.series, CounterRow.year], set_={"last": CounterRow.last + 1}
        )
        last = self._session.scalars(counted.returning(CounterRow.last)).one()
        return series.number(year, last)
