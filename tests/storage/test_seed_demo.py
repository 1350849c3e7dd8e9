"""The sample shop as it stands in its database."""

import os
import sqlite3
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import closing, nullcontext
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

import seed_demo
from app.errors import Conflict, Invalid
from app.framing import Presentation
from app.money import Money
from app.orders import EntryKind, Order, Stage
from app.services import buying, deliveries, plans
from app.services.order_transaction import account_now, settle
from app.stock.planning.plans import PlanStage, standing
from app.storage import (
    DATABASE_NAME,
    DeskView,
    OrderFilter,
    PageRequest,
    Stamp,
    StockFilter,
    Store,
    check_database,
)
from seed_demo.__main__ import main
from seed_demo.build import USUAL_ORDERS, build_demo

TODAY = date(2026, 11, 25)


def built(folder: Path, *, orders: int | None = None, today: date = TODAY) -> Path:
    path = folder / DATABASE_NAME
    with Store.open(path) as store:
        build_demo(store, orders=orders, today=today)
    return path


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with Store.open(built(tmp_path_factory.mktemp("sample"))) as store:
        yield store


@pytest.fixture(scope="module")
def orders(sample: Store) -> tuple[Order, ...]:
    with sample.reading() as work:
        return tuple(work.orders.get(number) for number in range(1, USUAL_ORDERS + 1))


