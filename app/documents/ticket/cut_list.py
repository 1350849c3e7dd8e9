"""The cut list of a piece: every part with its sizes, in the shop's steps and the ticket's unit.

Figures come from the dimensions as they are cut (L2). Exact ones never stand here.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from app.counting import counted
from app.documents.kit.printing import Figures, PrintedFigure
from app.documents.kit.stock_words import moulding_text, rails_text, sheet_text
from app.documents.ticket.work import TicketPlace
from app.framing import Dimensions, FilletSizes, FrameSizes, Presentation, Shape, Window
from app.framing.layer_names import numbered
from app.framing.spec import Core
from app.framing.window_names import in_short
from app.lengths import Length, Size
from app.orders import Agreed
from app.orders.piece_report import Findings
from app.pricing import Material, Trait

EQUAL_RAILS = "opposite rails the same length"
"""What is checked of the rails of every frame and fillet at once."""


READY = "ready cut: check with a rule"
"""What is done with a board that is bought in its size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """One kind of part to cut. short: of a rail, by its short point. ticked: whether it has a box
    here; a window has its boxes where the guide is set. said_above: whether a row before it has the same size.
    """

    label: str
    figure: PrintedFigure
    short: PrintedFigure | None = None
    ticked: bool = True
    said_above: bool = False

    def check(self, *, dense: bool) -> str:
        """Return the check value of its figure; on a dense ticket each size has it once."""
        return "" if dense and self.said_above else self.figure.check


@dataclass(frozen=True, slots=True, kw_only=True)
class CutGroup:
    """The parts that are cut from one material, and what to take from stock for them.

    then: what is done with them at once. place: where on a ticket they are cut. times: of several alike how
    often every row is cut, "× 20"; empty where the rows count them, as rows of rails do. What is taken is for one.
    """

    name: str
    take: str
    rows: tuple[CutRow, ...]
    rails: bool = False
    then: str = ""
    place: TicketPlace = TicketPlace.CUTTER
    times: str = ""

    def headed(self, *, dense: bool) -> bool:
        """Tell whether its name stands over its rows, not in the only one, nor on a dense ticket in the first."""
        return self.rails or (len(self.rows) > 1 and not dense)

    def label(self, number: int) -> str:
        """Return what a row says where the name of the group is not over it, but in the first."""
        behind = self.rows[number].label
        if number:
            return behind
        return f"{self.name} {self.times} {self.said}" + (f": {behind}" if behind else "")

    @property
    def said(self) -> str:
        """What is taken for it, and what is done with it at once."""
        return f"{self.take}; {self.then}" if self.then else self.take

    @property
    def counted(self) -> bool:
        """Whether each row says how many parts there are of it."""
        return self.rails or self.place is TicketPlace.SPACERS


@dataclass(frozen=True, slots=True, kw_only=True)
class CutListBasis:
    """What the cut list is made of. mat_word: as the shop calls a mat; saw_loss: for each rail."""

    agreed: Agreed
    found: Findings
    figures: Figures
    mat_word: str
    saw_loss: Length

    @property
    def cut(self) -> Dimensions:
        """The piece in the steps that were agreed."""
        return self.found.cut

    def many(self, count: int, parts: str) -> str:
        """Count parts of one piece for all that are alike: "2 rails", of twenty "40 rails (2 × 20)"."""
        copies = self.agreed.copies
        return (
            f"{count} {parts}" if copies == 1 else f"{count * copies} {parts} ({count} × {copies})"
        )


def cut_list(cutting: CutListBasis) -> tuple[CutGroup, ...]:
    """Return the groups: mats from the top one down, fillet, glazing, boards, spacers, frames from the
    inner one out.
    """
    groups = _each_checked_once(
        *_mats(cutting),
        *_fillets(cutting),
        *_panels(cutting),
        *_spacers(cutting),
        *_frames(cutting),
    )
    copies = cutting.agreed.copies
    if copies == 1:
        return groups
    return tuple(
        replace(
            group,
            times="" if group.counted else f"× {copies}",
            take=f"{group.take} for each of the {copies}" if group.rails else group.take,
        )
        for group in groups
    )


