"""A body that does not fit the contract is refused in our own sentences, all of them at once."""

from typing import Any

import pytest
from starlette.testclient import TestClient

GOOD: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "297", "height": "420"},
    "presentation": "close",
    "frames": [{"face": "20", "lip": "6"}],
}
JSON = {"content-type": "application/json"}

VALIDATORS_WORDS = ("Input should", "valid ", "pydantic", "Value error", "Extra inputs", "ensure")


def refused(api: TestClient, asked: Any, at: str = "/api/dimensions") -> dict[str, Any]:
    """The error of a request, of which every sentence is ours."""
    answer = api.post(at, json=asked)
    assert answer.status_code == 422, answer.text
    error: dict[str, Any] = answer.json()["error"]
    assert set(error) == {"code", "message", "fields"}
    for field in error["fields"]:
        assert set(field) == {"path", "message", "code"}
        assert field["message"].endswith(".")
        assert not any(words in field["message"] for words in VALIDATORS_WORDS)
        assert "_" not in field["code"]
    return error


@pytest.mark.parametrize(
    ("change", "path", "code", "sentence"),
    [
        ({"artwork": {"height": "420"}}, "artwork.width", "missing",
         "The field artwork.width is missing; artwork needs width and height."),
        ({"frames": [{"lip": "6"}]}, "frames.0.face", "missing",
         "The field frames.0.face is missing; frames.0 needs face."),
        ({"artwork": {"width": "297", "height": "420", "depth": "3"}}, "artwork.depth", "unknown",
         "The field artwork.depth is not known; artwork may have width, height, thickness, object, support and weight."),
        ({"artwork": {"width": 297.5, "height": "420"}}, "artwork.width", "wrong-type",
         'artwork.width is a number, 297.5, but text is wanted: "297.5".'),
        ({"artwork": {"width": None, "height": "420"}}, "artwork.width", "wrong-type",
         "artwork.width is null, but text is wanted."),
        ({"artwork": {"width": True, "height": "420"}}, "artwork.width", "wrong-type",
         "artwork.width is true, but text is wanted."),
        ({"artwork": {"width": ["297"], "height": "420"}}, "artwork.width", "wrong-type",
         "artwork.width is a list, but text is wanted."),
        ({"artwork": "30 x 40"}, "artwork", "wrong-type",
         "artwork is the text “30 x 40”, but an object with its fields is wanted."),
        ({"frames": {"face": "20"}}, "frames", "wrong-type",
         "frames is an object, but a list is wanted."),
        ({"mats": [{"thickness": "1", "bevel": "45"}]}, "mats.0.bevel", "wrong-type",
         "mats.0.bevel is the text “45”, but a whole number is wanted."),
        ({"mats": [{"thickness": "1", "bevel": 44.5}]}, "mats.0.bevel", "wrong-type",
         "mats.0.bevel is a number, 44.5, but a whole number is wanted."),
        ({"mats": [{"thickness": "1", "reverse": "yes"}]}, "mats.0.reverse", "wrong-type",
         "mats.0.reverse is the text “yes”, but true or false is wanted."),
        ({"unit": "cm"}, "unit", "not-a-choice", "unit is “cm”; allowed is “mm” or “in”."),
        ({"unit": 3}, "unit", "not-a-choice", "unit is 3; allowed is “mm” or “in”."),
        ({"overlap": "1" * 201}, "overlap", "out-of-bounds",
         "overlap has 201 characters; at most 200 are read."),
    ],
)  # fmt: skip
def test_a_field_that_does_not_fit_says_what_it_is_and_what_is_wanted(
    api: TestClient, change: dict[str, Any], path: str, code: str, sentence: str
) -> None:
    assert refused(api, {**GOOD, **change})["fields"] == [
        {"path": path, "message": sentence, "code": code}
    ]


def test_all_that_does_not_fit_is_said_at_once(api: TestClient) -> None:
    bad = {"unit": "cm", "artwork": {"width": 2.5, "hight": "3"}, "presentation": "close"}
    paths = [field["path"] for field in refused(api, bad)["fields"]]
    assert sorted(paths) == ["artwork.height", "artwork.hight", "artwork.width", "unit"]


def test_a_name_that_the_sender_made_up_is_shown_on_one_short_line(api: TestClient) -> None:
    (fault,) = refused(api, {**GOOD, "x\n" + "y" * 500: 1})["fields"]
    assert "\n" not in fault["message"]
    assert len(fault["path"]) <= 40