def lines_of(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        return list(connection.iterdump())


def desk_on(store: Store, today: date) -> DeskView:
    with store.reading() as work:
        return work.desk.view(today)


def test_it_is_a_sample_with_its_book_its_customers_and_a_year_of_orders(sample: Store) -> None:
    with sample.reading() as work:
        assert work.shop.get().sample
        assert sum(work.materials.counts().values()) > 150
        assert work.customers.listed().total >= 60
        assert work.order_lists.count(OrderFilter()) == USUAL_ORDERS


def test_the_database_passes_its_own_check(sample: Store) -> None:
    assert check_database(sample) == ()


@pytest.mark.slow
def test_the_same_day_gives_the_same_shop(sample: Store, tmp_path: Path) -> None:
    assert lines_of(built(tmp_path)) == lines_of(sample.path)


@pytest.mark.slow
def test_another_run_of_python_gives_the_same_shop(tmp_path: Path) -> None:
    """Sets are in another order under another hash seed, so what was agreed is compared as values."""
    here, there = tmp_path / "here", tmp_path / "there"
    here.mkdir()
    built(here, orders=40)
    asked = ["--data", str(there), "--orders", "40", "--today", TODAY.isoformat()]
    subprocess.run(
        [sys.executable, "-m", "seed_demo", *asked],
        check=True,
        capture_output=True,
        cwd=Path(seed_demo.__file__).parents[1],
        env={**os.environ, "PYTHONHASHSEED": "11"},
    )
    one, other = (folder / DATABASE_NAME for folder in (here, there))
    assert [line for line in lines_of(one) if "piece_snapshots" not in line] == [
        line for line in lines_of(other) if "piece_snapshots" not in line
    ]
    with (
        Store.open(one) as first,
        Store.open(other) as second,
        first.reading() as work,
        second.reading() as its,
    ):
        for number in range(1, 41):
            assert work.orders.get(number) == its.orders.get(number)


def test_every_stage_is_there_and_most_orders_are_done(orders: tuple[Order, ...]) -> None:
    stages = Counter(order.stage for order in orders)
    assert set(stages) == set(Stage)
    assert stages[Stage.COLLECTED] > USUAL_ORDERS // 2


def test_every_presentation_and_orders_of_several_pieces_are_there(
    orders: tuple[Order, ...],
) -> None:
    pieces = [piece for order in orders for piece in order.pieces]
    assert {piece.agreed.spec.presentation for piece in pieces} == set(Presentation)
    assert sum(len(order.pieces) > 1 for order in orders) > USUAL_ORDERS // 5
    assert any(piece.artwork.condition for piece in pieces)
    assert all(piece.artwork.title and piece.artwork.place for piece in pieces)
    assert any(piece.agreed.price.rush for piece in pieces)
    assert any(piece.agreed.price.discount for piece in pieces)
    assert any(piece.agreed.tax_free and not piece.agreed.price.tax.tax for piece in pieces)


def test_the_ledger_knows_every_kind_of_entry_and_never_gives_back_too_much(
    orders: tuple[Order, ...],
) -> None:
    kinds = {written.entry.kind for order in orders for written in order.entries}
    assert kinds == set(EntryKind)
    for order in orders:
        received = 0
        for written in order.entries:
            received += written.entry.amount.minor
            assert received >= 0, order.number


@pytest.mark.slow
def test_what_lists_show_is_what_the_app_settles(tmp_path: Path) -> None:
    path = built(tmp_path, orders=120)
    shown = "SELECT id, stage, currency, total_minor, paid_minor, owed_minor FROM orders"
    with closing(sqlite3.connect(path)) as connection:
        before = connection.execute(shown).fetchall()
    act = Stamp(who="Mirela", now=datetime(2026, 11, 25, 9, tzinfo=UTC))
    with Store.open(path) as store, store.writing() as work:
        for number, *_ in before:
            settle(work, number, act)
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute(shown).fetchall() == before


def test_numbers_run_in_the_order_of_the_days_and_go_on_from_there(sample: Store) -> None:
    with closing(sqlite3.connect(sample.path)) as connection:
        for column, day in (("quote_number", "quoted_on"), ("order_number", "ordered_on")):
            rows = connection.execute(
                f"SELECT {day}, {column} FROM orders WHERE {column} IS NOT NULL ORDER BY {column}"
            ).fetchall()
            assert [on for on, _ in rows] == sorted(on for on, _ in rows)
            for year in {on[:4] for on, _ in rows}:
                taken = [int(number[-4:]) for on, number in rows if on.startswith(year)]
                assert taken == list(range(1, len(taken) + 1))
                last = connection.execute(
                    "SELECT last FROM counters WHERE series = ? AND year = ?",
                    (column.removesuffix("_number"), int(year)),
                ).fetchone()
                assert last == (len(taken),)


@pytest.mark.slow
@pytest.mark.parametrize(
    "today",
    [
        TODAY,
        date(2027, 1, 1),
        date(2027, 2, 28),  # a Sunday
        date(2028, 2, 29),
    ],
)
def test_the_desk_looks_alive_on_any_day(today: date, sample: Store, tmp_path: Path) -> None:
    its_own = today != TODAY
    with Store.open(built(tmp_path, today=today)) if its_own else nullcontext(sample) as store:
        desk = desk_on(store, today)
        assert 2 <= desk.overdue <= 15
        soon = OrderFilter(
            stages=frozenset({Stage.ORDERED, Stage.CUT}),
            due_from=today,
            due_before=today + timedelta(days=8),
        )
        with store.reading() as work:
            assert 2 <= work.order_lists.count(soon) <= 20
        for stage in (Stage.ORDERED, Stage.CUT, Stage.FRAMED):
            assert desk.counts[stage] >= 2
        assert desk.to_collect.total >= 2
        assert desk.owing >= 2
        assert desk.quotes.total >= 2
        long_since = OrderFilter(
            stages=frozenset({Stage.FRAMED}), due_before=today - timedelta(days=25)
        )
        with store.reading() as work:
            assert work.order_lists.count(long_since) >= 2


def test_orders_are_found_by_what_is_written_on_them(
    sample: Store, orders: tuple[Order, ...]
) -> None:
    order = next(each for each in orders if each.order_number)
    title = order.pieces[0].artwork.title
    with sample.reading() as work:
        for text in (order.number, order.customer_name, title):
            found = work.order_lists.listed(OrderFilter(text=text), page=PageRequest(size=200))
            assert order.id in {row.id for row in found.rows}, text


def test_nothing_happens_today_or_later(orders: tuple[Order, ...]) -> None:
    for order in orders:
        moments = [c.at for piece in order.pieces for c in piece.changes]
        moments += [written.entry.at for written in order.entries]
        assert all(at.date() < TODAY for at in moments)
        assert order.quoted_on < TODAY


@pytest.mark.slow
def test_a_sized_sample_has_every_order_and_spreads_over_more_years(tmp_path: Path) -> None:
    """As many as come within three transactions, and above what a year holds: 2,500 of them are."""
    path = built(tmp_path, orders=2800)
    with Store.open(path) as store:
        assert check_database(store) == ()
        with store.reading() as work:
            assert work.order_lists.count(OrderFilter()) == 2800
            assert work.customers.listed().total == 2800 // 6
            assert TODAY - work.orders.get(1).quoted_on > timedelta(days=400)
        assert desk_on(store, TODAY).overdue >= 1


@pytest.mark.slow
def test_a_folder_with_a_shop_is_left_alone(tmp_path: Path) -> None:
    path = built(tmp_path, orders=3)
    before = lines_of(path)
    with Store.open(path) as store, pytest.raises(Conflict, match="only into an empty folder"):
        build_demo(store, orders=3, today=TODAY)
    assert lines_of(path) == before


@pytest.mark.parametrize("wanted", [-1, 200_001])
def test_a_number_out_of_range_is_refused_before_anything_is_written(
    wanted: int, tmp_path: Path
) -> None:
    with Store.open(tmp_path / DATABASE_NAME) as store:
        with pytest.raises(Invalid, match=f"{wanted} orders were asked for; 0 to 200000"):
            build_demo(store, orders=wanted, today=TODAY)
        assert store.current_shop() is None


@pytest.mark.slow
def test_no_orders_at_all_is_a_shop_to_begin_with(tmp_path: Path) -> None:
    with Store.open(built(tmp_path, orders=0)) as store, store.reading() as work:
        assert work.shop.get().sample
        assert work.order_lists.count(OrderFilter()) == 0


def test_the_command_builds_into_a_folder_and_says_how_to_serve_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "new" / "shop"
    asked = ["--data", str(folder), "--orders", "4", "--today", "2026-11-25"]
    assert main(asked) == 0
    assert f"--data {folder}" in capsys.readouterr().out
    assert main(asked) == 2
    assert "There is a shop here already" in capsys.readouterr().err


def test_the_command_says_what_is_wrong_with_its_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "taken").write_text("a file, not a folder")
    assert main(["--data", str(tmp_path / "taken" / "shop")]) == 2
    assert "cannot be used" in capsys.readouterr().err


