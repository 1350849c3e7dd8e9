"""The order of cuts at the bench, by hand."""

from app.cutting import (
    LaidPart,
    LaidRail,
    OpenedSheet,
    OpenedStick,
    Sheet,
    SheetCut,
    SheetPart,
    SheetProblem,
    Way,
)
from app.lengths import ZERO, Length, Size, Unit, mm
from app.stock.planning.cut_sequence import GuideSetting, StopSetting, guide_settings, stop_settings


def cut(stage: int, way: Way, at: int, start: int, end: int) -> SheetCut:
    return SheetCut(stage=stage, way=way, at=mm(at), start=mm(start), end=mm(end))


def laid(id: str, x: int, y: int, width: int, height: int) -> LaidPart:
    return LaidPart(id=id, copy=1, x=mm(x), y=mm(y), size=Size(mm(width), mm(height)))


def asked(parts: tuple[LaidPart, ...], *, trim: Length = ZERO) -> SheetProblem:
    return SheetProblem(
        unit=Unit.MM,
        stock=(Sheet(id="whole", size=Size(mm(1200), mm(1000))),),
        parts=tuple(SheetPart(id=each.id, size=each.size) for each in parts),
        trim=trim,
    )


def opened(parts: tuple[LaidPart, ...], *cuts: SheetCut) -> OpenedSheet:
    return OpenedSheet(stock="whole", copy=1, parts=parts, cuts=cuts)


def said(
    settings: tuple[GuideSetting, ...],
) -> list[tuple[int, str, Length, list[tuple[str, tuple[str, ...]]]]]:
    return [
        (each.stage, each.way.value, each.distance, [(c.strip, c.frees) for c in each.cuts])
        for each in settings
    ]


# Two strips of 500 × 1200 across; in each two parts of 400 and what is left; a part of 300 × 400
# out of the second strip's rest.
#
#   0      400     800    1200
#   | A     | B     |      |  0
#   | C     | D     | E    |  500 (E is 400 × 300)
PARTS = (
    laid("A", 0, 0, 400, 500),
    laid("B", 400, 0, 400, 500),
    laid("C", 0, 500, 400, 500),
    laid("D", 400, 500, 400, 500),
    laid("E", 800, 500, 400, 300),
)
CUTS = (
    cut(1, Way.ACROSS, 500, 0, 1200),
    cut(2, Way.DOWN, 400, 0, 500),
    cut(2, Way.DOWN, 800, 0, 500),
    cut(2, Way.DOWN, 400, 500, 1000),
    cut(2, Way.DOWN, 800, 500, 1000),
    cut(3, Way.ACROSS, 800, 800, 1200),
)


def test_equal_distances_of_several_strips_share_one_setting_of_the_guide() -> None:
    settings = guide_settings(opened(PARTS, *CUTS), asked(PARTS))
    # The second cut of each strip is 800 from the sheet's edge and 400 from that of the piece in hand.
    assert said(settings) == [
        (1, "across", mm(500), [("", ())]),
        (2, "down", mm(400), [("1", ("A",)), ("1", ("B",)), ("2", ("C",)), ("2", ("D",))]),
        (3, "across", mm(300), [("2.3", ("E",))]),
    ]
    assert settings[1].cuts[1].size == Size(mm(800), mm(500))
    assert settings[2].cuts[0].size == Size(mm(400), mm(500))


def test_along_one_strip_the_cuts_keep_their_order() -> None:
    parts = (
        laid("A", 0, 0, 200, 1000),
        laid("B", 200, 0, 300, 1000),
        laid("C", 500, 0, 200, 1000),
        laid("D", 700, 0, 500, 1000),
    )
    cuts = [cut(1, Way.DOWN, at, 0, 1000) for at in (200, 500, 700)]
    settings = guide_settings(opened(parts, *cuts), asked(parts))
    # D is what is left when C comes off.
    assert said(settings) == [
        (1, "down", mm(200), [("", ("A",))]),
        (1, "down", mm(300), [("", ("B",))]),
        (1, "down", mm(200), [("", ("C", "D"))]),
    ]


def test_the_largest_distance_comes_first_where_strips_are_free_of_each_other() -> None:
    parts = (laid("A", 0, 0, 300, 500), laid("B", 0, 500, 700, 500), laid("C", 700, 500, 300, 500))
    cuts = (
        cut(1, Way.ACROSS, 500, 0, 1200),
        cut(2, Way.DOWN, 300, 0, 500),
        cut(2, Way.DOWN, 700, 500, 1000),
        cut(2, Way.DOWN, 1000, 500, 1000),
    )
    assert said(guide_settings(opened(parts, *cuts), asked(parts)))[1:] == [
        (2, "down", mm(700), [("2", ("B",))]),
        (2, "down", mm(300), [("1", ("A",)), ("2", ("C",))]),
    ]


def test_a_strip_is_not_cut_before_it_has_come_off() -> None:
    # Both cuts go across: the second divides what the first takes off.
    parts = (laid("A", 0, 0, 1200, 250), laid("B", 0, 250, 1200, 650))
    cuts = (cut(1, Way.ACROSS, 900, 0, 1200), cut(1, Way.ACROSS, 250, 0, 1200))
    assert said(guide_settings(opened(parts, *cuts), asked(parts))) == [
        (1, "across", mm(900), [("", ())]),
        (1, "across", mm(250), [("1", ("A", "B"))]),
    ]


def test_trims_come_first_and_are_measured_from_the_edge_that_comes_off() -> None:
    parts = (laid("A", 10, 10, 400, 980),)
    cuts = (
        cut(0, Way.DOWN, 10, 0, 1000),
        cut(0, Way.DOWN, 1190, 0, 1000),
        cut(0, Way.ACROSS, 10, 10, 1190),
        cut(0, Way.ACROSS, 990, 10, 1190),
        cut(1, Way.DOWN, 410, 10, 990),
    )
    assert said(guide_settings(opened(parts, *cuts), asked(parts, trim=mm(10)))) == [
        (0, "down", mm(10), [("", ()), ("", ())]),
        (0, "across", mm(10), [("", ()), ("", ())]),
        (1, "down", mm(400), [("", ("A",))]),
    ]


def test_rails_of_one_length_that_lie_side_by_side_share_the_stop() -> None:
    def rail(id: str, at: int, length: int) -> LaidRail:
        return LaidRail(id=id, copy=1, at=mm(at), length=mm(length))

    stick = OpenedStick(
        stock="whole",
        copy=1,
        parts=(rail("a", 0, 630), rail("b", 640, 630), rail("c", 1280, 530), rail("d", 1820, 630)),
    )
    assert stop_settings(stick) == (
        StopSetting(length=mm(630), parts=("a", "b")),
        StopSetting(length=mm(530), parts=("c",)),
        StopSetting(length=mm(630), parts=("d",)),
    )
