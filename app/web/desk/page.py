"""The desk: what is due, what can be cut, what waits for collection, who owes money."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType
from typing import Self

from app.counting import count_text, counted
from app.documents.kit.pictures import in_lists
from app.money import show_money
from app.orders import WAY, Stage
from app.stock.planning.parts import PieceRef
from app.storage import DeskView, OrderSummary
from app.web.kit.tally import Tally
from app.web.kit.templating import Page
from app.web.pieces.together_address import TOGETHER

WORK_SHOWN = 12
"""Orders in the list of work. Source: ours, as many as stand beside the other lists on a laptop."""

WAITING_SHOWN = 4
QUOTES_SHOWN = 4

PLAN = ("make the cutting plan", "/plans/new")
LATE = "/orders?due=late&sort=due"
TO_CUT = "/orders?stage=ordered&sort=due"
TO_COLLECT = "/orders?stage=framed&sort=due"
OWING = "/orders?owing=1&sort=owed"
WORK = "/orders?due=open&sort=due"
QUOTES = "/quotes?stage=quoted&sort=valid"
EXPIRED = "/quotes?valid=expired"
VALID = "/quotes?valid=open&sort=valid"


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskLine:
    """One order of a list. when: in words as one says them today; late: whether that stands out.

    photo: the address of a small picture of the first artwork of which there is one, blank for none. what: its title, or how many things it has. place: the first of its places, with how many more there are; places: all
    of them. end: what stands last in the line; note: what else is said.
    """

    id: int
    when: str
    late: bool
    number: str
    customer: str
    what: str
    place: str
    places: str
    stage: Stage
    photo: str = ""
    end: str = ""
    note: str = ""
    concern: bool = False
    """Whether the note asks for something to be done."""

    @property
    def to_cut(self) -> bool:
        """Whether it may be ticked to be cut with others."""
        return self.stage is Stage.ORDERED


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskList:
    """The first orders of one list, and how many there are. more: (words, address) of the lists with the others."""

    lines: tuple[DeskLine, ...]
    total: int
    href: str
    more: tuple[tuple[str, str], ...]

    def with_photos(self, photos: Mapping[int, str]) -> Self:
        """Return the list with the photos of its orders, given by the ids of the orders."""
        lines = (
            replace(line, photo=in_lists(photos[line.id])) if line.id in photos else line
            for line in self.lines
        )
        return replace(self, lines=tuple(lines))


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintAgain:
    """A piece whose printed ticket does not hold any more: its number, what and whose it is, its own page."""

    number: str
    what: str
    href: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskPage(Page):
    """The first page of the day.

    counts: (stage, how many orders, link) for each stage of the work. work: each open order once, the first due first.
    together: the address at which the mats of orders that are ticked are cut in one go.
    print_again: the tickets that were printed and do not hold any more. copies: what is wrong with the copies of the data.
    """

    title: str = "Desk"
    section: str = "Desk"
    wide: bool = True
    heading: str
    tally: tuple[Tally, ...]
    counts: tuple[tuple[Stage, int, str], ...]
    work: DeskList
    to_collect: DeskList
    quotes: DeskList
    together: str = TOGETHER
    any_work: bool
    print_again: tuple[PrintAgain, ...]
    copies: str

    @property
    def orders(self) -> Iterator[int]:
        """The ids of the orders in its lists."""
        lists = (self.work, self.to_collect, self.quotes)
        return (line.id for each in lists for line in each.lines)

    def with_photos(self, photos: Mapping[int, str]) -> Self:
        """Return the page with the photos of its orders, given by the ids of the orders."""
        return replace(
            self,
            work=self.work.with_photos(photos),
            to_collect=self.to_collect.with_photos(photos),
            quotes=self.quotes.with_photos(photos),
        )


def desk_page(
    desk: DeskView,
    print_again: Sequence[PieceRef],
    today: date,
    told: Mapping[int, date] = MappingProxyType({}),
    copies: str = "",
) -> DeskPage:
    """Return the page of a day. told: when customers were told, by the id of the order. copies: what is wrong with the copies of the data."""
    ready = _ready(desk, today)
    return DeskPage(
        heading=heading_of(today),
        tally=(
            _overdue(desk, today),
            Tally(
                label="to cut",
                number=count_text(desk.counts[Stage.ORDERED]),
                note=counted(desk.pieces_to_cut, "piece") if desk.pieces_to_cut else "",
                href=TO_CUT,
                act=PLAN,
            ),
            Tally(
                label="to collect",
                number=count_text(desk.to_collect.total),
                note=f"longest ready {_days(max(ready.values()))}" if ready else "",
                href=TO_COLLECT,
            ),
            _owed(desk),
        ),
        counts=counts(desk),
        work=_work(desk, today),
        to_collect=_to_collect(desk, ready, told),
        quotes=_quotes(desk, today),
        any_work=any(desk.counts.values()),
        copies=copies,
        print_again=to_print_again(print_again),
    )


def heading_of(today: date) -> str:
    """Say which day it is: "Wednesday 25 November"."""
    return f"{today:%A} {today.day} {today:%B}"


def due_words(due: date | None, today: date) -> str:
    """Say a day as one says it today: "9 days late", "today", "tomorrow", "Thu 3 Dec", with its year where that is another."""
    if due is None:
        return "no date"
    days = (due - today).days
    if days < 0:
        return f"{_days(-days)} late"
    if days < 2:
        return ("today", "tomorrow")[days]
    return f"{due:%a} {_short(due, today)}"


def what_of(order: OrderSummary) -> str:
    """Name what an order is about in short: its title, or how many things it has."""
    if order.things == 1:
        return order.titles[0] if order.titles else "untitled"
    one, many = ("piece", "pieces") if order.things == order.pieces else ("item", "items")
    return counted(order.things, one, many)


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
    return QUOTES if stage is Stage.QUOTED else f"/orders?stage={stage.value}"


def _short(day: date, today: date) -> str:
    year = "" if day.year == today.year or abs((day - today).days) < 180 else f" {day.year}"
    return f"{day.day} {day:%b}{year}"


def _overdue(desk: DeskView, today: date) -> Tally:
    first = desk.work.orders[0].due if desk.overdue and desk.work.orders else None
    oldest = f"oldest {_days((today - first).days)}" if first else ""
    return Tally(
        label="overdue",
        number=count_text(desk.overdue),
        note=oldest,
        href=LATE,
        late=desk.overdue > 0,
    )


def _owed(desk: DeskView) -> Tally:
    one = len(desk.owed) == 1
    currency = [desk.owed[0].currency.code] if one else []
    return Tally(
        label="owed",
        number=", ".join(show_money(amount, code=not one) for amount in desk.owed) or "0",
        note=", ".join((*currency, counted(desk.owing, "order"))) if desk.owing else "all is paid",
        href=OWING,
    )


def _work(desk: DeskView, today: date) -> DeskList:
    shown = desk.work.orders[:WORK_SHOWN]
    return DeskList(
        lines=tuple(
            _line(order, due_words(order.due, today), late=order.overdue(today)) for order in shown
        ),
        total=desk.work.total,
        href=WORK,
        more=_more(desk.work.total, len(shown), WORK),
    )


def _ready(desk: DeskView, today: date) -> Mapping[int, int]:
    """Return for how many days each order to collect is ready; what has no piece has been so since it was ordered."""
    since = {
        order.id: desk.ready[order.id].date() if order.id in desk.ready else order.ordered_on
        for order in desk.to_collect.orders
    }
    return {order_id: max((today - day).days, 0) for order_id, day in since.items() if day}


def _to_collect(desk: DeskView, ready: Mapping[int, int], told: Mapping[int, date]) -> DeskList:
    shown = desk.to_collect.orders[:WAITING_SHOWN]
    return DeskList(
        lines=tuple(
            replace(
                _line(order, _days(ready[order.id]) if ready.get(order.id) else "today"),
                end=f"owes {show_money(order.owed)}" if order.owed.minor > 0 else "paid",
                note=_told(told[order.id]) if order.id in told else "customer not told yet",
                concern=order.id not in told,
            )
            for order in shown
        ),
        total=desk.to_collect.total,
        href=TO_COLLECT,
        more=_more(desk.to_collect.total, len(shown), TO_COLLECT),
    )


def _told(day: date) -> str:
    return f"customer told {day.day} {day:%b}"


def _quotes(desk: DeskView, today: date) -> DeskList:
    """Return the quotes to ring about: some that lapsed last, some that lapse first."""
    half = QUOTES_SHOWN // 2
    expired = desk.out_of_date.orders[: max(half, QUOTES_SHOWN - len(desk.quotes.orders))]
    valid = desk.quotes.orders[: QUOTES_SHOWN - len(expired)]
    return DeskList(
        lines=tuple(_quote(order, today) for order in (*expired, *valid)),
        total=desk.counts[Stage.QUOTED],
        href=QUOTES,
        more=(
            *_more(desk.out_of_date.total, len(expired), EXPIRED, " expired"),
            *_more(desk.quotes.total, len(valid), VALID, " still valid"),
        ),
    )


def _quote(order: OrderSummary, today: date) -> DeskLine:
    expired = order.out_of_date(today)
    most = f" to {show_money(order.most)}" if order.most else ""
    return replace(
        _line(
            order,
            f"{'expired' if expired else 'until'} {_short(order.valid_until, today)}",
            late=expired,
        ),
        end=f"{show_money(order.total)}{most}",
    )


def _line(order: OrderSummary, when: str, *, late: bool = False) -> DeskLine:
    return DeskLine(
        id=order.id,
        when=when,
        late=late,
        number=order.number,
        customer=order.customer_name,
        what=what_of(order),
        place=order.place,
        places="; ".join(dict.fromkeys(order.places)),
        stage=order.stage,
    )


def _days(days: int) -> str:
    return counted(days, "day")


def _more(total: int, shown: int, href: str, which: str = "") -> tuple[tuple[str, str], ...]:
    left = total - shown
    return ((f"and {left} more{which}", href),) if left > 0 else ()
