"""`POST /api/dimensions` with several windows: the contract's words, places by hand, and faults."""

from typing import Any

import pytest
from starlette.testclient import TestClient

ADDRESS = "/api/dimensions"

BORDERS = {"left": "60", "right": "60", "top": "60", "bottom": "70"}
MAT: dict[str, Any] = {
    "unit": "mm",
    "presentation": "window",
    "mats": [{"thickness": "1.4"}],
    "borders": BORDERS,
}
EIGHT = MAT | {
    "windows": [{"width": "100", "height": "140"}] * 8,
    "arrangement": {"columns": 4, "across": "25", "down": "30"},
}
"""4 x 100 + 3 x 25 = 475 and 2 x 140 + 30 = 310; package 595 x 440."""


def answer(api: TestClient, asked: dict[str, Any]) -> dict[str, Any]:
    response = api.post(ADDRESS, json=asked)
    assert response.status_code == 200, response.text
    tree: dict[str, Any] = response.json()
    return tree


def refused(api: TestClient, asked: dict[str, Any]) -> dict[str, str]:
    response = api.post(ADDRESS, json=asked)
    assert response.status_code == 422, response.text
    return {field["path"]: field["message"] for field in response.json()["error"]["fields"]}


def places(tree: dict[str, Any], layer: int = 1) -> list[str]:
    return [f"{w['id']} {w['x']} {w['y']}" for w in tree["windows"] if w["layer"] == layer]


def test_eight_windows_in_columns_of_four(api: TestClient) -> None:
    """x at 60 + 125 each, y at 60 and 60 + 140 + 30."""
    tree = answer(api, EIGHT)
    assert tree["package"] == {"width": "595", "height": "440"}
    assert places(tree) == [
        *("A 60 60", "B 185 60", "C 310 60", "D 435 60"),
        *("E 60 230", "F 185 230", "G 310 230", "H 435 230"),
    ]
    assert tree["windows"][0] == {
        "layer": 1,
        "id": "A",
        "width": "100",
        "height": "140",
        "face_width": "102.8",
        "face_height": "142.8",
        "x": "60",
        "y": "60",
        "shape": "rectangle",
        "rise": None,
    }
    assert tree["layers"][0]["borders"] == BORDERS
    assert tree["gaps"] == {"across": "25", "down": "30"}
    assert tree["notices"] == []


def test_rows_of_unequal_windows_aligned_at_the_bottom(api: TestClient) -> None:
    """By hand: y = 50 + 150 - height in the first row, 225 + 120 - height in the second; the second
    row is 280 of 340 wide and begins at 50 + 30."""
    sizes = ("100 150", "120 100", "80 130", "200 90", "60 120")
    sides = [size.split() for size in sizes]
    tree = answer(
        api,
        MAT
        | {
            "borders": dict.fromkeys(BORDERS, "50"),
            "windows": [{"width": width, "height": height} for width, height in sides],
            "arrangement": {"rows": [3, 2], "align": "bottom", "across": "20", "down": "25"},
        },
    )
    assert places(tree) == ["A 50 50", "B 170 100", "C 310 70", "D 80 255", "E 300 225"]


def test_solved_gaps_are_exact_and_places_in_steps_are_cut(api: TestClient) -> None:
    """(700 - 100 - 400)/3 = 200/3; 50 + 100 + 200/3 = 650/3, in halves 216.5."""
    tree = answer(
        api,
        EIGHT
        | {
            "arrangement": {"columns": 4},
            "package": {"width": "700", "height": "500"},
            "borders": {"left": "50", "right": "50", "top": "60", "bottom": "80"},
        },
    )
    assert tree["gaps"] == {"across": "200/3", "down": "80"}
    assert places(tree)[:3] == ["A 50 60", "B 650/3 60", "C 1150/3 60"]
    assert places(tree["shop"])[:4] == ["A 50 60", "B 216.5 60", "C 383.5 60", "D 550 60"]
    assert tree["shop"]["gaps"] is None


def test_free_places_with_names_shapes_artworks_and_slots(api: TestClient) -> None:
    """Print 150 x 100 less 2 x 5; its slot at 60 + (140 - 80)/2 and 60 + 90 + 20. Medal floats by 10:
    100 + 20. Package 260 + 120 + 60 wide, 260 + 70 high: the slot ends at 190, the arch at 260."""
    tree = answer(
        api,
        MAT
        | {
            "windows": [
                {
                    "id": "print",
                    "artwork": {"width": "150", "height": "100"},
                    "x": "60",
                    "y": "60",
                    "slot": {"width": "80", "height": "20", "gap": "20"},
                },
                {
                    "id": "medal",
                    "artwork": {"width": "100", "height": "100"},
                    "presentation": "float",
                    "gap": "10",
                    "shape": "oval",
                    "x": "260",
                    "y": "70",
                },
                {
                    "id": "door",
                    "width": "40",
                    "height": "50",
                    "shape": "arch",
                    "rise": "15",
                    "x": "60",
                    "y": "210",
                },
            ],
        },
    )
    assert places(tree) == ["print 60 60", "print slot 90 170", "medal 260 70", "door 60 210"]
    assert [w["shape"] for w in tree["windows"]] == ["rectangle", "rectangle", "oval", "arch"]
    assert [w["rise"] for w in tree["windows"]] == [None, None, None, "15"]
    assert (tree["windows"][0]["width"], tree["windows"][2]["width"]) == ("140", "120")
    assert tree["package"] == {"width": "440", "height": "330"}
    assert "needs-oval-cutter" in [notice["code"] for notice in tree["notices"]]


