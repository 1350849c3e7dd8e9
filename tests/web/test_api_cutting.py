"""`POST /api/cutting/...`: plans worked by hand, published cases, and what is refused (C1 to C6)."""

import json
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.web.api.reading_cutting import read_sheets
from app.web.api.requests_cutting import SheetsRequested

CASES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parents[1] / "cases" / "cutting.json").read_text(encoding="utf-8")
)["cases"]
"""Each names its source: OR-Library (Beasley 1990; Falkenauer), or planted or bounded optima."""

STICKS: dict[str, Any] = {
    "unit": "mm",
    "kerf": "3",
    "end_trim": "10",
    "stock": [
        {"id": "new", "length": "3000", "copies": None, "cost": "24.50"},
        {"id": "o1", "length": "740", "copies": 1, "cost": "0"},
    ],
    "parts": [{"id": "A1", "length": "1488.5", "copies": 2}, {"id": "B", "length": "720"}],
}

SHEETS: dict[str, Any] = {
    "unit": "in",
    "stock": [{"id": "board", "width": "40", "height": "32"}],
    "parts": [{"id": "M", "width": "20", "height": "63/8", "turn": False}],
    "keep": {"width": "20", "height": "32"},
}


def answer(api: TestClient, kind: str, asked: dict[str, Any]) -> dict[str, Any]:
    reply = api.post(f"/api/cutting/{kind}", json=asked)
    assert reply.status_code == 200, reply.text
    tree: dict[str, Any] = reply.json()
    return tree


def refused(api: TestClient, kind: str, asked: object) -> dict[str, str]:
    """Path to sentence of what is wrong."""
    reply = api.post(f"/api/cutting/{kind}", json=asked)
    assert reply.status_code == 422, reply.text
    return {field["path"]: field["message"] for field in reply.json()["error"]["fields"]}


def test_a_plan_for_sticks_says_where_each_part_lies_and_what_is_left(api: TestClient) -> None:
    """By hand: 2 × 1488.5 + 3 = 2980 = 3000 - 2 × 10 fills a new stick to its trims, and 720 = 740 -
    2 × 10 the owned one. 2 × 1488.5 + 720 = 3697 of 3740 are in parts, so 43/3740 = 0.0115 are not."""
    plan = answer(api, "sticks", STICKS)
    bins = sorted(plan.pop("bins"), key=lambda each: each["stock"])
    assert bins == [
        {
            "stock": "new",
            "copy": 1,
            "cuts": [{"at": "1498.5"}, {"at": "2990"}],
            "parts": [
                {"id": "A1", "copy": 1, "at": "10", "length": "1488.5"},
                {"id": "A1", "copy": 2, "at": "1501.5", "length": "1488.5"},
            ],
            "offcuts": [],
        },
        {
            "stock": "o1",
            "copy": 1,
            "cuts": [{"at": "730"}],
            "parts": [{"id": "B", "copy": 1, "at": "10", "length": "720"}],
            "offcuts": [],
        },
    ]
    assert plan.pop("maker") in {"solver", "simple"}
    assert plan == {
        "unit": "mm",
        "opened": {"new": 1, "o1": 1},
        "cost": "24.5",
        "lower_bound": "24.5",
        "proven": True,
        "waste_share": "0.011",
        "kept_share": "0.000",
        "unplaced": [],
    }


def test_a_plan_for_sheets_says_its_cuts_in_inches(api: TestClient) -> None:
    """By hand: 63/8 = 7.875 in; two cuts free the part whichever comes first. It is 20 × 7.875 = 157.5
    of 1280 sq in, so 0.877 are in no part. The larger offcut of 40 × 24.125 = 965 is 0.754 of the sheet; the one of
    20 × 32 = 640 is 0.5."""
    plan = answer(api, "sheets", SHEETS)
    (sheet,) = plan["bins"]
    assert sheet["parts"] == [
        {
            "id": "M",
            "copy": 1,
            "x": "0",
            "y": "0",
            "width": "20",
            "height": "7.875",
            "turned": False,
        }
    ]
    assert [cut["stage"] for cut in sheet["cuts"]] == [1, 2]
    assert {(cut["way"], cut["at"]) for cut in sheet["cuts"]} == {
        ("across", "7.875"),
        ("down", "20"),
    }
    assert (plan["waste_share"], plan["kept_share"]) in {("0.877", "0.754"), ("0.877", "0.500")}
    assert (plan["cost"], plan["lower_bound"], plan["proven"]) == ("1", "1", True)


