"""Goods that are ordered on lines without a piece and not handed over: how many are wanted, and by which lines (P12)."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from app.stock.buying.to_buy import Demand
from app.stock.items import StockForm


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRef:
    """Which line something is for, in the words of its order. what: as it was agreed."""

    line_id: int
    order_id: int
    order_number: str
    number: int
    what: str
    customer: str
    due: date | None

    @property
    def name(self) -> str:
        """As "2026-0148, line 2"."""
        return f"{self.order_number}, line {self.number}"


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodsOrdered:
    """Goods on a line. material: their code of today."""

    material: str
    number: int
    line: LineRef


def wanted_by_lines(goods: Iterable[GoodsOrdered]) -> tuple[Demand, ...]:
    """Return what lines want, by material."""
    by_code: dict[str, list[GoodsOrdered]] = defaultdict(list)
    for each in goods:
        by_code[each.material].append(each)
    return tuple(
        Demand(
            material=code,
            form=StockForm.EACH,
            whole=sum(each.number for each in ours),
            lines=tuple((each.line.name, each.line.order_id) for each in ours),
        )
        for code, ours in sorted(by_code.items())
    )
