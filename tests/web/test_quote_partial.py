"""A quote of which something is wrong or missing: what can be drawn and priced is shown, nothing is kept.

The piece and its prices are those worked by hand in tests/builders/worked.
"""

from dataclasses import replace

import pytest

from app.pricing import Kind, Material
from app.storage import Store
from tests.builders import worked
from tests.builders.worked import LINES, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown
from tests.web.test_quotes import lines_of, save_form, saved

MOULDING, TOP_MAT, UNDER_MAT, GLASS, BACKING, RINGS, _WORK = LINES

WRONG: dict[str, tuple[dict[str, str], str, tuple[tuple[str, str], ...]]] = {
    "unknown moulding": (
        {"frames.0.material": "zz9"},
        "Drawn without the frame: no moulding called “zz9”.",
        (TOP_MAT, UNDER_MAT, GLASS, BACKING, RINGS),
    ),
    "unknown mat": (
        {"mats.0.material": "zz9"},
        "Drawn with a plain top mat in place of “zz9”.",
        (MOULDING, UNDER_MAT, GLASS, BACKING, RINGS),
    ),
    "unknown glass": (
        {"glazing.material": "zz9"},
        "Drawn without the glazing: no glazing called “zz9”.",
        (MOULDING, TOP_MAT, UNDER_MAT, BACKING, RINGS),
    ),
    "unreadable border": (
        {"borders.left": "12 3/0"},
        "Drawn as if “12 3/0” were not typed (Border left).",
        (RINGS,),
    ),
    "unreadable overlap": (
        {"overlap": "wide"},
        "Drawn as if “wide” were not typed (Overlap at each edge).",
        (RINGS,),
    ),
    "overlap that leaves no window": (  # 310 − 2 × 160 is below zero
        {"overlap": "160"},
        "Drawn as if “160” were not typed (Overlap at each edge).",
        (RINGS,),
    ),
    "unreadable allowance": (
        {"allowance": "wide"},
        "Drawn as if “wide” were not typed (Play in the rebate (total)).",
        (TOP_MAT, UNDER_MAT, GLASS, BACKING, RINGS),
    ),
    "unknown spacers": (
        {"spacer.material": "zz9", "spacer.depth": "5"},
        "Drawn without the spacers: no extra called “zz9”.",
        (MOULDING, TOP_MAT, UNDER_MAT, GLASS, BACKING, RINGS),
    ),
    "two faults": (
        {"frames.0.material": "zz9", "mats.1.material": "yy8"},
        "Drawn with a plain under mat in place of “yy8”; without the frame: no moulding "
        "called “zz9”.",
        (TOP_MAT, GLASS, BACKING, RINGS),
    ),
    "a fault that no drawing shows": (
        {"discount": "much"},
        "",
        (MOULDING, TOP_MAT, UNDER_MAT, GLASS, BACKING, RINGS),
    ),
}


def caption(page: Shown) -> str:
    return page.words("drawn-without") if page.has("drawn-without") else ""


def is_so_far(page: Shown, said: str, lines: tuple[tuple[str, str], ...]) -> None:
    assert page.status == 422
    assert page.has("drawing-front")
    assert caption(page) == said
    assert page.words("price") == "–", "no total"
    assert "So far, without a total" in page.words(id="price")
    assert tuple(lines_of(page)) == lines


@pytest.mark.parametrize("case", WRONG)
def test_a_fresh_quote_shows_what_can_be_drawn_and_priced(
    shared_counter: Counter, case: str
) -> None:
    wrong, said, lines = WRONG[case]
    for how in ("/quotes?live=1", "/quotes"):
        page = shared_counter.post(how, {**TYPED, **wrong, "action": "recalculate"})
        is_so_far(page, said, lines)
        assert page.fields.items() >= wrong.items(), "what was typed is kept"
        assert all(page.error(path) for path in wrong if path != "spacer.depth")


@pytest.mark.parametrize("case", WRONG)
def test_a_changed_piece_shows_the_same_and_stays_as_it_was(
    counter: Counter, stocked: Store, case: str
) -> None:
    saved(stocked)
    wrong, said, lines = WRONG[case]
    form = {**counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1"), **wrong}
    is_so_far(counter.post("/orders/1/pieces/1?live=1", form), said, lines)
    is_so_far(counter.post("/orders/1/pieces/1", {**form, "action": "save"}), said, lines)
    assert counter.get("/orders/1/pieces/1/change").fields.items() >= TYPED.items()


@pytest.mark.parametrize("case", WRONG)
def test_nothing_wrong_is_kept(shared_counter: Counter, case: str) -> None:
    wrong, _, _ = WRONG[case]
    assert shared_counter.post("/quotes", {**save_form(), **wrong}).status == 422
    assert shared_counter.get("/orders/1").status == 404


def test_the_live_answer_brings_the_same_parts(shared_counter: Counter) -> None:
    form = {**TYPED, "frames.0.material": "zz9"}
    page = shared_counter.post("/quotes?live=1", form, **{"x-partial": "1"})
    assert page.status == 422
    assert page.one(id="drawing").get("data-so-far") is not None
    assert page.one(id="price").get("data-so-far") is not None
    assert tuple(lines_of(page)) == (TOP_MAT, UNDER_MAT, GLASS, BACKING, RINGS)


def test_without_the_unknown_moulding_the_package_is_the_outside(shared_counter: Counter) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "frames.0.material": "zz9"})
    assert "600 × 500 mm" in page.words("drawing-front")


