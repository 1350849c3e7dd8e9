"""The work on a cutting plan: what to take, how it is cut up and in which order, what is kept.

Owns the model that the bench's page and the printed plan share. It reads a kept plan and the items that
it takes; what was ticked or booked since is not its business.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from app.bench import Blank, Cutter, Sizing, sized_on_arm, sizing
from app.counting import counted
from app.cutting import OpenedSheet, OpenedStick, SheetPlan, StickPlan, Way
from app.documents.cutting_plan.summary import PlanTotals, summary_of
from app.documents.kit.arm_rows import ArmRow, arm_rows_for
from app.documents.kit.printing import Figures
from app.drawings.plans import sheet as sheet_plans
from app.drawings.plans import stick as stick_plans
from app.drawings.plans.sheet import SheetToCut, sheet_plan
from app.drawings.plans.stick import StickToCut, stick_plan
from app.drawings.plans.thumbnail import sheet_thumbnail, stick_thumbnail
from app.framing import Notice
from app.framing.notices.care import CAUTIONS, Work
from app.lengths import Length
from app.pricing import Kind, Trait
from app.stock.items import StockForm, StockItem
from app.stock.planning.cut_sequence import GuideSetting, guide_settings, stop_settings
from app.stock.planning.plans import BinAt, PlannedPart, PlanSection

TO_BUY = "To buy"
"""What a stick or sheet is cut from that the rack did not hold when it was planned."""

MITRED = ("frame-", "fillet-")
"""Parts whose names begin so have mitred ends; strips between glazing and artwork are cut square."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """Letter heights along a drawing: the fewer, the larger its words. upright: along the height of a sheet, where its page
    bounds that. losses: whether each says what is lost at its cuts."""

    sticks: int = stick_plans.ON_A_PHONE
    sheets: int = sheet_plans.ON_A_PHONE
    upright: int | None = None
    losses: bool = True


ON_A_PHONE = Across()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPart:
    """A part to cut. number: in its stick or sheet, from 1; on a stick that of its cut too.

    turned: whether it lies the other way round on its sheet, its size then being as it lies.
    """

    id: str
    number: int
    words: str
    size: str
    check: str
    piece: str
    title: str
    order_id: int
    piece_number: int
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSetting:
    """A setting of the guide or the stop. how: from where. numbers: of its cuts. what: what they free."""

    at: str
    check: str
    how: str
    numbers: tuple[int, ...]
    what: tuple[str, ...]

    @property
    def cuts(self) -> str:
        """The numbers of the cuts at this setting: "1, 2"."""
        return ", ".join(map(str, self.numbers))


@dataclass(frozen=True, slots=True, kw_only=True)
class BinWork:
    """One stick or sheet. name: "Stick 2". take: what it is cut from; source: the item's id, None to
    buy. lying: how it is cut up, drawn when asked for. offcuts: sizes kept, in the plan's order."""

    at: BinAt
    name: str
    measure: str
    take: str
    source: int | None
    lying: StickToCut | SheetToCut
    across: Across
    parts: tuple[PlanPart, ...]
    settings: tuple[PlanSetting, ...]
    offcuts: tuple[str, ...]

    @property
    def taken(self) -> str:
        """What it is cut from where the rack holds it: what was to be bought is whole."""
        form = StockForm.STICK if isinstance(self.lying, StickToCut) else StockForm.SHEET
        return self.take if self.source is not None else f"A whole {form.value}"

    @property
    def svg(self) -> str:
        """The drawing as SVG."""
        if isinstance(self.lying, StickToCut):
            return stick_plan(self.lying, self.across.sticks, losses=self.across.losses)
        return sheet_plan(
            self.lying,
            self.across.sheets,
            upright=self.across.upright,
            losses=self.across.losses,
        )

    @property
    def thumbnail(self) -> str:
        """The drawing without words, as small as a line of a list."""
        if isinstance(self.lying, StickToCut):
            return stick_thumbnail(self.lying)
        return sheet_thumbnail(self.lying)


@dataclass(frozen=True, slots=True, kw_only=True)
class Take:
    """Sticks or sheets that are taken from one place. words: "stick at Rack A", "buy 2 sticks"."""

    words: str
    count: int
    to_buy: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionWork:
    """One material with its sticks or sheets.

    arm: what is set on the squaring arm for its blanks, each length once, in the order of the plan's cuts (B11);
    empty for sticks, and on a cutter that says nothing of an arm. beyond_arm: what is longer than it reaches.
    """

    number: int
    code: str
    name: str
    form: StockForm
    cautions: tuple[str, ...]
    summary: PlanTotals
    bins: tuple[BinWork, ...]
    arm: tuple[ArmRow, ...] = ()
    beyond_arm: tuple[Notice, ...] = ()

    @property
    def parts(self) -> int:
        """How many parts are cut of it."""
        return sum(len(each.parts) for each in self.bins)

    @property
    def takes(self) -> tuple[Take, ...]:
        """What its sticks or sheets are taken from."""
        return takes_of(self.form, self.bins)


def takes_of(
    form: StockForm, bins: Iterable[BinWork], missing: Collection[BinAt] | None = None
) -> tuple[Take, ...]:
    """Return what sticks or sheets are taken from, equal ones together, in the order of the plan.

    missing: those that are not on the rack; those that the plan takes from nothing there where this is None.
    """
    counts: Counter[tuple[str, bool]] = Counter()
    for each in bins:
        to_buy = each.source is None if missing is None else each.at in missing
        counts[each.take if to_buy else each.taken, to_buy] += 1
    return tuple(
        Take(words=_taken(form, words, count, to_buy), count=count, to_buy=to_buy)
        for (words, to_buy), count in counts.items()
    )


def _taken(form: StockForm, words: str, count: int, to_buy: bool) -> str:
    if to_buy:
        return f"buy {counted(count, form.value)}"
    short = words.removeprefix("A whole ").removeprefix("Offcut ")
    return short if count == 1 else f"{count} × {short}"


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


def taken_in_words(section: PlanSection, item: StockItem | None) -> str:
    """Say what a stick or sheet is cut from: "Offcut K-2026-0004 at Shelf 3"."""
    if item is None:
        return TO_BUY
    kept = item.item
    what = f"Offcut {kept.label}" if kept.label else f"A whole {section.form.value}"
    batch = f", batch {kept.batch}" if kept.batch else ""
    return f"{what} at {kept.place}{batch}" if kept.place else f"{what} from the rack{batch}"


def cautions_of(section: PlanSection) -> tuple[str, ...]:
    """Return the cautions for cutting a material (D5)."""
    if section.form is StockForm.STICK:
        return (CAUTIONS[Work.RAILS],)
    material = section.material
    if material.kind is Kind.GLAZING:
        traits = material.sheet.traits if material.sheet else frozenset()
        return (CAUTIONS[Work.GLASS if Trait.GLASS in traits else Work.ACRYLIC],)
    return (CAUTIONS[Work.MATS],)