@pytest.mark.parametrize("body", [[GOOD], "text", 5])
def test_a_body_that_is_no_object_is_said_to_be_none(api: TestClient, body: Any) -> None:
    (fault,) = refused(api, body)["fields"]
    assert fault["path"] == ""
    assert fault["message"].startswith("The request is ")
    assert fault["message"].endswith(", but an object with its fields is wanted.")


def test_an_empty_request_is_said_to_be_empty(api: TestClient) -> None:
    answer = api.post("/api/dimensions", headers=JSON)
    assert answer.status_code == 422
    assert answer.json()["error"]["fields"] == [
        {
            "path": "",
            "message": "The request is empty; a JSON object with its fields is wanted.",
            "code": "missing",
        }
    ]


def test_what_is_no_json_says_where_it_stops_being_readable(api: TestClient) -> None:
    """The brace that closes is the 13th character; a value was due before it."""
    answer = api.post("/api/dimensions", content=b'{"unit": "mm"', headers=JSON)
    assert answer.status_code == 422
    (fault,) = answer.json()["error"]["fields"]
    assert (fault["path"], fault["code"]) == ("", "not-json")
    assert fault["message"] == "The request is not readable JSON from character 14 on."


def test_bounds_of_a_plan_are_said_in_numbers(api: TestClient) -> None:
    sticks = {
        "unit": "mm",
        "stock": [{"id": "new", "length": "3000"}],
        "parts": [{"id": "", "length": "512", "copies": 0}],
        "seconds": 31,
    }
    said = [field["message"] for field in refused(api, sticks, "/api/cutting/sticks")["fields"]]
    assert sorted(said) == [
        "parts.0.copies is 0; at least 1 is wanted.",
        "parts.0.id has 0 characters; at least 1 are wanted.",
        "seconds is 31; at most 30 is allowed.",
    ]


PARTS_ASKED: dict[str, Any] = {"unit": "mm", "stock": [{"id": "new", "length": "3000"}]}


def test_of_very_many_unknown_fields_the_first_ten_are_named_and_the_rest_counted(
    api: TestClient,
) -> None:
    unknown = {f"k{number}": 1 for number in range(100_000)}
    fields = refused(api, {"unit": "mm", **unknown}, "/api/cutting/sticks")["fields"]
    assert [field["path"] for field in fields] == [*(f"k{number}" for number in range(10)), ""]
    assert fields[-1]["code"] == "unknown"
    assert fields[-1]["message"] == ("99,990 further fields of the request are not known either.")


def test_ten_unknown_fields_are_told_with_everything_else(api: TestClient) -> None:
    unknown = {f"k{number}": 1 for number in range(10)}
    fields = refused(api, {**PARTS_ASKED, **unknown}, "/api/cutting/sticks")["fields"]
    assert [field["path"] for field in fields] == ["parts", *(f"k{number}" for number in range(10))]


def test_a_list_longer_than_any_may_be_is_all_that_is_said(api: TestClient) -> None:
    asked = {**PARTS_ASKED, "parts": [{}] * 400_000}
    fields = refused(api, asked, "/api/cutting/sticks")["fields"]
    assert fields == [
        {
            "path": "parts",
            "message": "parts has 400000 entries; at most 5000 are read.",
            "code": "out-of-bounds",
        }
    ]


def test_a_long_list_is_looked_through_until_enough_is_wrong(api: TestClient) -> None:
    good, bad = {"id": "A", "length": "512"}, {"id": "A"}
    asked = {**PARTS_ASKED, "parts": [good] * 30 + [bad] * 4000}
    fields = refused(api, asked, "/api/cutting/sticks")["fields"]
    assert [field["path"] for field in fields] == [
        f"parts.{row}.length" for row in range(30, len(fields) + 30)
    ]
    assert 1 <= len(fields) < 30


def test_of_very_many_faults_the_first_hundred_are_told(api: TestClient) -> None:
    asked = {**PARTS_ASKED, "parts": [{"id": "A", "length": "x"}] * 3000}
    fields = refused(api, asked, "/api/cutting/sticks")["fields"]
    assert [field["path"] for field in fields[:-1]] == [f"parts.{row}.length" for row in range(100)]
    assert fields[-1] == {
        "path": "",
        "message": "The request has 2,900 more faults; mend these first and send it again.",
        "code": "more-faults",
    }