def _each_checked_once(*groups: CutGroup) -> tuple[CutGroup, ...]:
    """Note of each row whether its size stands above it."""
    seen: set[PrintedFigure] = set()

    def noted(row: CutRow) -> CutRow:
        known = row.figure in seen
        seen.add(row.figure)
        return replace(row, said_above=known)

    return tuple(replace(group, rows=tuple(map(noted, group.rows))) for group in groups)


def _mats(cutting: CutListBasis) -> Iterator[CutGroup]:
    cut, figures = cutting.cut, cutting.figures
    word = cutting.mat_word.capitalize()
    ready = cutting.found.facts.ready_mats
    mats = zip(cut.layers, cut.spec.mats, cutting.agreed.chosen.mats, strict=True)
    for layer, mat, material in mats:
        core = "" if mat.core is Core.WHITE else f", {mat.core} core"
        yield CutGroup(
            name=numbered(word, layer.layer, len(cut.layers)),
            take=sheet_text(material, layer.blank, figures) + core,
            rows=(
                CutRow(
                    label=f"blank, {READY}" if layer.layer in ready else "blank",
                    figure=figures.of_size(layer.blank),
                ),
                *_windows(cut, cut.windows_of(layer.layer), figures),
            ),
        )


def _windows(cut: Dimensions, windows: tuple[Window, ...], figures: Figures) -> Iterator[CutRow]:
    """Return the windows of a mat, equal ones in one row (G9)."""
    slots = {opening.slot_name: opening.name for opening in cut.spec.openings if opening.slot}
    alike: dict[tuple[bool, Size, Shape, Length | None], list[str]] = {}
    for window in windows:
        kind = (window.name in slots, window.size, window.shape, window.rise)
        alike.setdefault(kind, []).append(slots.get(window.name, window.name))
    for (slot, size, shape, rise), names in alike.items():
        named = names if len(windows) > 1 else []
        label = slot_label(named) if slot else window_label(named, shape)
        label += curve_in_words(size, shape, rise, figures)
        yield CutRow(label=label, figure=figures.of_size(size), ticked=False)


def window_label(names: Sequence[str], shape: Shape) -> str:
    """As "window"; with their names "8 windows A–H"; with a shape that no straight cut makes
    "window B, oval" (G20).
    """
    shaped = "" if shape is Shape.RECTANGLE else f", {shape.value}"
    return f"{_counted('window', names)} {in_short(names)}".rstrip() + shaped


def curve_in_words(size: Size, shape: Shape, rise: Length | None, figures: Figures) -> str:
    """Say what the curve of a window is drawn by, after its shape: ", half axes 101 and 131" (G20).

    Of an arch ", radius 95 over sides of 205", of one that is half an oval ", rise 60 over sides of 190"; of a straight one nothing.
    """
    if shape is Shape.ARCH and rise is not None:
        curve = "radius" if rise * 2 == size.width else "rise"
        sides = figures.on_rule(size.height - rise)
        return f", {curve} {figures.on_rule(rise)} over sides of {sides}"
    if shape is Shape.OVAL:
        across, down = figures.on_rule(size.width / 2), figures.on_rule(size.height / 2)
        return f", radius {across}" if across == down else f", half axes {across} and {down}"
    return ""


def slot_label(names: Sequence[str]) -> str:
    """Name title slots: "2 title slots under D, E"."""
    return f"{_counted('title slot', names)} under {in_short(names)}"


def _counted(word: str, names: Sequence[str]) -> str:
    return counted(len(names), word) if len(names) > 1 else word


