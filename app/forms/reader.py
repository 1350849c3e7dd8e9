"""Reads the typed fields of a form one by one and gathers what is wrong with each.

What a value may be is the domain's business; here text becomes lengths, amounts, numbers and choices.
"""

import re
from collections.abc import Callable, Mapping
from datetime import date
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache

from app.days import Calendar, Towards, read_day
from app.errors import Fault, FaultCollector, Invalid, quoted
from app.framing.mass import parse_mass
from app.lengths import (
    ZERO,
    Example,
    Examples,
    Length,
    Size,
    Unit,
    exact_text,
    example_at,
    parse_length,
    parse_size,
    show,
    show_size,
)
from app.money import Currency, Money, parse_money, parse_percent

_NUMBER = re.compile(
    r"(?P<decimal>[0-9]{1,9}(?:[.,][0-9]{1,6})?)|[0-9]{1,9}/0*[1-9][0-9]{0,5}", re.ASCII
)


class Reader:
    """Reads the fields of one form.

    Every method returns a usable value: the default where a field is blank or cannot be read. Where it
    cannot be read, `faults` has the reason.

    unit, currency: those of a number that is typed without a mark. examples: the lengths that a
    sentence about a fault quotes. calendar: how days are understood, None in a form without any. used: the paths of the fields that were read, so that a field which
    counts for nothing can be told.
    """

    def __init__(
        self,
        typed: Mapping[str, str],
        unit: Unit,
        currency: Currency,
        examples: Examples | None = None,
        calendar: Calendar | None = None,
    ) -> None:
        self.typed = typed
        self.calendar = calendar
        self._examples = examples or {}
        self.unit = unit
        self.currency = currency
        self.faults = FaultCollector()
        self.used: set[str] = set()

    def raw(self, path: str) -> str:
        """Return what was typed in a field, without the blanks around it."""
        return self.typed.get(path, "").strip()

    def given(self, path: str) -> bool:
        """Tell whether anything was typed in a field; this does not count as reading it."""
        return bool(self.raw(path))

    def ticked(self, path: str) -> bool:
        """Tell whether a box is ticked."""
        self.used.add(path)
        return self.given(path)

    def text(self, path: str, longest: int = 2000) -> str:
        """Read a text, without the blanks around it; it is empty, with a fault, where it is too long."""
        self.used.add(path)
        text = self.raw(path)
        if len(text) <= longest:
            return text
        self.faults.add(
            path,
            f"{quoted(text, limit=24)} has {len(text)} characters; at most {longest} are kept.",
        )
        return ""

    def required(self, path: str, sentence: str, longest: int = 2000) -> str:
        """Read a text that must not be blank.

        sentence: what is said where it is blank.
        """
        if not self.given(path):
            self.faults.add(path, sentence, "empty")
            return ""
        return self.text(path, longest)

    def lines(self, path: str, longest: int = 2000) -> tuple[str, ...]:
        """Read the lines of a text, leaving blank ones out."""
        lines = (line.strip() for line in self.text(path, longest).splitlines())
        return tuple(line for line in lines if line)

    def length(
        self,
        path: str,
        default: Length = ZERO,
        *,
        zero_ok: bool = True,
        like: Example | None = None,
    ) -> Length:
        """Read a length.

        like: an example where the form has none for the field.
        """
        such_as = self.such_as(path, like)
        return self._read(
            path,
            default,
            lambda text: parse_length(
                text, unit=self.unit, path=path, zero_ok=zero_ok, such_as=such_as
            ),
        )

    def signed(self, path: str) -> Length:
        """Read a length that may be less than zero, as a correction is."""
        return self._read(
            path,
            ZERO,
            lambda text: parse_length(
                text,
                unit=self.unit,
                path=path,
                zero_ok=True,
                negative_ok=True,
                such_as=self.such_as(path),
            ),
        )

    def size(
        self,
        path: str,
        default: Size,
        *,
        like: Example | None = None,
        least: Length | None = None,
    ) -> Size:
        """Read a width and a height.

        like: an example where the form has none for the field. least: of either side; less is refused.
        """
        such_as = self.such_as(path, like)
        return self._read(
            path,
            default,
            lambda text: parse_size(text, unit=self.unit, path=path, such_as=such_as, least=least),
        )

    def money(self, path: str, default: Money | None = None) -> Money:
        """Read an amount of zero or more. Without a default a blank field is a fault."""
        zero = Money.zero(self.currency) if default is None else default
        if default is None and not self.given(path):
            self.take(lambda: parse_money("", self.currency, path=path))
            return zero
        return self._read(path, zero, lambda text: parse_money(text, self.currency, path=path))

    def percent(
        self, path: str, default: Fraction = Fraction(0), *, low: int = 0, high: int = 100
    ) -> Fraction:
        """Read a percentage and return it as a share: 20 is 1/5."""
        return self._read(
            path, default, lambda text: parse_percent(text, path=path, low=low, high=high)
        )

    def number(self, path: str, what: str, default: Fraction = Fraction(0)) -> Fraction:
        """Read a number of zero or more: "2.5", "2,5", "5/2".

        what: its name in a sentence.
        """
        return self._read(path, default, lambda text: read_number(text, what, path=path))

    def whole(self, path: str, what: str, default: int, *, low: int = 0, high: int) -> int:
        """Read a whole number between two bounds, both allowed.

        what: its name in a sentence.
        """

        def read(text: str) -> int:
            number = whole_number(text, digits=9)
            if number is not None and low <= number <= high:
                return number
            raise Invalid.at(
                path, f"The {what} is {quoted(text)}; a whole number from {low} to {high} is read."
            )

        return self._read(path, default, read)

    @property
    def bare_mass(self) -> Unit:
        """The unit system that a weight without a mark is taken in: pounds with inches, kilograms with
        millimetres.
        """
        return self.unit

    def mass(self, path: str, default: Fraction | None = None) -> Fraction | None:
        """Read a weight and return it in kg."""
        bare = self.bare_mass
        return self._read(path, default, lambda text: parse_mass(text, bare=bare, path=path))

    def day(self, path: str, towards: Towards) -> date | None:
        """Read a day as a person types it; it is None where it is blank.

        towards: where a day without its year lies.
        """
        calendar = self.calendar
        assert calendar is not None, "a form with a day follows from what knows today"
        return self._read(
            path, None, lambda text: read_day(text, calendar, towards=towards, path=path)
        )

    def choice[E: StrEnum, D](self, path: str, choices: type[E], default: D) -> E | D:
        """Read one of the choices on offer."""

        def read(text: str) -> E:
            if text in set(choices):
                return choices(text)
            allowed = ", ".join(choice.value for choice in choices)
            raise Invalid.at(path, f"{quoted(text)} is not a choice here; choose one of {allowed}.")

        return self._read(path, default, read)

    def take[T](self, make: Callable[[], T], under: str = "") -> T | None:
        """Call a function and return what it makes; where it refuses, note its faults beneath a path
        and return None.
        """
        try:
            return make()
        except Invalid as invalid:
            self.faults.take(invalid.under(under.rstrip(".")) if under else invalid)
            return None

    def need(self, path: str, sentence: str) -> None:
        """Note a fault where a field is blank.

        sentence: what to type. Without its full stop, the field's example is added to it.
        """
        if not self.given(path):
            such_as = self.such_as(path)
            such = f", such as {such_as}" if such_as else ""
            whole = sentence if sentence.endswith((".", "?")) else f"{sentence}{such}."
            self.faults.add(path, whole, "empty")

    def such_as(self, path: str, like: Example | None = None) -> str:
        """Return the example of a field as one would type it, in both units: '3 mm or 1/8"'; "" where it has none."""
        like = like or example_at(self._examples, path)
        return like.said(self.unit) if like else ""

    def _read[T, D](self, path: str, default: D, read: Callable[[str], T]) -> T | D:
        self.used.add(path)
        text = self.raw(path)
        if not text:
            return default
        found = self.take(lambda: read(text))
        return default if found is None else found


