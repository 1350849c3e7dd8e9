"""`bench` in the answer of `POST /api/dimensions`: settings, marks and limits worked by hand (B1 to B5)."""

from fractions import Fraction
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.bench import Reads
from tests.web.test_api_dimensions import MATTED, answer, refused

SKETCH: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "420", "height": "297"},
    "presentation": "window",
    "overlap": "5",
    "mats": [{"thickness": "1.4"}, {"thickness": "1.4", "reveal": "6"}],
    "borders": {"left": "70", "right": "75", "top": "70", "bottom": "80"},
    "cutter": {"pins": {"first": "10", "pitch": "20"}},
}
"""By hand. Window 2: 420 - 10 = 410 by 287 (G1); window 1: 422 by 299 (G3); package 70 + 422 + 75 = 567
by 70 + 299 + 80 = 449 (G4). Borders 2, attached: 76, 81, 76, 86 (G7)."""


def bench(api: TestClient, asked: dict[str, Any]) -> dict[str, Any]:
    tree: dict[str, Any] = answer(api, asked)["bench"]
    return tree


def settings(tree: dict[str, Any]) -> list[tuple[str, str | None, str, str]]:
    """(at, pin, rest, layer and edges as they lie)."""
    return [
        (
            setting["at"],
            setting["pin"],
            setting["rest"],
            " ".join(f"{cut['layer']}{cut['edge']}" for cut in setting["cuts"]),
        )
        for setting in tree["settings"]
    ]


def test_settings_come_in_the_order_of_work_with_pin_and_rest(api: TestClient) -> None:
    """By hand: layer 1 at 80, 75, 70 and, attached, layer 2 at 76, 81, 86 from a guide that stands at
    200: (200 - 80) + 5 + 5 + 6 + 5 + 5 = 146. Back up, the right border lies left (G10)."""
    tree = bench(api, SKETCH)
    assert settings(tree) == [
        ("80", "70", "10", "1bottom"),
        ("75", "70", "5", "1left"),
        ("70", "70", "0", "1right 1top"),
        ("76", "70", "6", "2right 2top"),
        ("81", "70", "11", "2left"),
        ("86", "70", "16", "2bottom"),
    ]
    assert (tree["moves"], tree["travel"], tree["begins_at"]) == (6, "146", "200")
    assert tree["proven"]
    assert {cut["seen"] for cut in tree["settings"][1]["cuts"]} == {"right"}


def test_marks_are_those_of_the_back(api: TestClient) -> None:
    """By hand, of the top mat: x of the window from the back is 567 - 70 - 422 = 75 (G10). A pulled cut
    with the left edge against the guide comes from the next edge clockwise, the top."""
    first, second = bench(api, SKETCH)["marks"]
    assert (first["layer"], first["back_up"]) == (1, True)
    assert (first["width"], first["height"]) == ("567", "449")
    cuts = {cut["edge"]: cut for cut in first["cuts"]}
    assert cuts["left"] == {
        "window": "window",
        "edge": "left",
        "line": "75",
        "start": {"edge": "top", "distance": "70"},
        "end": {"edge": "bottom", "distance": "80"},
        "begins": {"x": "75", "y": "70"},
        "ends": {"x": "75", "y": "369"},  # 449 - 80
    }
    lines = {(line["edge"], line["distance"]) for line in second["guide_lines"]}
    assert lines == {("left", "81"), ("right", "76"), ("top", "76"), ("bottom", "86")}


def test_offsets_lengthen_the_cuts_and_the_correction_moves_the_settings(api: TestClient) -> None:
    """By hand: one border of 60: 59.5 on the scale; begins 70 - 1.5 = 68.5, ends 60 + 0.5 = 60.5."""
    corrections = {"guide": "-0.5", "start": "1.5", "end": "-0.5"}
    tree = bench(api, MATTED | {"cutter": {"corrections": corrections}})
    assert [setting["at"] for setting in tree["settings"]] == ["69.5", "59.5"]
    left = next(cut for cut in tree["marks"][0]["cuts"] if cut["edge"] == "left")
    assert (left["start"]["distance"], left["end"]["distance"]) == ("58.5", "70.5")


