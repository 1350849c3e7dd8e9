"""Several windows on the quote page: rows, gaps, free places and standard sizes, worked by hand (G4, G5, G9, G20).

The photographs are 100 × 150; the usual overlap of 5 at each edge makes windows of 90 × 140 (G1).
"""

import pytest

from tests.web.shown import Counter, Shown

PIECE = {
    "unit": "mm",
    "artwork.size": "100 x 150",
    "presentation": "window",
    "sizing": "borders",
    "mats.0.material": "M-101",
    "borders.left": "60",
}
HOLES = {"windows.0.kind": "hole"}
"""The typed sizes are those of the windows themselves, so that the figures are round."""


def worked(counter: Counter, **changes: str) -> Shown:
    """The page while typing; a__b stands for a.b."""
    typed = {name.replace("__", "."): text for name, text in changes.items()}
    return counter.post("/quotes?live=1", PIECE | typed)


def without_scripts(counter: Counter, action: str, **changes: str) -> Shown:
    typed = {name.replace("__", "."): text for name, text in changes.items()}
    return counter.post("/quotes", PIECE | typed | {"action": action})


def test_eight_windows_in_two_rows(counter: Counter) -> None:
    """60 + 4 × 100 + 3 × 40 + 60 = 640 wide; 60 + 2 × 150 + 40 + 60 = 460 high."""
    page = worked(
        counter, windows__count="8", arrangement__rows="4", arrangement__across="40", **HOLES
    )
    assert page.status == 200
    assert page.facts["glass size"] == "640 × 460 mm"
    assert page.facts["8 windows"] == "100 × 150 mm"
    assert page.facts["gaps"] == "40 mm across, 40 mm down"
    assert page.words(id="arrangement-down-said") == "40 mm"


def test_eight_photographs_behind_two_mats(counter: Counter) -> None:
    """Under windows 90 × 140; with a reveal of 6 those above are 102 × 152 (G3).
    60 + 4 × 102 + 3 × 40 + 60 = 648 wide; 60 + 2 × 152 + 40 + 60 = 464 high."""
    under = {"mats.1.material": "M-140", "mats.1.reveal": "6"}
    page = worked(counter, windows__count="8", arrangement__rows="4", **under)
    assert page.facts["glass size"] == "648 × 464 mm"
    assert page.facts["8 windows of mat 1"] == "102 × 152 mm"
    assert page.facts["8 windows of mat 2"] == "90 × 140 mm"


def test_work_counts_every_window_of_every_mat(counter: Counter) -> None:
    """P5: set the guide 2 min and 4 min a window: 8 windows in 2 mats are 2 + 16 × 4 = 66 min."""
    under = {"mats.1.material": "M-140", "mats.1.reveal": "6"}
    page = worked(counter, windows__count="8", arrangement__rows="4", **under)
    assert "Set the guide and cut the windows: 66 min." in page.words(id="price")


def test_three_above_two_of_unequal_sizes(counter: Counter) -> None:
    """Holes: A 100 × 150, B 200 × 100, C as A; D 120 × 120, E as A. Gaps 40 and 30, borders 60.

    Upper row 100 + 40 + 200 + 40 + 100 = 480, lower 120 + 40 + 100 = 260: 60 + 480 + 60 = 600 wide.
    Both rows are 150 high: 60 + 150 + 30 + 150 + 60 = 450.
    """
    sizes = {"windows.1.size": "200 x 100", "windows.3.size": "120 x 120"}
    page = worked(
        counter,
        windows__count="5",
        arrangement__rows="3, 2",
        arrangement__down="30",
        **HOLES,
        **sizes,
    )
    assert page.facts["glass size"] == "600 × 450 mm"
    assert page.facts["windows A, C, E"] == "100 × 150 mm"
    assert page.facts["window B"] == "200 × 100 mm"
    assert page.facts["window D"] == "120 × 120 mm"
    # Centred under the upper row: (600 − 260) / 2 = 170 from the left, and 15 down for the lower one.
    assert page.words(id="windows-3-x-said") == "170 mm"
    assert page.words(id="windows-3-y-said") == "255 mm"
    assert page.words(id="windows-1-y-said") == "85 mm"


