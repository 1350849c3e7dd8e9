"""Lists of the stock as records for reading: items, what is there of each material, what is free on the rack."""

from collections import Counter
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Integer,
    Select,
    bindparam,
    cast,
    exists,
    func,
    or_,
    select,
    true,
)
from sqlalchemy.orm import Session, aliased

from app.errors import NotFound
from app.money import CURRENCIES, Money
from app.pricing import Kind
from app.stock.balances import Balance
from app.stock.items import StockForm, StockItem
from app.stock.levels import NO_LEVELS
from app.stock.planning.plans import PlanStage
from app.stock.planning.problems import OnRack
from app.storage.memo import Memo
from app.storage.paging import ListPage, PageRequest
from app.storage.search_text import typed_words
from app.storage.tables.materials import MaterialRow, codes_now, material_of
from app.storage.tables.plans import CuttingPlanRow, PlanBookingRow
from app.storage.tables.stock import StockItemRow, StockLevelRow, item_of, levels_of


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
    form: StockForm | None = None
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
        """The value of what is on hand, at cost; below zero where that is."""
        return self.kept.item.unit_cost * self.kept.on_hand


class StockLists:
    """Answers lists of the stock. lasting: materials that were read before."""

    def __init__(self, session: Session, lasting: Memo | None = None) -> None:
        self._session = session
        self._lasting = lasting or Memo()

    def listed(
        self, wanted: StockFilter = ANY_STOCK, page: PageRequest | None = None
    ) -> ListPage[StockLine]:
        """Return one page of the items that fit the filter: by material, whole ones first, then the longest."""
        return self._page_of(_conditions(wanted, _has), page or PageRequest())

    def marked(self, text: str, page: PageRequest | None = None) -> ListPage[StockLine]:
        """Return one page of the items with every typed word in label, place or batch, none for no word."""
        conditions = _conditions(StockFilter(text=text), _is_marked) if text.strip() else None
        return self._page_of(conditions, page or PageRequest())

    def _page_of(
        self, conditions: list[ColumnElement[bool]] | None, page: PageRequest
    ) -> ListPage[StockLine]:
        if conditions is None:
            return ListPage.of((), 0, page)
        counted = (
            select(func.count())
            .select_from(StockItemRow)
            .join(MaterialRow, MaterialRow.id == StockItemRow.material_id)
            .where(*conditions)
        )
        rows = self._session.execute(_ordered(conditions).limit(page.size).offset(page.offset))
        return ListPage.of(
            (_line_of(*row) for row in rows), self._session.scalars(counted).one(), page
        )

    def every(self, wanted: StockFilter = ANY_STOCK) -> tuple[StockLine, ...]:
        """Return all items that fit the filter, in the order of the list."""
        conditions = _conditions(wanted, _has)
        if conditions is None:
            return ()
        return tuple(_line_of(*row) for row in self._session.execute(_ordered(conditions)))

    def line(self, item_id: int) -> StockLine:
        """Return one item with what a page says of its material. Raises: NotFound."""
        found = self._session.execute(_lines().where(StockItemRow.id == item_id)).one_or_none()
        if found is None:
            raise NotFound(f"There is no item {item_id} in the stock.")
        return _line_of(*found)

    def balances(
        self, wanted: StockFilter = ANY_STOCK, reserved: Mapping[int, int] | None = None
    ) -> tuple[Balance, ...]:
        """Return the stock of each material that is on hand or has a reorder level, by code.

        reserved: how many of each item open cutting plans have taken, by the item's id.
        """
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
        taken = self._reserved_by_material(reserved or {})
        return tuple(_summed(row, taken, self._lasting) for row in self._session.execute(found))

    def _reserved_by_material(self, reserved: Mapping[int, int]) -> Mapping[tuple[int, bool], int]:
        """Tell how many are reserved, by (material's id, whether whole)."""
        if not reserved:
            return {}
        rows = self._session.execute(
            select(StockItemRow.id, StockItemRow.material_id, StockItemRow.whole).where(
                StockItemRow.id.in_(reserved)
            )
        )
        taken: Counter[tuple[int, bool]] = Counter()
        for item_id, material_id, whole in rows:
            taken[material_id, whole] += reserved[item_id]
        return taken