@pytest.mark.parametrize("typed", ["25.11.2026", "2026-13-01", "soon"])
def test_a_day_that_cannot_be_read_is_refused(
    typed: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["--data", str(tmp_path), "--today", typed])
    assert stopped.value.code == 2
    assert "--today" in capsys.readouterr().err


def test_orders_to_suppliers_stand_at_every_turn_and_lie_on_the_rack_as_they_came(
    sample: Store,
) -> None:
    """As its table has them: 22 sticks came whole, 36 of 45 sheets, glass is on its way, rings in a draft."""
    listed = buying.listed(sample).rows
    assert [(each.number, each.stage.value, each.outstanding) for each in listed] == [
        ("B-2026-0004", "draft", 0),
        ("B-2026-0003", "sent", 16),
        ("B-2026-0002", "sent", 9),
        ("B-2026-0001", "closed", 0),
    ]
    came: Counter[str] = Counter()
    with sample.reading() as work:
        for line in work.stock_lists.every(StockFilter(gone=True)):
            moved = (each.entry for each in work.stock.movements(line.kept.id))
            came[line.kept.item.material] += sum(each.change for each in moved if each.line_id)
    assert +came == {
        "B20-OAK": 10,
        "B30-OAK": 6,
        "B15-WAL": 6,
        "SALT14": 20,
        "GULL14": 6,
        "MOUNT14": 10,
    }
    # Mats came at 9.80, the book says 9.40.
    changed = {each.change.old.code for each in deliveries.costs_received(sample, 2)}
    assert changed == {"SALT14", "GULL14"}
    suppliers = {each.supplier for each in listed}
    with sample.reading() as work:
        assert suppliers <= {material.supplier for material in work.materials.all()}


