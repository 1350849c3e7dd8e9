"""The work on a cutting plan: what to take, how it is cut up and in which order, what is kept.

Owns the model that the bench's page and the printed plan share. It reads a kept plan and the items that
it takes; what was ticked or booked since is not its business.
"""

from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from app.counting import counted
from app.documents.cutting_plan.summary import PlanTotals
from app.documents.kit.arm_rows import ArmRow
from app.drawings.plans import sheet as sheet_plans
from app.drawings.plans import stick as stick_plans
from app.drawings.plans.sheet import SheetToCut, sheet_plan
from app.drawings.plans.stick import StickToCut, stick_plan
from app.drawings.plans.thumbnail import sheet_thumbnail, stick_thumbnail
from app.framing import Notice
from app.stock.items import StockForm, StockItem
from app.stock.planning.plans import BinAt, PlanSection

TO_BUY = "To buy"
"""What a stick or sheet is cut from that the rack did not hold when it was planned."""


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


def taken_in_words(section: PlanSection, item: StockItem | None) -> str:
    """Say what a stick or sheet is cut from: "Offcut K-2026-0004 at Shelf 3"."""
    if item is None:
        return TO_BUY
    kept = item.item
    what = f"Offcut {kept.label}" if kept.label else f"A whole {section.form.value}"
    batch = f", batch {kept.batch}" if kept.batch else ""
    return f"{what} at {kept.place}{batch}" if kept.place else f"{what} from the rack{batch}"