def test_an_outer_frame_goes_with_the_unknown_one_in_it(shared_counter: Counter) -> None:
    two = {"frames.0.material": "zz9", "frames.1.material": "LIN-20"}
    page = shared_counter.post("/quotes?live=1", {**TYPED, **two})
    assert caption(page).startswith("Drawn without the frame: no moulding called “zz9”")
    assert MOULDING[0] not in dict(lines_of(page))


def test_a_size_alone_is_drawn_with_a_plain_mat(shared_counter: Counter) -> None:
    page = shared_counter.post("/quotes?live=1", {"artwork.size": "410 x 310"})
    assert page.status == 422
    assert page.has("drawing-front")
    assert caption(page) == "Drawn with a plain top mat, since none is chosen."
    assert page.words("price") == "–"
    assert "Still needed for a price" in page.words(id="price")
    assert lines_of(page) == []


NO_MOULDING = "No moulding is chosen yet; a thin outline stands for the frame."


def test_a_material_without_a_colour_is_said_to_be_drawn_in_grey(
    counter: Counter, stocked: Store
) -> None:
    """“Gold slope” would else stand in grey before the customer as if that were its colour."""
    assert not counter.post("/quotes?live=1", TYPED).has("in-grey")
    gold = Material(
        code="GLD-3",
        name="Gold slope",
        kind=Kind.MOULDING,
        cost=worked.MOULDING.cost,
        per=worked.MOULDING.per,
        charge=worked.MOULDING.charge,
        selling=worked.MOULDING.selling,
        profile=worked.MOULDING.profile,
    )
    dusk = replace(worked.TOP_MAT, code="M-150", name="Dusk", colour=gold.colour)
    with stocked.writing() as work:
        work.materials.add_all((gold, dusk), now=NOW)
    typed = {**TYPED, "frames.0.material": "GLD-3"}
    one = "“Gold slope” is drawn in grey, since its colour is not entered yet."
    assert counter.post("/quotes?live=1", typed).words(id="in-grey") == one
    assert not counter.post("/quotes?live=1", {**typed, "view": "measured"}).has("in-grey")
    both = counter.post("/quotes?live=1", {**typed, "mats.0.material": "M-150"})
    assert both.words(id="in-grey") == (
        "“Gold slope” and “Dusk” are drawn in grey, since their colours are not entered yet."
    )


def test_a_frame_that_is_not_chosen_yet_is_a_thin_outline(shared_counter: Counter) -> None:
    for typed in ({"artwork.size": "410 x 310"}, {**TYPED, "frames.0.material": ""}):
        page = shared_counter.post("/quotes?live=1", typed)
        assert page.has("frame-to-come")
        assert page.words(id="frame-to-come") == NO_MOULDING
    measured = shared_counter.post(
        "/quotes?live=1", {"artwork.size": "410 x 310", "view": "measured"}
    )
    assert not measured.has("frame-to-come")
    assert measured.words(id="frame-to-come").endswith("it is drawn without a frame.")


@pytest.mark.parametrize(
    "typed",
    [
        TYPED,
        {**TYPED, "frames.0.material": "zz9"},
        {**TYPED, "frames.0.material": "", "frame.source": "none"},
    ],
    ids=["chosen", "unknown", "none wanted"],
)
def test_where_a_moulding_is_typed_or_no_frame_is_wanted_there_is_no_outline(
    shared_counter: Counter, typed: dict[str, str]
) -> None:
    page = shared_counter.post("/quotes?live=1", typed)
    assert page.has("drawing-front")
    assert not page.has("frame-to-come")
    assert not page.has(id="frame-to-come")


@pytest.mark.parametrize("size", ["", "16x", "0 x 40"])
def test_without_a_size_nothing_is_drawn(shared_counter: Counter, size: str) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "artwork.size": size})
    assert page.status == 422
    assert not page.has("drawing-front")
    assert "as soon as its size" in page.words("easel-empty")
    assert page.words("price") == "–"
    assert lines_of(page) == []


def test_an_unreadable_package_is_drawn_with_borders(shared_counter: Counter) -> None:
    wrong = {**TYPED, "sizing": "package", "package.size": "16x"}
    page = shared_counter.post("/quotes?live=1", wrong)
    assert caption(page) == "Drawn as if “16x” were not typed (Glass size)."
    assert lines_of(page) == [RINGS]


def test_names_of_what_was_found_stay_while_something_else_is_wrong(
    shared_counter: Counter,
) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "mats.0.material": "zz9"})
    assert page.words(id="mats-0-material-said") == ""
    assert page.words(id="mats-1-material-said") == "Slate blue"
    assert page.words(id="hardware-0-material-said") == "Hanging ring"


@pytest.mark.parametrize("view", ["measured", "section"])
def test_every_view_is_drawn_so_far(shared_counter: Counter, view: str) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "mats.0.material": "zz9", "view": view})
    assert page.has(f"drawing-{view}")
    assert "plain top mat" in caption(page)


def test_markup_that_was_typed_is_shown_as_text(shared_counter: Counter) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "frames.0.material": "<b>zz</b>"})
    assert "“<b>zz</b>”" in caption(page)
    assert "<b>zz</b>" not in page.text
