"""The one base error and its families.

Every error a person can meet is one of these: something typed is invalid, something is
not there, or two changes collide. Anything else that is raised is a bug. This module
imports nothing of ours and knows nothing of pages or status codes.
"""

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Self


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong with an input.

    path: the field's dotted path as in the JSON contract, "mats.1.reveal" for lists; "" for
    the input as a whole. message: a sentence that says what was given and what is allowed.
    code: stable, for programs. offers: values that would do, as they could be typed instead.
    """

    path: str
    message: str
    code: str = "invalid"
    offers: tuple[str, ...] = ()


class AppError(Exception):
    """Base of every error that is meant for a person."""

    code = "error"

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


class Invalid(AppError):
    """An input has faults; all of them are gathered before this is raised."""

    code = "invalid"

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        if not self.faults:
            raise ValueError("Invalid needs at least one fault")
        super().__init__(" ".join(fault.message for fault in self.faults))

    @classmethod
    def at(cls, path: str, message: str, code: str = "invalid") -> Self:
        """One fault at one path."""
        return cls([Fault(path=path, message=message, code=code)])

    def under(self, prefix: str) -> "Invalid":
        """The same faults with every path set under a prefix."""
        return Invalid(
            replace(fault, path=f"{prefix}.{fault.path}" if fault.path else prefix)
            for fault in self.faults
        )


class NotFound(AppError):
    """What was asked for is not there."""

    code = "not-found"


class Conflict(AppError):
    """The change does not fit the state it meets: a stage that cannot follow, a second tab."""

    code = "conflict"


class Busy(AppError):
    """So much is at work already that one more would only wait. again: seconds after which to ask anew."""

    code = "busy"

    def __init__(self, message: str, again: int = 10) -> None:
        super().__init__(message)
        self.again = again


class FaultCollector:
    """Gathers the faults of an input, so that one bad field does not hide the next."""

    __slots__ = ("_faults",)

    def __init__(self) -> None:
        self._faults: list[Fault] = []

    def add(
        self, path: str, message: str, code: str = "invalid", offers: tuple[str, ...] = ()
    ) -> None:
        """Note one fault."""
        self._faults.append(Fault(path=path, message=message, code=code, offers=offers))

    def take(self, invalid: Invalid) -> None:
        """Note all faults of an error caught elsewhere."""
        self._faults.extend(invalid.faults)

    def __bool__(self) -> bool:
        return bool(self._faults)

    @property
    def faults(self) -> tuple[Fault, ...]:
        """The faults so far, in the order they were noted."""
        return tuple(self._faults)

    def finish(self) -> None:
        """Raise what was gathered. Raises: Invalid when there is anything."""
        if self._faults:
            raise Invalid(self._faults)


def quoted(text: str, *, limit: int = 40) -> str:
    """What was typed, fit to stand in a message: in quotes, on one line, shortened to a limit.

    Control, format and surrogate characters are left out; runs of blanks become one.
    """
    start = "".join(
        " " if char.isspace() else char
        for char in text[: limit * 8]
        if char.isspace() or unicodedata.category(char)[0] != "C"
    )
    line = " ".join(start.split())
    if len(line) <= limit and len(text) <= limit * 8:
        return f"“{line}”"
    return f"“{line[: limit - 1].rstrip()}…”"
