"""Lists and the desk: right with a few orders, and as cheap with many."""

import re
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path
from shutil import copyfile
from typing import Any

import pytest
from sqlalchemy import event, text

from app.orders import Customer, Stage
from app.services import customers, desk, orders
from app.services import stages as progress
from app.services.orders import QuoteHead
from app.services.payments import Payment, add_payment
from app.services.stages import Terms
from app.storage import (
    ANY_ORDER,
    DATABASE_NAME,
    CustomerSums,
    OrderFilter,
    OrderSort,
    PageRequest,
    Store,
    UnitOfWork,
    check_database,
)
from tests.builders.kept import ACT, NOW, cheap_piece, later, piece
from tests.builders.order_now import order_at
from tests.builders.values import TODAY, euro

TOTAL = piece().agreed.price.to_pay
DAY = timedelta(days=1)


def _quote(store: Store, customer: int, title: str, *, place: str = "", valid: int = 30) -> int:
    head = QuoteHead(customer_id=customer, valid_until=TODAY + valid * DAY)
    return orders.save_quote(store, head, [cheap_piece(title, place)], ACT)


def _order(store: Store, customer: int, title: str, stage: Stage, due: int | None) -> int:
    """An order that has come to a stage, due in some days."""
    order_id = _quote(store, customer, title)
    terms = Terms(due=None if due is None else TODAY + due * DAY)
    progress.take_order(store, order_at(store, order_id), terms, ACT)
    for next_stage in (Stage.CUT, Stage.FRAMED, Stage.COLLECTED):
        if orders.get(store, order_id).stage is not stage:
            progress.move_order(store, order_at(store, order_id), next_stage, ACT)
    return order_id


