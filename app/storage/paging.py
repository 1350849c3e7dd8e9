"""What repositories take and answer beside the domain's own values: who and when, ids, versions, pages of a list."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from app.errors import Conflict


@dataclass(frozen=True, slots=True, kw_only=True)
class Versioned[T]:
    """A value as it is kept. version: grows with every change, for optimistic locking."""

    id: int
    version: int
    value: T


class Stale(Conflict):
    """Somebody else saved first.

    stored: what is kept now, for a page that shows both: an Order, or a Kept of a Customer, a
    Material or the Shop.
    """

    code = "stale"

    def __init__(self, what: str, stored: object) -> None:
        self.stored = stored
        super().__init__(
            f"{what} changed in the meantime, in another tab or through somebody else. Nothing "
            "was overwritten: look at both and save again."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """Who does something, and when. now: with its time zone; its date is the shop's day."""

    who: str
    now: datetime

    @property
    def today(self) -> date:
        """The date of the stamp in the shop's time zone."""
        return self.now.date()


@dataclass(frozen=True, slots=True, kw_only=True)
class PageRequest:
    """Which part of a list is wanted. number: from 1; less is taken as 1. size: rows, 1 to 200."""

    number: int = 1
    size: int = 50

    def __post_init__(self) -> None:
        object.__setattr__(self, "number", min(max(1, self.number), 1_000_000))
        object.__setattr__(self, "size", min(max(1, self.size), 200))

    @property
    def offset(self) -> int:
        """How many rows come before the page."""
        return (self.number - 1) * self.size


@dataclass(frozen=True, slots=True, kw_only=True)
class ListPage[T]:
    """A page of a list. total: rows in all, over every page."""

    rows: tuple[T, ...]
    total: int
    page: PageRequest

    @classmethod
    def of(cls, rows: Iterable[T], total: int, page: PageRequest) -> "ListPage[T]":
        """Return a page with its rows."""
        return cls(rows=tuple(rows), total=total, page=page)

    @property
    def pages(self) -> int:
        """How many pages there are, at least one."""
        return max(1, -(-self.total // self.page.size))
