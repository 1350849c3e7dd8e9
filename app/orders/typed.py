"""The fields of a piece as typed on the quote page, and which spec field each one speaks for.

A typed piece is a flat mapping of field path to text. Nothing typed is ever lost: the mapping is
kept with the piece and shown again. Paths are those of the JSON contract where it has them.
"""

from collections.abc import Iterable, Mapping
from typing import Protocol

from app.errors import Fault, FaultCollector, Invalid
from app.lengths import Length, Size, Unit, parse_length, parse_size
from app.pricing import Kind, Material

MOST_MATS = 3
MOST_FRAMES = 3
MOST_ROWS = 6
"""Rows of hardware and of extras on the quote page."""

LONGEST_FIELD = 2000

PIECE_FIELDS: tuple[str, ...] = (
    "unit",
    "artwork.size",
    "artwork.thickness",
    "artwork.title",
    "artwork.kind",
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

_SPOKEN_FOR = {
    "artwork.width": "artwork.size",
    "artwork.height": "artwork.size",
    "package": "package.size",
    "package.width": "package.size",
    "package.height": "package.size",
    "borders": "borders.left",
    "mats": "mats.0.material",
    "spacer": "spacer.depth",
    "spacer_width": "spacer.depth",
    "under_trim": "mats.1.material",
    "glazing.thickness": "glazing.material",
    "glazing.trim": "glazing.material",
    "mount_board.thickness": "mount_board.material",
    "mount_board.trim": "mount_board.material",
    "backing.thickness": "backing.material",
    "backing.trim": "backing.material",
}


def form_path(path: str) -> str:
    """The quote page's field that speaks for a path of the JSON contract."""
    if path in _SPOKEN_FOR:
        return _SPOKEN_FOR[path]
    parts = path.split(".")
    if parts[0] == "frames" and len(parts) == 3:
        return "allowance" if parts[2] == "allowance" else f"frames.{parts[1]}.material"
    if parts[0] == "mats" and len(parts) == 3 and parts[2] in ("thickness", "bevel"):
        return f"mats.{parts[1]}.material"
    return path


def on_the_form(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults of a spec moved to the fields of the quote page, each sentence once per field."""
    moved = dict.fromkeys(
        Fault(path=form_path(fault.path), message=fault.message, code=fault.code)
        for fault in faults
    )
    return tuple(moved)


class FindMaterial(Protocol):
    """Looks a material up by what was typed."""

    def __call__(self, text: str, kind: Kind) -> Material | None:
        """The material whose code or whole name this is (any case), else the only match, else None."""


class Typed:
    """Reads typed fields one by one, gathering the faults."""

    def __init__(self, typed: Mapping[str, str], unit: Unit, find: FindMaterial) -> None:
        self._typed = typed
        self._find = find
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

    def length(self, path: str, default: Length, *, zero_ok: bool = True) -> Length:
        """A length, or the default where the field is blank or unreadable."""
        if not self.given(path):
            return default
        try:
            return parse_length(self.text(path), unit=self.unit, path=path, zero_ok=zero_ok)
        except Invalid as invalid:
            self.faults.take(invalid)
            return default

    def size(self, path: str, what: str) -> Size | None:
        """A size; None, with a fault, where it is blank or unreadable."""
        if not self.given(path):
            self.faults.add(
                path, f"The {what} is empty; type it as said, as 16x20, 30 x 40 cm or A3."
            )
            return None
        try:
            return parse_size(self.text(path), unit=self.unit, path=path)
        except Invalid as invalid:
            self.faults.take(invalid)
            return None

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
                code="material-not-found",
            )
        return found

    def count(self, path: str) -> int:
        """A whole number from 1 to 999; 1 where the field is blank."""
        text = self.text(path)
        if not text:
            return 1
        if text.isascii() and text.isdigit() and 1 <= int(text) <= 999:
            return int(text)
        self.faults.add(path, f"The count is “{text[:40]}”; a whole number from 1 to 999 is read.")
        return 1


_NAMES = {
    Kind.MOULDING: "moulding",
    Kind.MAT: "mat",
    Kind.GLAZING: "glazing",
    Kind.BOARD: "board",
    Kind.HARDWARE: "hardware",
    Kind.EXTRA: "extra",
}
