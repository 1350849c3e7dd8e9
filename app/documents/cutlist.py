"""The cut list of a piece: every part with its sizes, in the shop's steps and the ticket's unit.

Figures come from the dimensions as they are cut (L2). Exact ones never stand here.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.documents.printing import Figure, Figures
from app.documents.stock import moulding_text, sheet_text
from app.framing import Dimensions, FrameSizes, Presentation, Shape, Window
from app.lengths import Length
from app.orders import Agreed
from app.pricing import Material


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """One kind of part to cut. short: of a rail, by its short point."""

    label: str
    figure: Figure
    short: Figure | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutGroup:
    """The parts that are cut from one material, and what to take from stock for them."""

    name: str
    take: str
    rows: tuple[CutRow, ...]
    rails: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """What the cut list is made of. mat_word: as the shop calls a mat; saw_loss: for each rail."""

    agreed: Agreed
    cut: Dimensions
    figures: Figures
    mat_word: str
    saw_loss: Length


def cut_list(cutting: Cutting) -> tuple[CutGroup, ...]:
    """Mats from the top one down, glazing, boards, spacers, frames from the inner one out."""
    return (*_mats(cutting), *_panels(cutting), *_spacers(cutting), *_frames(cutting))


def numbered(word: str, number: int, count: int) -> str:
    """As "Mat 2", or "Mat" where there is one."""
    return f"{word} {number}" if count > 1 else word


def _mats(cutting: Cutting) -> Iterator[CutGroup]:
    cut, figures = cutting.cut, cutting.figures
    word = cutting.mat_word.capitalize()
    for layer, material in zip(cut.layers, cutting.agreed.chosen.mats, strict=True):
        yield CutGroup(
            name=numbered(word, layer.layer, len(cut.layers)),
            take=sheet_text(material, layer.blank, figures),
            rows=(
                CutRow(label="blank", figure=figures.of_size(layer.blank)),
                *(
                    CutRow(label=window_label(window), figure=figures.of_size(window.size))
                    for window in cut.windows_of(layer.layer)
                ),
            ),
        )


def window_label(window: Window) -> str:
    """As "window", or "window B, oval" with its name and a shape that no straight cut makes (G20)."""
    named = f"window {window.name}" if window.name else "window"
    return named if window.shape is Shape.RECTANGLE else f"{named}, {window.shape.value}"


def _panels(cutting: Cutting) -> Iterator[CutGroup]:
    cut, chosen = cutting.cut, cutting.agreed.chosen
    for name, material, size in (
        ("Glazing", chosen.glazing, cut.glazing),
        ("Mount board", chosen.mount_board, cut.mount_board),
        ("Backing", chosen.backing, cut.backing),
    ):
        if material is not None and size is not None:
            yield CutGroup(
                name=name,
                take=sheet_text(material, size, cutting.figures),
                rows=(CutRow(label="", figure=cutting.figures.of_size(size)),),
            )


def _spacers(cutting: Cutting) -> Iterator[CutGroup]:
    material, spacer = cutting.agreed.chosen.spacer, cutting.agreed.spec.spacer
    if material is None or spacer is None:
        return
    figures = cutting.figures
    places = ("top, bottom", "left, right")
    yield CutGroup(
        name="Spacers",
        take=f"{material.code} {material.name}, {figures.marked(spacer.depth)} deep, "
        f"{figures.marked(spacer.width)} wide",
        rows=tuple(
            CutRow(label=f"{count} strips {place}", figure=figures.of_length(length))
            for (length, count), place in zip(cutting.cut.spacers, places, strict=True)
        ),
    )


def _frames(cutting: Cutting) -> Iterator[CutGroup]:
    cut, chosen = cutting.cut, cutting.agreed.chosen
    tray = cutting.agreed.spec.presentation is Presentation.CANVAS_FLOAT
    for number, (sizes, material) in enumerate(zip(cut.frames, chosen.frames, strict=True), 1):
        word = "Tray" if tray and number == 1 else "Frame"
        yield CutGroup(
            name=word if tray and number == 1 else numbered(word, number, len(cut.frames)),
            take=_take(material, sizes, cutting),
            rows=_rails(sizes, cutting.figures),
            rails=True,
        )


def _take(material: Material, sizes: FrameSizes, cutting: Cutting) -> str:
    return moulding_text(material, sizes.long_points, cutting.saw_loss, cutting.figures)


def _rails(sizes: FrameSizes, figures: Figures) -> tuple[CutRow, ...]:
    """Two rails of each length, the longer ones first, as they are cut."""
    places = ("top, bottom", "left, right")
    rows = zip(sizes.long_points, sizes.short_points, places, strict=True)
    return tuple(
        CutRow(
            label=f"2 rails {place}",
            figure=figures.of_length(long),
            short=figures.of_length(short),
        )
        for long, short, place in sorted(rows, key=lambda row: row[0], reverse=True)
    )
