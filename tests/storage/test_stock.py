"""The stock as it is kept: items, a record of movements that only grows, levels, lists."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.errors import Conflict, Invalid, NotFound
from app.lengths import Length, Size, inches, mm
from app.money import currency
from app.pricing import Kind
from app.services import shop as shops
from app.stock.items import Item, StockForm
from app.stock.levels import NO_LEVELS, Levels
from app.stock.movements import Movement, MovementKind, NewMovement
from app.storage import (
    DATABASE_NAME,
    PageRequest,
    Series,
    Stale,
    StockFilter,
    Store,
    check_database,
)
from app.storage.reset import empty as take_everything_out
from tests.builders.kept import ACT, NOW, SHOP
from tests.builders.values import euro

STICKS = Item(
    material="LIN-20",
    form=StockForm.STICK,
    unit_cost=euro("28.20"),
    length=mm(3000),
    batch="Lot 7",
    place="Rack A",
)
SHEETS = Item(
    material="M-101",
    form=StockForm.SHEET,
    unit_cost=euro("12.00"),
    size=Size(mm(1120), mm(815)),
    place="Drawer 2",
)
WIRES = Item(material="W-1", form=StockForm.EACH, unit_cost=euro("0.85"), place="Box 4")


def moved(kind: MovementKind, change: int, takes_back: int | None = None) -> NewMovement:
    return NewMovement(kind=kind, change=change, at=NOW, by="Ilse", takes_back=takes_back)


def bought(count: int) -> NewMovement:
    return moved(MovementKind.BOUGHT, count)


KEPT = moved(MovementKind.KEPT, 1)


def offcut(label: str, length: Length, place: str = "Rack A") -> Item:
    return replace(STICKS, label=label, length=length, whole=False, place=place)


def add(store: Store, item: Item, movement: NewMovement) -> int:
    with store.writing() as work:
        return work.stock.add(item, movement)


def on_hand(store: Store, item_id: int) -> int:
    with store.reading() as work:
        return work.stock.get(item_id).on_hand


@pytest.mark.parametrize(
    "item",
    [
        STICKS,
        SHEETS,
        WIRES,
        offcut("K-2026-0001", inches("1795/64")),
        replace(SHEETS, label="K-2026-0002", whole=False, size=Size(mm("400.125"), inches("9/2"))),
    ],
    ids=["stick", "sheet", "each", "offcut of a stick", "offcut of a sheet"],
)
def test_every_form_of_an_item_reads_back_equal(store: Store, item: Item) -> None:
    item_id = add(store, item, bought(3) if item.whole else KEPT)
    with store.reading() as work:
        kept = work.stock.get(item_id)
    assert (kept.item, kept.version, kept.on_hand) == (item, 1, 3 if item.whole else 1)


def test_a_movement_reads_back_with_all_that_it_says(store: Store) -> None:
    item_id = add(store, STICKS, bought(5))
    cut = replace(moved(MovementKind.CUT, -2), note="two frames", plan_id=4, line_id=9)
    with store.writing() as work:
        cut_id = work.stock.move(item_id, cut)
        back = work.stock.move(item_id, moved(MovementKind.TAKEN_BACK, 2, takes_back=cut_id))
    with store.reading() as work:
        first, second, third = work.stock.movements(item_id)
    assert first.entry == bought(5)
    assert second == Movement(id=cut_id, item_id=item_id, entry=cut)
    assert (third.id, third.entry.takes_back) == (back, cut_id)


changes = st.lists(
    st.one_of(
        st.tuples(st.sampled_from([MovementKind.BOUGHT, MovementKind.KEPT]), st.integers(1, 500)),
        st.tuples(st.sampled_from([MovementKind.CUT, MovementKind.SPOILED]), st.integers(-500, -1)),
        st.tuples(st.just(MovementKind.COUNTED), st.integers(-500, 500)),
    ),
    max_size=12,
)


@pytest.fixture(scope="module")
def one_store(shop_file: Path) -> Iterator[Sequence[Store]]:
    folder = TemporaryDirectory()
    path = Path(folder.name) / DATABASE_NAME
    copyfile(shop_file, path)
    with folder, Store.open(path) as store:
        yield (store,)


@settings(max_examples=40, deadline=None)
@given(first=st.integers(1, 500), after=changes)
def test_what_is_on_hand_is_the_sum_of_any_movements(
    one_store: Sequence[Store], first: int, after: list[tuple[MovementKind, int]]
) -> None:
    (store,) = one_store
    with store.writing() as work:
        item_id = work.stock.add(STICKS, bought(first))
        running = first
        for kind, change in after:
            work.stock.move(item_id, moved(kind, change))
            running += change
            assert work.stock.get(item_id).on_hand == running
    assert on_hand(store, item_id) == running
    with store.reading() as work:
        assert sum(one.entry.change for one in work.stock.movements(item_id)) == running


def test_a_rack_may_stand_below_zero(store: Store) -> None:
    """A stick that was cut though the app knew of none: the record says so rather than refuse."""
    item_id = add(store, STICKS, bought(1))
    with store.writing() as work:
        work.stock.move(item_id, moved(MovementKind.CUT, -3))
    assert on_hand(store, item_id) == -2
    with store.reading() as work:
        (line,) = work.stock_lists.balances()
    assert (line.whole, line.below_zero, line.value) == (-2, 1, euro("-56.40"))


def test_a_movement_is_taken_back_once_and_only_where_it_was(store: Store) -> None:
    item_id, other = add(store, STICKS, bought(5)), add(store, SHEETS, bought(5))
    with store.reading() as work:
        (movement,) = work.stock.movements(item_id)
    undo = moved(MovementKind.TAKEN_BACK, -5, takes_back=movement.id)
    with pytest.raises(Conflict, match="not one of this item"), store.writing() as work:
        work.stock.move(other, undo)
    with store.writing() as work:
        work.stock.move(item_id, undo)
    with pytest.raises(Conflict, match="undone already"), store.writing() as work:
        work.stock.move(item_id, undo)
    assert on_hand(store, item_id) == 0


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("UPDATE stock_movements SET change = 9", "append-only"),
        ("DELETE FROM stock_movements", "append-only"),
        ("UPDATE stock_items SET on_hand = 9", "follows from movements"),
        ("DELETE FROM stock_items", "never deleted"),
        ("UPDATE stock_items SET length = 5", "stays what it is"),
        ("UPDATE stock_items SET material_id = 2", "stays what it is"),
        (
            "INSERT INTO stock_items SELECT 99, version, material_id, form, whole, label, length, "
            "width, height, batch, place, note, currency, unit_cost_minor, 4, since "
            "FROM stock_items",
            "follows from movements",
        ),
        (
            "INSERT INTO stock_movements (item_id, kind, change, at, by, note) "
            "VALUES (1, 'cut', 1, '', '', '')",
            "CHECK",
        ),
    ],
)
def test_the_database_itself_holds_the_record(
    store: Store, path: Path, statement: str, said: str
) -> None:
    add(store, STICKS, bought(5))
    with (
        closing(sqlite3.connect(path)) as connection,
        pytest.raises(sqlite3.IntegrityError, match=said),
    ):
        connection.execute(statement)


def test_a_label_is_on_one_offcut_alone_and_found_in_any_case(store: Store) -> None:
    with store.writing() as work:
        label = work.numbers.take(Series.OFFCUT, 2026)
        item_id = work.stock.add(offcut(label, mm(740)), KEPT)
    assert label == "K-2026-0001"
    with store.reading() as work:
        found = work.stock.labelled(" k-2026-0001 ")
        assert found is not None
        assert found.id == item_id
        assert work.stock.labelled("K-2026-0002") is None
    with pytest.raises(Conflict, match="“K-2026-0001” is on another offcut"):
        add(store, offcut(label, mm(900)), KEPT)


def test_what_may_change_is_saved_and_a_second_tab_is_told(store: Store) -> None:
    item_id = add(store, STICKS, bought(5))
    with store.writing() as work:
        work.stock.save(item_id, replace(STICKS, place="Rack B", unit_cost=euro("30")), 1)
    with store.reading() as work:
        kept = work.stock.get(item_id)
    assert (kept.item.place, kept.item.unit_cost, kept.version) == ("Rack B", euro("30"), 2)
    with pytest.raises(Stale) as caught, store.writing() as work:
        work.stock.save(item_id, STICKS, 1)
    assert caught.value.stored == kept


def test_a_movement_leaves_the_version_alone(store: Store) -> None:
    item_id = add(store, STICKS, bought(5))
    with store.writing() as work:
        work.stock.move(item_id, moved(MovementKind.CUT, -1))
        assert work.stock.get(item_id).version == 1


def test_what_is_not_there_is_said(store: Store) -> None:
    with store.reading() as work:
        for asked in (work.stock.get, work.stock_lists.line):
            with pytest.raises(NotFound, match="no item 77"):
                asked(77)
        with pytest.raises(NotFound, match="no material “NONE”"):
            work.stock.of_material("NONE")
    with pytest.raises(NotFound), store.writing() as work:
        work.stock.add(replace(STICKS, material="NONE"), bought(1))
    with pytest.raises(Invalid, match="too fine"), store.writing() as work:
        work.stock.add(replace(STICKS, length=mm("1000/3")), bought(1))


def test_the_items_of_a_material_come_in_the_order_they_came(store: Store) -> None:
    old = add(store, STICKS, bought(2))
    gone = add(store, STICKS, bought(2))
    add(store, SHEETS, bought(2))
    rest = add(store, offcut("K-2026-0009", mm(640)), KEPT)
    with store.writing() as work:
        work.stock.move(gone, moved(MovementKind.SPOILED, -2))
        assert [one.id for one in work.stock.of_material("lin-20")] == [old, rest]
        assert [one.id for one in work.stock.of_material("LIN-20", gone=True)] == [old, gone, rest]


def test_renaming_a_material_keeps_its_stock(store: Store) -> None:
    item_id = add(store, STICKS, bought(2))
    with store.writing() as work:
        material = work.materials.get("LIN-20").value
        work.materials.save("LIN-20", replace(material, code="LINDEN"), 1, now=NOW)
    with store.reading() as work:
        assert work.stock.get(item_id).item.material == "LINDEN"


def test_a_material_with_stock_is_not_taken_out_of_the_book(store: Store) -> None:
    item_id = add(store, STICKS, bought(2))
    with store.writing() as work:
        work.stock.move(item_id, moved(MovementKind.SPOILED, -2))
        work.stock.set_levels("M-101", Levels(reorder_at=2), 0)
    in_words = pytest.raises(Conflict, match="LIN-20 is in the record of the stock")
    with in_words, store.writing() as work:
        work.materials.remove("LIN-20", 1)
    with store.writing() as work:
        work.materials.remove("M-101", 1)
    assert check_database(store) == ()


def test_levels_are_kept_for_each_material(store: Store) -> None:
    levels = Levels(reorder_at=3, pack=10, place="Rack A")
    with store.writing() as work:
        assert work.stock.levels("LIN-20").value == NO_LEVELS
        work.stock.set_levels("LIN-20", levels, 0)
        work.stock.set_levels("LIN-20", replace(levels, reorder_at=None), 1)
    with store.reading() as work:
        kept = work.stock.levels("lin-20")
    assert (kept.version, kept.value) == (2, replace(levels, reorder_at=None))
    with pytest.raises(Stale), store.writing() as work:
        work.stock.set_levels("LIN-20", levels, 1)


@pytest.fixture
def rack(store: Store) -> Store:
    """5 sticks of 28.20 and two offcuts of them, 4 sheets of 12.00, 200 wires of 0.85."""
    with store.writing() as work:
        for label in ("K-2026-0001", "K-2026-0002"):
            assert work.numbers.take(Series.OFFCUT, 2026) == label
        work.stock.add(STICKS, bought(5))
        work.stock.add(replace(offcut("K-2026-0001", mm(740)), unit_cost=euro("6.95")), KEPT)
        work.stock.add(
            replace(offcut("K-2026-0002", mm(1200), "Bin 1"), unit_cost=euro("11.28")), KEPT
        )
        work.stock.add(SHEETS, bought(4))
        work.stock.add(WIRES, bought(200))
    return store


def test_each_material_is_summed_up(rack: Store) -> None:
    # By hand: 5 × 28.20 + 6.95 + 11.28 = 159.23; 4 × 12.00 = 48.00; 200 × 0.85 = 170.00.
    with rack.reading() as work:
        found = {
            line.material.code: (line.whole, line.offcuts, line.value)
            for line in work.stock_lists.balances()
        }
    assert found == {
        "LIN-20": (5, 2, euro("159.23")),
        "M-101": (4, 0, euro("48.00")),
        "W-1": (200, 0, euro("170.00")),
    }


def test_what_plans_have_taken_is_summed_by_material(rack: Store) -> None:
    with rack.reading() as work:
        lines = {
            line.material.code: line for line in work.stock_lists.balances(reserved={1: 3, 2: 1})
        }
    taken = (lines["LIN-20"].reserved_whole, lines["LIN-20"].reserved_offcuts)
    assert taken == (3, 1)
    assert lines["M-101"].reserved_whole == 0


def test_a_watched_material_of_which_there_is_nothing_is_listed(rack: Store) -> None:
    with rack.writing() as work:
        work.stock.set_levels("G-2", Levels(reorder_at=2), 0)
        work.stock.set_levels("B-3", Levels(pack=5), 0)

    def codes(wanted: StockFilter) -> list[str]:
        with rack.reading() as work:
            return [line.material.code for line in work.stock_lists.balances(wanted)]

    assert codes(StockFilter()) == ["G-2", "LIN-20", "M-101", "W-1"]
    assert codes(StockFilter(kind=Kind.GLAZING)) == ["G-2"]
    assert codes(StockFilter(text="float")) == ["G-2"]
    assert codes(StockFilter(text="chalk")) == ["M-101"]
    assert codes(StockFilter(text="&&&")) == []
    assert codes(StockFilter(place="Rack A")) == ["LIN-20"]
    assert codes(StockFilter(offcuts=True)) == ["LIN-20"]


@pytest.mark.parametrize(
    ("wanted", "labels"),
    [
        (StockFilter(), ["", "K-2026-0002", "K-2026-0001", "", ""]),
        (StockFilter(offcuts=True), ["K-2026-0002", "K-2026-0001"]),
        (StockFilter(offcuts=False, form=StockForm.STICK), [""]),
        (StockFilter(form=StockForm.EACH), [""]),
        (StockFilter(text="k-2026-0002"), ["K-2026-0002"]),
        (StockFilter(text="linden bin"), ["K-2026-0002"]),
        (StockFilter(text="?!"), []),
        (StockFilter(place="Rack A"), ["", "K-2026-0001"]),
        (StockFilter(material="lin-20", offcuts=True), ["K-2026-0002", "K-2026-0001"]),
        (StockFilter(kind=Kind.MAT), [""]),
    ],
)
def test_items_are_listed_as_they_are_wanted(
    rack: Store, wanted: StockFilter, labels: list[str]
) -> None:
    with rack.reading() as work:
        found = work.stock_lists.listed(wanted)
    assert [line.kept.item.label for line in found.rows] == labels
    assert found.total == len(labels)


def test_a_list_comes_in_pages_and_leaves_out_what_is_gone(rack: Store) -> None:
    with rack.writing() as work:
        work.stock.move(1, moved(MovementKind.SPOILED, -5))
    with rack.reading() as work:
        second = work.stock_lists.listed(page=PageRequest(number=2, size=3))
        all_of_it = work.stock_lists.listed(StockFilter(gone=True))
        assert work.stock.places() == ("Bin 1", "Box 4", "Drawer 2", "Rack A")
    assert (len(second.rows), second.total, second.pages) == (1, 4, 2)
    assert all_of_it.total == 5


def test_the_costs_of_the_stock_follow_the_shop_into_another_currency(rack: Store) -> None:
    shops.save(rack, replace(SHOP, currency=currency("JPY")), 1, ACT)
    with rack.reading() as work:
        assert work.stock.get(1).item.unit_cost.minor == 28  # 28.20, and yen have no decimals
        assert {line.value.currency.code for line in work.stock_lists.balances()} == {"JPY"}


def test_a_wrong_count_is_found(rack: Store, path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        (sql,) = connection.execute(
            "SELECT sql FROM sqlite_schema WHERE name = 'stock_items_on_hand_is_the_sum'"
        ).fetchone()
        connection.execute("DROP TRIGGER stock_items_on_hand_is_the_sum")
        connection.execute("UPDATE stock_items SET on_hand = 6 WHERE id = 1")
        connection.execute(sql)
        connection.commit()
    assert check_database(rack) == (
        "Item 1 of the stock: 6 on hand are noted, but its movements add up to 5.",
    )


def test_the_stock_goes_with_everything_else(rack: Store) -> None:
    take_everything_out(rack)
    with rack.reading() as work:
        assert work.stock_lists.listed(StockFilter(gone=True)).total == 0
    assert check_database(rack) == ()
