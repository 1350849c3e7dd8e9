"""`POST /api/bench/day`: the mats of several pieces together, worked by hand (B3, B9 to B11)."""

from typing import Any

import pytest
from starlette.testclient import TestClient

from tests.web.test_api_dimensions import refused

ADDRESS = "/api/bench/day"


def borders(left: str, right: str, top: str, bottom: str) -> dict[str, str]:
    return {"left": left, "right": right, "top": top, "bottom": bottom}


PIECE: dict[str, Any] = {
    "artwork": {"width": "420", "height": "297"},
    "presentation": "window",
    "overlap": "5",
    "mats": [{"thickness": "1.4"}],
    "borders": borders("60", "60", "60", "60"),
}
"""The window is 410 x 287, the blank 530 x 407."""

WEIGHTED = PIECE | {"borders": borders("60", "60", "60", "70")}
"""The same window, the blank 530 x 417."""


def answer(api: TestClient, **asked: Any) -> dict[str, Any]:
    response = api.post(ADDRESS, json={"unit": "mm"} | asked)
    assert response.status_code == 200, response.text
    tree: dict[str, Any] = response.json()
    return tree


def cuts(tree: dict[str, Any]) -> list[tuple[str, list[str]]]:
    return [
        (
            setting["at"],
            [f"{cut['piece']} {cut['layer']} {cut['seen']}" for cut in setting["cuts"]],
        )
        for setting in tree["settings"]
    ]


def test_borders_alike_are_cut_at_one_setting(api: TestClient) -> None:
    """By hand: 70 for the bottom of B, 60 for all else: two moves, and one and two apart."""
    tree = answer(api, pieces=[{"id": "A", **PIECE}, {"id": "B", **WEIGHTED}])
    assert cuts(tree) == [
        ("70", ["B 1 bottom"]),
        (
            "60",
            [*(f"A 1 {edge}" for edge in ("left", "top", "right", "bottom"))]
            + [f"B 1 {edge}" for edge in ("left", "top", "right")],
        ),
    ]
    assert (tree["moves"], tree["moves_apart"], tree["proven"]) == (2, 3, True)
    assert (tree["moves_proven"], tree["scale"], tree["notices"]) == (True, "mm", [])
    assert "stop_moves" not in tree
    assert "stops" not in tree["settings"][0]["cuts"][0]
    assert "copies" not in tree


def test_stops_stand_beside_each_cut_and_their_moves_are_counted(api: TestClient) -> None:
    """By hand, both stops, nothing corrected: a cut runs from one border to the side less the other.

    A: along the width 60 and 530 - 60 = 470, along the height 60 and 347: near once, far twice, 3 moves.
    B: sides 60 or 70 at the hand and 417 - 70 = 347 or 417 - 60 = 357, top and bottom 60 and 470.
    The guide begins with B's bottom at 70 (near 60, far 470), then 60.
    """
    stops = {"stops": {"near": True, "far": True}}
    tree = answer(api, cutter=stops, pieces=[{"id": "A", **PIECE}])
    places = [cut["stops"] for setting in tree["settings"] for cut in setting["cuts"]]
    assert [(each["near"], each["far"]) for each in places] == [
        ("60", "347"),
        ("60", "347"),
        ("60", "470"),
        ("60", "470"),
    ]
    assert (tree["stop_moves"], tree["stop_moves_apart"]) == (3, 3)
    tree = answer(api, cutter=stops, pieces=[{"id": "A", **PIECE}, {"id": "B", **PIECE}])
    assert (tree["moves"], tree["moves_apart"]) == (1, 2)
    assert (tree["stop_moves"], tree["stop_moves_apart"]) == (3, 6)
    assert (tree["stop_moves_proven"], tree["proven"]) == (True, True)


def test_each_width_and_height_of_a_blank_is_set_once(api: TestClient) -> None:
    """By hand: 530 for both widths, 417 and 407 for the heights."""
    tree = answer(api, pieces=[{"id": "A", **PIECE}, {"id": "B", **WEIGHTED}])
    width, heights = {"layer": 1, "side": "width"}, {"layer": 1, "side": "height"}
    assert tree["sizing"] == [
        {"at": "530", "blanks": [{"piece": "A", **width}, {"piece": "B", **width}]},
        {"at": "417", "blanks": [{"piece": "B", **heights}]},
        {"at": "407", "blanks": [{"piece": "A", **heights}]},
    ]


