"""The shop's settings: one row."""

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.errors import Conflict, NotFound
from app.orders import Shop
from app.storage.paging import Stale, Versioned
from app.storage.rows import ShopRow
from app.storage.snapshots import SHOP

_ID = 1


class ShopKeeping:
    """Keeps the shop."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def exists(self) -> bool:
        """Whether the first run is done."""
        return self.version() is not None

    def version(self) -> int | None:
        """The version of the settings; None before the first run."""
        return self._session.scalars(select(ShopRow.version).where(ShopRow.id == _ID)).one_or_none()

    def get(self) -> Shop:
        """The shop. Raises: NotFound before the first run."""
        return self.kept().value

    def kept(self) -> Versioned[Shop]:
        """The shop with its version. Raises: NotFound before the first run."""
        row = self._session.get(ShopRow, _ID)
        if row is None:
            raise NotFound("The shop is not set up yet; start with its name.")
        return Versioned(id=_ID, version=row.version, value=SHOP.read(row.settings))

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
