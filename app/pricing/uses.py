"""What a piece takes of each chosen material, before any charge rule.

Owns the step from dimensions and a choice to a list of uses, one a price line, in the order in which
a quote names them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from app.framing import Dimensions
from app.lengths import ZERO, Length, Size
from app.pricing.book import Kind, Material
from app.pricing.chosen import Chosen, ChosenCount


class LineGroup(StrEnum):
    """Under which heading a line stands on a quote. SOLD: what is sold without a piece (P12)."""

    FRAME = "frame"
    MATS = "mats"
    FILLET = "fillet"
    GLAZING = "glazing"
    BOARDS = "boards"
    SPACER = "spacer"
    HARDWARE = "hardware"
    EXTRAS = "extras"
    LABOUR = "labour"
    SOLD = "sold"


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """One material in a piece.

    runs: (length, count) of the strips or rails. sawn: whether each of them loses length at the saw.
    size: the blank of a sheet material; for anything else the package it goes around or over.
    part: what it is in the piece, "mat 2". face: of a frame's moulding, as the piece uses it.
    """

    material: Material
    group: LineGroup
    part: str
    size: Size
    runs: tuple[tuple[Length, int], ...] = ()
    sawn: bool = False
    count: int = 1
    face: Length | None = None

    @property
    def length(self) -> Length:
        """All its runs together."""
        return sum((length * count for length, count in self.runs), ZERO)

    @property
    def pieces(self) -> int:
        """How many lengths are cut."""
        return sum(count for _, count in self.runs)


def uses_of(dimensions: Dimensions, chosen: Chosen) -> tuple[Use, ...]:
    """Return every material of a piece with what the piece takes of it. The choice fits the piece."""
    return (
        *_frames(dimensions, chosen),
        *_mats(dimensions, chosen),
        *_fillets(dimensions, chosen),
        *_panels(dimensions, chosen),
        *_spacer(dimensions, chosen),
        *(_counted(dimensions, taken, LineGroup.HARDWARE) for taken in chosen.hardware),
        *(_counted(dimensions, taken, LineGroup.EXTRAS) for taken in chosen.extras),
    )


def _frames(dimensions: Dimensions, chosen: Chosen) -> Iterator[Use]:
    package = dimensions.package
    if chosen.ready_made is not None:
        yield Use(material=chosen.ready_made, group=LineGroup.FRAME, part="frame", size=package)
    several = len(chosen.frames) > 1
    frames = zip(chosen.frames, dimensions.frames, dimensions.spec.frames, strict=True)
    for number, (material, frame, asked) in enumerate(frames, start=1):
        width, height = frame.long_points
        yield Use(
            material=material,
            group=LineGroup.FRAME,
            part=f"frame {number}" if several else "frame",
            size=package,
            runs=((width, 2), (height, 2)),
            sawn=True,
            face=asked.face,
        )
        package = frame.outside


def _mats(dimensions: Dimensions, chosen: Chosen) -> Iterator[Use]:
    several = len(chosen.mats) > 1
    for material, layer in zip(chosen.mats, dimensions.layers, strict=True):
        yield Use(
            material=material,
            group=LineGroup.MATS,
            part=f"mat {layer.layer}" if several else "mat",
            size=layer.blank,
        )


def _fillets(dimensions: Dimensions, chosen: Chosen) -> Iterator[Use]:
    """Yield one line for the fillets of all windows."""
    if chosen.fillet is not None:
        yield Use(
            material=chosen.fillet,
            group=LineGroup.FILLET,
            part="fillet",
            size=dimensions.package,
            runs=tuple((rails.long, rails.count) for rails in dimensions.fillet_rails),
            sawn=True,
        )


def _panels(dimensions: Dimensions, chosen: Chosen) -> Iterator[Use]:
    panels = (
        ("glazing", LineGroup.GLAZING, chosen.glazing, dimensions.glazing),
        ("mount board", LineGroup.BOARDS, chosen.mount_board, dimensions.mount_board),
        ("backing", LineGroup.BOARDS, chosen.backing, dimensions.backing),
    )
    for part, group, material, size in panels:
        if material is not None and size is not None:
            yield Use(material=material, group=group, part=part, size=size)


def _spacer(dimensions: Dimensions, chosen: Chosen) -> Iterator[Use]:
    if chosen.spacer is not None:
        yield Use(
            material=chosen.spacer,
            group=LineGroup.SPACER,
            part="spacer",
            size=dimensions.package,
            runs=dimensions.spacers,
        )


def _counted(dimensions: Dimensions, taken: ChosenCount, group: LineGroup) -> Use:
    """Hardware by length reaches across the frame; an extra by length goes around the package."""
    package, material = dimensions.package, taken.material
    around = ((package.width, 2), (package.height, 2))
    across = ((dimensions.outside.width, 1),)
    return Use(
        material=material,
        group=group,
        part="hanging" if material.kind is Kind.HARDWARE else "extra",
        size=package,
        runs=across if material.kind is Kind.HARDWARE else around,
        count=taken.count,
    )
