"""`POST /api/dimensions`: published and hand-worked pieces, and everything that is wrong with a request."""

import json
from typing import Any

import pytest
from starlette.testclient import TestClient

from tests.cases import case
from tests.unit.framing.worked import Worked, differences, worked_pieces

ADDRESS = "/api/dimensions"

MATTED: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "297", "height": "420"},
    "presentation": "window",
    "mats": [{"thickness": "1.4"}],
    "borders": {"left": "60", "right": "60", "top": "60", "bottom": "70"},
}


def answer(api: TestClient, asked: dict[str, Any]) -> dict[str, Any]:
    """The answer to a piece that can be made."""
    response = api.post(ADDRESS, json=asked)
    assert response.status_code == 200, response.text
    tree: dict[str, Any] = response.json()
    return tree


def refused(api: TestClient, asked: Any, status: int = 422, *, at: str = ADDRESS) -> dict[str, str]:
    """Messages by path of a request that is refused in the contract's one shape."""
    content = asked if isinstance(asked, bytes) else json.dumps(asked).encode()
    response = api.post(at, content=content, headers={"content-type": "application/json"})
    assert response.status_code == status, response.text
    assert set(response.json()) == {"error"}
    error = response.json()["error"]
    assert set(error) == {"code", "message", "fields"}
    assert error["code"]
    assert error["message"]
    for field in error["fields"]:
        assert {"path", "message"} <= set(field)
        assert field["message"].endswith(".")
        assert len(field["message"]) < 400
        assert field["message"].isprintable()
    return {field["path"]: field["message"] for field in error["fields"]}


@pytest.mark.parametrize("piece", worked_pieces(), ids=lambda piece: piece.id)
def test_a_piece_comes_out_as_worked_by_hand(api: TestClient, piece: Worked) -> None:
    given = answer(api, piece.asked)
    assert differences(piece.answer, given) == []
    if piece.notices is not None:
        assert tuple(notice["code"] for notice in given["notices"]) == piece.notices


def test_the_answer_has_the_members_of_the_contract(api: TestClient) -> None:
    given = answer(
        api, MATTED | {"frames": [{"face": "20", "lip": "6"}], "glazing": {"thickness": "2"}}
    )
    tree = {
        "windows",
        "layers",
        "gaps",
        "fallouts",
        "grooves",
        "fillets",
        "package",
        "frames",
        "glazing",
        "mount_board",
        "backing",
        "spacers",
        "stack",
    }
    assert set(given) == tree | {"unit", "shop", "notices", "bench"}
    assert set(given["shop"]) == tree
    window = {"layer", "width", "height", "face_width", "face_height"}
    assert set(given["windows"][0]) == window | {"id", "x", "y", "shape", "rise"}
    assert set(given["layers"][0]) == {"layer", "blank", "borders"}
    assert set(given["layers"][0]["borders"]) == {"left", "right", "top", "bottom"}
    assert set(given["frames"][0]) == {
        "rebate",
        "sight",
        "outside",
        "long_points",
        "short_points",
    }
    assert given["backing"] is None


# Published worked examples. Each test names its source.


def test_a_photographers_puzzle(api: TestClient) -> None:
    """Source: a photographer's published puzzle and answer, 2017. G1, G5."""
    given = case("mat-1")
    width, height = given.inputs["image"]
    package = given.inputs["package"]
    tree = answer(
        api,
        {
            "unit": "in",
            "artwork": {"width": width, "height": height},
            "presentation": "window",
            "overlap": given.inputs["overlap"],
            "mats": [{"thickness": "1/16"}],
            "package": {"width": package[0], "height": package[1]},
        },
    )
    assert given.expected == {"window": ["7 3/4", "11 3/4"], "border": "4 1/8"}
    assert differences({"width": "7.75", "height": "11.75"}, tree["windows"][0]) == []
    assert set(tree["layers"][0]["borders"].values()) == {"4.125"}


