"""The shop, the price book and the numbers given."""

from datetime import datetime

from sqlalchemy import ForeignKey, Index, Text
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.rows.row import KEYED, STRICT, Row


class ShopRow(Row):
    """The one row of the shop; settings is the JSON of a Shop."""

    __tablename__ = "shop"
    __table_args__ = (STRICT,)
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    settings: Mapped[str]
    updated_at: Mapped[datetime]


class MaterialRow(Row):
    """A material of the price book. says: the JSON of all of it; the other columns are what lists ask for.

    longest_side: of a sheet. words: what it is found by, folded.
    """

    __tablename__ = "materials"
    __table_args__ = (
        Index("materials_by_code", "code", unique=True),
        Index("materials_by_kind", "kind", "code"),
        STRICT | {"sqlite_autoincrement": True},
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    code: Mapped[str] = mapped_column(Text(collation="NOCASE"))
    name: Mapped[str]
    kind: Mapped[str]
    colour: Mapped[str]
    longest_side: Mapped[int | None]
    active: Mapped[bool]
    words: Mapped[str]
    says: Mapped[str]
    updated_at: Mapped[datetime]


class FormerCodeRow(Row):
    """A code that a material had before it was called otherwise."""

    __tablename__ = "former_codes"
    __table_args__ = (Index("former_codes_by_material", "material_id"), KEYED)
    code: Mapped[str] = mapped_column(Text(collation="NOCASE"), primary_key=True)
    material_id: Mapped[int] = mapped_column(ForeignKey("materials.id", ondelete="CASCADE"))


class CounterRow(Row):
    """The last number given in a series and year."""

    __tablename__ = "counters"
    __table_args__ = (KEYED,)
    series: Mapped[str] = mapped_column(primary_key=True)
    year: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    last: Mapped[int]