def test_a_scale_that_reads_the_face_is_set_by_the_bevel_less(api: TestClient) -> None:
    """B1: 60 - 1.4 = 58.6, on a scale of half millimetres 58.5."""
    tree = bench(api, MATTED | {"cutter": {"reads": Reads.FACE.value}})
    assert [setting["at"] for setting in tree["settings"]] == ["68.5", "58.5"]
    assert [notice["code"] for notice in tree["notices"]] == ["between-scale-marks"]


def test_a_scale_in_the_other_unit_is_set_and_marked_in_its_own(api: TestClient) -> None:
    """60 / 25.4 = 2.3622 in, × 32 = 75.59: 76/32 = 2 3/8 in = 60.325 mm; 70: 88.19, 88/32 = 69.85."""
    tree = bench(api, MATTED | {"cutter": {"unit": "in"}})
    assert (tree["scale"], tree["check_unit"], tree["begins_at"]) == ("in", "mm", "8")
    assert [(one["at"], one["check"]) for one in tree["settings"]] == [
        ("2.75", "69.9"),
        ("2.375", "60.3"),
    ]
    (marks,) = tree["marks"]
    assert {(line["distance"], line["check"]) for line in marks["guide_lines"]} == {
        ("2.375", "60.3"),
        ("2.75", "69.9"),
    }
    left = next(cut for cut in marks["cuts"] if cut["edge"] == "left")
    assert left["line"] == "2.375"
    assert left["start"] == {"edge": "top", "distance": "2.375", "check": "60.3"}
    assert left["end"] == {"edge": "bottom", "distance": "2.75", "check": "69.9"}
    assert Fraction(left["begins"]["x"]) == Fraction(60 * 10, 254)  # drawn where it is exactly
    assert "two-scales" in [notice["code"] for notice in tree["notices"]]


TWO_SCALES: dict[str, Any] = {
    "scales": [
        {"unit": "mm", "step": "0.5", "pins": {"first": "0", "pitch": "10"}},
        {"unit": "in", "step": "1/16", "pins": {"first": "1/2", "pitch": "1/2"}},
    ]
}


@pytest.mark.parametrize("first", [0, 1])
def test_of_two_scales_the_one_in_the_unit_of_the_request_is_set(
    api: TestClient, first: int
) -> None:
    """By hand: 70 mm is the hole at 70 and 75 five more. In inches borders of 39/16 and 3: 2 7/16 in is
    the fourth hole, 2 in, and 7/16 more. What is said of a scale is in its own unit."""
    cutter = {"scales": TWO_SCALES["scales"][first:] + TWO_SCALES["scales"][:first]}
    tree = bench(api, SKETCH | {"cutter": cutter})
    assert (tree["scale"], tree["check_unit"]) == ("mm", "in")
    assert [(one["at"], one["pin"], one["rest"]) for one in tree["settings"][1:3]] == [
        ("75", "70", "5"),
        ("70", "70", "0"),
    ]
    in_inches = {
        "unit": "in",
        "artwork": {"width": "12", "height": "16"},
        "presentation": "window",
        "mats": [{"thickness": "0.06"}],
        "borders": dict.fromkeys(("left", "right", "top", "bottom"), "39/16"),
        "cutter": cutter,
    }
    tree = bench(api, in_inches)
    (setting,) = tree["settings"]
    assert (tree["scale"], setting["at"], setting["pin"]) == ("in", "2.4375", "2")
    assert setting["rest"] == "0.4375"
    assert "two-scales" not in [notice["code"] for notice in tree["notices"]]


def test_one_scale_in_either_form_gives_the_same_answer(api: TestClient) -> None:
    scale = {"unit": "mm", "step": "0.5", "pins": {"first": "10", "pitch": "20"}}
    assert bench(api, SKETCH | {"cutter": {"scales": [scale]}}) == bench(api, SKETCH)