def test_copies_are_carried_along_and_need_no_further_move(api: TestClient) -> None:
    tree = answer(api, pieces=[{"id": "A", "copies": 20, **PIECE}, {"id": "B", **PIECE}])
    assert (tree["moves"], tree["moves_apart"], tree["copies"]) == (1, 2, {"A": 20})


def test_a_piece_may_say_its_own_unit(api: TestClient) -> None:
    inches = {
        "unit": "in",
        "artwork": {"width": "16", "height": "12"},
        "presentation": "window",
        "overlap": "0",
        "mats": [{"thickness": "1/16"}],
        "borders": borders("2", "2", "2", "2"),
    }
    tree = answer(api, pieces=[{"id": "A", "unit": "mm", **PIECE}, {"id": "B", **inches}])
    # 60 mm is 2.362 in, to 1/32 in 2 3/8; 2 in are 50.8 mm, to half a millimetre 51.
    assert [(setting["at"], setting["check"]) for setting in tree["settings"]] == [
        ("60", "2.375"),
        ("51", "2"),
    ]


def test_what_the_cutter_cannot_do_is_said_by_piece(api: TestClient) -> None:
    tree = answer(
        api,
        cutter={"arm_reach": "500", "guide_reach": "65"},
        pieces=[{"id": "A", **PIECE}, {"id": "B", **WEIGHTED}],
    )
    said = {notice["code"]: notice["message"] for notice in tree["notices"]}
    assert said["setting-beyond-reach"].startswith("Mat 1 of B on “Mat cutter”: ")
    assert "A mat 1 (530 mm), B mat 1 (530 mm)" in said["blank-beyond-arm"]
    # B's bottom border of 70 is beyond 65: no setting, but a line.
    assert [setting["at"] for setting in tree["settings"]] == ["60"]
    assert tree["moves"] == 1
    (line,) = tree["by_straight_edge"]
    assert (line["piece"], line["edge"], line["line"]) == ("B", "bottom", "70")
    assert [each["at"] for each in tree["sizing"] if each.get("beyond")] == ["530"]
    assert tree["sizing"][-1]["at"] == "530"


def test_a_piece_without_mats_has_nothing_to_cut(api: TestClient) -> None:
    canvas = {"artwork": {"width": "420", "height": "297"}, "presentation": "canvas"}
    tree = answer(api, pieces=[{"id": "A", **canvas}, {"id": "B", **PIECE}])
    assert (tree["moves"], tree["moves_apart"]) == (1, 1)


@pytest.mark.parametrize(
    ("asked", "path", "sentence"),
    [
        ({"pieces": []}, "pieces", "No piece was given; at least one is cut."),
        (
            {"pieces": [{"id": f"P{number}", **PIECE} for number in range(61)]},
            "pieces",
            "61 pieces were given; at most 60 are planned together.",
        ),
        (
            {"pieces": [{"id": "A", **PIECE}, {"id": "B", **PIECE}, {"id": "A", **PIECE}]},
            "pieces.2.id",
            "“A” is the id of pieces.0 already; each piece needs its own.",
        ),
    ],
)
def test_what_is_refused_is_said_at_its_path(
    api: TestClient, asked: dict[str, Any], path: str, sentence: str
) -> None:
    fields = refused(api, {"unit": "mm"} | asked, at=ADDRESS)
    assert (path, sentence) in fields.items()


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"artwork": {"width": "420", "height": "abc"}}, "pieces.1.artwork.height"),
        ({"artwork": {"width": "420", "height": "0"}}, "pieces.1.artwork.height"),
        ({"cutter": {}}, "pieces.1.cutter"),
        ({"colour": "red"}, "pieces.1.colour"),
        ({"copies": 0}, "pieces.1.copies"),
        ({"id": ""}, "pieces.1.id"),
    ],
)
def test_a_fault_of_a_piece_stands_at_its_own_path(
    api: TestClient, change: dict[str, Any], path: str
) -> None:
    asked = {"unit": "mm", "pieces": [{"id": "A", **PIECE}, {"id": "B", **PIECE} | change]}
    assert path in refused(api, asked, at=ADDRESS)


def test_all_faults_are_said_at_once(api: TestClient) -> None:
    asked = {
        "unit": "mm",
        "cutter": {"cut_length": "0"},
        "pieces": [{"id": "A", **PIECE, "overlap": "x"}, {"id": "A", **PIECE, "overlap": "y"}],
    }
    assert set(refused(api, asked, at=ADDRESS)) == {
        "cutter.cut_length",
        "pieces.0.overlap",
        "pieces.1.overlap",
        "pieces.1.id",
    }