def _fillets(cutting: CutListBasis) -> Iterator[CutGroup]:
    """Return one group for the fillets of all windows; equal rails of several are cut together (G19)."""
    material, fillets = cutting.agreed.chosen.fillet, cutting.cut.fillets
    if material is None or not fillets:
        return
    figures, loss, rails = cutting.figures, cutting.saw_loss, cutting.cut.fillet_rails
    if len(fillets) == 1:
        take = moulding_text(material, fillets[0].long_points, loss, figures)
        rows = _rails(fillets[0], cutting)
    else:
        take = rails_text(material, [(each.long, each.count) for each in rails], loss, figures)
        rows = tuple(
            CutRow(
                label=f"{cutting.many(each.count, 'rails')} {in_short(each.names)}",
                figure=figures.of_length(each.long),
                short=figures.of_rule(each.short),
            )
            for each in rails
        )
    yield CutGroup(
        name="Fillet",
        take=take,
        rows=rows,
        rails=True,
        then=EQUAL_RAILS,
        place=TicketPlace.FILLET,
    )


def _panels(cutting: CutListBasis) -> Iterator[CutGroup]:
    cut, chosen = cutting.cut, cutting.agreed.chosen
    ready = cutting.found.facts.ready_boards
    for name, material, size, place in (
        ("Glazing", chosen.glazing, cut.glazing, TicketPlace.GLAZING),
        ("Mount board", chosen.mount_board, cut.mount_board, TicketPlace.BOARDS),
        ("Backing", chosen.backing, cut.backing, TicketPlace.BOARDS),
    ):
        if material is not None and size is not None:
            yield CutGroup(
                name=name,
                take=sheet_text(material, size, cutting.figures),
                rows=(CutRow(label="", figure=cutting.figures.of_size(size)),),
                then=READY if name.lower() in ready else _then(material),
                place=place,
            )


def _then(material: Material) -> str:
    """Say what is done with glazing at once after the cut."""
    traits = material.sheet.traits if material.sheet else frozenset()
    if Trait.ACRYLIC in traits:
        return "film on"
    return "dull the edges" if Trait.GLASS in traits else ""


def _spacers(cutting: CutListBasis) -> Iterator[CutGroup]:
    material, spacer = cutting.agreed.chosen.spacer, cutting.agreed.spec.spacer
    if material is None or spacer is None:
        return
    figures = cutting.figures
    places = ("top, bottom", "left, right")
    deep = figures.marked(spacer.depth)
    yield CutGroup(
        name="Spacers",
        take=f"{material.code} {material.name.removesuffix(f', {deep}')}, {deep} deep, "
        f"{figures.marked(spacer.width)} wide",
        rows=tuple(
            CutRow(
                label=f"{cutting.many(count, 'strips')} {place}", figure=figures.of_length(length)
            )
            for (length, count), place in zip(cutting.cut.spacers, places, strict=True)
        ),
        place=TicketPlace.SPACERS,
    )


def _frames(cutting: CutListBasis) -> Iterator[CutGroup]:
    cut, chosen = cutting.cut, cutting.agreed.chosen
    tray = cutting.agreed.spec.presentation is Presentation.CANVAS_FLOAT
    for number, (sizes, material) in enumerate(zip(cut.frames, chosen.frames, strict=True), 1):
        word = "Tray" if tray and number == 1 else "Frame"
        yield CutGroup(
            name=word if tray and number == 1 else numbered(word, number, len(cut.frames)),
            take=_take(material, sizes, cutting),
            rows=_rails(sizes, cutting),
            rails=True,
            then=EQUAL_RAILS,
            place=TicketPlace.RAILS,
        )


def _take(material: Material, sizes: FrameSizes, cutting: CutListBasis) -> str:
    return moulding_text(material, sizes.long_points, cutting.saw_loss, cutting.figures)


def _rails(sizes: FrameSizes | FilletSizes, cutting: CutListBasis) -> tuple[CutRow, ...]:
    """Return two rails of each length, the longer ones first, as they are cut."""
    figures, places = cutting.figures, ("top, bottom", "left, right")
    rows = zip(sizes.long_points, sizes.short_points, places, strict=True)
    return tuple(
        CutRow(
            label=f"{cutting.many(2, 'rails')} {place}",
            figure=figures.of_length(long),
            short=figures.of_rule(short),
        )
        for long, short, place in sorted(rows, key=lambda row: row[0], reverse=True)
    )