def test_one_plan_is_cut_and_one_lies_at_the_bench(sample: Store) -> None:
    begun, done = (plans.get(sample, each.id) for each in plans.listed(sample).rows)
    assert [(each.number, each.stage) for each in (done, begun)] == [
        ("P-2026-0001", PlanStage.DONE),
        ("P-2026-0002", PlanStage.OPEN),
    ]
    assert set(standing(done).booked) == set(done.bins())
    assert all(section.to_buy == 0 for section in done.sections)
    assert len(standing(begun).ticked) == 2
    assert not standing(begun).booked
    assert done.made_at < begun.made_at < datetime(2026, 11, 25, tzinfo=UTC)
    with sample.reading() as work:
        for plan in (done, begun):
            for part in plan.parts():
                order = work.orders.get(part.piece.order_id)
                assert order.ordered_on is not None
                assert order.ordered_on < plan.made_at.date()
        assert all(
            line.kept.on_hand >= 0 for line in work.stock_lists.every(StockFilter(gone=True))
        )


def test_a_part_of_what_was_collected_is_invoiced_and_one_invoice_corrected(
    sample: Store, orders: tuple[Order, ...]
) -> None:
    by_id = {order.id: order for order in orders}
    with sample.reading() as work:
        issued = work.invoices.in_days(date(2000, 1, 1), TODAY)
    *past, credit, again = (each.invoice for each in issued)
    collected = [order for order in orders if order.stage is Stage.COLLECTED]
    assert len(collected) // 5 < len(past) < len(collected)
    for each in issued[:-3]:
        order = by_id[each.order_id]
        assert each.invoice.charged.gross == account_now(order).to_pay
        assert each.invoice.collected_on == each.invoice.issued_on
        assert each.invoice.order_number == order.order_number
    days = [invoice.issued_on for invoice in past]
    assert days == sorted(days)
    assert any(invoice.pay_by for invoice in past)
    assert any(invoice.note for invoice in past if not invoice.charged.tax)
    assert credit.corrects is not None
    assert credit.corrects.number == past[-1].number
    assert past[-1].charged.gross - again.charged.gross == Money(1000, again.charged.currency)


def test_one_quote_has_designs_to_choose_from_and_one_order_has_one_that_was_not_taken(
    orders: tuple[Order, ...],
) -> None:
    several = [(order, piece) for order in orders for piece in order.pieces if piece.others]
    (quote, offered), (order, made) = sorted(several, key=lambda each: bool(each[0].order_number))
    assert quote.stage is Stage.QUOTED
    assert offered.undecided
    assert len({each.agreed.chosen.frames[0].code for each in offered.designs}) == 3
    assert order.stage is Stage.ORDERED
    assert (made.taken, len(made.others)) == (1, 1)
    assert made.design_changes[-1].at == made.changes[0].at


def test_open_watercolours_have_photos_of_their_own_and_one_of_them_is_to_be_chosen_from(
    sample: Store, orders: tuple[Order, ...]
) -> None:
    """Painted in the proportion of the artwork: the longer side has 900 pixels."""
    pictured = [piece for order in orders for piece in order.pieces if piece.artwork.photo]
    assert 2 <= len(pictured) <= 4
    for piece in pictured:
        size = piece.agreed.spec.artwork
        with sample.reading() as work:
            kept = work.pictures.shape(piece.artwork.photo)
        assert (kept.width, kept.height) == (900, round(900 * size.height.mm / size.width.mm))
        assert len(kept.colours) >= 4
        assert piece.stage in {Stage.QUOTED, Stage.ORDERED}
    assert any(len(piece.designs) == 3 for piece in pictured)
