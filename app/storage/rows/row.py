"""What every row has in common."""

from datetime import date, datetime
from fractions import Fraction
from typing import Any

from sqlalchemy import Text
from sqlalchemy.orm import DeclarativeBase

from app.storage.columns import Day, Flag, Instant, JsonList, Share


class Row(DeclarativeBase):
    """A row; its columns by the types of Python."""

    type_annotation_map = {  # noqa: RUF012 - the name and form that SQLAlchemy asks for
        str: Text,
        bool: Flag,
        date: Day,
        datetime: Instant,
        Fraction: Share,
        list[Any]: JsonList,
    }


STRICT = {"sqlite_strict": True}
KEYED = {"sqlite_strict": True, "sqlite_with_rowid": False}