def _lines() -> Select[StockItemRow, str, str, str, str]:
    """Return the columns that `_line_of` reads."""
    return select(
        StockItemRow, MaterialRow.code, MaterialRow.name, MaterialRow.kind, MaterialRow.colour
    ).join(MaterialRow, MaterialRow.id == StockItemRow.material_id)


def _line_of(row: StockItemRow, code: str, name: str, kind: str, colour: str) -> StockLine:
    """Return the record of a row."""
    return StockLine(
        kept=item_of(row, code),
        material_id=row.material_id,
        name=name,
        kind=Kind(kind),
        colour=colour,
        since=row.since,
    )


def _ordered(conditions: list[ColumnElement[bool]]) -> Select[StockItemRow, str, str, str, str]:
    """Items by material, whole ones first, the largest first."""
    area = StockItemRow.width * cast(StockItemRow.height, Integer)
    return (
        _lines()
        .where(*conditions)
        .order_by(
            MaterialRow.code,
            StockItemRow.whole.desc(),
            func.coalesce(StockItemRow.length, area).desc(),
            StockItemRow.id,
        )
    )


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
    """Tell whether a word stands in the material's words."""
    return func.instr(MaterialRow.words, word) > 0


def _is_marked(word: str) -> ColumnElement[bool]:
    """Tell whether a word stands in the label, the place or the batch."""
    own = (StockItemRow.label, StockItemRow.place, StockItemRow.batch)
    return or_(*(func.instr(func.lower(func.coalesce(text, "")), word) > 0 for text in own))


def _has(word: str) -> ColumnElement[bool]:
    """Tell whether a word stands in the material's words, or in the item's own."""
    return or_(_named(word), _is_marked(word))


def _items() -> Select[StockItemRow, str]:
    """Items of which some are on hand, with the code of their material, of some codes."""
    return (
        select(StockItemRow, MaterialRow.code)
        .join(MaterialRow, MaterialRow.id == StockItemRow.material_id)
        .where(MaterialRow.code.in_(bindparam("codes", expanding=True)), StockItemRow.on_hand > 0)
        .order_by(StockItemRow.id)
    )


def _still_to_take() -> Select[int, int]:
    """Tell how many of each item open plans are still to take: what no standing booking has cut."""
    section = func.json_each(CuttingPlanRow.sections, "$.sections").table_valued(
        "key", "value", name="section"
    )
    source = func.json_each(section.c.value, "$.sources").table_valued(
        "key", "value", name="source"
    )
    undone = aliased(PlanBookingRow)
    booked = exists().where(
        PlanBookingRow.plan_id == CuttingPlanRow.id,
        PlanBookingRow.section == section.c.key + 1,
        PlanBookingRow.bin == source.c.key + 1,
        PlanBookingRow.takes_back.is_(None),
        ~exists().where(undone.takes_back == PlanBookingRow.id),
    )
    return (
        select(source.c.value, func.count())
        .select_from(CuttingPlanRow)
        .join(section, onclause=true())
        .join(source, onclause=true())
        .where(CuttingPlanRow.stage == PlanStage.OPEN.value, source.c.value.is_not(None), ~booked)
        .group_by(source.c.value)
    )


_ITEMS, _STILL_TO_TAKE = _items(), _still_to_take()


class Rack:
    """Reads what is free on the rack."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def free(self, codes: Collection[str]) -> tuple[OnRack, ...]:
        """Return the items of some materials that are on hand and that no open plan has reserved,
        oldest first.

        Whole stock that open plans are to buy does not count. Codes that the price book does not have
        have no items; those of a material that has another code now stand under the code asked for.
        """
        now = codes_now(self._session)
        asked = {now.current(code): code for code in codes}
        rows = self._session.execute(_ITEMS, {"codes": list(asked)})
        items = [item_of(row, asked.get(code, code)) for row, code in rows]
        taken = self._taken() if items else Counter[int]()
        on_rack = (OnRack(kept=each, available=each.on_hand - taken[each.id]) for each in items)
        return tuple(each for each in on_rack if each.available > 0)

    def _taken(self) -> Counter[int]:
        rows = self._session.execute(_STILL_TO_TAKE)
        return Counter({int(item): count for item, count in rows})
