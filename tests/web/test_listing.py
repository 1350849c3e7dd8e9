"""Lists: what an address asks for and how it is written again; a page past the end is the last one."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any, ClassVar

import pytest

from app.storage import ListPage, PageRequest
from app.web.kit.listing import (
    ChipRow,
    ListQuery,
    choice,
    flag,
    one_of,
    part_of,
    search_field,
    words,
    yes_or_no,
)
from tests.web.shown import Counter


class Wood(StrEnum):
    OAK = "oak"
    ASH = "ash"


class Order(StrEnum):
    NEW = "new"
    OLD = "old"


@dataclass(frozen=True, slots=True, kw_only=True)
class Planks(ListQuery):
    path: ClassVar[str] = "/planks"
    wood: Wood | None = choice(Wood)
    text: str = words("q", 5)
    dry: bool = flag()
    sawn: bool | None = yes_or_no()
    when: str = one_of(("today", "soon"))
    sort: Order = choice(Order, Order.NEW)


@pytest.mark.parametrize(
    ("address", "asked"),
    [
        ({}, {}),
        ({"wood": "oak"}, {"wood": Wood.OAK}),
        ({"q": " long enough "}, {"text": "long "}),
        ({"dry": "1", "sawn": "0"}, {"dry": True, "sawn": False}),
        ({"sawn": "1", "when": "soon"}, {"sawn": True, "when": "soon"}),
        ({"sort": "old", "page": "3"}, {"sort": Order.OLD, "page": 3}),
    ],
)
def test_an_address_is_read_filter_by_filter(
    address: dict[str, str], asked: dict[str, Any]
) -> None:
    assert Planks.read(address) == Planks(**asked)


@pytest.mark.parametrize(
    "address",
    [
        {"wood": "glass"},
        {"dry": "yes"},
        {"sawn": "2"},
        {"when": "later"},
        {"sort": "upwards"},
        {"page": "x"},
        {"page": "-1"},
        {"page": "12345678"},
        {"text": "only q is its name"},
    ],
)
def test_what_cannot_be_read_is_left_out(address: dict[str, str]) -> None:
    assert Planks.read(address) == Planks()
    assert not Planks.read(address).narrowed


def test_another_address_keeps_the_filters_and_begins_at_the_first_page() -> None:
    wanted = Planks(wood=Wood.OAK, text="a&b", sort=Order.OLD, page=4)
    assert wanted.href() == "/planks?wood=oak&q=a%26b&sort=old"
    assert wanted.href(page=5) == "/planks?wood=oak&q=a%26b&sort=old&page=5"
    assert wanted.href(wood=None, sort=Order.NEW) == "/planks?q=a%26b"
    assert wanted.href("/planks.csv", text="", sawn=False) == (
        "/planks.csv?wood=oak&sawn=0&sort=old"
    )
    assert Planks().href() == "/planks"


def test_a_form_carries_along_what_it_does_not_show() -> None:
    wanted = Planks(wood=Wood.ASH, text="knots", dry=True)
    assert wanted.carried("q") == (("wood", "ash"), ("dry", "1"))
    assert wanted.carried() == (("wood", "ash"), ("q", "knots"), ("dry", "1"))


def test_a_choice_sets_its_filter_and_a_toggle_takes_it_off_too() -> None:
    wanted = Planks(wood=Wood.ASH, dry=True)
    kinds = wanted.choices("wood", ((None, "all"), (Wood.OAK, "oak"), (Wood.ASH, "ash")))
    assert [(chip.href, chip.current) for chip in kinds] == [
        ("/planks?dry=1", False),
        ("/planks?wood=oak&dry=1", False),
        ("/planks?wood=ash&dry=1", True),
    ]
    toggles = (*wanted.toggles("wood", ((Wood.ASH, "ash"),)), *wanted.toggles("dry", [(True, "")]))
    assert [(chip.href, chip.current) for chip in toggles] == [
        ("/planks?dry=1", True),
        ("/planks?wood=ash", True),
    ]


def test_a_page_of_a_list_has_the_ways_to_the_others() -> None:
    wanted = Planks(text="oak", dry=True, page=2)
    listed = wanted.part(lambda page: part_of(range(60), page))
    search = search_field("oak", "Part of a name")
    chips = ChipRow(label="Kinds", chips=wanted.choices("wood", ((None, "all"),)))
    shown = wanted.listing(listed, listed.rows, fields=(search,), chips=(chips,))
    assert shown.rows == tuple(range(25, 50))
    assert (shown.total, shown.path, shown.narrowed) == (60, "/planks", True)
    assert shown.carried == (("dry", "1"),)
    assert [(each.label, each.href, each.current) for each in shown.pages] == [
        ("1", "/planks?q=oak&dry=1&page=1", False),
        ("2", "/planks?q=oak&dry=1&page=2", True),
        ("3", "/planks?q=oak&dry=1&page=3", False),
    ]


def test_of_many_pages_the_near_ones_and_both_ends_have_links() -> None:
    listed = ListPage.of([1], 1000, PageRequest(number=10))
    shown = Planks(page=10).listing(listed, listed.rows)
    assert [each.label for each in shown.pages] == ["1", "8", "9", "10", "11", "12", "20"]


def test_a_single_page_has_no_links() -> None:
    wanted = Planks()
    listed = wanted.part(lambda page: part_of(range(25), page))
    assert wanted.listing(listed, listed.rows).pages == ()


@pytest.mark.parametrize(("page", "rows"), [(3, range(50, 60)), (4, range(50, 60))])
def test_past_the_end_is_the_last_page(page: int, rows: range) -> None:
    listed = Planks(page=page).part(lambda part: part_of(range(60), part))
    assert listed.rows == tuple(rows)
    assert listed.page.number == 3


def test_an_empty_list_is_asked_for_once() -> None:
    asked: list[int] = []

    def ask(page: PageRequest) -> ListPage[int]:
        asked.append(page.number)
        return ListPage.of((), 0, page)

    assert Planks(page=7).part(ask).rows == ()
    assert asked == [7]


@pytest.mark.parametrize("address", ["/customers", "/materials", "/quotes"])
def test_every_list_shows_its_last_page_for_one_past_it(counter: Counter, address: str) -> None:
    counter.client.post("/customers", data={"name": "Rinn Vale"})
    shown, beyond = counter.get(address), counter.get(f"{address}?page=99")
    assert shown.main == beyond.main
    assert beyond.status == 200