@pytest.fixture(scope="module")
def busy_file(shop_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Eight orders: 1 and 2 quoted, 3 and 4 ordered, 5 cut, 6 framed, 7 collected, 8 declined."""
    file = tmp_path_factory.mktemp("busy") / DATABASE_NAME
    copyfile(shop_file, file)
    with Store.open(file) as store:
        _fill(store)
    return file


@pytest.fixture
def busy(busy_file: Path, path: Path) -> Iterator[Store]:
    """A copy of the busy shop, for this test alone."""
    copyfile(busy_file, path)
    with Store.open(path) as store:
        yield store


def _fill(store: Store) -> None:
    with store.writing() as work:
        amber = work.customers.add(Customer(name="Amber Quill"), now=NOW)
        zoe = work.customers.add(Customer(name="Zoë Fennel"), now=NOW)
    _quote(store, amber, "Harbour at dusk", place="Drawer 3")
    _quote(store, zoe, "Écluse", valid=-1)
    _order(store, amber, "Two herons", Stage.ORDERED, due=3)
    _order(store, zoe, "Herbarium", Stage.ORDERED, due=-2)
    _order(store, amber, "Old map", Stage.CUT, due=20)
    _order(store, zoe, "Wedding", Stage.FRAMED, due=-5)
    _order(store, amber, "Diploma", Stage.COLLECTED, due=None)
    declined = _quote(store, zoe, "Poster")
    progress.move_order(store, order_at(store, declined), Stage.DECLINED, ACT)
    add_payment(store, order_at(store, 6), Payment(amount=TOTAL), ACT)
    add_payment(store, order_at(store, 7), Payment(amount=TOTAL - euro("20")), ACT)


def _ids(store: Store, wanted: OrderFilter, sort: OrderSort = OrderSort.NEWEST) -> list[int]:
    listed = orders.listed(store, wanted, sort)
    assert listed.total == len(listed.rows)
    return [row.id for row in listed.rows]


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        (ANY_ORDER, [8, 7, 6, 5, 4, 3, 2, 1]),
        (OrderFilter(stages=frozenset({Stage.QUOTED})), [2, 1]),
        (OrderFilter(stages=frozenset({Stage.ORDERED, Stage.CUT, Stage.DECLINED})), [8, 5, 4, 3]),
        (OrderFilter(stages=frozenset({Stage.CANCELLED})), []),
        (OrderFilter(customer_id=2), [8, 6, 4, 2]),
        (OrderFilter(customer_id=2, stages=frozenset({Stage.QUOTED, Stage.FRAMED})), [6, 2]),
        (OrderFilter(owing=True), [7, 5, 4, 3]),
        (OrderFilter(owing=True, stages=frozenset({Stage.COLLECTED})), [7]),
        (OrderFilter(due_before=TODAY), [6, 4]),
        (OrderFilter(due_from=TODAY), [5, 3]),
        (OrderFilter(due_from=TODAY, due_before=TODAY + 4 * DAY), [3]),
        (OrderFilter(due_before=TODAY, stages=frozenset({Stage.ORDERED, Stage.CUT})), [4]),
    ],
)
def test_a_list_holds_what_its_filter_says(
    busy: Store, wanted: OrderFilter, found: list[int]
) -> None:
    assert _ids(busy, wanted) == found


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("herons", [3]),
        ("her", [4, 3]),
        ("ecluse", [2]),
        ("ÉCL", [2]),
        ("amber", [7, 5, 3, 1]),
        ("amber map", [5]),
        ("fennel zoe poster", [8]),
        ("drawer", [1]),
        ("Q-2026-0002", [2]),
        ("q 2026 0002", [4, 2]),  # order 2026-0002 has a Q, too
        ("2026-0002", [4, 2]),  # an order's number and a quote's
        ("5", [7, 5]),  # quote 5 and order 5
        ("0005", [7, 5]),
        ("nobody", []),
        ("😀", []),
        ('"', []),
        ("title:harbour", []),
        ("harbour OR herons", []),
        ("harbour*", [1]),
        ("^harbour", [1]),
        ("har\x00", [1]),
        ("z" * 10_000, []),
        ("amber " * 3000, [7, 5, 3, 1]),
    ],
)
def test_orders_are_found_by_number_customer_title_and_place(
    busy: Store, typed: str, found: list[int]
) -> None:
    assert _ids(busy, OrderFilter(text=typed)) == found


def test_an_order_is_found_by_what_it_says_now(busy: Store) -> None:
    orders.set_note(busy, order_at(busy, 1), "ask about glass", ACT)
    orders.set_place(busy, order_at(busy, 1), 1, "Rack Z", ACT)
    orders.add_piece(busy, order_at(busy, 2), cheap_piece("Lighthouse"), ACT)
    orders.remove_piece(busy, order_at(busy, 2), 1, ACT)
    with busy.writing() as work:
        work.customers.save(2, Customer(name="Zoë Reed"), 1, now=NOW)
    for typed, found in (
        ("glass", [1]),
        ("rack", [1]),
        ("drawer", []),
        ("lighthouse", [2]),
        ("ecluse", []),
        ("reed", [8, 6, 4, 2]),
        ("fennel", []),
    ):
        assert _ids(busy, OrderFilter(text=typed)) == found, typed


def test_orders_of_an_erased_customer_stay_without_the_name(busy: Store) -> None:
    with busy.writing() as work:
        work.customers.erase(2, now=NOW)
    assert _ids(busy, OrderFilter(text="fennel")) == []
    assert _ids(busy, OrderFilter(customer_id=2)) == [8, 6, 4, 2]
    assert orders.get(busy, 4).customer_name == "removed customer"
    assert check_database(busy) == ()


def test_by_due_date_what_has_none_comes_last(busy: Store) -> None:
    working = frozenset({Stage.ORDERED, Stage.CUT, Stage.FRAMED, Stage.COLLECTED})
    assert _ids(busy, OrderFilter(stages=working), OrderSort.DUE) == [6, 4, 3, 5, 7]
    assert _ids(busy, ANY_ORDER, OrderSort.DUE) == [6, 4, 3, 5, 1, 2, 7, 8]


def test_by_last_change_the_latest_comes_first(busy: Store) -> None:
    orders.set_note(busy, order_at(busy, 3), "later", later(minutes=1))
    orders.set_note(busy, order_at(busy, 1), "latest", later(minutes=2))
    assert _ids(busy, ANY_ORDER, OrderSort.CHANGED)[:2] == [1, 3]


def test_a_row_says_what_a_list_shows(busy: Store) -> None:
    row = orders.listed(busy, OrderFilter(stages=frozenset({Stage.COLLECTED}))).rows[0]
    assert (row.number, row.quote_number, row.order_number) == (
        "2026-0005",
        "Q-2026-0007",
        "2026-0005",
    )
    assert (row.customer_name, row.pieces, row.titles, row.places) == (
        "Amber Quill",
        1,
        ("Diploma",),
        (),
    )
    assert (row.total, row.paid, row.owed) == (TOTAL, TOTAL - euro("20"), euro("20"))


def test_late_and_lapsed_are_told_from_the_day(busy: Store) -> None:
    rows = {row.id: row for row in orders.listed(busy).rows}
    assert [id_ for id_, row in sorted(rows.items()) if row.overdue(TODAY)] == [4]
    assert [id_ for id_, row in sorted(rows.items()) if row.out_of_date(TODAY)] == [2]


def test_by_validity_what_lapses_first_comes_first(busy: Store) -> None:
    assert _ids(busy, ANY_ORDER, OrderSort.VALID) == [2, 1, 3, 4, 5, 6, 7, 8]
    quoted = frozenset({Stage.QUOTED})
    assert _ids(busy, OrderFilter(stages=quoted), OrderSort.VALID) == [2, 1]
    assert _ids(busy, OrderFilter(stages=quoted, valid_before=TODAY)) == [2]
    assert _ids(busy, OrderFilter(stages=quoted, valid_from=TODAY)) == [1]


def test_by_what_is_owed_the_largest_sum_comes_first_and_nothing_that_is_paid(busy: Store) -> None:
    assert _ids(busy, ANY_ORDER, OrderSort.OWED) == [5, 4, 3, 7]


def test_what_a_customer_owes_and_has_ordered_is_of_all_that_is_theirs(busy: Store) -> None:
    """Amber: two orders unpaid, one paid but for 20.00, and a quote, which is nothing yet. Zoë: one unpaid, one paid; of two quotes one declined."""
    amber, zoe = customers.sums(busy, 1), customers.sums(busy, 2)
    assert (amber.owed, amber.ordered) == ((TOTAL + TOTAL + euro("20"),), (TOTAL + TOTAL + TOTAL,))
    assert (zoe.owed, zoe.ordered) == ((TOTAL,), (TOTAL + TOTAL,))


def test_nobody_owes_what_comes_to_nothing(busy: Store) -> None:
    with busy.writing() as work:
        rinn = work.customers.add(Customer(name="Rinn Vale"), now=NOW)
    _quote(busy, rinn, "Poster")
    assert customers.sums(busy, rinn) == CustomerSums(owed=(), ordered=())


def test_the_desk_sorts_the_work_into_trays(busy: Store) -> None:
    view = desk.view(busy, today=TODAY)
    trays = {
        name: [row.id for row in getattr(view, name).orders]
        for name in ("work", "to_collect", "quotes", "out_of_date")
    }
    assert trays == {
        "work": [4, 3, 5],
        "to_collect": [6],
        "quotes": [1],
        "out_of_date": [2],
    }
    assert (view.overdue, view.pieces_to_cut) == (1, 2)
    assert view.ready == {6: NOW}
    assert view.owing == 4
    assert view.owed == (TOTAL * 3 + euro("20"),)
    assert view.counts == {
        Stage.QUOTED: 2,
        Stage.ORDERED: 2,
        Stage.CUT: 1,
        Stage.FRAMED: 1,
        Stage.COLLECTED: 1,
        Stage.DECLINED: 1,
        Stage.CANCELLED: 0,
    }


def test_what_has_been_ready_longest_is_collected_first(busy: Store) -> None:
    for number, order_id in enumerate((5, 3), start=1):
        for stage in (Stage.CUT, Stage.FRAMED):
            if orders.get(busy, order_id).stage is not stage:
                progress.move_order(busy, order_at(busy, order_id), stage, later(days=number))
    view = desk.view(busy, today=TODAY)
    assert [row.id for row in view.to_collect.orders] == [6, 5, 3]
    assert [view.ready[order_id] - NOW for order_id in (6, 5, 3)] == [0 * DAY, DAY, 2 * DAY]


def test_what_was_framed_by_mistake_is_ready_since_it_was_framed_again(busy: Store) -> None:
    progress.take_back(busy, order_at(busy, 6), later(days=1))
    assert not desk.view(busy, today=TODAY).ready
    progress.move_order(busy, order_at(busy, 6), Stage.FRAMED, later(days=3))
    assert desk.view(busy, today=TODAY).ready[6] == NOW + 3 * DAY


def test_a_tray_shows_a_few_and_says_how_many_there_are(busy: Store) -> None:
    view = desk.view(busy, today=TODAY, rows=1)
    assert [row.id for row in view.work.orders] == [4]
    assert view.work.total == 3


def test_the_desk_of_a_new_shop_is_empty(store: Store) -> None:
    view = desk.view(store, today=TODAY)
    assert (view.owed, view.work.total, sum(view.counts.values())) == ((), 0, 0)


def test_a_page_beyond_the_end_is_empty(busy: Store) -> None:
    listed = orders.listed(busy, page=PageRequest(number=9, size=5))
    assert (listed.rows, listed.total, listed.pages) == ((), 8, 2)


@pytest.mark.parametrize(("asked", "given"), [((0, 0), (1, 1)), ((-3, 9999), (1, 200))])
def test_a_page_has_bounds(asked: tuple[int, int], given: tuple[int, int]) -> None:
    page = PageRequest(number=asked[0], size=asked[1])
    assert (page.number, page.size) == given


# What it costs


SMALL, LARGE = 600, 9000

MANY = """
    WITH RECURSIVE counted (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM counted WHERE n < :many)
    INSERT INTO orders (
        version, customer_id, quote_number, order_number, quoted_on, valid_until, ordered_on, due,
        note, stage, currency, total_minor, paid_minor, owed_minor, updated_at
    )
    SELECT
        1, 1 + n % :customers, printf('Q-2025-%05d', n),
        CASE WHEN n % 10 THEN printf('2025-%05d', n) END,
        date('2000-01-01', n || ' days'), date('2000-02-01', n || ' days'),
        CASE WHEN n % 10 THEN date('2000-01-02', n || ' days') END,
        CASE WHEN n % 10 THEN date('2000-01-20', n || ' days') END,
        '',
        CASE WHEN n % 10 = 0 THEN 'quoted' WHEN n > :many - 40 THEN
            CASE n % 3 WHEN 0 THEN 'ordered' WHEN 1 THEN 'cut' ELSE 'framed' END
        ELSE 'collected' END,
        'EUR', 10000, CASE WHEN n > :many - 40 THEN 4000 ELSE 10000 END,
        CASE WHEN n > :many - 40 AND n % 10 THEN 6000 ELSE 0 END,
        strftime('%Y-%m-%dT%H:%M:%S.000000Z', '2000-01-01', n || ' days')
    FROM counted
"""


def _filled(path: Path, many: int) -> Store:
    """A store with so many orders, of which the last forty are being worked on."""
    store = Store.open(path)
    with store.writing() as work:
        customers = max(1, many // 5)
        for number in range(customers):
            work.customers.add(Customer(name=f"Customer {number:05}"), now=NOW)
        work.session.execute(text(MANY), {"many": many, "customers": customers})
        work.session.execute(
            text(
                "INSERT INTO pieces (order_id, number, title, kind, condition, place, stage) "
                "SELECT id, 1, 'Piece ' || id, 'print', '', '', stage FROM orders"
            )
        )
    return store


@pytest.fixture(scope="module")
def small_and_large(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Store, Store]]:
    folder = tmp_path_factory.mktemp("sizes")
    with (
        _filled(folder / "small.sqlite3", SMALL) as small,
        _filled(folder / "large.sqlite3", LARGE) as large,
    ):
        yield small, large


OPEN = frozenset({Stage.ORDERED, Stage.CUT, Stage.FRAMED})
WORKED = OPEN | {Stage.COLLECTED, Stage.CANCELLED}
type Query = Callable[[UnitOfWork], object]


def _listing(wanted: OrderFilter = ANY_ORDER, sort: OrderSort = OrderSort.NEWEST) -> Query:
    return lambda work: work.order_lists.listed(wanted, sort)


QUERIES: dict[str, Query] = {
    "desk": lambda work: work.desk.view(TODAY),
    **{f"all by {sort}": _listing(sort=sort) for sort in OrderSort},
    **{f"orders by {sort}": _listing(OrderFilter(stages=WORKED), sort) for sort in OrderSort},
    **{
        f"{stage} by {sort}": _listing(OrderFilter(stages=frozenset({stage})), sort)
        for sort in OrderSort
        for stage in (Stage.QUOTED, Stage.COLLECTED)
    },
    "late": _listing(OrderFilter(stages=OPEN, due_before=TODAY), OrderSort.DUE),
    "late by newest": _listing(OrderFilter(stages=OPEN, due_before=TODAY)),
    "owing": _listing(OrderFilter(owing=True)),
    "owing orders": _listing(OrderFilter(owing=True, stages=WORKED)),
    "of a customer": _listing(OrderFilter(customer_id=7)),
    "orders of a customer": _listing(OrderFilter(customer_id=7, stages=WORKED)),
    "by words": _listing(OrderFilter(text="piece 12")),
    "orders by a number": _listing(OrderFilter(text="Q-2025-00123", stages=WORKED)),
    "sums of a customer": lambda work: work.order_lists.sums_of_customer(7),
    "customers": lambda work: work.customers.listed(),
    "a customer by words": lambda work: work.customers.find("customer 00012"),
    "a customer by part": lambda work: work.customers.find("00012"),
}


def _statements(store: Store, query: Query) -> list[tuple[str, Any]]:
    """Every statement of a query with its values."""
    found: list[tuple[str, Any]] = []

    def note(_conn: object, _cursor: object, statement: str, values: Any, *_: object) -> None:
        if statement.startswith("SELECT"):
            found.append((statement, values))

    with store.reading() as work:
        engine = work.session.get_bind()
        event.listen(engine, "before_cursor_execute", note)
        try:
            query(work)
        finally:
            event.remove(engine, "before_cursor_execute", note)
    return found


@pytest.mark.parametrize("name", QUERIES)
def test_no_list_reads_a_whole_table(small_and_large: tuple[Store, Store], name: str) -> None:
    _, large = small_and_large
    statements = _statements(large, QUERIES[name])
    assert statements
    with closing(sqlite3.connect(large.path)) as connection:
        for statement, values in statements:
            plan = [row[3] for row in connection.execute(f"EXPLAIN QUERY PLAN {statement}", values)]
            whole = [step for step in plan if _is_whole_scan(step)]
            assert not whole, f"{statement}\n" + "\n".join(plan)


def _is_whole_scan(step: str) -> bool:
    """Whether a step goes through a table row by row without the help of an index.

    The seven rows of the stage counts may be read whole, and a word index scans its own answer.
    """
    scan = re.match(r"SCAN (\w+)", step)
    if scan is None or "INDEX" in step:
        return False
    return scan[1] not in ("stage_counts", "order_words", "customer_words", "customer_parts")


@contextmanager
def _counted(store: Store) -> Iterator[list[int]]:
    """Counts the steps of SQLite's machine in tens, which unlike time are always the same."""
    steps = [0]

    def step() -> int:
        steps[0] += 1
        return 0

    with store.reading() as work:
        driver = work.session.connection().connection.driver_connection
        assert driver is not None
        driver.set_progress_handler(step, 10)
    yield steps
    with store.reading() as work:
        driver = work.session.connection().connection.driver_connection
        assert driver is not None
        driver.set_progress_handler(None, 0)


A_FEW = 50
"""Tens of steps that a word index takes more or less; reading all orders would take thousands."""

FOLLOWS_THE_NUMBER_FOUND = {"customers", "by words", "desk"}
"""These count what they find: all customers, every match, every quote that has lapsed."""


@pytest.mark.parametrize("name", [name for name in QUERIES if name not in FOLLOWS_THE_NUMBER_FOUND])
def test_a_list_of_fifteen_times_as_many_orders_costs_the_same(
    small_and_large: tuple[Store, Store], name: str
) -> None:
    costs = []
    for store in small_and_large:
        with _counted(store) as steps, store.reading() as work:
            QUERIES[name](work)
        costs.append(steps[0])
    small, large = costs
    assert large <= small * 1.5 + A_FEW, costs


def test_the_data_of_these_tests_are_of_the_sizes_they_say(
    small_and_large: tuple[Store, Store],
) -> None:
    for store, many in zip(small_and_large, (SMALL, LARGE), strict=True):
        with store.reading() as work:
            assert work.order_lists.listed().total == many
            assert len(work.order_lists.listed(OrderFilter(stages=OPEN)).rows) == 36
    assert DATABASE_NAME not in {store.path.name for store in small_and_large}
