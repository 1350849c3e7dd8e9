"""The parts of a piece that are cut from sticks and sheets, and what it needs that is only counted.

Owns the step from an agreed piece to parts with a name of their own. A part is known by its id, and
by what it is: a piece that is changed has parts of the same ids that are others.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import cached_property

from app.cutting import StickPart
from app.errors import Invalid
from app.framing import Dimensions
from app.lengths import ZERO, Length, Size, Unit, exact_text
from app.orders import Agreed
from app.pricing import ChargeBy, Chosen, Material, Trait
from app.pricing.measure import Measure, area_in_measure, in_measure, natural_measure
from app.pricing.uses import LineGroup, Use, uses_of
from app.stock.items import StockForm, form_of

SIDES = ("top", "bottom", "left", "right")
"""The rails of a frame: the first two run along the width."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRef:
    """Which piece a part is for, in the words of its order. title: of the artwork."""

    piece_id: int
    order_id: int
    order_number: str
    number: int
    title: str = ""
    customer: str = ""
    due: date | None = None

    @property
    def name(self) -> str:
        """The name of the piece: "2026-0148/2"."""
        return f"{self.order_number}/{self.number}"


@dataclass(frozen=True, kw_only=True)  # no slots: what follows from a part is worked out once
class PartToCut:
    """One rail, strip, blank or pane. key: what it is in its piece, "frame-1.top", "mat-2".

    copy: of which of several that are alike, from 1. words: the same for people. material: as it was agreed. length: of a stick's part, a rail's long
    point; size: of a sheet's; both in the shop's steps. frame: for rails of one frame and for nothing else.
    Raises: Invalid at "length", "size".
    """

    piece: PieceRef
    key: str
    words: str
    material: Material
    length: Length | None = None
    size: Size | None = None
    frame: str = ""
    copy: int = 1

    def __post_init__(self) -> None:
        if (self.length is None) == (self.size is None):
            raise Invalid.at("length", "A part has a length or a size, and not both.")
        least = min((self.size.width, self.size.height)) if self.size else self.length
        if least is not None and least <= ZERO:
            raise Invalid.at("size" if self.size else "length", "A part has a size above zero.")

    @cached_property
    def id(self) -> str:
        """The id of the part: "17/frame-1.top", and "17/3/frame-1.top" of the third of several alike."""
        return part_id(self.piece.piece_id, self.copy, self.key)

    @cached_property
    def group(self) -> str:
        """The id of the frame that it is a rail of, "17/frame-1"; "" for a part of none."""
        return part_id(self.piece.piece_id, self.copy, self.frame) if self.frame else ""

    @cached_property
    def rail(self) -> StickPart:
        """The part as a planner of sticks is asked for it."""
        return StickPart(id=self.id, length=self.length or ZERO, group=self.group)

    @property
    def form(self) -> StockForm:
        """Whether it is cut from a stick or a sheet."""
        return StockForm.STICK if self.length is not None else StockForm.SHEET

    @property
    def turn(self) -> bool:
        """Whether it may be turned on its sheet, by its material as agreed."""
        return may_turn(self.material)

    @cached_property
    def what(self) -> str:
        """Its material and exact size in mm, for comparing parts: "M-101 400 × 500"."""
        sizes = (self.length,) if self.size is None else (self.size.width, self.size.height)
        shown = " × ".join(exact_text(each, Unit.MM) for each in sizes if each is not None)
        return f"{self.material.code} {shown}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedNeed:
    """What a piece needs of a material that is counted, measured off a roll or spread over an area.

    quantity: exact, in the measure: pieces, or metres, feet, m², sq ft as the material is bought.
    """

    piece: PieceRef
    material: Material
    quantity: Fraction
    measure: Measure

    def times(self, count: int) -> "CountedNeed":
        """Return what so many that are alike need."""
        return replace(self, quantity=self.quantity * count)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceNeeds:
    """Everything that a piece needs of the rack.

    parts: of all that are alike. counted: of one of them. copies: how many they are.
    """

    parts: tuple[PartToCut, ...]
    counted: tuple[CountedNeed, ...]
    copies: int = 1


def part_id(piece_id: int, copy: int, key: str) -> str:
    """Return what a part is known by; the first of several alike as of a single piece, so that old plans still match."""
    return f"{piece_id}/{key}" if copy == 1 else f"{piece_id}/{copy}/{key}"


def copy_in(id: str) -> int:
    """Tell of which of several alike a part is, by its id as `part_id` writes it; 1 for the first and for a single piece."""
    copy = id.split("/")[1]
    return int(copy) if copy.isdigit() and id.count("/") > 1 else 1


def may_turn(material: Material) -> bool:
    """Tell whether parts of a material may be cut turned by 90 degrees: not where it has a direction (C2)."""
    return material.sheet is None or Trait.ONE_WAY not in material.sheet.traits


