"""The paper of pieces that are cut together: what to fetch, each setting of the guide with its boxes, the marks (B10).

Owns the document's page model. Settings are figures of the scale and stand in its unit (L3); edges are named as the
mats lie on the cutter.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from app.bench import ArmSetting, StepCode, StepOfDay, marks_of, sized_on_arm
from app.documents.kit.arm_rows import ArmRow, arm_rows
from app.documents.kit.page_code import PageCode, page_code
from app.documents.kit.pdf import sheets_for, to_pdf
from app.documents.kit.pictures import data_uri
from app.documents.kit.printing import Figures, page_html
from app.documents.ticket.back_plan import back_plan
from app.documents.ticket.cut_list import READY
from app.documents.ticket.guide_work import edges_in_words, in_words, pin_in_words, short_name
from app.documents.ticket.mat_plans import MatPlan
from app.errors import Invalid
from app.framing import Notice
from app.framing.layer_names import numbered
from app.lengths import Size, Steps, say, show_size
from app.orders import Paper
from app.orders.cut_together import (
    CutTogether,
    PieceTogether,
    notices_together,
    proven_in_words,
    saving_in_words,
)

MOST_DRAWN = 12
"""Mats that are drawn with their marks; of more, each piece's ticket has them. Source: ours."""

MOST_ROWS = 500
"""Lines of work that one paper takes, some twenty pages; of more it takes longer than anybody waits. Source: ours."""

DRAWN_IN = {4: (88.0, 100.0), 6: (88.0, 68.0), MOST_DRAWN: (86.0, 54.0)}
"""The room of a drawing where there are so many at most, mm: two beside each other on A4 and Letter, on one page."""

DRAWN_ON_A5 = {2: (58.0, 64.0), MOST_DRAWN: (58.0, 50.0)}

SIDES = 2
"""Lengths of a blank: its width and its height."""

