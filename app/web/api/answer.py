"""What every answer of the JSON contract is made of: models that read the attributes of domain values.

An answer is declared once: its model is the description at /docs and writes the answer. Lengths are exact text in
the unit that it is written in, a decimal, or a fraction where it does not end.
"""

from typing import Annotated, Any, Self

from pydantic import AliasPath, BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo

from app.lengths import Length, Unit, exact_text


class JsonAnswer(BaseModel):
    """A part of an answer. More members may come to the whole; those named stay."""

    model_config = ConfigDict(extra="forbid", from_attributes=True, frozen=True)

    @classmethod
    def of(cls, value: object, said_in: object = None) -> Self:
        """Return the answer that a domain value is. said_in: the unit of its lengths, the currency of prices of a unit, or
        what else its members are said by.
        """
        return cls.model_validate(value, context=said_in)

    def plain(self) -> dict[str, Any]:
        """As JSON has it."""
        return self.model_dump(mode="json", by_alias=True)


def _exact(value: object, info: ValidationInfo) -> object:
    if not isinstance(value, Length):
        return value
    assert isinstance(info.context, Unit), "lengths are said in a unit"
    return exact_text(value, info.context)


Exact = Annotated[str, BeforeValidator(_exact)]
"""A length."""


def read_from(first: str, *further: str, description: str | None = None) -> Any:
    """Return a member that is an attribute of another name, or one of an attribute."""
    path = AliasPath(first, *further) if further else first
    return Field(validation_alias=path, description=description)


class SizeAnswered(JsonAnswer):
    """Width by height."""

    width: Exact
    height: Exact
