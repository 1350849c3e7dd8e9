"""What every request of the JSON contract is made of: lengths as text, sizes, strict fields."""

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema
from pydantic_core import PydanticCustomError


def whole_numbers_are_text(value: Any) -> Any:
    """Return the text of a JSON integer, which is exact and may stand for it; a JSON decimal is not."""
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value)
    if not isinstance(value, str):
        raise PydanticCustomError(
            "length_text", 'A length is text, as "297.5" or "63/8"; a whole number may stand bare'
        )
    return value


LengthText = Annotated[
    str,
    BeforeValidator(whole_numbers_are_text),
    Field(max_length=200, examples=["297", "63/8", "15 3/4"]),
    WithJsonSchema(
        {
            "anyOf": [{"type": "string", "maxLength": 200}, {"type": "integer"}],
            "examples": ["297", "63/8", "15 3/4"],
        }
    ),
]


MassText = Annotated[
    str,
    Field(
        max_length=40,
        description="a weight with its mark, exact",
        examples=["2.3 kg", "850 g", "5 lb 4 oz"],
    ),
]


class RequestModel(BaseModel):
    """A part of a request: frozen, and no field that is not known."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class SizeAsked(RequestModel):
    """Width by height."""

    width: LengthText
    height: LengthText
