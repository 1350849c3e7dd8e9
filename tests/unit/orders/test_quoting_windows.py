"""Several windows as typed on the quote page, read into openings, rows and places (G9, G20)."""

from typing import Any

import pytest

from app.errors import Invalid
from app.framing import Align, Arrangement, Edges, Opening, Point, Shape, Slot, Spec, work_out
from app.lengths import Length, Size, Unit, inches, mm
from app.orders import usual_shop
from app.orders.quoting.faults import on_the_form
from app.orders.quoting.form import PIECE_FIELDS, form_path
from app.orders.quoting.request import read_piece
from app.orders.quoting.windows import window_count
from tests.builders.photograph import PIECE, find
from tests.builders.worked import SHOP, TYPED

PHOTO = Size(mm(100), mm(150))


def typed(**changes: str) -> dict[str, str]:
    """The piece with fields typed as well; a__b stands for a.b."""
    return PIECE | {name.replace("__", "."): text for name, text in changes.items()}


def spec_of(**changes: str) -> Spec:
    return read_piece(typed(**changes), SHOP, find).spec


def faults_of(**changes: str) -> dict[str, str]:
    with pytest.raises(Invalid) as raised:
        spec_of(**changes)
    return {fault.path: fault.message for fault in raised.value.faults}


def opening(name: str, size: Size = PHOTO, **changes: Any) -> Opening:
    return Opening(name=name, artwork=size, **changes)


# --- one window, as ever -----------------------------------------------------------------------


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"windows.count": "1"},
        {
            "windows.count": " ",
            "arrangement.align": "",
            "arrangement.placing": "",
            "windows.0.shape": "",
        },
        {
            "windows.0.kind": "artwork",
            "windows.0.shape": "rectangle",
            "arrangement.placing": "rows",
        },
        {"windows.1.size": "300 x 300", "windows.7.shape": "oval"},
    ],
    ids=["nothing", "one", "blank", "usual choices", "rows that are folded away"],
)
def test_a_piece_of_one_plain_window_asks_for_no_openings(changes: dict[str, str]) -> None:
    spec = read_piece(PIECE | changes, SHOP, find).spec
    assert (spec.openings, spec.arrangement, spec.groove) == ((), None, None)
    assert spec.artwork == PHOTO


def test_a_piece_typed_before_there_were_several_windows_reads_as_it_did() -> None:
    spec = read_piece(TYPED, SHOP, find).spec
    assert (spec.openings, spec.arrangement, spec.groove) == ((), None, None)
    assert spec.artwork == Size(mm(410), mm(310))
    assert spec.borders == Edges(left=mm(90), right=mm(90), top=mm(80), bottom=mm(100))


# --- how many, how large ------------------------------------------------------------------------


def test_windows_without_a_size_are_as_large_as_the_first() -> None:
    spec = spec_of(windows__count="3", windows__1__size="A5")
    # ISO 216: A5 is 148 × 210
    assert spec.openings == (opening("A"), opening("B", Size(mm(148), mm(210))), opening("C"))


def test_window_a_may_be_given_in_its_row_and_the_others_follow_it() -> None:
    spec = spec_of(artwork__size="", windows__count="2", windows__0__size="9 x 13 cm")
    nine = Size(mm(90), mm(130))
    assert spec.artwork == nine
    assert spec.openings == (opening("A", nine), opening("B", nine))


def test_a_size_may_be_that_of_the_hole_itself() -> None:
    spec = spec_of(windows__count="2", windows__1__kind="hole", windows__1__size="80 x 40")
    assert spec.openings[1] == Opening(name="B", window=Size(mm(80), mm(40)))


@pytest.mark.parametrize(
    ("piece", "shown", "edge", "expected"),
    [
        ("window", "", "", {}),
        ("window", "", "3", {"overlap": mm(3)}),
        ("window", "float", "8", {"floats": True, "gap": mm(8)}),
        ("float", "", "8", {"gap": mm(8)}),
        ("float", "window", "3", {"floats": False, "overlap": mm(3)}),
    ],
)
def test_each_window_may_show_its_artwork_in_its_own_way(
    piece: str, shown: str, edge: str, expected: dict[str, Any]
) -> None:
    changes = {"windows__1__shown": shown, "windows__1__edge": edge}
    spec = spec_of(presentation=piece, windows__count="2", **changes)
    assert spec.openings == (opening("A"), opening("B", **expected))


def test_a_single_window_may_be_round_arched_or_have_a_title() -> None:
    assert spec_of(windows__0__shape="oval").openings == (opening("A", shape=Shape.OVAL),)
    arch = spec_of(windows__0__shape="arch", windows__0__rise="30").openings
    assert arch == (opening("A", shape=Shape.ARCH, rise=mm(30)),)
    slot = Slot(size=Size(mm(60), mm(12)), gap=mm(20))
    assert spec_of(windows__0__slot="60 x 12").openings == (opening("A", slot=slot),)


