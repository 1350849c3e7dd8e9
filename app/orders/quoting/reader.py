"""The fields of a piece as typed on the quote page, read one by one.

A typed piece is a flat mapping of field path to text. Nothing typed is ever lost: the mapping is
kept with the piece and shown again. Paths are those of the JSON contract where it has them.
"""

from collections.abc import Mapping
from enum import StrEnum
from typing import Protocol

from app.errors import FaultCollector, Invalid, quoted
from app.framing import MOST_WINDOWS
from app.lengths import (
    Example,
    Length,
    Size,
    Unit,
    doubt_about,
    example_at,
    parse_length,
    parse_size,
)
from app.orders.quoting.examples import PIECE_EXAMPLES
from app.pricing import Kind, Material

MOST_MATS = 3
MOST_FRAMES = 3
MOST_ROWS = 6
"""Rows of hardware and of extras on the quote page."""

LONGEST_FIELD = 2000

NEEDED = "needed"
"""Code of a fault that only says what is still to be typed; while one types it is no error."""

NOT_FOUND = "material-not-found"
"""Code of a fault at a material that is not in the price book, or not only one."""

WHICH_UNIT = "which-unit"
"""Code of a fault that asks in which unit a bare size was said. It offers the sizes that may be meant, the
likeliest first, which is taken until it is answered; while one types it is no error. Source: L4."""

WINDOW_FIELDS = ("size", "kind", "shown", "edge", "shape", "rise", "slot", "slot_gap", "x", "y")
"""Fields of one window. A program may name a window as well; on the page it is its letter."""

PIECE_FIELDS: tuple[str, ...] = (
    "unit",
    "artwork.size",
    "artwork.thickness",
    "artwork.title",
    "artwork.kind",
    "artwork.support",
    "artwork.weight",
    "artwork.condition",
    "artwork.declared_value",
    "artwork.place",
    "presentation",
    "overlap",
    "gap",
    "sizing",
    *(
        f"mats.{row}.{name}"
        for row in range(MOST_MATS)
        for name in ("material", "reveal")
        if row or name == "material"
    ),
    "borders.left",
    "borders.right",
    "borders.top",
    "borders.bottom",
    "weighting",
    "package.size",
    "windows.count",
    "layout.rows",
    "layout.align",
    "layout.across",
    "layout.down",
    "layout.placing",
    *(f"windows.{row}.{name}" for row in range(MOST_WINDOWS) for name in WINDOW_FIELDS),
    "groove",
    "fillet.material",
    "fillet.tuck",
    "fillet.depth",
    *(f"frames.{row}.material" for row in range(MOST_FRAMES)),
    "allowance",
    "glazing.material",
    "mount_board.material",
    "backing.material",
    "spacer.material",
    "spacer.depth",
    *(
        f"{rows}.{row}.{name}"
        for rows in ("hardware", "extras")
        for row in range(MOST_ROWS)
        for name in ("material", "count")
    ),
    "discount",
    "rush",
)
"""Every field of a piece on the quote page, in the order in which people talk."""


class FindMaterial(Protocol):
    """Looks a material up by what was typed."""

    def __call__(self, text: str, kind: Kind) -> Material | None:
        """The material whose code or whole name this is (any case), else the only match, else None."""