@pytest.mark.parametrize(
    ("align", "b_from_the_top"), [("top", "60 mm"), ("", "85 mm"), ("bottom", "110 mm")]
)
def test_windows_of_a_row_meet_at_tops_centres_or_feet(
    counter: Counter, align: str, b_from_the_top: str
) -> None:
    """B is 100 high beside A of 150: 60, 60 + 25, 60 + 50."""
    b = {"windows.1.size": "200 x 100", "arrangement.align": align}
    page = worked(counter, windows__count="2", **HOLES, **b)
    assert page.words(id="windows-1-y-said") == b_from_the_top


def test_package_and_gaps_give_the_borders(counter: Counter) -> None:
    """600 × 500: 600 − (4 × 100 + 3 × 30) = 110, so 55 left and right;
    500 − (2 × 150 + 30) = 170, so 80 above and 90 below with a weighting of 10."""
    page = worked(
        counter,
        windows__count="8",
        arrangement__rows="4",
        arrangement__across="30",
        arrangement__down="30",
        sizing="package",
        package__size="600x500",
        weighting="10",
        **HOLES,
    )
    assert page.facts["glass size"] == "600 × 500 mm"
    assert page.facts["borders"] == "left 55, right 55, top 80, bottom 90 mm"


def test_package_and_borders_give_equal_gaps(counter: Counter) -> None:
    """640 − 120 = 520 less 4 × 100 leaves 120 for three gaps, 40 each; down 500 − 120 − 300 = 80."""
    page = worked(
        counter,
        windows__count="8",
        arrangement__rows="4",
        sizing="both",
        package__size="640x500",
        **HOLES,
    )
    assert page.facts["gaps"] == "40 mm across, 80 mm down"
    assert page.words(id="arrangement-across-said") == "40 mm"
    assert page.words(id="arrangement-down-said") == "80 mm"


def test_a_gap_that_is_not_on_a_step_is_said_to_be_about_it(counter: Counter) -> None:
    """500 − 120 = 380 less 3 × 100 leaves 80 for two gaps of 40; of 505 it is 85, 42.5 each;
    of 504.5 it is 84.5, 42.25 each, which lies between the half millimetres that the shop cuts."""
    both = {"windows.count": "3", "sizing": "both", **HOLES}
    assert worked(counter, package__size="505x400", **both).facts["gaps"] == "42.5 mm across"
    page = worked(counter, package__size="504.5x400", **both)
    assert page.facts["gaps"] == "about 42.5 mm across"
    assert page.words(id="arrangement-across-said") == "42.25 mm"


def test_windows_may_be_moved_to_free_places(counter: Counter) -> None:
    """B goes to 220 from the left, 90 from the top; A stays at 60, 60. The right and the bottom border
    are as the left and the top: 220 + 100 + 60 = 380 wide, 90 + 150 + 60 = 300 high."""
    moved = {"arrangement.placing": "free", "windows.1.x": "220", "windows.1.y": "90"}
    page = worked(counter, windows__count="2", **HOLES, **moved)
    assert page.facts["glass size"] == "380 × 300 mm"
    assert page.words(id="windows-0-x-said") == "60 mm"
    assert page.fields["windows.1.x"] == "220"


def test_a_round_window_a_title_and_a_groove_in_one_mat(counter: Counter) -> None:
    """Hole 120 × 120 round, slot 60 × 12 at 20 below it: 60 + 120 + 20 + 12 + 60 = 272 high."""
    page = worked(
        counter,
        artwork__size="120 x 120",
        windows__0__shape="oval",
        windows__0__slot="60 x 12",
        groove="8",
        **HOLES,
    )
    assert page.facts["glass size"] == "240 × 272 mm"
    assert page.facts["window A"] == "round 120 × 120 mm"
    assert page.facts["window A slot"] == "60 × 12 mm"
    assert "a straight-line cutter cannot make A (oval)" in page.words(id="price")


def test_an_arch_says_its_rise(counter: Counter) -> None:
    """A half circle on 100 rises 50."""
    page = worked(counter, windows__0__shape="arch", **HOLES)
    assert page.facts["window"] == "arched 100 × 150 mm, rise 50 mm"


# --- the rows of the form -----------------------------------------------------------------------


def rows_of(page: Shown) -> list[tuple[str, bool]]:
    """(id, hidden) of the rows of windows."""
    return [(row.get("id") or "", row.get("hidden") is not None) for row in page.each("window")]


def test_the_count_makes_the_rows_without_scripts_too(counter: Counter) -> None:
    assert rows_of(counter.get("/quotes/new")) == [("window-0", False)]
    page = without_scripts(counter, "recalculate", windows__count="3")
    assert rows_of(page) == [("window-0", False), ("window-1", False), ("window-2", False)]
    assert {"windows.2.size", "windows.2.shape", "windows.2.x"} <= page.fields.keys()
    assert page.one("windows").get("open") is not None


