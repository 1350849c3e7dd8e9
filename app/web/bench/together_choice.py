"""The page on which pieces are chosen whose mats are cut together."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date

from app.orders.cut_together import MOST_TOGETHER
from app.services.bench import PieceAt
from app.services.cut_together import ToChoose
from app.stock.planning.open_work import PieceInWork
from app.web.kit.templating import Page
from app.web.pieces.together_address import name_in_address


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceRow:
    """A piece with its box. value: as an address names it. mats: how many, and their boards."""

    value: str
    name: str
    title: str
    customer: str
    due: date | None
    mats: str
    alike: str
    ticked: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoicePage(Page):
    """The open pieces with mats to tick. kept: named already and not among them. more: how many are left off."""

    title: str = "Cut mats together"
    section: str = "Orders"
    rows: tuple[ChoiceRow, ...]
    kept: tuple[str, ...]
    more: int
    most: int = MOST_TOGETHER
    left_out: tuple[str, ...] = ()


def choice_page(
    found: ToChoose, chosen: Collection[PieceAt], left_out: tuple[str, ...] = ()
) -> ChoicePage:
    """Make the page. chosen: the pieces that are ticked already; left_out: what is said of others that were named."""
    rows = tuple(_rows(found, chosen))
    listed = {row.value for row in rows}
    named = tuple(name_in_address(at) for at in chosen)
    return ChoicePage(
        rows=rows,
        kept=tuple(value for value in named if value not in listed),
        more=found.more,
        left_out=left_out,
    )


def _rows(found: ToChoose, chosen: Collection[PieceAt]) -> Iterator[ChoiceRow]:
    for piece in found.pieces:
        at = PieceAt(order_id=piece.ref.order_id, number=piece.ref.number)
        copies = max((each.part.copy for each in piece.parts), default=1)
        yield ChoiceRow(
            value=name_in_address(at),
            name=piece.ref.name,
            title=piece.ref.title or "Untitled",
            customer=piece.ref.customer,
            due=piece.ref.due,
            mats=", ".join(_boards(piece)),
            alike=f"{copies} of these" if copies > 1 else "",
            ticked=at in chosen,
        )


def _boards(piece: PieceInWork) -> Iterator[str]:
    for each in piece.parts:
        if each.part.key.startswith("mat-") and each.part.copy == 1:
            yield f"{each.part.material.name} ({each.part.material.code})"