def test_fallouts_and_grooves_are_listed_for_one_window_too(api: TestClient) -> None:
    """Window 287 x 410 at 60, 60. Fallout 2.8 larger; groove 8 and 1.4 out: 50.6, 305.8 x 428.8."""
    tree = answer(
        api,
        MAT | {"artwork": {"width": "297", "height": "420"}, "groove": "8"},
    )
    assert places(tree) == [" 60 60"]
    assert tree["fallouts"] == [
        {
            "layer": 1,
            "id": "",
            "width": "289.8",
            "height": "412.8",
            "sound": {"width": "287", "height": "410"},
            "shape": "rectangle",
        }
    ]
    assert tree["grooves"] == [
        {
            "id": "",
            "x": "50.6",
            "y": "50.6",
            "width": "305.8",
            "height": "428.8",
            "shape": "rectangle",
            "rise": None,
        }
    ]
    assert tree["gaps"] == {"across": None, "down": None}


def test_under_mats_list_their_windows_after_those_above(api: TestClient) -> None:
    tree = answer(
        api, EIGHT | {"mats": [{"thickness": "1.4"}, {"thickness": "1.4", "reveal": "6"}]}
    )
    assert [w["layer"] for w in tree["windows"]] == [1] * 8 + [2] * 8
    assert places(tree, 1)[:2] == ["A 60 60", "B 197 60"]
    assert places(tree, 2)[:2] == ["A 66 66", "B 203 66"]
    assert [fallout["layer"] for fallout in tree["fallouts"]] == [1] * 8 + [2] * 8


def test_a_window_of_its_artwork_is_the_piece_that_names_only_the_artwork(api: TestClient) -> None:
    artwork = {"width": "297", "height": "420"}
    plain = answer(api, MAT | {"artwork": artwork})
    one = answer(api, MAT | {"windows": [{"artwork": artwork}]})
    for part in ("package", "layers", "frames", "stack"):
        assert one[part] == plain[part]
    assert [w | {"id": ""} for w in one["windows"]] == plain["windows"]


def test_inch_windows_answer_in_inches(api: TestClient) -> None:
    """4 x 6 in less 2 x 3/16 each edge: 3 5/8; gap (20 - 4 - 3 x 3 5/8)/2 = 2 9/16; second at
    2 + 3 5/8 + 2 9/16 = 8 3/16."""
    tree = answer(
        api,
        {
            "unit": "in",
            "presentation": "window",
            "mats": [{"thickness": "1/16"}],
            "windows": [{"artwork": {"width": "4", "height": "6"}}] * 3,
            "package": {"width": "20", "height": "10"},
            "borders": dict.fromkeys(BORDERS, "2"),
        },
    )
    assert tree["gaps"]["across"] == "2.5625"
    assert [w["x"] for w in tree["windows"]] == ["2", "8.1875", "14.375"]


@pytest.mark.parametrize(
    ("change", "paths"),
    [
        ({"windows": []}, {"artwork"}),
        ({"windows": [{"width": "100"}]}, {"windows.0.height"}),
        ({"windows": [{"width": "1", "height": "1", "x": "5"}]}, {"windows.0.y"}),
        (
            {"windows": [{"width": "wide", "height": "1O0"}]},
            {"windows.0.width", "windows.0.height"},
        ),
        ({"arrangement": {"columns": 4, "rows": [4, 4]}}, {"arrangement.columns"}),
        ({"arrangement": {"rows": [4, 3], "across": "5", "down": "5"}}, {"arrangement.rows"}),
        ({"arrangement": {"rows": [8, 0]}}, {"arrangement.rows.1"}),
        ({"arrangement": {"columns": 0}}, {"arrangement.columns"}),
        ({"arrangement": {"columns": 4}}, {"arrangement.across", "arrangement.down"}),
        ({"arrangement": {"columns": 4, "across": "?"}}, {"arrangement.across"}),
        ({"windows": [{"width": "9", "height": "9", "shape": "star"}]}, {"windows.0.shape"}),
        ({"windows": [{"width": "9", "height": "9", "wide": "9"}]}, {"windows.0.wide"}),
        ({"windows": [{}] * 8}, {f"windows.{index}" for index in range(8)}),
        ({"windows": [{"width": "9", "height": "9"}] * 25}, {"windows"}),
        ({"windows": [{"id": "x", "width": "9", "height": "9"}] * 8}, None),
        ({"groove": "-1"}, {"groove"}),
        ({"mats": []}, {"mats", "borders"}),
    ],
)
def test_what_is_wrong_with_windows_is_told_at_its_field(
    api: TestClient, change: dict[str, Any], paths: set[str] | None
) -> None:
    found = refused(api, EIGHT | change)
    expected = {f"windows.{index}.id" for index in range(8)} if paths is None else paths
    assert expected <= set(found)
    assert all(message.endswith(".") for message in found.values())


def test_overlapping_windows_are_named(api: TestClient) -> None:
    """A ends at 160, B begins at 148."""
    asked = MAT | {
        "windows": [
            {"width": "100", "height": "140", "x": "60", "y": "60"},
            {"width": "100", "height": "140", "x": "148", "y": "60"},
        ]
    }
    assert refused(api, asked) == {"windows.1.x": "Windows A and B overlap by 12 mm."}


def test_windows_and_the_answer_are_described(api: TestClient) -> None:
    schemas = api.get("/api/openapi.json").json()["components"]["schemas"]
    assert {"windows", "arrangement", "groove"} <= set(schemas["DimensionsAsked"]["properties"])
    assert "artwork" not in schemas["DimensionsAsked"]["required"]
    assert {"x", "y", "slot", "shape"} <= set(schemas["WindowAsked"]["properties"])
    assert {"fallouts", "grooves", "gaps"} <= set(schemas["DimensionsAnswered"]["properties"])
    assert {"id", "x", "y", "shape"} <= set(schemas["WindowAnswered"]["properties"])
