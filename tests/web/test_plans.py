"""Cutting plans on their pages: asked for, watched, looked at, kept, ticked, booked, taken back.

The pieces are those of `tests.storage.plan_work`, with every figure by hand there. A planner that does not
make us wait, and one that never ends until it is told to, stand for the solver.
"""

import threading
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from app.cutting import Plan, StickProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.lengths import mm
from app.orders import DesignAct
from app.services import plans, stock
from app.services.cutting import NamedProblem, StoppedError
from app.services.cutting_runs import MOST_RUNNING, PlanRuns
from app.services.stock import Received
from app.stock.items import Item, StockForm
from app.stock.planning.plans import PlanStage
from app.storage import DATABASE_NAME, PageRequest, StockFilter, Store
from app.web.app import create_app
from tests.builders.hasty import new_store
from tests.builders.kept import ACT, BOOK, NOW, SHOP, piece
from tests.builders.values import euro
from tests.storage.plan_work import ordered, piece_ids, planned
from tests.web.conftest import OWN_ADDRESS
from tests.web.shown import Counter, Shown, in_another_tab, typed, words

pytestmark = pytest.mark.slow

RAIL = "frame-1.top"

ANYWAY = {"anyway": "1"}
"""Books what is not on the rack all the same."""


class Planner:
    """Plans by our own rule. Where it is held it waits until it is let go or stopped."""

    def __init__(self) -> None:
        self.go = threading.Event()
        self.go.set()
        self.asked: list[NamedProblem] = []

    def __call__(
        self,
        problems: Sequence[NamedProblem],
        *,
        stop: threading.Event,
        progress: Callable[[int, int, str], None],
    ) -> tuple[Plan, ...]:
        self.asked = list(problems)
        done: list[Plan] = []
        for problem in problems:
            progress(len(done), len(problems), problem.name)
            while not self.go.wait(0.005):
                if stop.is_set():
                    raise StoppedError
            asked = problem.asked
            done.append(
                simple_stick_plan(asked)
                if isinstance(asked, StickProblem)
                else simple_sheet_plan(asked)
            )
        return tuple(done)


@pytest.fixture
def planner() -> Planner:
    return Planner()


def set_up(store: Store) -> None:
    with store.writing() as work:
        work.shop.add(SHOP, now=NOW)
        work.materials.add_all(BOOK, now=NOW)


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Store]:
    with new_store(tmp_path / DATABASE_NAME, set_up) as store:
        yield store


@pytest.fixture
def counter(shop: Store, planner: Planner) -> Iterator[Counter]:
    with TestClient(
        create_app(shop, now=lambda: NOW, runs=PlanRuns(planner)),
        base_url=OWN_ADDRESS,
        headers={"sec-fetch-site": "same-origin"},
    ) as client:
        yield Counter(client)


def sticks(store: Store, count: int) -> int:
    item = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("28.20"),
        length=mm(3000),
        place="Rack A",
    )
    return stock.receive(store, Received(item=item, count=count), ACT)


def started(counter: Counter, **changes: str) -> str:
    """The address of a plan that is being made of everything that the form ticks."""
    form = counter.get("/plans/new").form("/plans/new", seconds="") | changes
    answer = counter.post("/plans/new", {name: text for name, text in form.items() if text})
    assert answer.status == 303, answer.main
    return answer.location


def finished(counter: Counter, address: str) -> Shown:
    """The page of a plan that is made; its thread is given the time it needs."""
    for _ in range(400):
        page = counter.get(address)
        if not page.has(id="making"):
            return page
        threading.Event().wait(0.005)
    raise AssertionError("the plan was never made")


def kept(counter: Counter, **changes: str) -> str:
    address = started(counter, **changes)
    finished(counter, address)
    return counter.post(f"{address}/keep").location


# Asking


def test_an_empty_list_teaches_and_leads_to_a_first_plan(counter: Counter) -> None:
    page = counter.get("/plans")
    assert page.links("empty") == {"Make a cutting plan": "/plans/new"}
    assert page.links("chips")["Plans"] == "/plans"


def test_open_work_is_listed_with_what_it_still_wants(counter: Counter, shop: Store) -> None:
    ordered(shop)
    page = counter.get("/plans/new")
    assert "2026-0001/1 Harbour at dusk" in page.main
    assert "Amber Quill · due Wed 9 Dec 2026 · 2 mats, 1 glazing, 1 backing, 4 rails" in page.main
    assert {name for name, text in page.fields.items() if text == "1"} == {
        "piece.1", "material.LIN-20", "material.M-101", "material.M-140", "material.G-2",
        "material.B-3",
    }  # fmt: skip
    assert "4 parts, the longest 573 mm" in page.main