def test_what_fits_nowhere_comes_back_with_a_reason_and_the_rest_is_planned(
    api: TestClient,
) -> None:
    parts = [*STICKS["parts"], {"id": "fence", "length": "2981", "copies": 2}]
    plan = answer(api, "sticks", STICKS | {"parts": parts})
    (left_out,) = plan["unplaced"]
    assert (left_out["id"], left_out["copies"]) == ("fence", 2)
    assert left_out["code"]
    assert left_out["reason"]
    assert plan["cost"] == "24.5"


def test_without_stock_everything_is_left_out(api: TestClient) -> None:
    for kind, asked in (("sticks", STICKS), ("sheets", SHEETS)):
        plan = answer(api, kind, asked | {"stock": []})
        assert plan["bins"] == []
        assert [each["id"] for each in plan["unplaced"]] == [each["id"] for each in asked["parts"]]


def test_null_stages_are_any_number_and_those_left_out_the_usual_three() -> None:
    usual = {key: value for key, value in SHEETS.items() if key != "stages"}
    any_number = usual | {"stages": None}
    asked = [SheetsRequested.model_validate(each) for each in (usual, any_number)]
    assert [read_sheets(each).stages for each in asked] == [3, None]


def test_without_parts_nothing_is_opened(api: TestClient) -> None:
    for kind, asked in (("sticks", STICKS), ("sheets", SHEETS)):
        plan = answer(api, kind, asked | {"parts": []})
        assert (plan["bins"], plan["opened"], plan["cost"]) == ([], {}, "0")
        assert (plan["waste_share"], plan["kept_share"]) == ("0.000", "0.000")


def test_rails_of_a_frame_are_kept_together_where_that_is_asked_for(api: TestClient) -> None:
    """By hand: three frames of 600 + 600 + 300 + 300 = 1800 go one to a stick of 2000. With no matter for frames
    5400 fit no fewer than three such sticks either, so that the cost is 3 in each way."""
    parts = [
        {"id": f"{frame}{side}", "length": length, "copies": 2, "group": frame}
        for frame in "PQR"
        for side, length in (("w", "600"), ("h", "300"))
    ]
    stock = [{"id": "new", "length": "2000"}]
    asked = {"unit": "mm", "stock": stock, "parts": parts}
    for together in ("no-matter", "preferred", "always"):
        plan = answer(api, "sticks", asked | {"together": together})
        assert plan["cost"] == "3"
        if together != "no-matter":
            frames = [{part["id"][0] for part in each["parts"]} for each in plan["bins"]]
            assert all(len(each) == 1 for each in frames)


def test_a_pinwheel_would_hold_four_but_cuts_from_edge_to_edge_hold_three(api: TestClient) -> None:
    """By hand: four parts of 60 × 40 around a hole of 20 × 20 fill 100 × 100, yet every straight line
    across the sheet runs through one of them, so that no first cut is possible. The area alone, 4 ×
    2400 ≤ 10,000, would let one sheet do; two are the fewest."""
    asked = {
        "unit": "mm",
        "stages": None,
        "stock": [{"id": "s", "width": "100", "height": "100"}],
        "parts": [{"id": "R", "width": "60", "height": "40", "copies": 4}],
    }
    plan = answer(api, "sheets", asked)
    assert plan["cost"] == "2"
    assert max(len(sheet["parts"]) for sheet in plan["bins"]) <= 3
    one = answer(api, "sheets", asked | {"stock": [asked["stock"][0] | {"copies": 1}]})
    (left_out,) = one["unplaced"]
    assert sum(len(sheet["parts"]) for sheet in one["bins"]) + left_out["copies"] == 4
    assert left_out["copies"] >= 1


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_published_and_planted_cases_reach_the_best_known(
    api: TestClient, case: dict[str, Any]
) -> None:
    """cutting.json names each one's source and how its bound was found."""
    plan = answer(api, case["kind"], case["request"])
    assert float(plan["cost"]) == case["best_known"]
    assert float(plan["lower_bound"]) <= case["lower_bound"]
    assert plan["unplaced"] == []


