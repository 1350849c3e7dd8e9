"""The steps of a piece as its page shows them: figures, cautions, boxes, and what a tick offers."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from app.bench import StageOffer, Step, StepCode, StepPart, step_after
from app.counting import counted, plural
from app.documents.kit.printing import Figures
from app.framing import Shape
from app.lengths import Length
from app.orders import Stage
from app.orders.copies import may_become
from app.orders.step_ticks import Tick, asked_the_same, done_before, standing
from app.services.bench import AtBench
from app.web.orders.acts import NEXT_ACT, most_of
from app.web.pieces.cutter_panel import Naming, SettingView, setting_view
from app.web.pieces.how import HowView, how_view


@dataclass(frozen=True, slots=True, kw_only=True)
class PartView:
    """A part of a step. count: as "2 ×", of several alike for all of them, empty for one. each: as ", 2 for each"
    of several alike, else empty. check: its size in the other unit.
    """

    name: str
    count: str
    each: str
    size: str
    check: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferView:
    """The stage that a ticked step offers. words: of its button; remark: what is still open.

    most: of several alike how many may come to it, 0 for a single piece.
    """

    stage: str
    words: str
    remark: str
    most: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StepView:
    """A step with its box. before: what it said when it was ticked, where that was something else: it is open again, and
    at and by tell of that tick.

    each: "each of the 20" where the step is done for every one of several alike and no part of it says so.
    keep: the fallouts that are kept at it. layers: the mats whose marks are drawn for it.
    how: how such a step is done, for who asks; None once it is done.
    stage: which stage of the piece says that it is done, though nobody ticked it, and since when (at); else "".
    """

    id: str
    text: str
    each: str
    parts: tuple[PartView, ...]
    setting: SettingView | None
    layers: tuple[int, ...]
    cautions: tuple[str, ...]
    how: HowView | None
    keep: tuple[str, ...]
    ticked: bool
    at: datetime | None
    by: str
    stage: str
    before: str
    offer: OfferView | None

    @property
    def done(self) -> bool:
        """Whether it was ticked or the stage says that it is done."""
        return self.ticked or bool(self.stage)


@dataclass(frozen=True, slots=True, kw_only=True)
class TickLine:
    """One line of the record."""

    at: datetime
    what: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepList:
    """The work on a piece. done: how many steps are. next: (id, text) of the first that is not; None when all are.

    before: what was ticked of steps that the piece has no more since it, or the cutter, was changed.
    """

    steps: tuple[StepView, ...]
    done: int
    next: tuple[str, str] | None
    before: tuple[TickLine, ...]
    record: tuple[TickLine, ...]


def steps_of(at: AtBench, figures: Figures, name: Naming) -> StepList:
    """Return the steps of a piece at the bench, with their ticks.

    name: returns what a mat is called by its layer.
    """
    ticks = standing(at.ticks)
    views = tuple(_StepViews(at, ticks, figures, name).all())
    following = step_after(at.bench.steps, frozenset(view.id for view in views if view.done))
    return StepList(
        steps=views,
        done=sum(view.done for view in views),
        next=None if following is None else (following.id, capital(following.text)),
        before=tuple(
            TickLine(at=tick.at, what=capital(tick.text), by=tick.by)
            for tick in done_before(at.ticks, at.bench.steps)
        ),
        record=tuple(_record(at)),
    )


def capital(text: str) -> str:
    """Return the text with its first letter in upper case, to begin a sentence."""
    return text[:1].upper() + text[1:]


class _StepViews:
    """Makes the views of one piece's steps."""

    def __init__(
        self, at: AtBench, ticks: Mapping[str, Tick], figures: Figures, name: Naming
    ) -> None:
        self.at, self.ticks, self.figures, self.name = at, ticks, figures, name
        self.kept = at.bench.kept
        self.copies = at.piece.copies

    def all(self) -> Iterator[StepView]:
        for step in self.at.bench.steps:
            yield self._view(step)

    def _view(self, step: Step) -> StepView:
        tick, ticked = self.ticks.get(step.id), self._ticked(step)
        moved = None if ticked else self.at.done_by_stage(step)
        keep = self._keep(step)
        parts = () if keep else tuple(self._parts(step.parts))
        said = self.copies == 1 or parts or keep
        return StepView(
            id=step.id,
            text=capital(step.said if ticked or moved else step.beside_figures),
            each="" if said else f"each of the {self.copies}",
            parts=parts,
            setting=self._setting(step),
            layers=() if step.setting else step.layers,
            cautions=step.cautions,
            how=None
            if ticked or moved
            else how_view(
                step.code, self.at.bench.mat_word, stops=self.at.bench.cutter.stops.fitted
            ),
            keep=keep,
            ticked=ticked,
            at=moved.at if moved else tick.at if tick else None,
            by="" if moved or tick is None else tick.by,
            stage=moved.new.value if moved else "",
            before="" if ticked or tick is None else capital(tick.text),
            offer=self._offer(step) if ticked else None,
        )

    def _ticked(self, step: Step) -> bool:
        """Tell whether a step was ticked as it is asked now: one whose figures changed since is open again (M7)."""
        tick = self.ticks.get(step.id)
        return tick is not None and asked_the_same(tick, step)

    def _setting(self, step: Step) -> SettingView | None:
        plan = self.at.bench.plan
        if step.setting is None or plan is None:
            return None
        return setting_view(plan, step.setting, step.cuts, self.name)

    def _parts(self, parts: Iterable[StepPart]) -> Iterator[PartView]:
        """Return the parts that have a size; several of one size, as the fallouts of equal windows, are one line."""
        by_size: dict[tuple[Length, ...], list[StepPart]] = {}
        for part in parts:
            if part.lengths:
                by_size.setdefault(part.lengths, []).append(part)
        for lengths, alike in by_size.items():
            of_one = sum(part.count for part in alike)
            count = of_one * self.copies
            name = alike[0].name if len(alike) == 1 else alike[0].name.partition(" ")[0]
            name = name.removeprefix("the ")
            yield PartView(
                name=name,
                count=f"{count} ×" if count > 1 else "",
                each=f", {of_one} for each" if self.copies > 1 and of_one > 1 else "",
                size=" × ".join(map(self.figures.length, lengths)),
                check=" × ".join(map(self.figures.check, lengths)),
            )

    def _keep(self, step: Step) -> tuple[str, ...]:
        """Return what drops out at a step and is kept; several of one size are one line."""
        if step.code is not StepCode.DROP_OUT:
            return ()
        kept = Counter(
            (self.figures.size(each.sound), each.board.name, each.board.code, each.shape)
            for each in self.kept
            if step.id == f"mat-{each.layer}-drop"
        )
        return tuple(
            f"{f'{count * self.copies} pieces ' if count * self.copies > 1 else ''}{size} of {name} ({code})"
            + ("" if shape is Shape.RECTANGLE else ", rectangle inside the curve")
            for (size, name, code, shape), count in kept.items()
        )

    def _offer(self, step: Step) -> OfferView | None:
        """Return the stage that may follow now, and how many steps of the same kind are still open."""
        if step.offers is None:
            return None
        stage = Stage(step.offers.value)
        if not may_become(self.at.piece.stands, stage):
            return None
        return OfferView(
            stage=stage.value,
            words=NEXT_ACT[stage],
            remark=self._still_open(step.offers),
            most=most_of(self.at.piece, stage),
        )

    def _still_open(self, offer: StageOffer) -> str:
        """Say how many of the steps that the stage stands for are not ticked."""
        cutting = offer is StageOffer.CUT
        steps = (step for step in self.at.bench.steps if step.code.cutting or not cutting)
        count = sum(not self._ticked(step) for step in steps)
        kind = "cutting step" if cutting else "step"
        if not count:
            return ""
        return f"{counted(count, f'{kind} is', f'{plural(kind)} are')} still open."


def _record(at: AtBench) -> Iterator[TickLine]:
    """Return every tick, every taking back and what was noted of spoiled parts, the latest first.

    A step that is gone keeps the words it had.
    """
    texts = {step.id: capital(step.text) for step in at.bench.steps}
    lines = [TickLine(at=each.at, what=capital(each.what), by=each.by) for each in at.noted]
    for tick in at.ticks:
        text = texts.get(tick.step, capital(tick.text))
        what = text if tick.ticked else f"Undone: {text}"
        lines.append(TickLine(at=tick.at, what=what, by=tick.by))
    yield from sorted(lines, key=lambda line: line.at)[::-1]