def test_a_competition_hand_out(api: TestClient) -> None:
    """Source: Oral Roberts University, Matting and Framing (competition hand-out). G4."""
    given = case("mat-2")
    border = given.inputs["border"]
    tree = answer(
        api,
        {
            "unit": "in",
            "artwork": dict(zip(("width", "height"), given.inputs["window"], strict=True)),
            "presentation": "window",
            "overlap": "0",
            "mats": [{"thickness": "1/16"}],
            "borders": dict.fromkeys(("left", "right", "top", "bottom"), border),
        },
    )
    assert list(tree["package"].values()) == given.expected["package"]


def test_a_square_from_an_algebra_exercise(api: TestClient) -> None:
    """Source: a published algebra exercise. G5."""
    given = case("mat-3")
    board, picture = given.inputs["package"], given.inputs["window"]
    tree = answer(
        api,
        {
            "unit": "in",
            "artwork": {"width": picture, "height": picture},
            "presentation": "window",
            "overlap": "0",
            "mats": [{"thickness": "1/16"}],
            "package": {"width": board, "height": board},
        },
    )
    assert given.expected["border"] == "2 7/8"
    assert set(tree["layers"][0]["borders"].values()) == {"2.875"}


def test_the_hole_at_the_face_of_a_bevel(api: TestClient) -> None:
    """Source: elementary geometry (arithmetic). G8: window 100 wide."""
    given = case("mat-4")
    assert given.inputs["thickness_mm"] == ["1.4", "2"]
    assert given.expected["growth_of_hole_mm"] == ["2.8", "4"]
    for thickness, face in (("1.4", "102.8"), ("2", "104")):
        tree = answer(
            api,
            MATTED
            | {"artwork": {"width": "110", "height": "110"}, "mats": [{"thickness": thickness}]},
        )
        assert tree["windows"][0]["width"] == "100"
        assert tree["windows"][0]["face_width"] == face


def test_rails_of_a_moulding_mill_a_frame_maker_and_a_woodworker(api: TestClient) -> None:
    """Sources: a moulding mill's public formula; a frame maker's rebate opening; a woodworkers'
    public forum; a public how-to whose own figure is 1 cm too large. G11, G12."""

    def frame(width: str, height: str, unit: str = "in", **profile: str) -> dict[str, Any]:
        tree = answer(
            api,
            {
                "unit": unit,
                "artwork": {"width": width, "height": height},
                "presentation": "close",
                "frames": [profile],
            },
        )
        one: dict[str, Any] = tree["frames"][0]
        return one

    mill = frame("16", "20", face="2", lip="1/4", allowance="1/8")
    assert case("rail-2").expected["long_points"] == ["19 5/8", "23 5/8"]
    assert mill["long_points"] == ["19.625", "23.625"]
    assert mill["short_points"] == ["15.625", "19.625"]  # rail-5: less 2 x 2

    maker = frame("8", "10", face="1", lip="1/4", allowance="1/8")
    assert case("rail-4").expected["rebate"] == ["8 1/8", "10 1/8"]
    assert maker["rebate"] == {"width": "8.125", "height": "10.125"}
    assert maker["sight"] == {"width": "7.625", "height": "9.625"}

    wood = frame("8", "8", face="2", lip="1/8", allowance="0")
    assert case("rail-3").expected["long_point"] == "11 3/4"
    assert wood["long_points"] == ["11.75", "11.75"]

    wrong = frame("200", "250", unit="mm", face="10", lip="0", allowance="0")
    assert case("neg-1").expected["long_points_cm"] == ["22", "27"]
    assert wrong["long_points"] == ["220", "270"]


def test_stacks_of_a_retailer_and_a_teaching_page(api: TestClient) -> None:
    """Sources: a retailer's public worked example; a university teaching page. D1."""
    for id, exact in (("stack-1", "0.28125"), ("stack-2", "0.375")):
        parts = case(id).inputs["parts_in"]
        board, mat = parts[1:] if id == "stack-1" else parts[:0:-1]
        tree = answer(
            api,
            {
                "unit": "in",
                "artwork": {"width": "8", "height": "10"},
                "presentation": "window",
                "mats": [{"thickness": mat}],
                "borders": {"left": "3", "right": "3", "top": "3", "bottom": "3"},
                "glazing": {"thickness": parts[0]},
                "backing": {"thickness": board},
            },
        )
        assert tree["stack"] == exact
    assert case("stack-1").expected["stack_in"] == "9/32"
    assert case("stack-2").expected["stack_in"] == "3/8"


