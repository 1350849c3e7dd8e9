"""How figures, dates and pages of paper are written.

Owns the documents' own templates environment and the check value in the other unit. Every length
on paper goes through `Figures`, so that one page speaks one unit.
"""

import re
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from app.counting import counted
from app.days import days_from_now, show_day, show_moment, show_short_day
from app.files import TEMPLATES
from app.framing.mass import show_kg
from app.lengths import (
    Length,
    Size,
    Steps,
    Unit,
    as_on_rule,
    mm,
    nearest_fraction_text,
    show,
    show_on_rule,
    show_size,
    show_size_on_rule,
)
from app.money import Money, show_money
from app.orders.hanging_parts import as_sold

_TENTHS = Steps(unit=Unit.MM, step=mm("0.1"))

_INSIDE_FIGURE = re.compile(
    r"(?<=\d) (?=\d+/\d|×|mm\b|N\b|kg\b|lb\b|oz\b)|(?<=×) (?=\d)|(?<=\b[A-Z]) (?=\d)"
)
_BETWEEN_TAGS = re.compile(r">\n+<")
_BY = "\N{MULTIPLICATION SIGN}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedFigure:
    """A cut figure as it is printed, with its check value in the other unit (L3)."""

    text: str
    check: str


@dataclass(frozen=True, slots=True)
class Figures:
    """Writes lengths in the one unit of a page. steps: those that the piece is cut in."""

    steps: Steps

    @property
    def unit(self) -> Unit:
        """The unit of the page."""
        return self.steps.unit

    @property
    def unit_name(self) -> str:
        """The word for the unit of the page."""
        return "millimetres" if self.unit is Unit.MM else "inches"

    @property
    def check_name(self) -> str:
        """The word for the unit of the check values."""
        return "inches" if self.unit is Unit.MM else "mm"

    def length(self, length: Length) -> str:
        """Write a length without its unit."""
        return show(length, self.unit)

    def size(self, size: Size) -> str:
        """Write a size without its unit."""
        return show_size(size, self.unit)

    def on_rule(self, length: Length) -> str:
        """Write a length that follows from those that are cut, as it is read off a rule, without its unit."""
        return show_on_rule(length, self.unit)

    def size_on_rule(self, size: Size) -> str:
        """Write a size that follows from those that are cut, as it is read off a rule, without its unit."""
        return show_size_on_rule(size, self.unit)

    def marked(self, length: Length) -> str:
        """Write a length with its unit."""
        return show(length, self.unit, mark=True)

    def check(self, length: Length) -> str:
        """Write a length in the other unit, to the nearest 1/32 in or 0.1 mm, rounded half up."""
        if self.unit is Unit.MM:
            return nearest_fraction_text(length)
        return show(_TENTHS.nearest(length), Unit.MM)

    def of_length(self, length: Length) -> PrintedFigure:
        """Return the figures of a length to cut."""
        return PrintedFigure(text=self.length(length), check=self.check(length))

    def of_rule(self, length: Length) -> PrintedFigure:
        """Return the figures of a length that follows from one that is cut; its check is of the figure as it is printed."""
        return PrintedFigure(
            text=self.on_rule(length), check=self.check(as_on_rule(length, self.unit))
        )

    def of_size(self, size: Size) -> PrintedFigure:
        """Return the figures of a size to cut."""
        return PrintedFigure(
            text=self.size(size), check=f"{self.check(size.width)} {_BY} {self.check(size.height)}"
        )

    def weight(self, kg: Fraction) -> str:
        """Write a weight: kilograms to a tenth, or pounds and ounces on a page in inches."""
        return show_kg(kg, self.unit)

    def load(self, newton: int) -> str:
        """Write a force in kilograms or pounds to a tenth, rounded up, and in newton: "17.4 kg (170 N)"."""
        return f"{as_sold(newton, self.unit)} ({newton} N)"


def day(value: date | None) -> str:
    """Write a date as "Thu 10 Dec 2026"; nothing where there is none."""
    return "" if value is None else show_day(value)


def time_of(value: datetime, today: date) -> str:
    """Tell when something happened, as "07:02" on the day itself, else as "Tue 24 Nov 2026, 07:02"."""
    time = f"{value:%H:%M}"
    return time if value.date() == today else show_moment(value)


def money(value: Money) -> str:
    """Write an amount, with the minus sign of figures."""
    return show_money(value)


def kept(text: str) -> str:
    """Return words in which no figure or size is broken over two lines, nor parted from the letter that names its window."""
    return _INSIDE_FIGURE.sub("\N{NO-BREAK SPACE}", text)


def unbroken(text: str) -> str:
    """Return words that stay on one line."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")


_LONGEST_WHOLE = 40


def stays_whole(line: str) -> bool:
    """Tell whether a line of an address is not broken where it runs on with others: up to so many characters."""
    return len(line) <= _LONGEST_WHOLE


def strict_environment() -> Environment:
    """Return a new environment for our templates that escapes everything and forgives no unknown name.

    Its filters print days and counts, which read alike on every page and paper.
    """
    env = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    env.filters.update(day=day, short_day=show_short_day, moment=show_moment)
    env.filters.update(days_from_now=days_from_now, counted=counted)
    return env


@cache
def environment() -> Environment:
    """Return the templates of documents."""
    env = strict_environment()
    env.filters.update(money=money, kept=kept, unbroken=unbroken)
    env.tests.update(whole=stays_whole)
    return env


def page_html(template: str, page: object) -> str:
    """Fill a template under templates/documents with its page model.

    Line breaks between tags, which say nothing and take time to read, are left out.
    """
    html = environment().get_template(f"documents/{template}").render(page=page)
    return _BETWEEN_TAGS.sub("><", html)
