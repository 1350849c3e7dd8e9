"""What a whole cutting plan comes to, and at which station each material is cut, worked out by hand."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from app.documents.cutting_plan.sections import sections_of
from app.documents.cutting_plan.stations import Station, by_station, station_of
from app.documents.cutting_plan.totals import totals_of
from app.documents.kit.printing import Figures
from app.drawings.plans.sheet import SheetToCut
from app.drawings.plans.stick import StickToCut
from app.drawings.plans.thumbnail import sheet_thumbnail, stick_thumbnail
from app.lengths import mm
from app.services import plans, stock
from app.services.stock import Received
from app.stock.items import Item, StockForm
from app.stock.planning.plans import CuttingPlan
from app.storage import DATABASE_NAME, Store
from tests.builders.hasty import new_store
from tests.builders.kept import ACT, BOOK, NOW, SHOP
from tests.builders.values import euro
from tests.storage.plan_work import ordered, planned


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with new_store(tmp_path / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        yield store


@pytest.fixture
def plan(store: Store) -> CuttingPlan:
    """The worked piece on a stick of the rack that cost 30.00; all else is to be bought."""
    ordered(store)
    stick = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("30.00"),
        length=mm(3000),
        place="Rack A",
    )
    stock.receive(store, Received(item=stick, count=1), ACT)
    return plans.get(store, planned(store))


def test_the_rails_alone_lose_what_is_in_no_part_and_no_offcut(
    store: Store, plan: CuttingPlan
) -> None:
    """3000 − 2 × 573 − 2 × 460 − 900 = 34 of 3000 are lost: 0.34 of 30.00, 17 of 1500 of it."""
    looked = plans.look(store, plan.id)
    rails = [each for each in plan.sections if each.form is StockForm.STICK]
    whole = totals_of(rails, looked.sources, SHOP.currency)
    assert (whole.parts, whole.pieces, whole.materials) == (4, 1, 1)
    assert (whole.from_rack, whole.to_buy, whole.offcuts, whole.least) == (1, 0, 1, 1)
    assert whole.waste == euro("0.34")
    assert whole.share == Fraction(17, 1500)


def test_a_plan_counts_what_is_taken_and_what_is_bought(store: Store, plan: CuttingPlan) -> None:
    whole = totals_of(plan.sections, plans.look(store, plan.id).sources, SHOP.currency)
    assert (whole.parts, whole.pieces, whole.materials) == (8, 1, 5)
    assert (whole.from_rack, whole.to_buy, whole.least) == (1, 4, 5)


def test_what_costs_nothing_loses_nothing(store: Store, plan: CuttingPlan) -> None:
    free = [
        replace(each, material=replace(each.material, cost=euro("0.00")), sources=(None,))
        for each in plan.sections
    ]
    whole = totals_of(free, {}, SHOP.currency)
    assert (whole.waste, whole.share) == (euro("0.00"), 0)


def test_each_material_is_cut_at_its_station(store: Store, plan: CuttingPlan) -> None:
    stations = {each.material.code: station_of(each) for each in plan.sections}
    assert stations == {
        "LIN-20": Station.SAW,
        "M-101": Station.MATS,
        "M-140": Station.MATS,
        "B-3": Station.MATS,
        "G-2": Station.GLASS,
    }
    assert Station.MATS.title("mount") == "At the mount cutter"
    assert Station.MATS.things("mount") == "mounts and boards"


def test_the_work_of_a_station_says_each_caution_once(store: Store, plan: CuttingPlan) -> None:
    figures = Figures(steps=SHOP.steps)
    sources = plans.look(store, plan.id).sources
    works = sections_of(plan.sections, sources, figures)
    saw, mats, glass = by_station(zip(plan.sections, works, strict=True))
    assert [len(each.sections) for each in (saw, mats, glass)] == [1, 3, 1]
    assert [each.parts for each in (saw, mats, glass)] == [4, 3, 1]
    assert mats.cautions == (
        "Fresh blade, cut away from the hand, blade in or covered between cuts.",
    )
    (stick,) = saw.sections
    assert [each.words for each in stick.takes] == ["stick at Rack A"]
    assert [(each.words, each.to_buy) for each in glass.sections[0].takes] == [
        ("buy 1 sheet", True)
    ]


def test_a_thumbnail_has_a_box_for_the_whole_for_each_part_and_for_what_is_kept(
    store: Store, plan: CuttingPlan
) -> None:
    figures = Figures(steps=SHOP.steps)
    for work in sections_of(plan.sections, plans.look(store, plan.id).sources, figures):
        (bin_work,) = work.bins
        lying = bin_work.lying
        if isinstance(lying, StickToCut):
            svg, kept = stick_thumbnail(lying), 1
            assert 'x="0" y="0" width="19.1"' in svg  # 573 of 3000
        else:
            assert isinstance(lying, SheetToCut)
            svg, kept = sheet_thumbnail(lying), len(lying.opened.offcuts)
        assert svg.count("<rect") == 1 + len(bin_work.parts) + kept
        assert "<text" not in svg
        assert bin_work.thumbnail == svg
