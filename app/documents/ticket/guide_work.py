"""The mats at the cutter: marking, settings of the guide, dropping out, in the order of work.

Owns how the bench's settings and steps stand on a ticket. Settings are figures of the scale and
stand in its unit, which may not be the ticket's (L3). Edges are named as the mat lies on the cutter.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from app.bench import Cut, GuidePlan, Reads, Setting, Step, StepCode, by_stops
from app.counting import counted
from app.documents.kit.printing import Figures, unbroken
from app.framing import Shape
from app.framing.layer_names import numbered
from app.framing.window_names import in_short
from app.lengths import Length, Unit
from app.orders.fallouts import KeptFallout
from app.orders.workbench import Workbench

AT_GUIDE = frozenset(
    {
        StepCode.MARK,
        StepCode.FIX_BEHIND,
        StepCode.CUT_WINDOW,
        StepCode.CUT_CURVES,
        StepCode.DROP_OUT,
        StepCode.MATS_TOGETHER,
    }
)
"""Steps that are ticked here; blanks are sized with the other parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where the guide stands. at: empty where it stays from the row before; check: never set."""

    number: int
    at: str
    pin: str
    check: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BetweenStops:
    """Where the stops stand for a part of a row's edges. near, far: empty for a stop that is not set.

    edges: which, empty where it is all of the row. again: whether the same stop was named just before.
    """

    near: str
    far: str
    edges: str
    again: bool = False

    @property
    def where(self) -> str:
        """The stops in words; "stops", which stands before several pairs, is not in them."""
        if self.pair:
            return f"{unbroken(f'near {self.near},')} {unbroken(f'far {self.far}')}"
        if self.again:
            return unbroken(self.near or self.far)
        return unbroken(f"near stop {self.near}" if self.near else f"far stop {self.far}")

    @property
    def pair(self) -> bool:
        """Whether both are set."""
        return bool(self.near and self.far)


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideRow:
    """One step to tick. stand: None without the guide. mat: whose edges text names, with a stand.

    stops: where they stand for its edges; empty for a cutter without.
    """

    text: str
    mat: str = ""
    stand: Stand | None = None
    stops: tuple[BetweenStops, ...] = ()

    @property
    def stop_lines(self) -> tuple[tuple[BetweenStops, ...], ...]:
        """The stops in lines of their own: each pair in one, those of one stop together."""
        if any(each.pair for each in self.stops):
            return tuple((each,) for each in self.stops)
        return (self.stops,) if self.stops else ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideWork:
    """Everything that is done with the mats at the cutter.

    about: the cutter, its scale, how often the guide is set; in_short: without the scale, whose unit a ticket says
    elsewhere too. scale: its unit. loud: where that is not the ticket's; empty else.
    """

    about: str
    in_short: str
    scale: str
    loud: str
    rows: tuple[GuideRow, ...]


def guide_work(bench: Workbench, figures: Figures, mat_word: str) -> GuideWork | None:
    """Return the work at the cutter; None for a piece without mats."""
    plan = bench.plan
    if plan is None:
        return None
    rows = tuple(_rows(bench, plan, figures, mat_word))
    return GuideWork(
        about=_about(plan, f"scale in {short_name(plan.cutter.unit)}", "guide setting"),
        in_short=_about(plan, "", "setting"),
        scale=in_words(plan.cutter.unit),
        loud=_loud(plan, figures) if plan.settings else "",
        rows=rows,
    )


def in_words(unit: Unit) -> str:
    """Return the word for a unit."""
    return "millimetres" if unit is Unit.MM else "inches"


def short_name(unit: Unit) -> str:
    """Return the shortest name of a unit that is not misread."""
    return "mm" if unit is Unit.MM else "inches"


def _rows(bench: Workbench, plan: GuidePlan, figures: Figures, mat_word: str) -> Iterator[GuideRow]:
    stands_at = 0
    for step in bench.steps:
        if step.code not in AT_GUIDE:
            continue
        if step.setting is None:
            yield GuideRow(text=step.text + _more(step, bench, figures))
            continue
        layer = step.cuts[0].mat.layer
        yield GuideRow(
            text=edges_in_words(step.cuts),
            mat=numbered(mat_word, layer, len(bench.mats)),
            stand=_stand(plan, step.setting, stays=stands_at == step.setting.number),
            stops=tuple(_stops(plan, step.cuts, figures)),
        )
        stands_at = step.setting.number


def _stand(plan: GuidePlan, setting: Setting, *, stays: bool) -> Stand:
    if stays:
        return Stand(number=setting.number, at="", pin="", check="")
    return Stand(
        number=setting.number,
        at=plan.text(setting.at),
        pin=pin_in_words(plan, setting),
        check=plan.check_text(setting.at),
    )


def _stops(plan: GuidePlan, cuts: Iterable[Cut], figures: Figures) -> Iterator[BetweenStops]:
    """Yield where the stops stand, as the scale reads, on a ticket in the other unit with check values (B9)."""

    def read(at: Length | None) -> str:
        return "" if at is None else plan.cutter.scale.mark(at, figures.unit)

    groups = [(places, at) for places, at in by_stops(cuts) if plan.cutter.stops.fitted]
    before = ""
    for places, at in groups:
        if places.any_set:
            near, far = read(places.near), read(places.far)
            which = "" if near and far else "near" if near else "far"
            yield BetweenStops(
                near=near,
                far=far,
                edges=edges_in_words(at) if len(groups) > 1 else "",
                again=bool(which) and which == before,
            )
            before = which


def pin_in_words(plan: GuidePlan, setting: Setting) -> str:
    """Write the pin and what is read off the scale after it: "pin 70, then 6" (B2)."""
    if setting.pin is None:
        return ""
    rest = plan.rest_text(setting)
    return f"pin {plan.text(setting.pin)}{f', then {rest}' if rest else ''}"


def edges_in_words(cuts: Iterable[Cut]) -> str:
    """Name the edges that are cut: "left, top, right"; of several windows "left of A–C; top of A"."""
    cuts = tuple(cuts)
    by_edge: dict[str, list[str]] = {}
    for cut in cuts:
        by_edge.setdefault(cut.edge_as_it_lies.value, []).append(cut.window.name)
    if all(len(cut.mat.windows) == 1 for cut in cuts):
        return "all four sides" if len(by_edge) == 4 else ", ".join(by_edge)
    return "; ".join(f"{edge} of {in_short(sorted(names))}" for edge, names in by_edge.items())


def _about(plan: GuidePlan, scale: str, setting: str) -> str:
    cutter = plan.cutter
    if not plan.settings:
        return ""
    said = [cutter.name, scale] if scale else [cutter.name]
    if cutter.reads is Reads.FACE:
        said.append("read at the face")
    if cutter.guide_correction:
        said.append(f"its correction of {cutter.say(cutter.guide_correction)} included")
    said.append(counted(plan.moves, setting))
    return ", ".join(said)


def _loud(plan: GuidePlan, figures: Figures) -> str:
    if plan.cutter.unit is figures.unit:
        return ""
    scale, other = in_words(plan.cutter.unit), short_name(figures.unit)
    return f"Set and mark in {scale}, as the scale of {plan.cutter.name} reads; grey: {other}"


def _more(step: Step, bench: Workbench, figures: Figures) -> str:
    """Say what else a step needs: a slip sheet for the cuts to come, the fallouts to keep."""
    match step.code:
        case StepCode.MARK if bench.plan and bench.plan.settings:
            return "; a waste slip sheet under every cut"
        case StepCode.DROP_OUT:
            return _kept_at(step, bench.kept, figures)
        case _:
            return ""


def _kept_at(step: Step, kept: tuple[KeptFallout, ...], figures: Figures) -> str:
    """Say what is kept of what drops out, equal pieces together (C5)."""
    together: dict[str, int] = {}
    for each in kept:
        if step.id == f"mat-{each.layer}-drop":
            shaped = "" if each.shape is Shape.RECTANGLE else ", rectangle inside the curve"
            text = f"{figures.size(each.sound)} of {each.board.name}{shaped}"
            together[text] = together.get(text, 0) + 1
    if not together:
        return ""
    pieces = (f"{count} pieces {text}" if count > 1 else text for text, count in together.items())
    return f"; keep: {', '.join(pieces)}"