def test_stops_and_the_reach_of_the_arm_may_be_said(api: TestClient) -> None:
    stops = {"near": True, "far": True, "corrections": {"near": "0.5", "far": "-0.5"}}
    cutter = TWO_SCALES | {"stops": stops, "arm_reach": "900"}
    assert bench(api, SKETCH | {"cutter": cutter})["moves"] == 6


def test_a_blank_beyond_the_arm_is_among_the_limits(api: TestClient) -> None:
    codes = [
        [limit["code"] for limit in bench(api, SKETCH | {"cutter": {"arm_reach": reach}})["limits"]]
        for reach in ("900", "300")
    ]
    assert ["blank-beyond-arm" in each for each in codes] == [False, True]


@pytest.mark.parametrize(
    ("cutter", "path", "sentence"),
    [
        (TWO_SCALES | {"unit": "mm"}, "cutter.unit", "by scales and by unit as well"),
        (TWO_SCALES | {"step": "0.5"}, "cutter.step", "by scales and by step as well"),
        (
            TWO_SCALES | {"pins": {"first": "0", "pitch": "10"}},
            "cutter.pins",
            "by scales and by pins as well",
        ),
        (
            {"scales": [{"unit": "in"}, {"unit": "in"}]},
            "cutter.scales.1.unit",
            "Two scales are in inches;",
        ),
        ({"scales": []}, "cutter.scales", "The cutter has no scale;"),
        ({"scales": [{"unit": "mm"}] * 3}, "cutter.scales", "at most 2 are read"),
        ({"scales": [{"unit": "mm", "step": "0"}]}, "cutter.scales.0.step", "must be above zero"),
        ({"scales": [{"unit": "mm", "step": "x"}]}, "cutter.scales.0.step", "x"),
        (
            {"scales": [{"unit": "in", "pins": {"first": "1", "pitch": "0"}}]},
            "cutter.scales.0.pins.pitch",
            "must be above zero",
        ),
        ({"scales": [{"step": "1"}]}, "cutter.scales.0.unit", "missing"),
        (
            {"stops": {"far": True, "corrections": {"far": "-10.5"}}},
            "cutter.stops.corrections.far",
            "more than 10 mm either way is no correction",
        ),
        (
            {"stops": {"corrections": {"near": "y"}}},
            "cutter.stops.corrections.near",
            "y",
        ),
        (
            {"stops": {"far": True, "corrections": {"near": "0.5"}}},
            "cutter.stops.corrections.near",
            "said to have no near stop",
        ),
        ({"stops": {"near": "yes"}}, "cutter.stops.near", "yes"),
        ({"stops": {"middle": True}}, "cutter.stops.middle", "middle"),
        ({"arm_reach": "0"}, "cutter.arm_reach", "must be above zero"),
    ],
)
def test_scales_stops_and_arm_that_cannot_be_are_refused_in_words(
    api: TestClient, cutter: dict[str, Any], path: str, sentence: str
) -> None:
    said = refused(api, MATTED | {"cutter": cutter})
    assert sentence in said[path]


def test_starts_and_ends_are_whole_steps_of_the_scale_that_is_set(api: TestClient) -> None:
    """A piece in inches on a scale of half millimetres: borders of 2 7/16 in are 61.9125 mm, at 62; a cut
    begins 0.05 in further out, 60.6425, at 60.5, and ends at 62; checks to 1/32: 2 7/16, 2 3/8."""
    tree = bench(
        api,
        {
            "unit": "in",
            "artwork": {"width": "12", "height": "16"},
            "presentation": "window",
            "mats": [{"thickness": "0.06"}],
            "borders": dict.fromkeys(("left", "right", "top", "bottom"), "39/16"),
            "cutter": {
                "unit": "mm",
                "corrections": {"start": "0.05"},
                "pins": {"first": "50/127", "pitch": "50/127"},
            },
        },
    )
    (setting,) = tree["settings"]
    assert (tree["scale"], setting["at"], setting["check"]) == ("mm", "62", "2.4375")
    assert (setting["pin"], setting["rest"]) == ("60", "2")
    for cut in tree["marks"][0]["cuts"]:
        assert (cut["line"], cut["start"]["distance"], cut["end"]["distance"]) == (
            "62",
            "60.5",
            "62",
        )
        assert (cut["start"]["check"], cut["end"]["check"]) == ("2.375", "2.4375")


