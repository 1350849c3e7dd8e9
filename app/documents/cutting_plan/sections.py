"""Works out what is done of each material of a kept plan: what is taken, how each stick and sheet is cut, and what is said of it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from app.bench import Blank, Cutter, Sizing, sized_on_arm, sizing
from app.cutting import OpenedSheet, OpenedStick, SheetPlan, StickPlan, Way
from app.documents.cutting_plan.summary import summary_of
from app.documents.cutting_plan.work import (
    ON_A_PHONE,
    Across,
    BinWork,
    PlanPart,
    PlanSetting,
    SectionWork,
    taken_in_words,
)
from app.documents.kit.arm_rows import arm_rows_for
from app.documents.kit.printing import Figures
from app.drawings.plans.sheet import SheetToCut
from app.drawings.plans.stick import StickToCut
from app.framing.notices.care import CAUTIONS, Work
from app.lengths import Length
from app.pricing import Kind, Trait
from app.stock.items import StockForm, StockItem
from app.stock.planning.cut_sequence import GuideSetting, guide_settings, stop_settings
from app.stock.planning.plans import BinAt, PlannedPart, PlanSection

MITRED = ("frame-", "fillet-")
"""Parts whose names begin so have mitred ends; strips between glazing and artwork are cut square."""


def sections_of(
    sections: Iterable[PlanSection],
    sources: Mapping[int, StockItem],
    figures: Figures,
    *,
    across: Across = ON_A_PHONE,
    cutter: Cutter | None = None,
) -> tuple[SectionWork, ...]:
    """Return the work of every section of a plan, numbered from 1.

    cutter: the one whose squaring arm the blanks are sized on.
    """
    return tuple(
        _Sections(
            section=section,
            number=number,
            sources=sources,
            figures=figures,
            across=across,
            cutter=cutter if cutter is not None and _on_arm(section, cutter) else None,
        ).work()
        for number, section in enumerate(sections, start=1)
    )


def _on_arm(section: PlanSection, cutter: Cutter) -> bool:
    """Tell whether the parts of a section are sized on a cutter's squaring arm; glass is not cut there (B11)."""
    board = section.form is StockForm.SHEET and section.material.kind is not Kind.GLAZING
    return board and sized_on_arm(cutter)


