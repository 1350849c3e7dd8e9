"""Makes the settings of the guide and the marks on the boards ready to print.

Serves the page of a piece at the bench and that of a test cut. Edges are named as they lie on the
cutter, back up, everywhere here.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from markupsafe import Markup

from app.bench import (
    Cut,
    CutLine,
    Cutter,
    GuidePlan,
    Mark,
    MatToCut,
    Reads,
    Scale,
    Setting,
    Sizing,
    StopPlaces,
    by_stops,
    marks_of,
)
from app.counting import counted
from app.documents.kit.arm_rows import ArmRow, arm_rows
from app.drawings import NotedDrawing
from app.framing import Notice
from app.lengths import ZERO, Unit
from app.web.pieces.readable import readable

type Naming = Callable[[int], str]
"""From a layer to what the mat is called on this page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StopView:
    """One stop on the bar. which: "near" or "far"; at: as the scale reads; check: in the other unit."""

    which: str
    at: str
    check: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MatCuts:
    """The cuts of one mat at one setting of the guide and the stops. stops: those to set, if any."""

    mat: str
    edges: str
    stops: tuple[StopView, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingView:
    """One setting of the guide.

    pin, rest: empty for a cutter without holes. check: the figure in the other unit, for checking only.
    """

    number: int
    at: str
    pin: str
    rest: str
    check: str
    cuts: tuple[MatCuts, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GuidePanel:
    """The settings of the guide in the order of work.

    moves: in words, how often the guide is set. by_hand: the edges that the cutter cannot make,
    mat by mat, by straight-edge.
    """

    cutter: str
    unit: str
    check_unit: str
    about: str
    settings: tuple[SettingView, ...]
    by_hand: tuple[MatCuts, ...]
    moves: str
    notices: tuple[Notice, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkRow:
    """The marks of one cut: the board edge against the guide, the line from it, where the cut starts and ends.

    start, end: empty where a stop binds the cut.
    """

    window: str
    edge: str
    line: str
    start: str
    end: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MatMarks:
    """The marks of one mat as it lies on the cutter.

    unit: that of the scale, in which the figures are. check_unit: that of the figures in brackets, ""
    where there are none. drawing: None where only figures are wanted. notes: how it is read, said under it.
    """

    layer: int
    mat: str
    side: str
    unit: str
    check_unit: str
    drawing: Markup | None
    notes: tuple[str, ...]
    rows: tuple[MarkRow, ...]

    @property
    def starts(self) -> bool:
        """Whether any cut has its start marked."""
        return not self.rows or any(row.start for row in self.rows)

    @property
    def ends(self) -> bool:
        """Whether any cut has its end marked."""
        return not self.rows or any(row.end for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmPanel:
    """What is set on the squaring arm, in the order of work. units: of the figures and of their check."""

    unit: str
    check_unit: str
    rows: tuple[ArmRow, ...]


def arm_panel(found: Sizing | None, cutter: Cutter) -> ArmPanel | None:
    """Make the panel of sizing; None where nothing is sized on an arm (B11)."""
    if found is None or not found.settings:
        return None
    scale = cutter.scale
    return ArmPanel(
        unit=scale.unit.value,
        check_unit=scale.other.value,
        rows=arm_rows(found.settings, scale),
    )


def guide_panel(plan: GuidePlan, name: Naming) -> GuidePanel:
    """Make the panel of a plan.

    name: returns what a mat is called by its layer.
    """
    unit = plan.cutter.unit
    return GuidePanel(
        cutter=plan.cutter.name,
        unit=unit.value,
        check_unit=unit.other.value,
        about=about_scale(plan.cutter),
        settings=tuple(
            setting_view(plan, setting, setting.cuts, name) for setting in plan.settings
        ),
        by_hand=tuple(
            MatCuts(mat=name(mat.layer), edges=_edges(plan.by_hand_of(mat)))
            for mat in dict.fromkeys(cut.mat for cut in plan.by_straight_edge)
        ),
        moves=_moves(plan),
        notices=plan.notices,
    )


def setting_view(
    plan: GuidePlan, setting: Setting, cuts: Iterable[Cut], name: Naming
) -> SettingView:
    """Make the view of one setting with the cuts that are made there."""
    cuts = tuple(cuts)
    mats = dict.fromkeys(cut.mat.key for cut in cuts)
    return SettingView(
        number=setting.number,
        at=plan.text(setting.at),
        pin="" if setting.pin is None else plan.text(setting.pin),
        rest=plan.rest_text(setting),
        check=plan.check_text(setting.at),
        cuts=tuple(
            MatCuts(mat=name(layer), edges=_edges(at), stops=stop_views(plan, places))
            for piece, layer in mats
            for places, at in by_stops(cut for cut in cuts if cut.mat.key == (piece, layer))
        ),
    )


def edges_by_mat(cuts: Iterable[Cut], name: Naming) -> tuple[tuple[str, str], ...]:
    """Return each mat with its edges that are cut at one setting of the guide and the stops."""
    by_mat: dict[tuple[str, int], list[Cut]] = {}
    for cut in cuts:
        by_mat.setdefault(cut.mat.key, []).append(cut)
    return tuple((name(layer), _edges(own)) for (_, layer), own in by_mat.items())


def stop_views(plan: GuidePlan, places: StopPlaces) -> tuple[StopView, ...]:
    """Make the views of the stops that are set, the near one first."""
    return tuple(
        StopView(which=which, at=plan.text(at), check=plan.check_text(at))
        for which, at in (("near", places.near), ("far", places.far))
        if at is not None
    )


def _edges(cuts: Iterable[Cut]) -> str:
    """Name the edges that are cut: "left, top, right"; of several windows "left of A, B; top of A"."""
    cuts = tuple(cuts)
    by_edge: dict[str, list[str]] = {}
    for cut in cuts:
        by_edge.setdefault(cut.edge_as_it_lies.value, []).append(cut.window.name)
    several = any(len(cut.mat.windows) > 1 for cut in cuts)
    if not several:
        return ", ".join(by_edge)
    return "; ".join(f"{edge} of {', '.join(names)}" for edge, names in by_edge.items())


def about_scale(cutter: Cutter) -> str:
    """Say what the scale's figures refer to, where that is not obvious."""
    said = []
    if cutter.reads is Reads.FACE:
        said.append("The scale reads the line at the face.")
    if cutter.guide_correction:
        said.append(
            f"The correction of the guide, {cutter.say(cutter.guide_correction)}, is in every setting already: set the "
            "figure as it stands here."
        )
    return " ".join(said)


def _moves(plan: GuidePlan) -> str:
    return counted(plan.moves, "guide setting")


def mat_marks(
    mat: MatToCut, cutter: Cutter, ticket: Unit, *, name: str, drawing: NotedDrawing | None = None
) -> MatMarks:
    """Make the marks of a mat as the cutter's scale reads.

    ticket: the unit of their check values (L3).
    """
    marks = marks_of(mat, cutter)
    several = len(mat.windows) > 1
    rows = _MarkRows(cutter.scale, ticket, several)
    return MatMarks(
        layer=mat.layer,
        mat=name,
        side="back up" if mat.back_up else "face up",
        unit=cutter.unit.value,
        check_unit="" if ticket is cutter.unit else ticket.value,
        drawing=readable(drawing.svg) if drawing else None,
        notes=drawing.notes if drawing else (),
        rows=tuple(map(rows.row, marks.cut_lines)),
    )


@dataclass(frozen=True, slots=True)
class _MarkRows:
    """Writes marks as the scale reads.

    named: whether a row says its window.
    """

    scale: Scale
    ticket: Unit
    named: bool

    def row(self, line: CutLine) -> MarkRow:
        cut = line.cut
        return MarkRow(
            window=cut.window.name if self.named else "",
            edge=f"{cut.edge_as_it_lies}{', by straight-edge' if cut.by_straight_edge else ''}",
            line=self.scale.mark(cut.distance, self.ticket),
            start=self._from(line.from_start) if cut.start_to_mark else "",
            end=self._from(line.from_end) if cut.end_to_mark else "",
        )

    def _from(self, mark: Mark) -> str:
        """Say from where a mark is measured: "70 from the top"; a cut that begins beyond the board says so."""
        if mark.distance < ZERO:
            return f"{self.scale.mark(-mark.distance, self.ticket)} past the {mark.edge.value}"
        return f"{self.scale.mark(mark.distance, self.ticket)} from the {mark.edge.value}"