def test_twenty_alike_are_one_line_with_their_parts_in_a_fold(
    counter: Counter, shop: Store
) -> None:
    """Each has 4 rails, 2 mats, glazing and backing: 8 parts, 160 of twenty."""
    ordered(shop, piece(copies="20"))
    page = counter.get("/plans/new")
    assert "due Wed 9 Dec 2026 · 160 parts of 20 alike · See" in page.main
    (fold,) = [each for each in page.each("plan-choice") if each.find("details") is not None]
    assert words(fold.find("details")) == (
        "Its parts : 2026-0001/1 40 mats, 20 glazing, 20 backings, 80 rails"
    )


def test_where_the_solver_is_not_installed_the_page_says_what_that_means(
    counter: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = "plans are made by a simple rule"
    assert said not in counter.get("/plans/new").text
    monkeypatch.setattr("app.web.plans.routes.solver_version", lambda: "")
    assert said in counter.get("/plans/new").text


def test_without_open_work_the_page_says_so(counter: Counter) -> None:
    assert "Nothing waits to be planned" in counter.get("/plans/new").main


def test_only_what_is_due_until_a_day_is_shown_when_asked(counter: Counter, shop: Store) -> None:
    ordered(shop)
    assert "2026-0001/1" in counter.get("/plans/new?due=2026-12-09").main
    assert "Nothing to plan until then" in counter.get("/plans/new?due=2026-12-08").main
    assert "2026-0001/1" in counter.get("/plans/new?due=someday").main


@pytest.mark.parametrize(
    ("due", "why"),
    [
        ("someday", "is no day that can be read; type it as 13 Dec,"),
        ("31.02.2026", "does not exist; February has 28 days, 29 in a leap year."),
        ("2026-02-31", "does not exist; February has 28 days, 29 in a leap year."),
    ],
)
def test_a_day_that_cannot_be_read_is_said_and_all_is_shown(
    counter: Counter, shop: Store, due: str, why: str
) -> None:
    said = f"“{due}” {why}"
    empty = counter.get(f"/plans/new?due={due}")
    assert said in empty.error("due")
    assert "All open work is shown" not in empty.main
    assert not empty.has("error-summary")
    ordered(shop)
    page = counter.get(f"/plans/new?due={due}")
    assert said in page.error("due")
    assert page.error("due").endswith("All open work is shown.")
    assert page.main.count(said) == 1
    assert "2026-0001/1" in page.main


def test_only_chosen_pieces_and_materials_are_planned(
    counter: Counter, shop: Store, planner: Planner
) -> None:
    first, second = ordered(shop), ordered(shop)
    (one,), (two,) = piece_ids(shop, first), piece_ids(shop, second)
    form = {f"piece.{two}": "1", "material.LIN-20": "1"}
    address = counter.post("/plans/new", form).location
    finished(counter, address)
    (problem,) = planner.asked
    assert {part.id for part in problem.asked.parts} == {
        f"{two}/frame-1.{side}" for side in ("top", "bottom", "left", "right")
    }
    assert one != two


def test_frames_together_and_the_seconds_go_along(
    counter: Counter, shop: Store, planner: Planner
) -> None:
    ordered(shop)
    finished(counter, started(counter, together="always", seconds="7"))
    asked = next(p.asked for p in planner.asked if isinstance(p.asked, StickProblem))
    assert asked.together == "always"
    assert {each.seconds for each in planner.asked} == {7}


@pytest.mark.parametrize(
    ("changes", "path", "sentence"),
    [
        ({"seconds": "soon"}, "seconds", "“soon” is no number of seconds; 1 to 60 are allowed for a material, "
         "or none."),
        ({"seconds": "61"}, "seconds", "61 seconds were asked for; 1 to 60 are allowed for a "
         "material."),
        ({"together": "glued"}, "together", "“glued” is not a way to cut frames; choose one of those "
         "shown."),
        ({"piece.1": ""}, "pieces", "No piece is chosen; tick at least one."),
    ],
)  # fmt: skip
def test_what_cannot_be_planned_comes_back_with_everything_typed(
    counter: Counter, shop: Store, changes: dict[str, str], path: str, sentence: str
) -> None:
    ordered(shop)
    form = counter.get("/plans/new").form("/plans/new", seconds="") | {"seconds": "9"} | changes
    answer = counter.post("/plans/new", {name: text for name, text in form.items() if text})
    assert answer.status == 422
    ((said, where),) = answer.links("error-summary").items()
    assert said.endswith(sentence)
    assert where == f"#{path}"
    assert answer.fields["seconds"] == form["seconds"]
    assert answer.fields["material.LIN-20"] == "1"


@pytest.mark.parametrize(
    ("action", "ticked"),
    [
        ("pieces.none", {"material.G-2"}),
        ("pieces.all", {"piece.1", "piece.2", "material.G-2"}),
        ("materials.none", {"piece.2"}),
        ("materials.all", {"piece.2", "material.LIN-20", "material.M-101", "material.M-140",
                           "material.G-2", "material.B-3"}),
    ],
)  # fmt: skip
def test_all_or_none_is_ticked_by_one_button_and_the_rest_stays_as_it_was(
    counter: Counter, shop: Store, action: str, ticked: set[str]
) -> None:
    ordered(shop)
    ordered(shop)
    typed = {"piece.2": "1", "material.G-2": "1", "seconds": "9", "action": action}
    page = counter.post("/plans/new", typed)
    assert page.status == 200
    assert {name for name, text in page.fields.items() if text == "1"} == ticked
    assert page.fields["seconds"] == "9"
    assert not page.has("error-summary")


# Being made


def test_a_plan_that_goes_on_says_how_far_it_is_and_looks_again_without_scripts(
    counter: Counter, shop: Store, planner: Planner
) -> None:
    ordered(shop)
    planner.go.clear()
    address = started(counter)
    page = counter.get(address)
    assert page.has("progress")
    assert "of 5" in page.main
    assert any(
        "refresh" in words(each) or "refresh" in page.text for each in page.each(tag="noscript")
    )
    partial = counter.client.get(address, headers={"x-partial": "1"})
    assert "data-watch" in partial.text
    assert "<html" not in partial.text
    planner.go.set()
    assert finished(counter, address).heading == "A plan for 8 parts"


def test_a_plan_that_is_stopped_stores_nothing(
    counter: Counter, shop: Store, planner: Planner
) -> None:
    ordered(shop)
    planner.go.clear()
    address = started(counter)
    counter.post(f"{address}/stop")
    for _ in range(400):
        page = counter.get(address)
        if not page.has("progress"):
            break
        threading.Event().wait(0.005)
    assert "Planning was stopped; nothing was stored." in page.main
    assert plans.listed(shop).total == 0


@pytest.mark.parametrize("act", ["", "/stop", "/keep", "/longer"])
def test_a_plan_that_is_gone_has_a_page_that_says_so(counter: Counter, act: str) -> None:
    address = f"/plans/making/0123456789abcdef{act}"
    page = counter.post(address) if act else counter.get(address)
    assert page.status == 404
    assert "it was saved or discarded, or the app was started anew since" in page.main
    assert page.links()["Plan again"] == "/plans/new"


# Found


def test_what_was_found_is_said_before_it_is_kept(counter: Counter, shop: Store) -> None:
    ordered(shop)
    sticks(shop, 1)
    page = finished(counter, started(counter))
    assert plans.listed(shop).total == 0
    rails = words(next(each for each in page.each("plan-row") if "LIN-20" in words(each)))
    assert "whole from the rack 1 stick" in rails
    # 3000 − 2 × 573 − 2 × 460 − 900 kept = 34 lost, 1.1 %; 900 of 3000 are 30 % (by hand)
    assert "waste 1.1 %" in rails
    assert "kept as offcuts 30 %" in rails
    assert "Least waste possible: no plan for these parts opens less." in rails
    assert "Quick plan" not in rails  # none is better, so that who found it says nothing
    assert "A whole stick at Rack A" in rails
    assert "from the rack 1 sticks and sheets to buy first 4 see what to buy" in page.words("tally")
    assert page.links("tally")["see what to buy"] == "/buying"
    assert "least waste possible 5 of 5 materials" in page.words("tally")


def test_what_fits_nowhere_is_named_with_its_reason(counter: Counter, shop: Store) -> None:
    ordered(shop, piece(artwork__size="1500 x 1000"))
    page = finished(counter, started(counter))
    assert "Not in the plan" in page.main
    assert "mat 1 of 2026-0001/1:" in page.main


def test_a_plan_is_discarded_without_a_trace(counter: Counter, shop: Store) -> None:
    ordered(shop)
    address = started(counter)
    finished(counter, address)
    page = counter.go(f"{address}/discard")
    assert "discarded; nothing was stored" in page.main
    assert counter.get(address).status == 404
    assert plans.listed(shop).total == 0


def test_trying_longer_takes_four_times_as_long(
    counter: Counter, shop: Store, planner: Planner
) -> None:
    ordered(shop)
    address = started(counter)
    finished(counter, address)
    again = counter.post(f"{address}/longer").location
    assert again != address
    finished(counter, again)
    assert {each.seconds for each in planner.asked} == {8}
    assert counter.get(address).status == 404


def test_a_plan_is_kept_once_however_often_it_is_asked_for(counter: Counter, shop: Store) -> None:
    ordered(shop)
    address = started(counter)
    finished(counter, address)
    assert counter.post(f"{address}/keep").status == 303
    assert counter.post(f"{address}/keep").status == 404
    assert plans.listed(shop).total == 1
    assert "Nothing waits to be planned" in counter.get("/plans/new").main


def test_plans_beyond_those_at_work_are_refused_for_now_and_hold_no_page(
    counter: Counter, shop: Store, planner: Planner
) -> None:
    ordered(shop)
    planner.go.clear()
    addresses = [started(counter) for _ in range(MOST_RUNNING)]
    form = counter.get("/plans/new").form("/plans/new", seconds="") | {"seconds": "3"}
    refused = counter.post("/plans/new", {name: text for name, text in form.items() if text})
    assert refused.status == 503
    assert "4 cutting plans are being made already; wait for one or stop one." in refused.main
    assert refused.form("/plans/new", seconds="3")
    assert counter.get("/").status == 200
    assert counter.get("/orders").status == 200
    planner.go.set()
    finished(counter, addresses[0])


def test_the_second_of_two_plans_for_the_same_work_is_refused_and_can_be_tried_again(
    counter: Counter, shop: Store
) -> None:
    ordered(shop)
    first, second = started(counter), started(counter)
    finished(counter, first)
    finished(counter, second)
    counter.post(f"{first}/keep")
    refused = counter.post(f"{second}/keep")
    assert refused.status == 409
    assert "changed, cut or planned by someone else in the meantime" in refused.main
    assert refused.heading == "A plan for 8 parts"


# Kept


def test_the_list_says_how_far_each_plan_is(counter: Counter, shop: Store) -> None:
    ordered(shop)
    planned(shop)
    page = counter.get("/plans?stage=open")
    assert page.links()["P-2026-0001"] == "/plans/1"
    assert "0 of 5" in page.main
    row = next(words(each) for each in page.each(tag="tr") if "P-2026-0001" in words(each))
    assert "Amber Quill" in row
    assert "Wed 9 Dec 2026" in row
    assert row.endswith("5 8 0 of 5")  # materials, parts, sticks and sheets cut
    assert "LIN-20" not in row
    assert "No plan stands there" in counter.get("/plans?stage=dropped").main


def test_a_kept_plan_shows_each_stick_with_parts_settings_and_where_to_take_it(
    counter: Counter, shop: Store
) -> None:
    ordered(shop)
    item = sticks(shop, 1)
    address = kept(counter)
    page = counter.get(address)
    stick = page.one(id="bin-3-1")
    text = words(stick)
    assert "a whole stick at Rack A" in text
    assert f"/stock/items/{item}" in {a.get("href") for a in stick.iter("a")}
    assert [words(part) for part in stick.iter("strong") if part.get("class") == "part-size"] == [
        "573", "573", "460", "460",
    ]  # fmt: skip
    rows = [words(row) for row in stick.iter("tr")][1:]
    assert rows[0].startswith("573 22 9/16")
    assert rows[0].endswith("stop, measured to the long point 2026-0001/1 1, 2")
    assert rows[1].endswith("3, 4")
    assert "Offcut 900" in text


def test_sheets_that_are_cut_alike_are_drawn_once_and_booked_by_themselves(
    counter: Counter, shop: Store
) -> None:
    """The panes of four frames are two sheets, those of pieces 1 and 2 and those of 3 and 4."""
    parts = piece_ids(shop, ordered(shop, *[piece()] * 4))
    address = started(counter)
    found = finished(counter, address)
    assert "2 sheets like this: no. 1, 2" in found.main
    address = counter.post(f"{address}/keep").location
    page = counter.get(address)
    together = next(
        each for each in page.each("plan-alike") if page.one(id="bin-2-1") in list(each.iter())
    )
    head = together.find("h4")
    assert head is not None
    assert words(head).startswith("2 sheets like this: no. 1, 2 of 2")
    assert len([each for each in together.iter() if each.get("class") == "easel easel-plan"]) == 1
    page = counter.go(f"{address}/ticks", {"part": f"{parts[2]}/glazing", "ticked": "1"})
    assert page.one(id=f"tick-part-{parts[0]}-glazing").get("aria-checked") == "false"
    assert page.one(id=f"tick-part-{parts[2]}-glazing").get("aria-checked") == "true"
    page = counter.go(f"{address}/bins/2/2/book", ANYWAY)
    assert "Off stock since" in words(page.one(id="bin-2-2"))
    assert "Off stock since" not in words(page.one(id="bin-2-1"))


def test_what_is_not_on_the_rack_is_marked_with_the_way_to_buying(
    counter: Counter, shop: Store
) -> None:
    ordered(shop)
    page = counter.get(kept(counter))
    stick = page.one(id="bin-3-1")
    assert "To buy" in words(stick)
    assert "/buying" in {a.get("href") for a in stick.iter("a")}


def test_knife_glass_and_saw_are_warned_of_where_they_are_used(
    counter: Counter, shop: Store
) -> None:
    ordered(shop)
    page = counter.get(kept(counter))
    said = [words(each) for each in page.each("caution")]
    assert any("gloves and eye protection" in each for each in said)
    assert any("guard on, hands clear" in each for each in said)
    assert any("cut away from the hand" in each for each in said)
    assert all("local rules" in each for each in said)


def test_materials_stand_by_station_and_each_caution_is_said_once(
    counter: Counter, shop: Store
) -> None:
    """The saw comes first; two mats, a backing and their one caution are at the mat cutter."""
    ordered(shop)
    address = started(counter)
    for page in (finished(counter, address), counter.get(counter.post(f"{address}/keep").location)):
        heads = [words(each) for each in page.each(tag="h2")]
        assert heads == [
            "At the saw sticks: 1 material, 4 parts",
            "At the mat cutter mats and boards: 3 materials, 3 parts",
            "At the glass cutter glazing: 1 material, 1 part",
        ]
        assert len(list(page.each("plan-row"))) == 5
        said = [words(each) for each in page.each("caution")]
        assert len(said) == 3
        assert sum("cut away from the hand" in each for each in said) == 1


def test_a_plan_opens_closed_but_for_what_the_address_asks_for(
    counter: Counter, shop: Store
) -> None:
    ordered(shop)
    address = kept(counter)

    def unfolded(page: Shown) -> list[str | None]:
        rows = page.each("plan-row")
        return [each.get("id") for each in rows if each.get("open") is not None]

    assert unfolded(counter.get(address)) == []
    assert unfolded(counter.get(f"{address}?open=3")) == ["section-3"]
    assert unfolded(counter.get(f"{address}?open=soon")) == []
    refused = counter.post(f"{address}/bins/3/1/book", {
        "bin.3.1.offcut.0.keep": "1", "bin.3.1.offcut.0.place": "x" * 61,
    })  # fmt: skip
    assert unfolded(refused) == ["section-3"]


@pytest.mark.parametrize(
    ("named", "cut"), [("bin.3.1", 4), ("section.3", 4), ("station.saw", 4), ("station.mats", 3)]
)
def test_all_of_a_stick_a_material_or_a_station_is_ticked_in_one_act(
    counter: Counter, shop: Store, named: str, cut: int
) -> None:
    ordered(shop)
    address = kept(counter)
    page = counter.go(f"{address}/ticks", {"tick": named})
    assert page.words(id="done") == f"{cut} of 8 parts cut"
    page = counter.go(f"{address}/ticks", {"untick": named})
    assert page.words(id="done") == "0 of 8 parts cut"


def test_what_is_spoiled_or_booked_is_left_alone_where_all_is_ticked(
    counter: Counter, shop: Store
) -> None:
    (part,) = piece_ids(shop, ordered(shop))
    address = kept(counter)
    counter.go(f"{address}/spoiled", {"part": f"{part}/{RAIL}", "note": ""})
    page = counter.go(f"{address}/ticks", {"tick": "station.saw"})
    assert page.words(id="done") == "3 of 7 parts cut"
    counter.go(f"{address}/bins/3/1/book", ANYWAY)
    page = counter.go(f"{address}/ticks", {"untick": "station.saw"})
    assert page.words(id="done") == "3 of 7 parts cut"


def test_everything_cut_at_a_station_leaves_the_stock_in_one_act(
    counter: Counter, shop: Store
) -> None:
    """Two of three boards are ticked: these two are booked, with all that is worth keeping of them."""
    ordered(shop)
    item = sticks(shop, 2)
    address = kept(counter)
    page = counter.go(f"{address}/ticks", {"tick": "station.saw"})
    assert "Done – take 1 stick off stock" in page.buttons(f"{address}/book")
    page = counter.go(f"{address}/book", page.form(f"{address}/book"))
    assert "Stick 1 of LIN-20 is booked as cut. Stored: K-2026-0001" in page.main
    assert stock.look(shop, item).kept.on_hand == 1
    (offcut,) = stock.listed(shop, StockFilter(offcuts=True), PageRequest()).rows
    assert (offcut.kept.item.length, offcut.kept.item.place) == (mm(900), "Rack A")
    for section in (1, 4):
        page = counter.go(f"{address}/ticks", {"tick": f"section.{section}"})
    form = typed(page.form(f"{address}/book"))
    assert form == {"bins": "1.1,4.1"}
    asked = counter.post(f"{address}/book", form)
    assert asked.status == 409
    page = counter.go(f"{address}/book", asked.form(f"{address}/book"))
    assert "2 sticks and sheets are booked as cut." in page.main
    assert page.buttons(f"{address}/book") == []
    assert counter.post(f"{address}/book", form).status == 409
    assert counter.post(f"{address}/book", {"bins": "soon"}).status == 422


def test_a_station_books_what_is_on_the_rack_and_asks_about_what_was_never_received(
    counter: Counter, shop: Store
) -> None:
    """Three frames of 573 x 460 want 6198 mm: three sticks of 3000 mm, of which the rack holds one."""
    ordered(shop, *[piece()] * 3)
    item = sticks(shop, 1)
    address = kept(counter)
    saw = "3.1"
    page = counter.go(f"{address}/ticks", {"tick": "station.saw"})
    assert "still to take 1 from the rack, of" in page.words("tally")
    assert "Done – take 1 stick off stock" in page.buttons(f"{address}/book")
    assert "Take 2 off all the same" in page.buttons(f"{address}/book")
    assert "2 sticks that are cut were never received" in page.words(id="acts-saw")
    assert page.links("plan-missing")["receive them first , at the saw"] == "/buying"
    page = counter.go(f"{address}/book", {"bins": saw})
    assert stock.look(shop, item).kept.on_hand == 0
    assert "still to take 0 from the rack, of" in page.words("tally")
    missing = {"bins": "3.2,3.3"}
    assert typed(page.form(f"{address}/book")) == missing
    asked = counter.post(f"{address}/book", missing)
    assert asked.status == 409
    assert asked.heading == "Take off stock what was never received?"
    assert "On the rack there is none for 2 sticks of LIN-20." in asked.main
    assert asked.links()["Receive first"] == "/stock/receive?material=LIN-20"
    assert asked.links()["No, go back"] == f"{address}?open=3#bin-3-2"
    assert stock.look(shop, item).kept.on_hand == 0
    counter.go(f"{address}/book", asked.form(f"{address}/book"))
    assert stock.look(shop, item).kept.on_hand == -2


def test_one_stick_that_was_never_received_is_asked_about_and_what_was_typed_is_kept(
    counter: Counter, shop: Store
) -> None:
    ordered(shop)
    address = kept(counter)
    action = f"{address}/bins/3/1/book"
    asked = counter.post(action, counter.get(address).form(action) | {
        "bin.3.1.offcut.0.place": "Shelf 4",
    })  # fmt: skip
    assert asked.status == 409
    assert "1 stick of LIN-20" in asked.main
    assert stock.listed(shop, StockFilter(), PageRequest()).total == 0
    counter.go(action, asked.form(action))
    (offcut,) = stock.listed(shop, StockFilter(offcuts=True), PageRequest()).rows
    assert offcut.kept.item.place == "Shelf 4"


def test_what_came_in_since_a_plan_was_kept_is_on_the_rack(counter: Counter, shop: Store) -> None:
    ordered(shop)
    address = kept(counter)
    page = counter.get(address)
    assert "to buy first 5" in page.words("tally")
    assert "To buy" in words(page.one(id="bin-3-1"))
    item = sticks(shop, 1)
    page = counter.get(address)
    assert "to buy first 4" in page.words("tally")
    assert "Take a whole stick of those that came in since" in words(page.one(id="bin-3-1"))
    form = page.form(f"{address}/bins/3/1/book")
    counter.go(f"{address}/bins/3/1/book", form)
    assert stock.look(shop, item).kept.on_hand == 0


def test_a_plan_is_deleted_from_a_fold_at_its_end(counter: Counter, shop: Store) -> None:
    ordered(shop)
    page = counter.get(kept(counter))
    fold = next(each for each in page.each(tag="details") if "Delete plan" in words(each))
    assert fold.get("open") is None
    assert "Delete plan" not in page.words("plan-head")
    assert "waste, at cost EUR " in page.words("tally")


def test_parts_are_ticked_and_the_tick_taken_back(counter: Counter, shop: Store) -> None:
    (part,) = piece_ids(shop, ordered(shop))
    address = kept(counter)
    page = counter.go(f"{address}/ticks", {"part": f"{part}/{RAIL}", "ticked": "1"})
    assert page.words(id="done") == "1 of 8 parts cut"
    assert page.one(id=f"tick-part-{part}-frame-1-top").get("aria-checked") == "true"
    page = counter.go(f"{address}/ticks", {"part": f"{part}/{RAIL}", "ticked": ""})
    assert page.words(id="done") == "0 of 8 parts cut"


def test_two_phones_tick_side_by_side_and_get_only_the_parts(counter: Counter, shop: Store) -> None:
    (part,) = piece_ids(shop, ordered(shop))
    address = kept(counter)
    for key in (RAIL, "glazing"):
        answer = counter.post(
            f"{address}/ticks", {"part": f"{part}/{key}", "ticked": "1"}, **{"x-partial": "1"}
        )
        assert answer.status == 200
        assert "<html" not in answer.text
    assert answer.words(id="done") == "2 of 8 parts cut"


def test_a_booked_stick_changes_the_stock_and_is_taken_back(counter: Counter, shop: Store) -> None:
    ordered(shop)
    item = sticks(shop, 2)
    address = kept(counter)
    form = counter.get(address).form(f"{address}/bins/3/1/book")
    assert typed(form) == {"bin.3.1.offcut.0.keep": "1", "bin.3.1.offcut.0.place": "Rack A"}
    page = counter.go(f"{address}/bins/3/1/book", form | {"bin.3.1.offcut.0.place": "Shelf 4"})
    assert "Stick 1 of LIN-20 is booked as cut. Stored: K-2026-0001" in page.main
    assert stock.look(shop, item).kept.on_hand == 1
    (offcut,) = stock.listed(shop, StockFilter(offcuts=True), PageRequest()).rows
    assert (offcut.kept.item.length, offcut.kept.item.place) == (mm(900), "Shelf 4")
    assert page.links()["Print labels"] == f"/stock/labels?items={offcut.kept.id}"
    back = counter.go(f"{address}/bins/3/1/take-back")
    assert "stands as it did before" in back.main
    assert stock.look(shop, item).kept.on_hand == 2
    assert stock.look(shop, offcut.kept.id).kept.on_hand == 0


def test_an_offcut_that_is_not_ticked_is_not_kept(counter: Counter, shop: Store) -> None:
    ordered(shop)
    address = kept(counter)
    page = counter.go(f"{address}/bins/3/1/book", {"bin.3.1.offcut.0.place": "Shelf 4"} | ANYWAY)
    assert "Stored:" not in page.main
    assert stock.listed(shop, StockFilter(offcuts=True), PageRequest()).total == 0


def test_fallouts_of_a_mat_are_kept_by_default(counter: Counter, shop: Store) -> None:
    ordered(shop)
    address = kept(counter)
    page = counter.get(address)
    number = next(n for n in range(1, 6) if "M-101" in page.words(id=f"section-{n}"))
    form = page.form(f"{address}/bins/{number}/1/book")
    assert form[f"bin.{number}.1.fallout.0.keep"] == "1"
    counter.go(f"{address}/bins/{number}/1/book", form | ANYWAY)
    sizes = {
        (each.kept.item.size.width, each.kept.item.size.height)
        for each in stock.listed(shop, StockFilter(offcuts=True), PageRequest()).rows
        if each.kept.item.size
    }
    assert (mm(422), mm(299)) in sizes  # window 1, by hand (G3), through the whole board


def test_a_place_that_is_too_long_comes_back_with_what_was_typed(
    counter: Counter, shop: Store
) -> None:
    ordered(shop)
    address = kept(counter)
    form = counter.get(address).form(f"{address}/bins/3/1/book")
    far = "x" * 61
    answer = counter.post(f"{address}/bins/3/1/book", form | {"bin.3.1.offcut.0.place": far})
    assert answer.status == 422
    assert "61 characters; at most 60 are kept" in answer.error("bin.3.1.offcut.0.place")
    assert answer.fields["bin.3.1.offcut.0.place"] == far
    ((line, anchor),) = answer.links("error-summary").items()
    assert (line.partition(":")[0], anchor) == ("Offcut 900 place", "#bin-3-1-offcut-0-place")


def test_a_stick_is_booked_once(counter: Counter, shop: Store) -> None:
    ordered(shop)
    item = sticks(shop, 2)
    address = kept(counter)
    form = counter.get(address).form(f"{address}/bins/3/1/book")
    counter.go(f"{address}/bins/3/1/book", form)
    again = counter.post(f"{address}/bins/3/1/book", in_another_tab(form))
    assert again.status == 409
    assert "is booked already" in again.main
    assert stock.look(shop, item).kept.on_hand == 1


def test_when_all_of_a_piece_is_cut_the_plan_offers_to_move_it(
    counter: Counter, shop: Store
) -> None:
    order_id = ordered(shop)
    address = kept(counter)
    for section in range(1, 6):
        action = f"{address}/bins/{section}/1/book"
        page = counter.go(action, counter.get(address).form(action) | ANYWAY)
    assert "All parts of 2026-0001/1 are cut. P-2026-0001 is done." in page.main
    assert plans.get(shop, 1).stage is PlanStage.DONE
    action = f"/orders/{order_id}/pieces/1/stage"
    moved = counter.go(action, page.form(action, stage="cut"))
    assert "Piece 1 is cut." in moved.main


def test_taking_another_design_says_what_is_cut_and_planned_of_the_present_one(
    counter: Counter, shop: Store
) -> None:
    """Of 8 parts, 4 rails, 2 mats, glass and backing, two are cut. The other design has no under mat; all else is alike."""
    order_id = ordered(shop)
    (piece_id,) = piece_ids(shop, order_id)
    other = piece(
        mats__1__material="",
        mats__1__reveal="",
        borders__left="66",
        borders__right="66",
        borders__top="66",
        borders__bottom="76",
    )
    with shop.writing() as work:
        work.orders.add_design(piece_id, other.agreed, ACT)
        work.orders.note_design(piece_id, 1, DesignAct.TAKEN, ACT)
    address = kept(counter)
    for section in (1, 2):
        action = f"{address}/bins/{section}/1/book"
        counter.go(action, counter.get(address).form(action) | ANYWAY)
    take = f"/orders/{order_id}/pieces/1/designs/2/take"
    page = counter.get(take)
    assert page.words("stands") == "cut Float glass 2 mm G-2 cut Backing board B-3"
    assert "P-2026-0001 : 6 to cut, 2 cut." in page.main
    after = counter.go(take, page.form(take))
    assert "cut Float glass 2 mm G-2 cut Backing board B-3" in after.words("stands")
    assert "P-2026-0001 : 5 to cut, 2 cut." in after.main


def test_a_spoiled_part_goes_back_to_open_work_and_may_be_whole_after_all(
    counter: Counter, shop: Store
) -> None:
    (part,) = piece_ids(shop, ordered(shop))
    address = kept(counter)
    page = counter.go(f"{address}/spoiled", {"part": f"{part}/{RAIL}", "note": "split at the knot"})
    assert "split at the knot" in page.words(id=f"part-{part}-frame-1-top")
    assert page.words(id="done") == "0 of 7 parts cut"
    assert "spoiled, to cut again" in counter.get("/plans/new").main
    page = counter.go(f"{address}/whole", {"part": f"{part}/{RAIL}"})
    assert page.words(id="done") == "0 of 8 parts cut"
    assert "Nothing waits to be planned" in counter.get("/plans/new").main


def test_a_dropped_plan_takes_no_tick_and_no_booking(counter: Counter, shop: Store) -> None:
    (part,) = piece_ids(shop, ordered(shop))
    address = kept(counter)
    asked = counter.get(f"{address}/drop")
    assert "5 of its sticks and sheets are not booked yet." in asked.main
    page = counter.go(f"{address}/drop", asked.form(f"{address}/drop"))
    assert not page.has(tag="form", id="x")
    assert f"{address}/ticks" not in {form.get("action") for form in page.each(tag="form")}
    for action, form in (
        ("ticks", {"part": f"{part}/{RAIL}", "ticked": "1"}),
        ("bins/3/1/book", {}),
    ):
        refused = counter.post(f"{address}/{action}", form)
        assert refused.status == 409
        assert "P-2026-0001 was deleted; nothing more is cut by it." in refused.main


def test_a_drop_from_an_old_page_is_refused(counter: Counter, shop: Store) -> None:
    ordered(shop)
    address = kept(counter)
    old = counter.get(f"{address}/drop").form(f"{address}/drop")
    action = f"{address}/bins/3/1/book"
    counter.go(action, counter.get(address).form(action) | ANYWAY)
    assert counter.post(f"{address}/drop", old).status == 409
    assert plans.get(shop, 1).stage is PlanStage.OPEN


@pytest.mark.parametrize(
    ("path", "form"),
    [
        ("/plans/99", None),
        ("/plans/99/drop", None),
        ("/plans/1/ticks", {"part": "7/nothing", "ticked": "1"}),
        ("/plans/1/ticks", {"tick": "section.9"}),
        ("/plans/1/book", {"bins": "9.1"}),
        ("/plans/1/spoiled", {"part": "nothing"}),
        ("/plans/1/bins/9/1/book", {}),
        ("/plans/1/bins/1/9/book", {}),
        ("/plans/1/bins/1/9/take-back", {}),
        ("/plans/99/bins/1/1/book", {}),
    ],
)
def test_what_is_not_there_is_said_to_be_not_there(
    counter: Counter, shop: Store, path: str, form: dict[str, str] | None
) -> None:
    ordered(shop)
    planned(shop)
    answer = counter.get(path) if form is None else counter.post(path, form)
    assert answer.status == 404
    assert plans.get(shop, 1).version == 1


def test_no_part_chosen_is_said(counter: Counter, shop: Store) -> None:
    ordered(shop)
    address = kept(counter)
    answer = counter.post(f"{address}/spoiled", {"note": "split"})
    assert answer.status == 422
    assert "No part was chosen." in answer.main


# From elsewhere


def test_the_desk_and_the_pages_of_a_piece_lead_to_its_plans(counter: Counter, shop: Store) -> None:
    order_id = ordered(shop)
    assert counter.get("/").links()["make the cutting plan"] == "/plans/new"
    for address in (f"/orders/{order_id}", f"/orders/{order_id}/pieces/1"):
        page = counter.get(address)
        assert "Not in a cutting plan yet." in page.words("plan-hint")
        assert page.links("plan-hint")["Make a cutting plan"] == "/plans/new?piece=1"
    kept(counter)
    for address in (f"/orders/{order_id}", f"/orders/{order_id}/pieces/1"):
        page = counter.get(address)
        assert page.words("plan-hint") == "Cutting plan P-2026-0001 : 8 to cut."
        assert page.links("plan-hint")["P-2026-0001"] == "/plans/1"


def test_a_piece_of_which_all_is_cut_says_so_where_its_stage_is_taken(
    counter: Counter, shop: Store
) -> None:
    order_id = ordered(shop)
    address = kept(counter)
    for section in range(1, 6):
        counter.go(f"{address}/bins/{section}/1/book", ANYWAY)
    page = counter.get(f"/orders/{order_id}/pieces/1")
    assert "8 cut. All parts are cut." in page.words("plan-hint")
    assert "Mark cut" in page.buttons(f"/orders/{order_id}/pieces/1/stage")


def test_a_piece_that_is_only_quoted_says_nothing_of_plans(counter: Counter, shop: Store) -> None:
    order_id = ordered(shop)
    for section in counter.get(f"/orders/{order_id}").each("plan-hint"):
        assert "Not in a cutting plan yet." in words(section)
    assert counter.get("/plans/new?piece=999").heading == "New cutting plan"