def test_what_was_typed_of_a_window_stays_when_there_are_fewer(counter: Counter) -> None:
    page = worked(counter, windows__count="1", windows__3__size="A5")
    assert rows_of(page)[0] == ("window-0", False)
    assert rows_of(page)[1:] == [(f"window-{row}", True) for row in (1, 2, 3)]
    assert page.fields["windows.3.size"] == "A5"
    assert page.facts["window"] == "90 × 140 mm"


def test_a_quote_of_several_windows_comes_back_as_it_was_typed(counter: Counter) -> None:
    typed = {
        "windows.count": "3",
        "arrangement.rows": "2, 1",
        "arrangement.across": "25",
        "windows.1.size": "A6",
        "windows.2.shape": "oval",
        "windows.2.slot": "60 x 12",
        "groove": "8",
    }
    form = PIECE | typed | {"customer": "Amber Quill", "action": "save", "version": "0"}
    order = counter.go("/quotes", form)
    assert order.facts["window B"] == "95 × 138 mm"
    page = counter.get("/orders/1/pieces/1/change")
    assert page.status == 200
    assert page.fields.items() >= typed.items()


# --- what is wrong --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "path", "said"),
    [
        ({"windows.1.size": "16x"}, "windows.1.size", "“16x”"),
        (
            {"windows.1.slot": "60x"},
            "windows.1.slot",
            'Type a width and a height such as 60 x 12 mm or 2 1/2 x 1/2".',
        ),
        (
            {"unit": "in", "windows.1.slot": "2x"},
            "windows.1.slot",
            'Type a width and a height such as 2 1/2 x 1/2" or 60 x 12 mm.',
        ),
        ({"windows.count": "25"}, "windows.count", "from 1 to 24"),
        (
            {"windows.count": "4", "arrangement.rows": "2, 1"},
            "arrangement.rows",
            "2 + 1 = 3 windows, but 4",
        ),
        (
            {"arrangement.across": "0"},
            "arrangement.across",
            "The gap across between windows is 0 mm",
        ),
        (
            {"windows.1.size": "8 x 100 mm"},
            "overlap",
            "leaves no window B in an artwork of 8 × 100 mm",
        ),
        (
            {"windows.1.edge": "60"},
            "windows.1.edge",
            "leaves no window B in an artwork of 100 × 150 mm",
        ),
        ({"presentation": "close", "mats.0.material": ""}, "windows.count", "has no mat"),
        ({"groove": "70"}, "groove", "The groove around window A"),
        (
            {"arrangement.placing": "free", "windows.1.x": "100", "windows.1.y": "60"},
            "windows.1.x",
            "Windows A and B overlap by 50 mm.",
        ),
        (
            {
                "arrangement.placing": "free",
                "windows.1.x": "550",
                "sizing": "package",
                "package.size": "600 x 400",
            },
            "windows.1.x",
            "Window B leaves the mat by 40 mm at the right.",
        ),
        (
            {"sizing": "both", "package.size": "300 x 300"},
            "arrangement.across",
            "Nothing is left for the gaps across",
        ),
    ],
)
def test_a_fault_names_the_window_and_stands_beside_its_field(
    counter: Counter, changes: dict[str, str], path: str, said: str
) -> None:
    typed = PIECE | {"windows.count": "2"} | changes
    page = counter.post("/quotes", typed | {"action": "recalculate"})
    assert page.status == 422
    assert said in page.error(path)
    assert page.fields.items() >= typed.items()
    target = path.replace(".", "-").replace("_", "-")
    assert f"#{target}" in [link.get("href") for link in page.one("error-summary").iter("a")]


def test_little_board_between_windows_is_a_notice_by_their_names(counter: Counter) -> None:
    page = worked(counter, windows__count="2", arrangement__across="15")
    assert page.status == 200
    assert "Little board is left between windows: A and B 15 mm." in page.words(id="price")


def test_one_overlap_too_large_for_many_windows_is_no_storm(counter: Counter) -> None:
    page = worked(counter, windows__count="24", arrangement__rows="6", overlap="50")
    assert page.error("overlap").count("leaves no window") == 3
    assert page.error("overlap").endswith("And 21 more like it.")


# --- standard sizes -------------------------------------------------------------------------------