def test_a_rise_counts_for_an_arch_alone() -> None:
    assert spec_of(windows__0__rise="30", windows__count="1").openings == ()


def test_windows_that_say_nothing_of_their_own_are_shaped_and_shown_as_the_first() -> None:
    first = {"windows__0__shape": "arch", "windows__0__rise": "30", "windows__0__shown": "float"}
    own = {"windows__2__shape": "arch", "windows__3__shown": "piece", "windows__3__shape": "oval"}
    like_a: dict[str, Any] = {"floats": True, "shape": Shape.ARCH, "rise": mm(30)}
    assert spec_of(windows__count="4", **first, **own).openings == (
        opening("A", **like_a),
        opening("B", **like_a),
        opening("C", floats=True, shape=Shape.ARCH),
        opening("D", shape=Shape.OVAL),
    )


def test_where_the_first_is_given_as_a_hole_the_others_are_holes_of_its_size() -> None:
    spec = spec_of(windows__count="2", windows__0__kind="hole")
    assert [one.window for one in spec.openings] == [PHOTO, PHOTO]
    assert [one.artwork for one in spec.openings] == [None, None]


def test_the_gap_above_a_title_may_be_typed() -> None:
    (window,) = spec_of(windows__0__slot="60 x 12", windows__0__slot_gap="25").openings
    assert window.slot == Slot(size=Size(mm(60), mm(12)), gap=mm(25))


def test_a_groove_goes_around_a_plain_window_too() -> None:
    spec = spec_of(groove="7")
    assert (spec.groove, spec.openings) == (mm(7), ())


# --- rows and gaps ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("count", "rows", "expected"),
    [
        ("8", "4", (4, 4)),
        ("8", "", (8,)),
        ("7", "4", (4, 3)),
        ("5", "3, 2", (3, 2)),
        ("5", "3+2", (3, 2)),
        ("5", "3 2", (3, 2)),
        ("6", "1, 2 ,3", (1, 2, 3)),
        ("2", "4", (2,)),
        ("24", "6", (6, 6, 6, 6)),
    ],
)
def test_rows_are_typed_as_one_number_for_all_or_one_for_each(
    count: str, rows: str, expected: tuple[int, ...]
) -> None:
    spec = spec_of(windows__count=count, arrangement__rows=rows)
    assert spec.arrangement is not None
    assert spec.arrangement.rows == expected
    assert len(spec.openings) == int(count)


def test_gaps_are_the_usual_ones_unless_typed() -> None:
    asked = spec_of(windows__count="4", arrangement__rows="2", arrangement__align="top").arrangement
    assert asked == Arrangement(rows=(2, 2), align=Align.TOP, across=mm(40), down=mm(40))
    asked = spec_of(windows__count="4", arrangement__rows="2", arrangement__down="1 in").arrangement
    assert asked == Arrangement(rows=(2, 2), across=mm(40), down=mm("25.4"))


def test_the_usual_gap_of_a_shop_in_inches_is_one_and_a_half() -> None:
    shop = usual_shop("Sedge Lane Frames", Unit.IN, "USD", SHOP.tax_rates[0].percent)
    piece = PIECE | {"unit": "in", "artwork.size": "4x6", "windows.count": "2"}
    asked = read_piece(piece, shop, find).spec.arrangement
    assert asked == Arrangement(rows=(2,), across=inches("3/2"), down=None)


@pytest.mark.parametrize(
    ("sizing", "across"), [("package", mm(40)), ("both", None)], ids=["package", "both"]
)
def test_gaps_that_are_not_typed_follow_where_package_and_borders_are_both_given(
    sizing: str, across: Length | None
) -> None:
    asked = spec_of(sizing=sizing, package__size="600x500", windows__count="2").arrangement
    assert asked is not None
    assert asked.across == across


# --- free places --------------------------------------------------------------------------------


def test_free_places_need_no_rows_and_say_what_blank_borders_are() -> None:
    places = {"windows.0.x": "55", "windows.0.y": "70", "windows.1.x": "200", "windows.1.y": "45"}
    piece = {k: v for k, v in PIECE.items() if k != "borders.left"}
    changes = {
        "windows.count": "2",
        "arrangement.placing": "free",
        "arrangement.rows": "1",
    } | places
    spec = read_piece(piece | changes, SHOP, find).spec
    assert spec.arrangement is None
    assert [one.at for one in spec.openings] == [
        Point(x=mm(55), y=mm(70)),
        Point(x=mm(200), y=mm(45)),
    ]
    assert spec.borders == Edges(left=mm(55), right=mm(55), top=mm(45), bottom=mm(45))