def needs_of(ref: PieceRef, agreed: Agreed, cut: Dimensions) -> PieceNeeds:
    """Return the parts and counted needs of a piece. cut: its dimensions in the shop's steps.

    Parts run as a ticket lists them: mats, fillets, glazing, boards, spacers, frames. Strips without
    a stick length are counted by their length.
    """
    return PieceNeeds(
        parts=_of_all(parts_to_cut(ref, agreed, cut), agreed.copies),
        counted=tuple(_counted(ref, agreed, cut)),
        copies=agreed.copies,
    )


def _of_all(parts: tuple[PartToCut, ...], copies: int) -> tuple[PartToCut, ...]:
    """Return the parts of every one of several that are alike, one after the other (P11)."""
    if copies == 1:
        return parts
    return tuple(
        replace(part, copy=copy, words=f"{part.words}{_of(copy, copies)}")
        for copy in range(1, copies + 1)
        for part in parts
    )


def parts_to_cut(ref: PieceRef, agreed: Agreed, cut: Dimensions) -> tuple[PartToCut, ...]:
    """Return every part of a piece that is cut from a stick or a sheet; of one of several that are alike."""
    return (*_flat(ref, agreed.chosen, cut), *_strips(ref, agreed.chosen, cut))


def _flat(ref: PieceRef, chosen: Chosen, cut: Dimensions) -> Iterator[PartToCut]:
    several = len(cut.layers) > 1
    for material, layer in zip(chosen.mats, cut.layers, strict=True):
        words = f"mat {layer.layer}" if several else "mat"
        yield PartToCut(
            piece=ref,
            key=f"mat-{layer.layer}",
            words=words,
            material=material,
            size=layer.blank,
        )
    for words, panel, size in (
        ("glazing", chosen.glazing, cut.glazing),
        ("mount board", chosen.mount_board, cut.mount_board),
        ("backing", chosen.backing, cut.backing),
    ):
        if panel is not None and size is not None:
            key = words.replace(" ", "-")
            yield PartToCut(piece=ref, key=key, words=words, material=panel, size=size)


def _strips(ref: PieceRef, chosen: Chosen, cut: Dimensions) -> Iterator[PartToCut]:
    if chosen.fillet is not None and form_of(chosen.fillet) is StockForm.STICK:
        for number, fillet in enumerate(cut.fillets, start=1):
            of_window = f" of window {fillet.name}" if fillet.name else ""
            rails = _Rails(f"fillet-{number}", f"fillet{of_window}", chosen.fillet)
            yield from rails.parts(ref, fillet.long_points)
    if chosen.spacer is not None and form_of(chosen.spacer) is StockForm.STICK and cut.spacers:
        strips = _Rails("spacer", "spacer", chosen.spacer, frame=False)
        yield from strips.parts(ref, [length for length, _ in cut.spacers])
    several = len(cut.frames) > 1
    for number, (material, frame) in enumerate(
        zip(chosen.frames, cut.frames, strict=True), start=1
    ):
        words = f"frame {number}" if several else "frame"
        yield from _Rails(f"frame-{number}", words, material).parts(ref, frame.long_points)


@dataclass(frozen=True, slots=True)
class _Rails:
    """Four rails or strips around something. frame: whether they want to be of one stick."""

    key: str
    words: str
    material: Material
    frame: bool = True

    def parts(self, ref: PieceRef, lengths: Sequence[Length]) -> Iterator[PartToCut]:
        """lengths: along the width, along the height."""
        along, upright = lengths
        for side, length in zip(SIDES, (along, along, upright, upright), strict=True):
            yield PartToCut(
                piece=ref,
                key=f"{self.key}.{side}",
                words=f"{self.words}, {side}",
                material=self.material,
                length=length,
                frame=self.key if self.frame else "",
            )


def _counted(ref: PieceRef, agreed: Agreed, cut: Dimensions) -> Iterator[CountedNeed]:
    for use in uses_of(cut, agreed.chosen):
        strip = use.group in (LineGroup.SPACER, LineGroup.FILLET)
        of_sticks = form_of(use.material) is StockForm.STICK
        counted = use.group in (LineGroup.HARDWARE, LineGroup.EXTRAS)
        bought = use.group is LineGroup.FRAME or strip
        if counted or (bought and not of_sticks):
            quantity, measure = _quantity(use)
            yield CountedNeed(piece=ref, material=use.material, quantity=quantity, measure=measure)


def _quantity(use: Use) -> tuple[Fraction, Measure]:
    """Return what is used up, in the measure that the material is bought in; no waste and no minimum."""
    measure = natural_measure(use.material.per)
    if use.material.charge.by is ChargeBy.EACH or measure is Measure.EACH:
        return Fraction(use.count), Measure.EACH
    if measure in (Measure.METRE, Measure.FOOT):
        return in_measure(use.length * use.count, measure), measure
    return area_in_measure(use.size.area_m2 * use.count, measure), measure


def _of(copy: int, copies: int) -> str:
    return f" ({copy} of {copies})"


def without_number(words: str) -> str:
    """Return what a part is called without which of several that are alike it is: "glazing" of "glazing (3 of 20)"."""
    return _NUMBERED.sub("", words)


_NUMBERED = re.compile(re.escape(_of(0, 0)).replace("0", r"\d+") + "$")
"""As `_of` writes it."""
