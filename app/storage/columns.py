"""How exact values stand in a column: days, instants, shares, JSON lists.

SQLite's STRICT tables know integers and text; each type here writes one of the two and reads back
the same value.
"""

import json
from datetime import UTC, date, datetime
from fractions import Fraction
from typing import Any

from sqlalchemy import Integer, Text, TypeDecorator
from sqlalchemy.engine import Dialect


class Day(TypeDecorator[date]):
    """A calendar day as "2026-11-25"."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: date | None, dialect: Dialect) -> str | None:
        """The day as text."""
        return None if value is None else value.isoformat()

    def process_result_value(self, value: str | None, dialect: Dialect) -> date | None:
        """The day of the text."""
        return None if value is None else date.fromisoformat(value)


class Instant(TypeDecorator[datetime]):
    """A moment in UTC as "2026-11-25T09:30:00.000000Z", so that text sorts as time does.

    A datetime without a zone is refused with ValueError: it could be any moment of a day.
    """

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        """The moment as text."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment is stored with its time zone")
        return value.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")

    def process_result_value(self, value: str | None, dialect: Dialect) -> datetime | None:
        """The moment of the text, in UTC."""
        return None if value is None else datetime.fromisoformat(value)


class Flag(TypeDecorator[bool]):
    """Yes or no as 1 or 0; a STRICT table has no BOOLEAN."""

    impl = Integer
    cache_ok = True

    def process_bind_param(self, value: bool | None, dialect: Dialect) -> int | None:
        """The number of the answer."""
        return None if value is None else int(value)

    def process_result_value(self, value: int | None, dialect: Dialect) -> bool | None:
        """The answer of the number."""
        return None if value is None else bool(value)


class Share(TypeDecorator[Fraction]):
    """An exact number as "1/8"."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Fraction | None, dialect: Dialect) -> str | None:
        """The number as text."""
        return None if value is None else str(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Fraction | None:
        """The number of the text."""
        return None if value is None else Fraction(value)


class JsonList(TypeDecorator[list[Any]]):
    """A short list as JSON."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: list[Any] | None, dialect: Dialect) -> str | None:
        """The list as JSON."""
        return None if value is None else json.dumps(value, ensure_ascii=False)

    def process_result_value(self, value: str | None, dialect: Dialect) -> list[Any] | None:
        """The list of the JSON."""
        return None if value is None else json.loads(value)