# Exact text.


@pytest.mark.parametrize(
    ("unit", "typed", "exact"),
    [
        ("in", "63/8", "7.875"),
        ("in", "7 7/8", "7.875"),
        ("in", "1' 3 3/4\"", "15.75"),
        ("in", "2ft 6in", "30"),
        ("in", "15¾ in", "15.75"),
        ("in", "40 cm", "2000/127"),
        ("in", "25.4 mm", "1"),
        ("in", "1/3", "1/3"),
        ("mm", '15 3/4"', "400.05"),
        ("mm", "1/64 in", "0.396875"),
        ("mm", "1/3", "1/3"),
        ("mm", "40 cm", "400"),
        ("mm", "0.1", "0.1"),
        ("mm", "000400.500", "400.5"),
    ],
)
def test_what_was_typed_comes_back_exact_in_the_units_text(
    api: TestClient, unit: str, typed: str, exact: str
) -> None:
    """1 in = 25.4 mm (NIST SP 811): 400 / 25.4 = 2000/127, 15.75 x 25.4 = 400.05, 25.4 / 64 = 0.396875."""
    tree = answer(
        api,
        {
            "unit": unit,
            "artwork": {"width": typed, "height": typed},
            "presentation": "close",
        },
    )
    assert tree["package"] == {"width": exact, "height": exact}
    again = answer(
        api,
        {
            "unit": unit,
            "artwork": {"width": exact, "height": exact},
            "presentation": "close",
        },
    )
    assert again["package"] == tree["package"]


def test_a_whole_json_number_is_exact_and_taken(api: TestClient) -> None:
    tree = answer(api, MATTED | {"artwork": {"width": 297, "height": 420}})
    assert tree["windows"][0]["width"] == "287"


def test_usual_figures_stand_in_for_what_is_left_out(api: TestClient) -> None:
    """G1 5, G3 6, G11 3: window 297 - 10 = 287, layer 1 + 12 = 299, package 419, rebate 422."""
    tree = answer(
        api,
        MATTED
        | {
            "mats": [{"thickness": "1.4"}, {"thickness": "1.4"}],
            "frames": [{"face": "20", "lip": "6"}],
        },
    )
    assert [window["width"] for window in tree["windows"]] == ["299", "287"]
    assert tree["frames"][0]["rebate"]["width"] == "422"


# What is refused.


@pytest.mark.parametrize(
    ("change", "paths"),
    [
        ({"borders": {"left": "-1", "right": "0", "top": "60", "bottom": "60"}}, {"borders.left", "borders.right"}),
        ({"overlap": "148.5"}, {"overlap"}),
        ({"frames": [{"face": "20", "lip": "21"}]}, {"frames.0.lip"}),
        ({"borders": None, "package": {"width": "280", "height": "400"}}, {"package.width", "package.height"}),
        ({"mats": [{"thickness": "1.4"}, {"thickness": "1.4", "reveal": "0"}]}, {"mats.1.reveal"}),
        ({"mats": [{"thickness": "1.4"}] * 4}, {"mats"}),
        ({"mats": []}, {"mats", "borders"}),
        ({"presentation": "close"}, {"mats"}),
        ({"borders": None}, {"borders"}),
        ({"glazing": {"thickness": "2", "trim": "300"}}, {"glazing.trim"}),
        ({"spacer": "-3"}, {"spacer"}),
        ({"spacer": "3", "spacer_width": "-5"}, {"spacer_width"}),
        ({"mats": [{"thickness": "1.4", "bevel": 20}]}, {"mats.0.bevel"}),
        ({"step": "0.3"}, {"step"}),
        ({"step": "1/16 in"}, {"step"}),
        (
            {
                "artwork": {"width": "297", "height": "420", "thickness": "-1"},
                "overlap": "-5",
                "mats": [{"thickness": "0"}],
                "frames": [{"face": "0", "lip": "-1"}],
                "backing": {"trim": "-2"},
            },
            {"artwork.thickness", "overlap", "mats.0.thickness", "frames.0.face", "frames.0.lip", "backing.trim"},
        ),
    ],
)  # fmt: skip
def test_an_impossible_piece_gets_all_its_faults_at_their_paths(
    api: TestClient, change: dict[str, Any], paths: set[str]
) -> None:
    assert set(refused(api, MATTED | change)) == paths