def test_several_windows_share_their_settings(api: TestClient) -> None:
    """By hand: two windows of 100 × 150, 20 apart, borders 60: 60 all round, and 60 + 100 + 20 = 180."""
    asked = {
        "unit": "mm",
        "presentation": "window",
        "mats": [{"thickness": "1.4"}],
        "windows": [{"width": "100", "height": "150"}, {"width": "100", "height": "150"}],
        "arrangement": {"columns": 2, "across": "20"},
        "borders": dict.fromkeys(("left", "right", "top", "bottom"), "60"),
    }
    tree = bench(api, asked)
    assert [setting["at"] for setting in tree["settings"]] == ["180", "60"]
    assert {(cut["window"], cut["edge"]) for cut in tree["settings"][0]["cuts"]} == {
        ("A", "left"),
        ("B", "right"),
    }


def test_what_the_cutter_cannot_do_is_among_its_limits(api: TestClient) -> None:
    """The blank is 120 + 287 = 407 by 130 + 410 = 540."""
    tree = bench(
        api, MATTED | {"cutter": {"name": "Small", "cut_length": "500", "guide_reach": "65"}}
    )
    assert [(limit["code"], limit["concern"]) for limit in tree["limits"]] == [
        ("blank-longer-than-cut", "risk"),
        ("setting-beyond-reach", "risk"),
    ]
    assert tree["limits"][0]["message"].startswith("The mat on “Small”: the blank of 407 × 540 mm")


def test_without_a_cutter_the_usual_one_of_the_unit_is_meant(api: TestClient) -> None:
    tree = bench(api, MATTED)
    assert (tree["cutter"], tree["scale"], tree["begins_at"]) == ("Mat cutter", "mm", "200")
    assert tree["settings"][0]["pin"] is None
    inch = bench(
        api,
        {
            "unit": "in",
            "artwork": {"width": "10", "height": "8"},
            "presentation": "window",
            "mats": [{"thickness": "1/16"}],
            "borders": dict.fromkeys(("left", "right", "top", "bottom"), "2 1/2"),
        },
    )
    assert (inch["scale"], inch["begins_at"]) == ("in", "8")
    assert [setting["at"] for setting in inch["settings"]] == ["2.5"]


def test_a_piece_without_mats_has_nothing_to_set(api: TestClient) -> None:
    tree = bench(
        api,
        {"unit": "mm", "artwork": {"width": "300", "height": "200"}, "presentation": "canvas",
         "frames": [{"face": "20", "lip": "6"}]},
    )  # fmt: skip
    assert (tree["moves"], tree["settings"], tree["marks"], tree["limits"]) == (0, [], [], [])


def test_the_faults_of_a_cutter_stand_at_its_paths_beside_those_of_the_piece(
    api: TestClient,
) -> None:
    cutter = {
        "name": "",
        "cut_length": "0",
        "guide_reach": "x",
        "pins": {"first": "10", "pitch": "0"},
        "corrections": {"guide": "11"},
    }
    said = refused(api, MATTED | {"overlap": "500", "cutter": cutter})
    assert "cutter.guide_reach" in said
    assert "overlap" in said
    cutter["guide_reach"] = "200"
    said = refused(api, MATTED | {"cutter": cutter})
    assert set(said) == {
        "cutter.name",
        "cutter.cut_length",
        "cutter.pins.pitch",
        "cutter.corrections.guide",
    }


@pytest.mark.parametrize(
    "cutter",
    [
        {"colour": "red"},
        {"pins": {"first": "10"}},
        {"reads": "side"},
        {"cuts_ovals": "yes"},
        "none",
    ],
)
def test_a_cutter_that_is_none_is_refused(api: TestClient, cutter: Any) -> None:
    assert any(path.startswith("cutter") for path in refused(api, MATTED | {"cutter": cutter}))
