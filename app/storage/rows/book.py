"""The shop, the price book and the numbers given."""

from datetime import datetime
from fractions import Fraction
from typing import Any

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
    """A material of the price book. words: what it is found by, folded."""

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
    currency: Mapped[str]
    cost_minor: Mapped[int]
    per: Mapped[str]
    charge_by: Mapped[str]
    waste: Mapped[Fraction]
    minimum_length: Mapped[int]
    step: Mapped[int]
    minimum_area: Mapped[Fraction]
    shares: Mapped[list[Any]]
    bands: Mapped[list[Any]]
    markup: Mapped[Fraction | None]
    markup_table: Mapped[str | None]
    price_minor: Mapped[int | None]
    tax: Mapped[str]
    supplier: Mapped[str]
    finish: Mapped[str]
    colour: Mapped[str]
    face: Mapped[int | None]
    lip: Mapped[int | None]
    rebate_depth: Mapped[int | None]
    stick: Mapped[int | None]
    grams_per_metre: Mapped[int | None]
    sheet_width: Mapped[int | None]
    sheet_height: Mapped[int | None]
    thickness: Mapped[int | None]
    grams_per_m2: Mapped[int | None]
    traits: Mapped[list[Any]]
    bears: Mapped[str | None]
    load_kg: Mapped[Fraction | None]
    notes: Mapped[str]
    tags: Mapped[list[Any]]
    active: Mapped[bool]
    words: Mapped[str]
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