def offered(page: Shown) -> list[str]:
    return [button.get("value") or "" for button in page.one(id="package-offers").iter("button")]


def test_the_next_standard_size_is_shown_and_taken_without_scripts(counter: Counter) -> None:
    """Package 210 × 260 (see above): 21 × 29.7 cm holds it; (297 − 140) / 2 = 78.5."""
    page = without_scripts(counter, "recalculate")
    assert "Next standard frame size: 21 × 29.7 cm" in page.words(id="package-offers")
    page = without_scripts(counter, offered(page)[0])
    assert page.fields["sizing"] == "package"
    assert page.fields["package.size"] == "21 × 29.7 cm"
    assert page.facts["glass size"] == "210 × 297 mm"
    assert page.facts["borders"] == "left and right 60, top and bottom 78.5 mm"
    again = counter.post("/quotes", {**PIECE, **page.form("/quotes"), "action": "take"})
    assert again.fields["package.size"] == "24 × 30 cm"


def test_the_button_alone_takes_the_next_size(counter: Counter) -> None:
    page = without_scripts(counter, "take", windows__count="8", arrangement__rows="4", **HOLES)
    # 640 × 460 needs the frame of 50 × 70 cm: 700 − 520 = 180, 500 − 340 = 160.
    assert page.fields["package.size"] == "50 × 70 cm landscape"
    assert page.facts["borders"] == "left and right 90, top and bottom 80 mm"
    assert page.facts["gaps"] == "40 mm across, 40 mm down"


def test_a_size_that_is_not_offered_is_not_taken(counter: Counter) -> None:
    page = without_scripts(counter, "take:1 x 1 cm")
    assert page.fields["sizing"] == "borders"
    assert page.fields["package.size"] == ""


def test_a_package_too_small_offers_sizes_that_fill_its_field(counter: Counter) -> None:
    """Eight windows of 100 with gaps of 40 need over 520 × 340."""
    small = {"sizing": "package", "package.size": "300 x 400"}
    eight = {"windows.count": "8", "arrangement.rows": "4", **HOLES}
    page = counter.post("/quotes", PIECE | small | eight | {"action": "recalculate"})
    assert page.status == 422
    assert "220 mm too small" in page.error("package.size")
    assert offered(page)[0] == "take:40 × 60 cm landscape"
    page = counter.post("/quotes", PIECE | small | eight | {"action": offered(page)[0]})
    assert page.facts["borders"] == "left and right 40, top and bottom 30 mm"


def test_a_package_that_no_standard_size_holds_says_so(counter: Counter) -> None:
    page = worked(counter, borders__left="600")
    assert page.words(id="package-offers") == "No standard frame size is as large as this."


# --- what is still needed --------------------------------------------------------------------------


def test_a_size_alone_asks_for_a_mat_and_shows_no_error(counter: Counter) -> None:
    page = worked(counter, mats__0__material="")
    assert page.words(id="mats-asked") == "Choose a mat, or show the artwork close in the frame."
    assert page.error("mats.0.material") == ""
    assert not page.has("error-summary")
    assert "Still needed for a price: Choose a mat" in page.words(id="price")
    assert not page.words(tag="title").startswith("Error")


def test_nothing_typed_needs_the_size_and_the_mat(counter: Counter) -> None:
    page = counter.post("/quotes?live=1", {"presentation": "window"})
    needed = page.words("price-needs")
    assert "The size of the artwork is empty" in needed
    assert "Choose a mat" in needed
    assert not page.has("error-summary")


def test_saving_without_a_mat_is_refused_with_the_same_words(counter: Counter) -> None:
    form = PIECE | {"mats.0.material": "", "customer": "Amber Quill", "action": "save"}
    page = counter.post("/quotes", form)
    assert page.status == 422
    assert "Choose a mat" in page.error("mats.0.material")
    assert page.has("error-summary")


def test_why_an_old_price_is_held_is_said_where_no_field_says_it(counter: Counter) -> None:
    page = worked(counter, sizing="package", borders__left="12 3/0")
    held = page.words(id="price-held")
    assert "The glass size is empty" in held
    assert "12 3/0" not in held, "its own field says so"


def test_a_risk_stands_above_the_lines_of_the_price(counter: Counter) -> None:
    """An oval cannot be made on a straight-line cutter: that is seen before the sums."""
    said = worked(counter, windows__0__shape="oval").words(id="price")
    assert 0 < said.index("straight-line cutter") < said.index("Work")
