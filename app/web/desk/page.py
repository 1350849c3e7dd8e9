"""The desk: what is due, what can be cut, what waits for collection, who owes money."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Any

from app.money import Money
from app.orders import WAY, Stage
from app.stock.planning.parts import PieceRef
from app.storage import DeskView, OrderSummary, Tray
from app.web.kit.templating import Page
from app.web.pieces.together_address import TOGETHER


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayView:
    """One tray of the desk, with the orders that wait for the same step.

    all_href: the address of the list of all of them. money: whether to show what is owed. act: (words,
    address) of what can be done for all that lies there; pick: the same for the orders that are ticked; None for
    nothing. told: the day on which the
    customers were told, by the id of the order; None where it does not matter.
    """

    title: str
    empty: str
    orders: tuple[OrderSummary, ...]
    total: int
    all_href: str
    money: bool = False
    late: bool = False
    act: tuple[str, str] | None = None
    pick: tuple[str, str] | None = None
    told: Mapping[int, date] | None = None

    @property
    def more(self) -> int:
        """How many orders of the tray are not shown."""
        return self.total - len(self.orders)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintAgain:
    """A piece whose printed ticket does not hold any more: its number, what and whose it is, its own page."""

    number: str
    what: str
    href: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskPage(Page):
    """The first page of the day.

    counts: (stage, how many orders, link) for each stage of the work.
    print_again: the tickets that were printed and do not hold any more.
    """

    title: str = "Desk"
    section: str = "Desk"
    wide: bool = True
    today: date
    counts: tuple[tuple[Stage, int, str], ...]
    trays: tuple[TrayView, ...]
    owed: tuple[Money, ...]
    any_work: bool
    print_again: tuple[PrintAgain, ...]


PLAN = ("Make a cutting plan", "/plans/new")
MATS_TOGETHER = ("Cut mats together", TOGETHER)


def trays(desk: DeskView, told: Mapping[int, date] = MappingProxyType({})) -> tuple[TrayView, ...]:
    """Return the trays in the order of the day. told: when customers were told, by the id of the order."""

    def tray(title: str, empty: str, content: Tray, href: str, **more: Any) -> TrayView:
        return TrayView(
            title=title,
            empty=empty,
            orders=content.orders,
            total=content.total,
            all_href=href,
            **more,
        )

    return (
        tray("Overdue", "Nothing is late.", desk.overdue, "/orders?due=late", late=True),
        tray(
            "Due this week", "Nothing is due in the week ahead.", desk.due_soon, "/orders?due=week"
        ),
        tray(
            "To cut",
            "Nothing waits to be cut.",
            desk.to_cut,
            "/orders?stage=ordered",
            act=PLAN,
            pick=MATS_TOGETHER,
        ),
        tray("To frame", "Nothing waits to be framed.", desk.to_frame, "/orders?stage=cut"),
        tray(
            "To collect",
            "Nothing waits for its owner.",
            desk.to_collect,
            "/orders?stage=framed",
            told=told,
        ),
        tray("Owed", "Everything is paid.", desk.owing, "/orders?owing=1", money=True),
        tray("Open quotes", "No quote is open.", desk.quotes, "/quotes"),
        tray("Quotes out of date", "No quote has lapsed.", desk.out_of_date, "/quotes", late=True),
    )


def to_print_again(pieces: Sequence[PieceRef]) -> tuple[PrintAgain, ...]:
    """Return the pieces whose printed tickets do not hold any more."""
    return tuple(
        PrintAgain(
            number=f"{piece.order_number}, piece {piece.number}",
            what=f"{piece.title or 'untitled'}, {piece.customer}",
            href=f"/orders/{piece.order_id}/pieces/{piece.number}",
        )
        for piece in pieces
    )


def counts(desk: DeskView) -> tuple[tuple[Stage, int, str], ...]:
    """Return how many orders stand at each stage of the work, with a link to their list."""
    return tuple((stage, desk.counts[stage], _list_of(stage)) for stage in WAY)


def _list_of(stage: Stage) -> str:
    return "/quotes" if stage is Stage.QUOTED else f"/orders?stage={stage.value}"