@pytest.mark.parametrize(
    ("kind", "changes", "path", "words"),
    [
        ("sticks", {"stock": [{"id": "a", "length": "long"}]}, "stock.0.length", "“long”"),
        ("sticks", {"stock": [{"id": "a", "length": "0"}]}, "stock.0.length", "above zero"),
        ("sticks", {"kerf": "-1"}, "kerf", "zero or more"),
        ("sticks", {"parts": [{"id": "a", "length": "9", "copies": 0}]}, "parts.0.copies", "0"),
        ("sticks", {"parts": [{"id": " ", "length": "9"}]}, "parts.0.id", "empty"),
        (
            "sticks",
            {"stock": [{"id": "a", "length": "9"}, {"id": "a", "length": "8"}]},
            "stock.1.id",
            "twice",
        ),
        ("sticks", {"stock": [{"id": "a", "length": "9", "cost": "1e9"}]}, "stock.0.cost", "1e9"),
        ("sticks", {"stock": [{"id": "a", "length": "9", "cost": "-1"}]}, "stock.0.cost", "-1"),
        ("sticks", {"stock": [{"id": "a", "length": "9", "cost": 1.5}]}, "stock.0.cost", "text"),
        ("sticks", {"together": "perhaps"}, "together", "perhaps"),
        ("sticks", {"seconds": 31}, "seconds", "31"),
        ("sticks", {"seconds": 0}, "seconds", "0"),
        ("sticks", {"trim": "1"}, "trim", "not known"),
        ("sheets", {"stages": 1}, "stages", "1"),
        ("sheets", {"parts": [{"id": "a", "width": "9"}]}, "parts.0.height", "missing"),
        ("sheets", {"parts": [{"id": "a", "width": "9", "height": "0"}]}, "parts.0.height", "zero"),
        ("sheets", {"keep": "A4"}, "keep", "A4"),
        ("sheets", {"end_trim": "1"}, "end_trim", "not known"),
    ],
)
def test_what_is_wrong_is_told_at_its_place(
    api: TestClient, kind: str, changes: dict[str, Any], path: str, words: str
) -> None:
    asked = (STICKS if kind == "sticks" else SHEETS) | changes
    assert words in refused(api, kind, asked)[path]


def test_every_fault_is_told_at_once(api: TestClient) -> None:
    stock = [{"id": "a", "length": "x", "cost": "y"}]
    assert set(refused(api, "sticks", STICKS | {"stock": stock, "kerf": "?"})) == {
        "stock.0.length",
        "stock.0.cost",
        "kerf",
    }


def test_more_parts_than_can_be_planned_are_refused(api: TestClient) -> None:
    parts = [{"id": f"p{i}", "length": "9", "copies": 2501} for i in range(2)]
    assert "5002 parts" in refused(api, "sticks", STICKS | {"parts": parts})["parts"]
    many = [{"id": f"p{i}", "length": "9"} for i in range(5001)]
    assert "parts" in refused(api, "sticks", STICKS | {"parts": many})


def test_lengths_too_fine_to_be_added_up_are_refused(api: TestClient) -> None:
    """By hand: 1/1009 × 1/1013 × … of six primes above 1000 share more than 10^18 parts of a mm."""
    primes = (1009, 1013, 1019, 1021, 1031, 1033)
    parts = [{"id": f"p{n}", "length": f"{n + 1}/{n}"} for n in primes]
    assert "too fine" in refused(api, "sticks", STICKS | {"parts": parts})[""]