UNREADABLE = {
    "": "Nothing was typed",
    "   ": "Nothing was typed",
    "wide": "“wide”",
    "1e9": "“1e9”",
    "NaN": "“NaN”",
    "Infinity": "“Infinity”",
    "12 3/0": "fraction over 0",
    "16x20": "is a size",
    "1 1/2 3": "“1 1/2 3”",
    "🖼️": "cannot be read",
    "<script>": "“<script>”",
    "11 m": "more than 10 m",
    "0x1F": "is a size",
    "1_000": "cannot be read",
    "1,234.5": "comma",
    "9" * 90: "90 characters",
    "3 mm 3": "“3 mm 3”",
}


@pytest.mark.parametrize("typed", UNREADABLE, ids=lambda typed: typed[:20] or "nothing")
def test_an_unreadable_length_is_quoted_with_what_is_allowed(api: TestClient, typed: str) -> None:
    found = refused(api, MATTED | {"artwork": {"width": typed, "height": "420"}})
    assert set(found) == {"artwork.width"}
    assert UNREADABLE[typed] in found["artwork.width"]
    assert "a length such as" in found["artwork.width"]


def test_every_unreadable_length_of_a_request_is_told_at_once(api: TestClient) -> None:
    asked = {
        "unit": "mm",
        "artwork": {"width": "x", "height": "?", "thickness": "thin"},
        "presentation": "window",
        "overlap": "some",
        "gap": "any",
        "mats": [{"thickness": "4-ply"}, {"thickness": "1.4", "reveal": "bit", "bevel": 10}],
        "borders": {"left": "a", "right": "b", "top": "c", "bottom": "d"},
        "package": {"width": "e", "height": "f"},
        "weighting": "g",
        "under_trim": "h",
        "frames": [{"face": "i", "lip": "j", "rebate_depth": "k", "allowance": "l"}],
        "glazing": {"thickness": "m.", "trim": "n"},
        "spacer": "o",
        "spacer_width": "p",
        "mount_board": {"thickness": "q", "trim": "r"},
        "backing": {"thickness": "s", "trim": "t"},
        "step": "u",
    }
    assert set(refused(api, asked)) == {
        "artwork.width", "artwork.height", "artwork.thickness", "overlap", "gap",
        "mats.0.thickness", "mats.1.reveal", "mats.1.bevel",
        "borders.left", "borders.right", "borders.top", "borders.bottom",
        "package.width", "package.height", "weighting", "under_trim",
        "frames.0.face", "frames.0.lip", "frames.0.rebate_depth", "frames.0.allowance",
        "glazing.thickness", "glazing.trim", "spacer", "spacer_width",
        "mount_board.thickness", "mount_board.trim", "backing.thickness", "backing.trim", "step",
    }  # fmt: skip


def test_a_decimal_as_a_json_number_is_refused_since_it_is_not_exact(api: TestClient) -> None:
    found = refused(api, MATTED | {"artwork": {"width": 297.5, "height": 420}})
    assert set(found) == {"artwork.width"}
    assert "297.5" in found["artwork.width"]
    assert "text" in found["artwork.width"]
    assert set(refused(api, MATTED | {"overlap": 5.5, "step": 0.5})) == {"overlap", "step"}


