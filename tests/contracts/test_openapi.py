"""The JSON side against its own description: every answer is one that /api/openapi.json promises."""

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error
from schemathesis.generation import GenerationMode
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    negative_data_rejection,
    response_schema_conformance,
    status_code_conformance,
)

from app.cutting import Asked, Plan, StickProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.services import cutting
from app.storage import DATABASE_NAME
from app.web.app import create_app
from tests.builders.hasty import new_store

pytestmark = pytest.mark.slow

LOOPBACK = {"host": "127.0.0.1"}
"""The guard answers to loopback names only."""

VALIDATORS_WORDS = ("Input should", "Extra inputs", "Field required", "Value error", "valid ")


def in_our_own_words(_context: Any, response: Any, _case: Any) -> None:
    """A refusal is said in our sentences and codes, never in those of the validator."""
    if response.status_code != 422:
        return
    error = response.json()["error"]
    for said in (error, *error["fields"]):
        assert said["message"].endswith((".", "!", "?")), said
        assert not any(words in said["message"] for words in VALIDATORS_WORDS), said
        assert "_" not in said["code"], said


CHECKS = [
    in_our_own_words,
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
    negative_data_rejection,
]
"""Not among them: that whatever fits the description is accepted. A text that is no length, or a piece
that cannot be made, fits it and is refused all the same."""


@pytest.fixture(scope="module")
def described(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """The app as its own description sees it."""
    path = tmp_path_factory.mktemp("contract") / DATABASE_NAME
    with new_store(path) as store, pytest.MonkeyPatch.context() as patch:
        app = create_app(store)
        # Hundreds of requests would wait for a solver each; tests/web has the real one.
        patch.setattr(cutting, "planned", simply)
        yield schemathesis.openapi.from_asgi("/api/openapi.json", app, headers=LOOPBACK)


def simply(asked: Asked, _seconds: int) -> Plan:
    """A plan made by our own rule within this process."""
    if isinstance(asked, StickProblem):
        return simple_stick_plan(asked)
    return simple_sheet_plan(asked)


@pytest.mark.parametrize("mode", GenerationMode, ids=lambda mode: mode.value)
@settings(max_examples=80, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_every_answer_is_one_that_is_described(
    described: Any, mode: GenerationMode, data: st.DataObject
) -> None:
    """Requests that fit the description, and requests that do not, made up from it."""
    operation = data.draw(st.sampled_from([found.ok() for found in described.get_all_operations()]))
    case = data.draw(operation.as_strategy(generation_mode=mode))
    case.call_and_validate(headers=LOOPBACK, checks=CHECKS)


def test_the_description_names_the_address_and_its_one_error_shape(described: Any) -> None:
    operation = described.raw_schema["paths"]["/api/dimensions"]["post"]
    refused = operation["responses"]["422"]["content"]["application/json"]["schema"]
    assert refused == {"$ref": "#/components/schemas/Refusal"}