FEW_ROWS = 20
"""So many lines of work stand wider apart, as their paper has room. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TogetherPrinting:
    """How the paper is printed. address: of the list's page. phone_url: where phones reach the app, or None."""

    paper: Paper
    mat_word: str
    address: str
    phone_url: str | None
    today: date


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRow:
    """A piece to fetch. alike: "20 of these", or empty. boards: what is fetched for it."""

    name: str
    title: str
    about: str
    alike: str
    boards: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRow:
    """A step with its box. mat: whose edges text names, of a cut. box: False where it goes on at a later setting."""

    name: str
    title: str
    text: str
    alike: str
    mat: str = ""
    box: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class StandRows:
    """Steps while the stops stay. stops: as "near stop 58.5, far stop 463.5"; empty where none is set."""

    stops: str
    rows: tuple[StepRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingRows:
    """One move of the guide. pin: as "pin 70 + 6"; empty for a cutter without holes."""

    number: int
    at: str
    pin: str
    check: str
    stands: tuple[StandRows, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnMat:
    """The marks of one mat with the piece that it is of. wide: the room that it stands in, mm."""

    of: str
    plan: MatPlan
    wide: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TogetherSheet:
    """Everything that the paper says. roomy: whether sizes are set large; few: whether rows stand wider apart."""

    lang: str
    title: str
    cutter: str
    unit_name: str
    check_name: str
    saving: str
    proven: str
    notices: tuple[Notice, ...]
    cautions: tuple[str, ...]
    roomy: bool
    few: bool
    pieces: tuple[PieceRow, ...]
    arm: tuple[ArmRow, ...]
    sizing: tuple[StepRow, ...]
    marking: tuple[StepRow, ...]
    settings: tuple[SettingRows, ...]
    after: tuple[StepRow, ...]
    drawn: tuple[DrawnMat, ...]
    not_drawn: str
    code: PageCode | None
    printed: date


def together_pdf(together: CutTogether, printing: TogetherPrinting) -> bytes:
    """Make the PDF. Raises: PdfUnavailable; Invalid where the list is too long for one paper."""
    lines = sum(1 for _ in together.steps.all())
    if lines > MOST_ROWS:
        raise Invalid.at(
            "piece",
            f"The list has {lines:,} lines of work; one paper takes at most {MOST_ROWS}. Print it for fewer pieces "
            "at a time, or tick it here.",
        )
    sheets = sheets_for(printing.paper, "cutting-plan", "by-hand", "together")
    return to_pdf(together_html(together, printing), sheets)


def together_html(together: CutTogether, printing: TogetherPrinting) -> str:
    """Write the HTML of which the PDF is made."""
    return page_html("together.html", together_sheet(together, printing))


def together_sheet(together: CutTogether, printing: TogetherPrinting) -> TogetherSheet:
    """Return the page model."""
    rows = _Rows(together, printing)
    cutter = together.day.guide.cutter
    settings = tuple(rows.settings())
    drawn = tuple(rows.drawn())
    roomy = printing.paper is not Paper.A5
    return TogetherSheet(
        lang="en",
        title="Mats cut together",
        cutter=cutter.name,
        unit_name=in_words(cutter.unit),
        check_name=short_name(cutter.scale.other),
        saving=saving_in_words(together.day),
        proven=proven_in_words(together.day),
        notices=notices_together(together),
        cautions=cautions_of(together),
        roomy=roomy,
        few=roomy and sum(1 for _ in together.steps.all()) <= FEW_ROWS,
        pieces=tuple(rows.pieces()),
        arm=arm_rows_of(together, printing.mat_word),
        sizing=tuple(rows.row(step) for step in together.steps.sizing),
        marking=tuple(rows.row(step) for step in together.steps.marking),
        settings=settings,
        after=tuple(rows.row(step) for step in together.steps.after),
        drawn=drawn,
        not_drawn="" if drawn else "Their marks stand on the ticket of each piece.",
        code=page_code(printing.phone_url, printing.address),
        printed=printing.today,
    )


def arm_rows_of(together: CutTogether, mat_word: str) -> tuple[ArmRow, ...]:
    """Return what is set on the squaring arm for all blanks, in the order of work; none without an arm."""
    guide = together.day.guide
    if not sized_on_arm(guide.cutter):
        return ()
    return arm_rows(
        together.day.sizing.settings,
        guide.cutter.scale,
        lambda setting: _sides_in_words(together, setting, mat_word),
    )


def _sides_in_words(together: CutTogether, setting: ArmSetting, mat_word: str) -> str:
    """Name what is cut at a setting: "width of 2026-0148/2 mat 1, 20 × 2026-0149/1 mat; height of ..."."""
    by_sides: dict[str, list[str]] = {}
    for each in setting.blanks:
        blank = each.blank
        several = len(together.piece(blank.piece).bench.mats)
        name = f"{blank.piece} {numbered(mat_word, blank.layer or 1, several)}"
        count = f"{blank.count} × " if blank.count > 1 else ""
        by_sides.setdefault(" and ".join(each.sides), []).append(f"{count}{name}")
    return setting.marked(
        "; ".join(f"{sides} of {', '.join(names)}" for sides, names in by_sides.items())
    )


def cautions_of(together: CutTogether) -> tuple[str, ...]:
    """Return the cautions of the steps, each once."""
    said = (caution for each in together.steps.all() for caution in each.step.cautions)
    return tuple(dict.fromkeys(said))


def boards_of(piece: PieceTogether, mat_word: str, scale: Steps) -> Iterator[str]:
    """Yield what is fetched for each mat of a piece: "mat 2: Slate blue (M-140), 594 × 494 mm". scale: of the list,
    by which every figure of it is read (L3).
    """
    materials = piece.piece.agreed.chosen.mats
    for mat, material in zip(piece.bench.mats, materials, strict=True):
        name = numbered(mat_word, mat.layer, len(materials))
        size = say(_on_scale(mat.blank, scale), scale.unit)
        yield f"{name}: {material.name} ({material.code}), {size}"


def alike_in_words(piece: PieceTogether) -> str:
    """As "20 of these"; empty for a single piece."""
    copies = piece.piece.copies
    return f"{copies} of these" if copies > 1 else ""


def _on_scale(size: Size, scale: Steps) -> Size:
    return Size(scale.converted(size.width), scale.converted(size.height))


def step_in_words(each: StepOfDay, piece: PieceTogether, scale: Steps) -> str:
    """Return what a step without the guide asks for. scale: of the list, on which blanks and fallouts are read.

    Curves are cut on another cutter, in the ticket's unit, and so are lines by straight-edge where the piece alone is
    read on that scale: where that is not the unit of the list it says so.
    """
    text = each.step.text
    if each.step.code is StepCode.SIZE_BLANKS:
        ready = {
            part.name: f", {READY}"
            for part, mat in zip(each.step.parts, piece.bench.mats, strict=True)
            if mat.ready_cut
        }
        sides = ((part.name, part.lengths) for part in each.step.parts)
        sizes = ((name, Size(*lengths)) for name, lengths in sides if len(lengths) == SIDES)
        text = ", ".join(
            f"{name.removeprefix('the ')} {show_size(_on_scale(size, scale), scale.unit)}{ready.get(name, '')}"
            for name, size in sizes
        )
    text = text[:1].upper() + text[1:]
    if each.step.code is StepCode.DROP_OUT:
        kept = Counter(
            say(_on_scale(one.sound, scale), scale.unit)
            for one in piece.bench.kept
            if each.step.id == f"mat-{one.layer}-drop"
        )
        keep = (f"{count} pieces {size}" if count > 1 else size for size, count in kept.items())
        return f"{text}; keep {', '.join(keep)}" if kept else text
    sized = each.step.code is StepCode.CUT_CURVES or (
        each.step.code is StepCode.CUT_WINDOW and piece.bench.cutter.unit is piece.unit
    )
    if piece.unit is not scale.unit and sized:
        return f"{text} ({in_words(piece.unit)})"
    return text


@dataclass(frozen=True, slots=True)
class _Rows:
    """Makes the rows of one paper."""

    together: CutTogether
    printing: TogetherPrinting

    @property
    def scale(self) -> Steps:
        """The steps of the scale that the whole list is read on."""
        return self.together.day.guide.cutter.scale.steps

    def pieces(self) -> Iterator[PieceRow]:
        """Yield each piece with what is fetched for it."""
        for piece in self.together.pieces:
            kept = piece.piece.artwork.place
            about = (piece.order.customer_name, f"artwork at {kept}" if kept else "")
            yield PieceRow(
                name=piece.name,
                title=piece.title,
                about=", ".join(filter(None, about)),
                alike=alike_in_words(piece),
                boards=tuple(boards_of(piece, self.printing.mat_word, self.scale)),
            )

    def settings(self) -> Iterator[SettingRows]:
        """Yield each setting with its steps."""
        guide = self.together.day.guide
        for at in self.together.steps.settings:
            yield SettingRows(
                number=at.setting.number,
                at=guide.text(at.setting.at),
                pin=pin_in_words(guide, at.setting),
                check=guide.check_text(at.setting.at),
                stands=tuple(
                    StandRows(
                        stops=guide.stops_text(stand.places),
                        rows=tuple(map(self.row, stand.steps)),
                    )
                    for stand in at.stands
                ),
            )

    def row(self, each: StepOfDay) -> StepRow:
        """Return the row of a step."""
        piece = self.together.piece(each.piece)
        scale = self.scale
        mat = ""
        if each.cuts:
            layer = each.cuts[0].mat.layer
            mat = numbered(self.printing.mat_word, layer, len(piece.bench.mats))
        return StepRow(
            name=each.piece,
            title=piece.title,
            text=edges_in_words(each.cuts) if each.cuts else step_in_words(each, piece, scale),
            alike=alike_in_words(piece),
            mat=mat,
            box=each.done,
        )

    def drawn(self) -> Iterator[DrawnMat]:
        """Yield the marks of every mat where there are few enough."""
        mats = sum(len(piece.bench.mats) for piece in self.together.pieces)
        rooms = DRAWN_ON_A5 if self.printing.paper is Paper.A5 else DRAWN_IN
        room = next((room for most, room in rooms.items() if mats <= most), None)
        if room is None:
            return
        for piece in self.together.pieces:
            yield from self._drawn(piece, room)

    def _drawn(self, piece: PieceTogether, room: tuple[float, float]) -> Iterator[DrawnMat]:
        guide = self.together.day.guide
        figures = Figures(steps=piece.piece.agreed.steps)
        for mat in piece.mats:
            marks = marks_of(mat, guide.cutter)
            side = "back" if marks.back_up else "face, up for the reverse bevel,"
            name = numbered(self.printing.mat_word, mat.layer, len(piece.bench.mats))
            caption = f"{side} of {name}"
            picture = back_plan(marks, guide, figures, caption=caption, room=room)
            plan = MatPlan(
                image=data_uri(picture.svg),
                words=picture.words,
                caption="" if picture.captioned else caption,
            )
            yield DrawnMat(of=f"{piece.name} {piece.title}", plan=plan, wide=room[0])