def faults_while_typing(read: Callable[[], object], typed: Mapping[str, str]) -> tuple[Fault, ...]:
    """Return what is wrong with a form that is not finished: faults of what was typed, not of what is still blank."""
    try:
        read()
    except Invalid as invalid:
        return tuple(fault for fault in invalid.faults if typed.get(fault.path, "").strip())
    return ()


def whole_number(text: str, *, digits: int) -> int | None:
    """Return a whole number in plain digits; None where the text is anything else or has more digits."""
    plain = text.isascii() and text.isdigit() and len(text) <= digits
    return int(text) if plain else None


def read_number(text: str, what: str, *, path: str) -> Fraction:
    """Read a number of zero or more, typed with a decimal point or comma, or as a fraction.

    Raises: Invalid at the path.
    """
    match = _NUMBER.fullmatch(text.strip())
    if match is None:
        raise Invalid.at(
            path, f"The {what} is {quoted(text)}; a number such as 2.5 is read, zero or more."
        )
    return Fraction(match[0].replace(",", "."))


def number_text(number: Fraction) -> str:
    """Write a number for its field: "2.5"; "1/3" where the decimal does not end within six places."""
    millionths = number * 1_000_000
    if millionths.denominator != 1:
        return str(number)
    whole, rest = divmod(int(millionths), 1_000_000)
    decimals = f"{rest:06d}".rstrip("0")
    return f"{whole}.{decimals}" if decimals else str(whole)


def percent_text(share: Fraction) -> str:
    """Write a share for its field as a percentage: 1/8 is "12.5"."""
    return number_text(share * 100)


@lru_cache(maxsize=1000)
def length_text(length: Length, unit: Unit) -> str:
    """Write a length for its field, in the first notation that reads back as exactly this length.

    Hints write the same usual lengths with every key, so what was written is remembered.
    """
    for text in (show(length, unit), *(show(length, each, mark=True) for each in Unit)):
        if parse_length(text, unit=unit, zero_ok=True, negative_ok=True) == length:
            return text
    return exact_text(length, unit)


def size_text(size: Size, unit: Unit) -> str:
    """Write a size for its field, in the first notation that reads back as exactly this size."""
    for text in (show_size(size, unit), *(show_size(size, each, mark=True) for each in Unit)):
        if parse_size(text, unit=unit) == size:
            return text
    return f"{exact_text(size.width, unit)} x {exact_text(size.height, unit)}"
