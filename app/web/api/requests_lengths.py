"""What every request of the JSON contract is made of: lengths as text, sizes, strict fields.

A request is looked through until enough is wrong with it: what is sent by mistake, or to keep us busy, is refused
as fast as what is right is read.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ModelWrapValidatorHandler,
    ValidationError,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import InitErrorDetails, PydanticCustomError

from app.cutting.problem import MOST_PARTS
from app.web.kit.malformed import MORE_UNKNOWN

LONGEST_LIST = MOST_PARTS
"""No list of any request holds more than that; most have a bound of their own below it."""

MOST_UNKNOWN = 10
"""So many unknown fields of one object are named one by one; of more it is told how many there are. Source: ours."""

FIRST_LOOK = 20
"""So many entries of each list are looked at first; where nothing is wrong with them, a quarter more, and so on. Source: ours."""


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

    @model_validator(mode="wrap")
    @classmethod
    def _looked_through(cls, given: Any, read: ModelWrapValidatorHandler[Self]) -> Self:
        """Read an object, and stop where enough is wrong with it.

        A list that is longer than any may be, and more unknown fields than are worth naming, are all that is said; of a
        long list the entries after a first faulty part are not looked at.
        """
        if not isinstance(given, dict):
            return read(given)
        known = {field.alias or name for name, field in cls.model_fields.items()}
        lists = {
            name: value
            for name, value in given.items()
            if isinstance(value, list) and name in known
        }
        unknown = [name for name in given if name not in known]
        too_much = [*_too_long(lists), *_too_many(unknown, given)]
        if too_much:
            raise ValidationError.from_exception_data(cls.__name__, too_much)
        longest = max(map(len, lists.values()), default=0)
        looked = FIRST_LOOK
        while looked < longest:
            read(given | {name: value[:looked] for name, value in lists.items()})
            looked += looked // 4
        return read(given)


def _too_long(lists: Mapping[str, list[Any]]) -> Iterator[InitErrorDetails]:
    for name, value in lists.items():
        if len(value) > LONGEST_LIST:
            bound = {"field_type": "List", "max_length": LONGEST_LIST, "actual_length": len(value)}
            yield InitErrorDetails(type="too_long", loc=(name,), input=value, ctx=bound)


def _too_many(unknown: Sequence[str], given: Mapping[str, Any]) -> Iterator[InitErrorDetails]:
    if len(unknown) <= MOST_UNKNOWN:
        return
    for name in unknown[:MOST_UNKNOWN]:
        yield InitErrorDetails(type="extra_forbidden", loc=(name,), input=given[name])
    more = {"more": len(unknown) - MOST_UNKNOWN}
    said = PydanticCustomError(MORE_UNKNOWN, "more unknown fields", more)
    yield InitErrorDetails(type=said, loc=(), input=given)


class SizeAsked(RequestModel):
    """Width by height."""

    width: LengthText
    height: LengthText
