"""The lists of quotes and of orders, with filters that stand in the address."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from app.orders import Stage
from app.storage import ListPage, OrderFilter, OrderSort, OrderSummary, PageRequest
from app.web.kit.fields import FieldView
from app.web.kit.listing import Chip, numbered, page_number, with_query
from app.web.kit.templating import Page

ORDER_STAGES = (
    Stage.ORDERED,
    Stage.CUT,
    Stage.FRAMED,
    Stage.COLLECTED,
    Stage.CANCELLED,
)
QUOTE_STAGES = (Stage.QUOTED, Stage.DECLINED)
DUE = {"late": "late", "week": "due this week"}
SORTS = {
    OrderSort.NEWEST: "newest first",
    OrderSort.DUE: "by due date",
    OrderSort.CHANGED: "last changed first",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderQuery:
    """What a list's address asks for. Whatever cannot be read there is left out."""

    path: str
    stage: Stage | None = None
    text: str = ""
    due: str = ""
    owing: bool = False
    sort: OrderSort = OrderSort.NEWEST
    page: int = 1

    @classmethod
    def read(cls, path: str, query: Mapping[str, str]) -> "OrderQuery":
        """From an address's query."""
        stage, sort = query.get("stage", ""), query.get("sort", "")
        return cls(
            path=path,
            stage=Stage(stage) if stage in set(Stage) else None,
            text=query.get("q", "").strip()[:200],
            due=query.get("due", "") if query.get("due") in DUE else "",
            owing=query.get("owing") == "1",
            sort=OrderSort(sort) if sort in set(OrderSort) else OrderSort.NEWEST,
            page=page_number(query),
        )

    def filter(self, today: date) -> OrderFilter:
        """The filter, with the days that “late” and “this week” mean today."""
        stages = {self.stage} if self.stage else set(self.stages)
        if self.due and not self.stage:
            stages = {Stage.ORDERED, Stage.CUT}
        return OrderFilter(
            stages=frozenset(stages),
            text=self.text,
            due_from=today if self.due == "week" else None,
            due_before={"late": today, "week": today + timedelta(days=8)}.get(self.due),
            owing=self.owing,
        )

    @property
    def stages(self) -> tuple[Stage, ...]:
        """The stages that the list may hold."""
        return QUOTE_STAGES if self.path == "/quotes" else ORDER_STAGES

    @property
    def part(self) -> PageRequest:
        """The page of the list."""
        return PageRequest(number=self.page)

    def href(self, **changes: str | int | bool | Stage | OrderSort | None) -> str:
        """This list with something changed, from its first page on."""
        values = {
            "stage": self.stage,
            "q": self.text,
            "due": self.due,
            "owing": "1" if self.owing else "",
            "sort": "" if self.sort is OrderSort.NEWEST else self.sort.value,
            **changes,
        }
        return with_query(self.path, values)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderListPage(Page):
    """A page of a list. kept: what the search form carries along."""

    wide: bool = True
    heading: str
    today: date
    rows: tuple[OrderSummary, ...]
    total: int
    search: FieldView
    kept: tuple[tuple[str, str], ...]
    chips: tuple[Chip, ...]
    sorts: tuple[Chip, ...]
    pages: tuple[Chip, ...]
    filtered: bool
    quotes: bool


def chips(wanted: OrderQuery) -> tuple[Chip, ...]:
    """The filters of a list."""
    stages = [
        Chip(
            label=stage.value,
            href=wanted.href(stage=None if stage is wanted.stage else stage),
            current=stage is wanted.stage,
        )
        for stage in wanted.stages
    ]
    if wanted.path == "/quotes":
        return tuple(stages)
    dues = [
        Chip(
            label=label,
            href=wanted.href(due="" if due == wanted.due else due),
            current=due == wanted.due,
        )
        for due, label in DUE.items()
    ]
    owing = Chip(
        label="owing", href=wanted.href(owing="" if wanted.owing else "1"), current=wanted.owing
    )
    return (*stages, *dues, owing)


def sorts(wanted: OrderQuery) -> tuple[Chip, ...]:
    """The ways of sorting."""
    return tuple(
        Chip(label=label, href=wanted.href(sort=sort), current=sort is wanted.sort)
        for sort, label in SORTS.items()
    )


def page_links(wanted: OrderQuery, listed: ListPage[OrderSummary]) -> tuple[Chip, ...]:
    """Links to the pages around this one, the first and the last; none for a single page."""
    return numbered(listed.page.number, listed.pages, lambda page: wanted.href(page=page))


def kept(wanted: OrderQuery) -> tuple[tuple[str, str], ...]:
    """The filters that a new search keeps."""
    values = (
        ("stage", wanted.stage.value if wanted.stage else ""),
        ("due", wanted.due),
        ("owing", "1" if wanted.owing else ""),
        ("sort", "" if wanted.sort is OrderSort.NEWEST else wanted.sort.value),
    )
    return tuple((name, value) for name, value in values if value)