class PieceReader:
    """Reads typed fields one by one, gathering the faults.

    longest: the longest sheet in the price book, where sizes are as said at a counter and doubtful ones are
    asked about; None where they are as a program gives them.
    """

    def __init__(
        self,
        typed: Mapping[str, str],
        unit: Unit,
        find: FindMaterial,
        longest: Length | None = None,
    ) -> None:
        self._typed = typed
        self._find = find
        self._longest = longest
        self.unit = unit
        self.faults = FaultCollector()
        for path, text in typed.items():
            if len(text) > LONGEST_FIELD:
                self.faults.add(
                    path,
                    f"This field has {len(text)} characters; at most {LONGEST_FIELD} are read.",
                )

    def text(self, path: str) -> str:
        """The field's text without the blanks around it; empty when it was not typed."""
        text = self._typed.get(path, "").strip()
        return text if len(text) <= LONGEST_FIELD else ""

    def given(self, path: str) -> bool:
        """Whether anything was typed."""
        return bool(self.text(path))

    def length(
        self, path: str, default: Length, *, zero_ok: bool = True, like: Example | None = None
    ) -> Length:
        """A length, or the default where the field is blank or unreadable. like: another example."""
        if not self.given(path):
            return default
        such_as = self.such_as(path, like)
        try:
            return parse_length(
                self.text(path), unit=self.unit, path=path, zero_ok=zero_ok, such_as=such_as
            )
        except Invalid as invalid:
            self.faults.take(invalid)
            return default

    def such_as(self, path: str, like: Example | None = None) -> str:
        """The example of a length or a size, as it would be typed: '3 mm or 1/8"'; "" where it has none."""
        like = like or example_at(PIECE_EXAMPLES, path)
        return like.said(self.unit) if like else ""

    def size(self, path: str, what: str) -> Size | None:
        """A size that a customer may say; None, with a fault, where it is blank or unreadable.

        Of a doubtful one the likeliest reading, with a fault that asks.
        """
        return self._size(path, what, self._likely(path))

    def measured(self, path: str, what: str) -> Size | None:
        """A size that no customer says, so that it is never asked about."""
        return self._size(path, what, self.text(path))

    def _size(self, path: str, what: str, text: str) -> Size | None:
        """text: what is read for what was typed."""
        if not self.given(path):
            if not self._typed.get(path, "").strip():
                self.faults.add(
                    path,
                    f'The {what} is empty; type it as said, as 30 x 40 cm, 16x20" or A3.',
                    NEEDED,
                )
            return None
        try:
            return parse_size(text, unit=self.unit, path=path, such_as=self.such_as(path))
        except Invalid as invalid:
            self.faults.take(invalid)
            return None

    def _likely(self, path: str) -> str:
        """What was typed; of a doubtful size what it is taken for, with a fault that asks."""
        text = self.text(path)
        if self._longest is None:
            return text
        doubt = doubt_about(text, unit=self.unit, longest=self._longest)
        if doubt is None:
            return text
        self.faults.add(
            path,
            f"{quoted(text)} may be meant in cm, in or mm; choose which.",
            WHICH_UNIT,
            doubt.answers,
        )
        return doubt.likely

    def material(self, path: str, kind: Kind) -> Material | None:
        """A material of one kind; None where the field is blank or, with a fault, not found."""
        text = self.text(path)
        if not text:
            return None
        found = self._find(text, kind)
        if found is None:
            self.faults.add(
                path,
                f"“{text[:40]}” is not one {_NAMES[kind]} of the price book; type its code or "
                "more of its name.",
                code=NOT_FOUND,
            )
        return found

    def choice[E: StrEnum, D](self, path: str, choices: type[E], default: D) -> E | D:
        """One of some choices; the default where the field is blank or, with a fault, another."""
        text = self.text(path)
        if not text:
            return default
        if text in set(choices):
            return choices(text)
        allowed = ", ".join(choice.value for choice in choices)
        self.faults.add(path, f"“{text[:40]}” is not a choice here; choose one of {allowed}.")
        return default

    def count(self, path: str, most: int = 999) -> int:
        """A whole number from 1 up to a most; 1 where the field is blank."""
        text = self.text(path)
        if not text:
            return 1
        if is_count(text, most):
            return int(text)
        self.faults.add(
            path, f"The count is “{text[:40]}”; a whole number from 1 to {most} is read."
        )
        return 1


def is_count(text: str, most: int) -> bool:
    """Whether a text is a whole number from 1 up to a most."""
    return text.isascii() and text.isdigit() and len(text) < 9 and 1 <= int(text) <= most


_NAMES = {
    Kind.MOULDING: "moulding",
    Kind.MAT: "mat",
    Kind.GLAZING: "glazing",
    Kind.BOARD: "board",
    Kind.HARDWARE: "hardware",
    Kind.EXTRA: "extra",
}