def test_what_is_blank_of_a_place_is_as_the_rows_have_it() -> None:
    """Two windows of 90 × 140, borders 60, gap 40: A at 60, 60 and B at 60 + 90 + 40 = 190, 60."""
    spec = spec_of(windows__count="2", arrangement__placing="free", windows__1__y="85")
    assert [one.at for one in spec.openings] == [
        Point(x=mm(60), y=mm(60)),
        Point(x=mm(190), y=mm(85)),
    ]


def test_free_places_of_which_none_is_typed_are_the_rows() -> None:
    free = spec_of(windows__count="2", arrangement__placing="free")
    assert free == spec_of(windows__count="2")


def test_rows_that_do_not_add_up_are_said_as_ever_where_places_are_free() -> None:
    spec = spec_of(windows__count="3", arrangement__placing="free", arrangement__rows="1, 1")
    assert spec.arrangement is not None
    with pytest.raises(Invalid, match="1 \\+ 1 = 2 windows, but 3 were given"):
        work_out(spec)


def test_a_border_that_cannot_be_read_is_one_fault_where_places_are_free() -> None:
    with pytest.raises(Invalid) as raised:
        spec_of(windows__count="2", arrangement__placing="free", borders__left="12 3/0")
    assert [fault.path for fault in raised.value.faults] == ["borders.left"]


# --- what cannot be read ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("windows.count", "0"),
        ("windows.count", "25"),
        ("windows.count", "two"),
        ("windows.count", "-3"),
        ("windows.1.size", "16x"),
        ("windows.1.kind", "door"),
        ("windows.1.shown", "shadow"),
        ("windows.1.edge", "NaN"),
        ("windows.1.shape", "star"),
        ("windows.1.slot", "0 x 12"),
        ("arrangement.rows", "3, 0"),
        ("arrangement.rows", "3 x 2"),
        ("arrangement.rows", ","),
        ("arrangement.align", "up"),
        ("arrangement.across", "-3"),
        ("arrangement.down", "12 3/0"),
        ("arrangement.placing", "anywhere"),
        ("groove", "1e9"),
    ],
)
def test_what_cannot_be_read_is_said_at_its_field(path: str, text: str) -> None:
    with pytest.raises(Invalid) as raised:
        read_piece(PIECE | {"windows.count": "2"} | {path: text}, SHOP, find)
    (fault,) = raised.value.faults
    assert fault.path == path
    assert text in fault.message


@pytest.mark.parametrize(
    ("text", "count"), [("8", 8), (" 24 ", 24), ("", 1), ("0", 1), ("25", 1), ("²", 1), ("x", 1)]
)
def test_the_page_shows_as_many_rows_as_can_be_read(text: str, count: int) -> None:
    assert window_count({"windows.count": text}) == count


# --- what is still needed ------------------------------------------------------------------------


def test_a_mat_that_is_still_to_be_chosen_is_asked_for_kindly() -> None:
    faults = faults_of(mats__0__material="")
    assert faults == {
        "mats.0.material": "Choose a mat, or show the artwork close in the frame.",
    }


# --- faults moved to the form ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "field"),
    [
        ("windows", "windows.count"),
        ("windows.2.width", "windows.2.size"),
        ("windows.2.artwork.height", "windows.2.size"),
        ("windows.2", "windows.2.size"),
        ("windows.2.overlap", "windows.2.edge"),
        ("windows.2.gap", "windows.2.edge"),
        ("windows.2.rise", "windows.2.rise"),
        ("windows.2.slot", "windows.2.slot"),
        ("windows.2.slot.width", "windows.2.slot"),
        ("windows.2.slot.gap", "windows.2.slot_gap"),
        ("windows.2.x", "windows.2.x"),
        ("arrangement.rows", "arrangement.rows"),
        ("arrangement.across", "arrangement.across"),
        ("arrangement.down", "arrangement.down"),
        ("arrangement", "arrangement.placing"),
        ("groove", "groove"),
        ("mats.1.bevel", "mats.1.material"),
        ("frames.0.allowance", "allowance"),
        ("package.width", "package.size"),
    ],
)
def test_every_fault_of_windows_stands_at_a_field_of_the_page(path: str, field: str) -> None:
    assert form_path(path) == field
    assert field in PIECE_FIELDS


def test_the_same_fault_of_many_windows_is_said_thrice_and_then_counted() -> None:
    faults = Invalid.at("overlap", "An overlap of 60 mm leaves no window in A.").faults
    many = [*faults]
    for name in "BCDEFGH":
        many += Invalid.at("overlap", f"An overlap of 60 mm leaves no window in {name}.").faults
    moved = on_the_form(many)
    assert [fault.message[-2:] for fault in moved[:3]] == ["A.", "B.", "C."]
    assert [fault.message for fault in moved[3:]] == ["And 5 more like it."]
