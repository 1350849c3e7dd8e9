"""The printed cutting plan: what to take, each stick and sheet with its cuts and parts, what to keep.

Owns the document's page model. Figures are in the shop's unit as they are cut; who is who in the shop's
stock is as the plan was kept.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from app.bench import Cutter
from app.documents.cutting_plan.equal_bins import (
    NOTHING_DONE,
    Done,
    EqualBins,
    EqualPart,
    equal_bins,
)
from app.documents.cutting_plan.sections import sections_of
from app.documents.cutting_plan.stations import StationWork, by_station
from app.documents.cutting_plan.summary import TENTHS
from app.documents.cutting_plan.totals import WholePlan, totals_of
from app.documents.cutting_plan.work import TO_BUY, Across, SectionWork
from app.documents.kit.page_code import PageCode, page_code
from app.documents.kit.pdf import sheets_for, to_pdf
from app.documents.kit.pictures import data_uri
from app.documents.kit.printing import Figures, page_html
from app.lengths import Steps
from app.money import Currency, show_money, show_percent
from app.orders import Paper
from app.stock.items import StockForm, StockItem
from app.stock.planning.plans import CuttingPlan

ACROSS = {
    Paper.A4: Across(sticks=50, sheets=20, upright=14, losses=False),
    Paper.LETTER: Across(sticks=50, sheets=20, upright=14, losses=False),
    Paper.A5: Across(sticks=40, sheets=16, upright=14, losses=False),
}
"""With these the words of drawings are about 10 pt, those of a sheet that lies upright too, whose drawing is 57 mm high at most; what is lost is said once for a material."""

MOST_BESIDE = 8
"""Rows that stand beside the drawing of a sheet; where there are more, its parts stand below, and may go on overleaf. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPrinting:
    """How a plan is printed. steps: of its figures. currency: of what is lost; costs: whether that is said as an amount. mat_word: what a window board is called.
    phone_url: where phones reach the app, or None. cutter: on whose squaring arm blanks are sized. done: what of it is done."""

    paper: Paper
    steps: Steps
    currency: Currency
    mat_word: str = "mat"
    phone_url: str | None
    today: date
    cutter: Cutter | None = None
    done: Done = NOTHING_DONE
    costs: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class StopRow:
    """The parts that are cut at one setting of the stop."""

    at: str
    check: str
    parts: tuple[EqualPart, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedBin:
    """Sticks or sheets that are cut alike, on paper. drawing: the address of their image. stops: of sticks."""

    alike: EqualBins
    drawing: str
    stops: tuple[StopRow, ...] = ()

    @property
    def beside(self) -> bool:
        """Whether all that is said of a sheet has room beside its drawing."""
        first = self.alike.first
        rows = (
            len(first.settings)
            + len(first.offcuts)
            + sum(len(part.kinds) for part in self.alike.parts)
        )
        return rows <= MOST_BESIDE


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedSection:
    """A material on paper. lost: at its cuts, as a sentence."""

    work: SectionWork
    sticks: bool
    lost: str
    bins: tuple[PrintedBin, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeRow:
    """What is taken before the work begins, equal ones together."""

    count: int
    material: str
    what: str
    measure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStation:
    """What is cut at one station, on paper: what is fetched for it, and its materials."""

    title: str
    things: str
    work: StationWork
    take: tuple[TakeRow, ...]
    sections: tuple[PrintedSection, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlanPage:
    """Everything that a printed plan says.

    left: how many sticks and sheets are still to be taken from the rack, and how many to be bought; bins: of how many.
    booked: how many are off stock. converted: whether some parts are of pieces in the other unit. waste: what is lost, as an amount, blank where that is not shown, and as a share.
    """

    lang: str
    title: str
    number: str
    made_at: datetime
    by: str
    unit_name: str
    check_name: str
    whole: WholePlan
    left: tuple[int, int]
    bins: int
    booked: int
    converted: bool
    waste: tuple[str, str]
    stations: tuple[PrintedStation, ...]
    code: PageCode | None
    printed: date
    to_buy: str = TO_BUY


def cutting_plan_pdf(
    plan: CuttingPlan, sources: Mapping[int, StockItem], printing: PlanPrinting
) -> bytes:
    """Make the PDF of a plan.

    sources: the items of stock that it takes, by id.

    Raises: PdfUnavailable.
    """
    sheets = sheets_for(printing.paper, "cutting-plan", "by-hand", "cutting-plan-bins")
    return to_pdf(cutting_plan_html(plan, sources, printing), sheets)


def cutting_plan_html(
    plan: CuttingPlan, sources: Mapping[int, StockItem], printing: PlanPrinting
) -> str:
    """Write the HTML of which the PDF is made."""
    figures = Figures(steps=printing.steps)
    works = sections_of(
        plan.sections, sources, figures, across=ACROSS[printing.paper], cutter=printing.cutter
    )
    whole = totals_of(plan.sections, sources, printing.currency, costs=printing.costs)
    done = printing.done
    left = [each for work in works for each in work.bins if done.wanted(each)]
    to_buy = sum(each.at in done.missing for each in left)
    page = CuttingPlanPage(
        lang="en",
        title=f"Cutting plan {plan.number}",
        number=plan.number,
        made_at=plan.made_at,
        by=plan.by,
        unit_name=figures.unit_name,
        check_name=figures.check_name,
        whole=whole,
        left=(len(left) - to_buy, to_buy),
        bins=whole.from_rack + whole.to_buy,
        booked=len(done.booked),
        converted=any(each.lying.converted for work in works for each in work.bins),
        waste=(
            "" if whole.waste is None else show_money(whole.waste, code=True),
            show_percent(whole.share, TENTHS),
        ),
        stations=tuple(
            _station(each, printing) for each in by_station(zip(plan.sections, works, strict=True))
        ),
        code=page_code(printing.phone_url, f"/plans/{plan.id}"),
        printed=printing.today,
    )
    return page_html("cutting_plan.html", page)


def _station(work: StationWork, printing: PlanPrinting) -> PrintedStation:
    return PrintedStation(
        title=work.station.title(printing.mat_word),
        things=work.station.things(printing.mat_word),
        work=work,
        take=_take(work.sections, printing.done),
        sections=tuple(_section(each, printing.done) for each in work.sections),
    )


def _take(works: tuple[SectionWork, ...], done: Done) -> tuple[TakeRow, ...]:
    """Return what is still to be fetched."""
    counts: dict[tuple[str, str, str], int] = {}
    for work in works:
        for each in filter(done.wanted, work.bins):
            what = TO_BUY if each.at in done.missing else each.taken
            row = (f"{work.code} {work.name}", what, each.measure)
            counts[row] = counts.get(row, 0) + 1
    return tuple(
        TakeRow(count=count, material=material, what=what, measure=measure)
        for (material, what, measure), count in counts.items()
    )


def _section(work: SectionWork, done: Done) -> PrintedSection:
    sticks = work.form is StockForm.STICK
    return PrintedSection(
        work=work,
        sticks=sticks,
        lost=work.bins[0].lying.lost if work.bins else "",
        bins=tuple(
            PrintedBin(
                alike=each,
                drawing=data_uri(each.svg),
                stops=_stops(each) if sticks else (),
            )
            for each in equal_bins(work.bins, done)
        ),
    )


def _stops(alike: EqualBins) -> tuple[StopRow, ...]:
    """Group the rails of sticks by the setting of the stop, in the order of the settings."""
    by_number = {part.number: part for part in alike.parts}
    return tuple(
        StopRow(
            at=setting.at,
            check=setting.check,
            parts=tuple(by_number[number] for number in setting.numbers),
        )
        for setting in alike.settings
    )
