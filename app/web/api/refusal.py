"""The contract's one error shape, for the description at /docs. `faults` writes it."""

from pydantic import BaseModel


class FieldRefused(BaseModel):
    """One field's fault; an empty path means the request as a whole."""

    path: str
    message: str
    code: str


class Refused(BaseModel):
    """What is wrong: a stable code, a sentence, and every field's fault."""

    code: str
    message: str
    fields: list[FieldRefused]


class Refusal(BaseModel):
    """The body of every answer that is not a success."""

    error: Refused


INVALID: dict[int | str, dict[str, object]] = {
    422: {"model": Refusal, "description": "The request has faults; all of them are listed."}
}

BUSY: dict[int | str, dict[str, object]] = {
    503: {
        "model": Refusal,
        "description": "So many wait already that no further request is taken; Retry-After says when to ask again.",
        "headers": {"Retry-After": {"schema": {"type": "string"}, "description": "seconds"}},
    }
}

NO_SHOP: dict[int | str, dict[str, object]] = {
    409: {"model": Refusal, "description": "There is no shop yet, so that nothing has a price."}
}

NO_SUCH: dict[int | str, dict[str, object]] = {
    404: {"model": Refusal, "description": "There is nothing of this number."}
}

CHANGED: dict[int | str, dict[str, object]] = {
    409: {
        "model": Refusal,
        "description": "It stands otherwise by now than the request takes for granted; nothing was changed.",
    }
}