@pytest.mark.parametrize("value", [True, False, None, [], {}, ["297"], {"mm": "297"}])
def test_a_length_of_another_type_is_refused(api: TestClient, value: Any) -> None:
    found = refused(api, MATTED | {"artwork": {"width": value, "height": "420"}})
    assert set(found) == {"artwork.width"}


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"colour": "red"}, "colour"),
        ({"artwork": {"width": "297", "height": "420", "depth": "1"}}, "artwork.depth"),
        ({"mats": [{"thickness": "1.4", "name": "x"}]}, "mats.0.name"),
        ({"unit": "cm"}, "unit"),
        ({"unit": 25}, "unit"),
        ({"presentation": "nailed"}, "presentation"),
        ({"under_way": "glued"}, "under_way"),
        ({"artwork": {"width": "297"}}, "artwork.height"),
        ({"artwork": "297x420"}, "artwork"),
        ({"mats": {}}, "mats"),
        ({"frames": "oak"}, "frames"),
        ({"frames": [{"lip": "6"}]}, "frames.0.face"),
        ({"mats": [{"thickness": "1.4", "bevel": "steep"}]}, "mats.0.bevel"),
        ({"mats": [{"thickness": "1.4", "bevel": 45.5}]}, "mats.0.bevel"),
        ({"mats": [{"thickness": "1.4", "reverse": "perhaps"}]}, "mats.0.reverse"),
    ],
)  # fmt: skip
def test_what_the_contract_does_not_know_is_refused_at_its_path(
    api: TestClient, change: dict[str, Any], path: str
) -> None:
    assert set(refused(api, MATTED | change)) == {path}


def test_what_may_be_chosen_is_named(api: TestClient) -> None:
    found = refused(api, MATTED | {"unit": "cm", "presentation": "nailed"})
    assert "cm" in found["unit"]
    for word in ("mm", "in"):
        assert f"“{word}”" in found["unit"]
    for word in ("window", "float", "close", "canvas", "canvas-float"):
        assert f"“{word}”" in found["presentation"]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"null",
        b"[]",
        b"42",
        b'"text"',
        b"{'unit': 'mm'}",
        b"\xff\xfe\x00",
        b'{"unit": "mm",}',
        b"{}",
        b"[" * 200_000,
        b'{"unit": ' + b"9" * 5_000 + b"}",
    ],
    ids=lambda body: f"{body[:16]!r}-{len(body)}",
)
def test_a_body_that_is_no_request_is_refused_in_the_one_shape(
    api: TestClient, body: bytes
) -> None:
    refused(api, body)


@pytest.mark.parametrize(
    "text",
    [
        r'"\ud83d"',
        r'"\u0000"',
        "NaN",
        "-Infinity",
        "1e400",
        "9" * 4_000,
        "9" * 5_000,
        "-" + "9" * 4_299,
        '"' + "x" * 10_000 + '"',
        '"' + "\U0001f5bc" * 10_000 + '"',
        '"' + "1 " * 5_000 + '"',
    ],
    ids=lambda text: f"{text[:12]}-{len(text)}",
)
def test_hostile_text_for_a_length_is_a_refusal_and_never_a_failure(
    api: TestClient, text: str
) -> None:
    body = json.dumps(MATTED).replace('"width": "297"', f'"width": {text}')
    found = refused(api, body.encode())
    assert set(found) <= {"artwork.width", ""}


def test_hostile_text_for_a_name_or_a_choice_is_a_refusal(api: TestClient) -> None:
    for body in (
        rb'{"\ud83d": 1}',
        rb'{"unit": "\ud83d"}',
        rb'{"unit": "mm", "step": "\ud83d"}',
        b'{"' + b"x" * 10_000 + b'": 1}',
        b'{"unit": "' + b"x" * 10_000 + b'"}',
        b'{"mats": [{"thickness": "1", "bevel": ' + b"9" * 4_000 + b"}]}",
    ):
        refused(api, body)


def test_many_mats_and_frames_are_told_in_a_few_words(api: TestClient) -> None:
    found = refused(api, MATTED | {"mats": [{"thickness": "1.4"}] * 2_000})
    assert "2000 mats" in found["mats"]


def test_another_method_and_another_address_answer_in_the_one_shape(api: TestClient) -> None:
    for response, status in (
        (api.get(ADDRESS), 405),
        (api.post("/api/dimension", json={}), 404),
    ):
        assert response.status_code == status
        assert set(response.json()["error"]) == {"code", "message", "fields"}


def test_a_body_beyond_the_limit_is_refused(api: TestClient) -> None:
    response = api.post(ADDRESS, content=b" " * (2 * 1024 * 1024 + 1))
    assert response.status_code == 413


def test_asking_twice_gives_the_same_answer(api: TestClient) -> None:
    assert answer(api, MATTED) == answer(api, MATTED)
