"""What lies on the rack of some materials and is free, by one query each for items and open plans.

For pages that are worked out while one types: no plan is read for it, only which items open plans
are still to take. See `stock` for everything else about items. The queries are put together once, since
that takes longer than answering them.
"""

from collections import Counter
from collections.abc import Collection

from sqlalchemy import Select, bindparam, exists, func, select, true
from sqlalchemy.orm import Session, aliased

from app.stock.planning.plans import PlanStage
from app.stock.planning.problems import OnRack
from app.storage.codes import codes_now
from app.storage.rows import CuttingPlanRow, MaterialRow, PlanBookingRow, StockItemRow
from app.storage.stock_rows import item_of


def _items() -> Select[StockItemRow, str]:
    """Items of which some are on hand, with the code of their material, of some codes."""
    return (
        select(StockItemRow, MaterialRow.code)
        .join(MaterialRow, MaterialRow.id == StockItemRow.material_id)
        .where(MaterialRow.code.in_(bindparam("codes", expanding=True)), StockItemRow.on_hand > 0)
        .order_by(StockItemRow.id)
    )


def _still_to_take() -> Select[int, int]:
    """How many of each item open plans are still to take: what no standing booking has cut."""
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
        """The items of some materials of which one is on hand that no open plan has taken, oldest first.

        Whole stock that open plans are to buy is not looked at. Codes that the price book does not
        have have no items; those of a material that is called otherwise now stand under the code asked for.
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
