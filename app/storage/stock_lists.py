"""Lists of the stock: items, and what is there of each material, as records for reading."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Integer, Select, cast, func, or_, select
from sqlalchemy.orm import Session

from app.money import CURRENCIES, Money
from app.pricing import Kind
from app.stock.balances import Balance
from app.stock.items import Form, StockItem
from app.stock.levels import NO_LEVELS
from app.storage.material_rows import material_of
from app.storage.memo import Memo
from app.storage.paging import ListPage, PageRequest
from app.storage.rows import MaterialRow, StockItemRow, StockLevelRow
from app.storage.search_text import typed_words
from app.storage.stock_rows import item_of, levels_of


@dataclass(frozen=True, slots=True, kw_only=True)
class StockFilter:
    """What a list of the stock holds; everything given must hold.

    text: every word somewhere in the material's words; in a list of items also in label, place or
    batch. material: its code. offcuts: True for offcuts alone, False for whole stock alone. gone: also that of which none
    is left.
    """

    text: str = ""
    material: str = ""
    kind: Kind | None = None
    form: Form | None = None
    offcuts: bool | None = None
    place: str = ""
    gone: bool = False


ANY_STOCK = StockFilter()


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLine:
    """An item in a list, with what is said of its material. since: when it came."""

    kept: StockItem
    material_id: int
    name: str
    kind: Kind
    colour: str
    since: datetime

    @property
    def value(self) -> Money:
        """What is on hand, at cost; below zero where that is."""
        return self.kept.item.unit_cost * self.kept.on_hand


def lines() -> Select[StockItemRow, str, str, str, str]:
    """The columns that `line_of` reads."""
    return select(
        StockItemRow, MaterialRow.code, MaterialRow.name, MaterialRow.kind, MaterialRow.colour
    ).join(MaterialRow, MaterialRow.id == StockItemRow.material_id)


def line_of(row: StockItemRow, code: str, name: str, kind: str, colour: str) -> StockLine:
    """The record of a row."""
    return StockLine(
        kept=item_of(row, code),
        material_id=row.material_id,
        name=name,
        kind=Kind(kind),
        colour=colour,
        since=row.since,
    )


def page_of_lines(session: Session, wanted: StockFilter, page: PageRequest) -> ListPage[StockLine]:
    """One page of the items that are wanted."""
    conditions = _conditions(wanted, _has)
    if conditions is None:
        return ListPage.of((), 0, page)
    counted = (
        select(func.count())
        .select_from(StockItemRow)
        .join(MaterialRow, MaterialRow.id == StockItemRow.material_id)
        .where(*conditions)
    )
    rows = session.execute(_ordered(conditions).limit(page.size).offset(page.offset))
    return ListPage.of((line_of(*row) for row in rows), session.scalars(counted).one(), page)


def every_line(session: Session, wanted: StockFilter) -> tuple[StockLine, ...]:
    """All items that are wanted."""
    conditions = _conditions(wanted, _has)
    if conditions is None:
        return ()
    return tuple(line_of(*row) for row in session.execute(_ordered(conditions)))


def _ordered(conditions: list[ColumnElement[bool]]) -> Select[StockItemRow, str, str, str, str]:
    """Items by material, whole ones first, the largest first."""
    area = StockItemRow.width * cast(StockItemRow.height, Integer)
    return (
        lines()
        .where(*conditions)
        .order_by(
            MaterialRow.code,
            StockItemRow.whole.desc(),
            func.coalesce(StockItemRow.length, area).desc(),
            StockItemRow.id,
        )
    )


def balances_of(
    session: Session, wanted: StockFilter, reserved: Mapping[int, int], lasting: Memo
) -> tuple[Balance, ...]:
    """What is there of each material: of which something is on hand, or that is watched."""
    conditions = _conditions(wanted, _named)
    if conditions is None:
        return ()
    on_hand = StockItemRow.on_hand
    sums = (
        select(
            StockItemRow.material_id,
            func.sum(on_hand).filter(StockItemRow.whole.is_(True)).label("whole"),
            func.sum(on_hand).filter(StockItemRow.whole.is_(False)).label("offcuts"),
            func.sum(on_hand * StockItemRow.unit_cost_minor).label("value"),
            func.count().filter(on_hand < 0).label("below_zero"),
        )
        .join(MaterialRow, MaterialRow.id == StockItemRow.material_id)
        .where(*conditions)
        .group_by(StockItemRow.material_id)
        .subquery()
    )
    found = (
        select(MaterialRow, StockLevelRow, sums)
        .outerjoin(sums, sums.c.material_id == MaterialRow.id)
        .outerjoin(StockLevelRow, StockLevelRow.material_id == MaterialRow.id)
        .where(or_(sums.c.material_id.is_not(None), *_watched(wanted)))
        .order_by(MaterialRow.code)
    )
    taken = _reserved_by_material(session, reserved)
    return tuple(_summed(row, taken, lasting) for row in session.execute(found))


def _watched(wanted: StockFilter) -> tuple[ColumnElement[bool], ...]:
    """Materials of which there is nothing, but should be: unless items are asked for by what they are."""
    if wanted.place or wanted.offcuts or wanted.form is not None:
        return ()
    watched = StockLevelRow.reorder_at.is_not(None) & MaterialRow.active.is_(True)
    for word in typed_words(wanted.text):
        watched &= _named(word)
    if wanted.kind is not None:
        watched &= MaterialRow.kind == wanted.kind.value
    if wanted.material:
        watched &= MaterialRow.code == wanted.material.strip()
    return (watched,)


def _summed(row: Sequence[Any], taken: Mapping[tuple[int, bool], int], lasting: Memo) -> Balance:
    material_row, level_row, material_id, whole, offcuts, value, below_zero = row
    material = material_of(material_row, lasting)
    return Balance(
        material=material,
        whole=whole or 0,
        offcuts=offcuts or 0,
        value=Money(value or 0, CURRENCIES[material.cost.currency.code]),
        levels=NO_LEVELS if level_row is None else levels_of(level_row),
        reserved_whole=taken.get((material_id, True), 0),
        reserved_offcuts=taken.get((material_id, False), 0),
        below_zero=below_zero or 0,
    )


def _reserved_by_material(
    session: Session, reserved: Mapping[int, int]
) -> Mapping[tuple[int, bool], int]:
    """How many are reserved, by (material's id, whether whole)."""
    if not reserved:
        return {}
    rows = session.execute(
        select(StockItemRow.id, StockItemRow.material_id, StockItemRow.whole).where(
            StockItemRow.id.in_(reserved)
        )
    )
    taken: Counter[tuple[int, bool]] = Counter()
    for item_id, material_id, whole in rows:
        taken[material_id, whole] += reserved[item_id]
    return taken


def _conditions(
    wanted: StockFilter, has: Callable[[str], ColumnElement[bool]]
) -> list[ColumnElement[bool]] | None:
    """Conditions on an item and its material; None where nothing can match what was typed.

    has: what it means that an item has a word.
    """
    words = typed_words(wanted.text)
    if wanted.text.strip() and not words:
        return None
    conditions = [has(word) for word in words]
    if not wanted.gone:
        conditions.append(StockItemRow.on_hand != 0)
    if wanted.material:
        conditions.append(MaterialRow.code == wanted.material.strip())
    if wanted.kind is not None:
        conditions.append(MaterialRow.kind == wanted.kind.value)
    if wanted.form is not None:
        conditions.append(StockItemRow.form == wanted.form.value)
    if wanted.offcuts is not None:
        conditions.append(StockItemRow.whole.is_(not wanted.offcuts))
    if wanted.place:
        conditions.append(StockItemRow.place == wanted.place)
    return conditions


def _named(word: str) -> ColumnElement[bool]:
    """Whether a word stands in the material's words."""
    return func.instr(MaterialRow.words, word) > 0


def _has(word: str) -> ColumnElement[bool]:
    """Whether a word stands in the material's words, the label, the place or the batch."""
    own = (StockItemRow.label, StockItemRow.place, StockItemRow.batch)
    return or_(
        _named(word),
        *(func.instr(func.lower(func.coalesce(text, "")), word) > 0 for text in own),
    )
