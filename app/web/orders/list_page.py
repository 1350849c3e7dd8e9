"""The lists of quotes and of orders, with filters that stand in the address."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import ClassVar

from app.money import Money
from app.orders import Stage
from app.storage import OrderFilter, OrderSort, OrderSummary
from app.web.kit.listing import (
    Chip,
    ChipRow,
    Listing,
    ListQuery,
    choice,
    flag,
    one_of,
    private_words,
)
from app.web.kit.templating import Page

DUE = {"open": "open work", "late": "overdue", "week": "due this week"}
VALID = {"open": "still valid", "expired": "expired"}
SORTS = {
    OrderSort.NEWEST: "newest first",
    OrderSort.DUE: "by due date",
    OrderSort.CHANGED: "last changed first",
    OrderSort.OWED: "most owed first",
}
QUOTE_SORTS = {
    OrderSort.NEWEST: "newest first",
    OrderSort.VALID: "by last day",
    OrderSort.CHANGED: "last changed first",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderQuery(ListQuery):
    """The filters, the search and the page that the address of the orders asks for.

    stages: those that the list may hold; sorts: the ways of sorting it, in words.
    due: of what is not finished yet all, what is late or what is due in the week ahead.
    """

    path: ClassVar[str] = "/orders"
    stages: ClassVar[tuple[Stage, ...]] = (
        Stage.ORDERED,
        Stage.CUT,
        Stage.FRAMED,
        Stage.COLLECTED,
        Stage.CANCELLED,
    )
    sorts: ClassVar[Mapping[OrderSort, str]] = SORTS
    stage: Stage | None = choice(Stage)
    text: str = private_words()
    due: str = one_of(DUE)
    owing: bool = flag()
    sort: OrderSort = choice(OrderSort, OrderSort.NEWEST)

    def filter(self, today: date) -> OrderFilter:
        """Return the filter, with the days that “late” and “this week” mean today."""
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

    def chips(self) -> Iterator[ChipRow]:
        """Return the filters and the ways of sorting."""
        yield ChipRow(label="Filters", chips=(*self._stages(), *self._dues()))
        yield ChipRow(label="Sorting", chips=self.choices("sort", self.sorts.items()), sorts=True)

    def _stages(self) -> tuple[Chip, ...]:
        return self.toggles("stage", ((stage, stage.value) for stage in self.stages))

    def _dues(self) -> tuple[Chip, ...]:
        return (*self.toggles("due", DUE.items()), *self.toggles("owing", [(True, "owing")]))


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteQuery(OrderQuery):
    """The filters, the search and the page that the address of the quotes asks for."""

    path: ClassVar[str] = "/quotes"
    stages: ClassVar[tuple[Stage, ...]] = (Stage.QUOTED, Stage.DECLINED)
    sorts: ClassVar[Mapping[OrderSort, str]] = QUOTE_SORTS
    valid: str = one_of(VALID)
    deleted: bool = flag()

    def filter(self, today: date) -> OrderFilter:
        """Return the filter; quotes that were deleted are left out unless they, a stage or words are asked for.

        Only a quote that is open is valid or expired.
        """
        asked = self.stage or self.text
        found = super(QuoteQuery, self).filter(today)
        if self.valid:
            return replace(
                found,
                stages=frozenset({Stage.QUOTED}),
                valid_from=today if self.valid == "open" else None,
                valid_before=today if self.valid == "expired" else None,
            )
        return replace(found, deleted=True if self.deleted else None if asked else False)

    def _dues(self) -> tuple[Chip, ...]:
        deleted = self.toggles("deleted", [(True, "deleted")])
        return (*self.toggles("valid", VALID.items()), *deleted)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderListPage(Page):
    """The list of quotes or of orders, a page at a time.

    quotes: whether it is the one of quotes. offered: what each that was declined came to, by its id.
    """

    wide: bool = True
    today: date
    quotes: bool
    offered: Mapping[int, Money]
    listing: Listing[OrderSummary]