def _sized(section: PlanSection, cutter: Cutter) -> Sizing:
    """Return what is set on the squaring arm for the parts of a section, in the order of its cuts (B11).

    A sheet without a cut is one that was bought as it is needed.
    """
    plan = section.plan
    assert isinstance(plan, SheetPlan)
    blanks, order = [], []
    for opened in plan.bins:
        if not opened.cuts:
            continue
        order += [one.distance for one in guide_settings(opened, plan.asked) if one.stage]
        for part, laid in zip(section.parts_of(opened), opened.parts, strict=True):
            width, height = laid.size.width, laid.size.height
            if laid.turned:
                width, height = height, width
            blanks.append(
                Blank(
                    piece=part.piece.name,
                    part=part.words,
                    width=width,
                    height=height,
                )
            )
    return sizing(blanks, cutter, order)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sections:
    """Makes the work of one section. cutter: on whose squaring arm its parts are sized; None where on none."""

    section: PlanSection
    number: int
    sources: Mapping[int, StockItem]
    figures: Figures
    across: Across
    cutter: Cutter | None

    def work(self) -> SectionWork:
        section, material = self.section, self.section.material
        taken = [None if id is None else self.sources.get(id) for id in section.sources]
        cutter, steps = self.cutter, self.figures.steps
        sized = None if cutter is None else _sized(section, cutter)
        return SectionWork(
            number=self.number,
            code=material.code,
            name=material.name,
            form=section.form,
            cautions=cautions_of(section),
            summary=summary_of(section.plan, material, taken, self.pieces),
            bins=tuple(self._bins()),
            arm=arm_rows_for(sized.settings, cutter.scale, steps.unit) if sized and cutter else (),
            beyond_arm=sized.notices if sized else (),
        )

    @property
    def pieces(self) -> Mapping[str, str]:
        """The name of the piece that each part is for, by the part's id."""
        return {part.id: part.piece.name for part in self.section.parts}

    def _bins(self) -> Iterator[BinWork]:
        plan, sources = self.section.plan, self.section.sources
        if isinstance(plan, StickPlan):
            for number, (stick, source) in enumerate(zip(plan.bins, sources, strict=True), 1):
                yield self._stick(plan, stick, number, source)
        else:
            for number, (sheet, source) in enumerate(zip(plan.bins, sources, strict=True), 1):
                yield self._sheet(plan, sheet, number, source)

    def _stick(
        self, plan: StickPlan, opened: OpenedStick, number: int, source: int | None
    ) -> BinWork:
        parts = self.section.parts_of(opened)
        profile = self.section.material.profile
        mitres = {
            part.id: profile.face for part in parts if profile and part.key.startswith(MITRED)
        }
        stick = StickToCut(
            opened=opened,
            asked=plan.asked,
            pieces=self.pieces,
            mitres=mitres,
            steps=self.figures.steps,
        )
        return BinWork(
            at=BinAt(section=self.number, bin=number),
            name=f"Stick {number}",
            measure=stick.said,
            take=self._take(source),
            source=source,
            lying=stick,
            across=self.across,
            parts=tuple(
                self._part(
                    part, at, self.figures.length(stick.set_to(laid)), self._check(laid.length)
                )
                for at, (part, laid) in enumerate(zip(parts, opened.parts, strict=True), 1)
            ),
            settings=tuple(self._stops(stick)),
            offcuts=(stick.kept,) if stick.kept else (),
        )

    def _sheet(
        self, plan: SheetPlan, opened: OpenedSheet, number: int, source: int | None
    ) -> BinWork:
        settings = guide_settings(opened, plan.asked)
        sheet = SheetToCut(
            opened=opened,
            asked=plan.asked,
            pieces=self.pieces,
            cuts=tuple(each.cut for setting in settings for each in setting.cuts),
            steps=self.figures.steps,
        )
        parts = self.section.parts_of(opened)
        return BinWork(
            at=BinAt(section=self.number, bin=number),
            name=f"Sheet {number}",
            measure=sheet.said,
            take=self._take(source),
            source=source,
            lying=sheet,
            across=self.across,
            parts=tuple(
                self._part(
                    part,
                    at,
                    self.figures.size(sheet.set_to(laid)),
                    self.figures.of_size(laid.size).check,
                    turned=laid.turned,
                )
                for at, (part, laid) in enumerate(zip(parts, opened.parts, strict=True), 1)
            ),
            settings=tuple(self._guides(settings)),
            offcuts=sheet.kept,
        )

    def _check(self, length: Length) -> str:
        return self.figures.check(length)

    def _take(self, source: int | None) -> str:
        item = None if source is None else self.sources.get(source)
        return taken_in_words(self.section, None if item is None else item)

    def _part(
        self, part: PlannedPart, number: int, size: str, check: str, *, turned: bool = False
    ) -> PlanPart:
        return PlanPart(
            id=part.id,
            number=number,
            words=part.words,
            size=size,
            check=check,
            piece=part.piece.name,
            title=part.piece.title or "Untitled",
            order_id=part.piece.order_id,
            piece_number=part.piece.number,
            turned=turned,
        )

    def _stops(self, stick: StickToCut) -> Iterator[PlanSetting]:
        at = 0
        for setting in stop_settings(stick.opened):
            first = stick.opened.parts[at]
            numbers = range(at + 1, at + len(setting.parts) + 1)
            at += len(setting.parts)
            yield PlanSetting(
                at=self.figures.length(stick.set_to(first)),
                check=self.figures.check(setting.length),
                how="stop, measured to the long point" if self._mitred(setting.parts) else "stop",
                numbers=tuple(numbers),
                what=tuple(dict.fromkeys(self.pieces[id] for id in setting.parts)),
            )

    def _mitred(self, ids: tuple[str, ...]) -> bool:
        return any(id.rpartition("/")[2].startswith(MITRED) for id in ids)

    def _guides(self, settings: tuple[GuideSetting, ...]) -> Iterator[PlanSetting]:
        words = {part.id: f"{part.words}, {part.piece.name}" for part in self.section.parts}
        at = 0
        for setting in settings:
            numbers = range(at + 1, at + len(setting.cuts) + 1)
            at += len(setting.cuts)
            yield PlanSetting(
                at=self.figures.length(self.figures.steps.converted(setting.distance)),
                check=self.figures.check(setting.distance),
                how=_how(setting),
                numbers=tuple(numbers),
                what=tuple(words[id] for cut in setting.cuts for id in cut.frees),
            )


def _how(setting: GuideSetting) -> str:
    if setting.stage == 0:
        return "trim off the edge"
    return "down, from the left" if setting.way is Way.DOWN else "across, from the top"


def cautions_of(section: PlanSection) -> tuple[str, ...]:
    """Return the cautions for cutting a material (D5)."""
    if section.form is StockForm.STICK:
        return (CAUTIONS[Work.RAILS],)
    material = section.material
    if material.kind is Kind.GLAZING:
        traits = material.sheet.traits if material.sheet else frozenset()
        return (CAUTIONS[Work.GLASS if Trait.GLASS in traits else Work.ACRYLIC],)
    return (CAUTIONS[Work.MATS],)
