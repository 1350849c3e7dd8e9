"""The shop: everything that a shop sets once and every piece uses.

A value with the handbook's defaults. How it is kept and edited is not its business.
"""

from dataclasses import dataclass, field, fields, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction
from typing import Any

from app.bench import Cutter, usual_cutter
from app.days import Calendar, DayOrder
from app.errors import FaultCollector
from app.framing import DEFAULTS, UnderWay
from app.lengths import ALLOWED_STEPS, DEFAULT_STEP, Length, Size, Steps, Unit, inches, mm, show
from app.money import Currency, Money, TaxPolicy, TaxRate, TaxRounding, currency
from app.orders.cutting_habits import CuttingHabits
from app.orders.open_days import OpenDays
from app.orders.usual_choices import UsualChoices
from app.orders.weight_rules import WeightRules
from app.pricing import DEFAULT_OPERATIONS, MarkupTable, NumberBreak, Operation, PriceRules
from app.pricing.operations import usual_operations
from app.pricing.rules import USUAL_SAW_LOSS


class Paper(StrEnum):
    """The paper that documents are printed on."""

    A4 = "A4"
    LETTER = "Letter"
    A5 = "A5"


class MatWord(StrEnum):
    """What the shop calls a window board; both are trade words."""

    MAT = "mat"
    MOUNT = "mount"


class QuotePrices(StrEnum):
    """What a customer's quote says of prices: line by line what a piece comes to, or its total alone."""

    LINES = "lines"
    TOTAL = "total"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowances:
    """What a piece starts with where nothing else is typed (G1, G2, G3, G7, G11, G14, G17, G22).

    smallest_border, least_bridge: below which a notice is given (G5, G9); None as is usual.
    """

    overlap: Length
    gap: Length
    canvas_gap: Length
    reveal: Length
    under_way: UnderWay
    under_trim: Length
    allowance: Length
    spacer_width: Length
    object_clearance: Length
    border: Length
    weighting: Length
    glazing_trim: Length
    backing_trim: Length
    smallest_border: Length | None = None
    least_bridge: Length | None = None

    @classmethod
    def usual(cls, unit: Unit) -> "Allowances":
        """Return the handbook's defaults in one unit system; the starting border is our own choice."""
        usual = DEFAULTS[unit]
        none = mm(0)
        return cls(
            overlap=usual.overlap,
            gap=usual.gap,
            canvas_gap=usual.canvas_gap,
            reveal=usual.reveal,
            under_way=UnderWay.ATTACHED,
            under_trim=usual.under_trim,
            allowance=usual.allowance,
            spacer_width=usual.spacer_width,
            object_clearance=usual.object_clearance,
            border=mm(60) if unit is Unit.MM else usual.smallest_border * Fraction(5, 4),
            weighting=none,
            glazing_trim=none,
            backing_trim=none,
        )


def in_steps_of(allowances: Allowances, unit: Unit) -> Allowances:
    """Return the same habits as round figures of another unit: every length at its nearest usual step.

    Below what a notice is given is only compared, never set, and stays as it is in any unit.
    """
    steps = Steps(unit=unit, step=DEFAULT_STEP[unit])
    changed: dict[str, Any] = {
        field.name: steps.nearest(value)
        for field in fields(allowances)
        if field.name not in ("smallest_border", "least_bridge")
        and isinstance(value := getattr(allowances, field.name), Length)
    }
    return replace(allowances, **changed)


USUAL_KEEP = {Unit.MM: Size(mm(150), mm(100)), Unit.IN: Size(inches(6), inches(4))}
"""The smallest fallout that is kept, as a round figure of each unit. Source: C5, a default."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Promise:
    """What the shop promises by habit. Days are calendar days; deposit is a share of the total."""

    valid_days: int = 30
    ready_days: int = 14
    deposit: Fraction = Fraction(1, 2)
    rush: Fraction = Fraction(1, 4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Labour:
    """The hourly rate and what each operation takes (P5)."""

    hourly_rate: Money
    operations: tuple[Operation, ...] = DEFAULT_OPERATIONS
    tax: str = "standard"


DAY_FIRST = frozenset({"AUD", "EUR", "GBP", "INR", "NZD", "ZAR"})
"""Currencies of countries that write the day before the month. Source: Unicode CLDR, short dates of en-AU, en-GB, en-IE,
en-IN, en-NZ; from memory. en-ZA writes the year first.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """keep: the smallest fallout that goes back into stock, either way round (C5); its default is
    our own. tax_number: as local law asks for it on invoices. cutting_habits: None until the shop has
    its own. usual_choices: none until the shop names any. number_breaks: the fewest alike first (P11). days: None until the shop says what stands first in 12/11. sample: an invented shop to look
    around in, which may be removed in one act. logo: id of the picture that heads its papers; blank for none.

    Raises: Invalid with every fault, at the field's name on the settings page.
    """

    name: str
    unit: Unit
    currency: Currency
    allowances: Allowances
    step: Length
    labour: Labour
    address: str = ""
    contact: str = ""
    tax_number: str = ""
    paper: Paper = Paper.A4
    quote_prices: QuotePrices = QuotePrices.LINES
    mat_word: MatWord = MatWord.MAT
    people: tuple[str, ...] = ()
    tax_rates: tuple[TaxRate, ...] = ()
    tax_policy: TaxPolicy = field(
        default_factory=lambda: TaxPolicy(included=True, rounding=TaxRounding.BY_DOCUMENT)
    )
    markup_tables: tuple[MarkupTable, ...] = ()
    rounding_step: Money | None = None
    saw_loss: Length = USUAL_SAW_LOSS[Unit.MM]
    promise: Promise = field(default_factory=Promise)
    open_days: OpenDays = OpenDays()
    cutters: tuple[Cutter, ...] = ()
    keep: Size = USUAL_KEEP[Unit.MM]
    cutting_habits: CuttingHabits | None = None
    weights: WeightRules = field(default_factory=WeightRules)
    usual_choices: UsualChoices = UsualChoices()
    number_breaks: tuple[NumberBreak, ...] = ()
    days: DayOrder | None = None
    sample: bool = False
    logo: str = ""

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not self.name.strip():
            faults.add("name", "The shop's name is empty; it heads every quote.")
        if len(self.name) > 80:
            faults.add("name", f"The name has {len(self.name)} characters; at most 80 fit.")
        if self.step not in ALLOWED_STEPS[self.unit]:
            allowed = " or ".join(show(s, self.unit, mark=True) for s in ALLOWED_STEPS[self.unit])
            faults.add("step", f"The cutting step must be {allowed}.")
        names = [cutter.name.casefold() for cutter in self.cutters]
        if len(set(names)) < len(names):
            faults.add("cutters", "Two cutters have the same name; each needs its own.")
        if not any(rate.code == "standard" for rate in self.tax_rates):
            faults.add("tax_rates", "One tax rate must have the code “standard”.")
        faults.finish()

    @property
    def day_order(self) -> DayOrder:
        """What stands first in 12/11: as the shop says, else the month in inches, as in the United States, but for
        currencies of countries that work in inches and write the day first.
        """
        if self.days is not None:
            return self.days
        month_first = self.unit is Unit.IN and self.currency.code not in DAY_FIRST
        return DayOrder.MONTH_FIRST if month_first else DayOrder.DAY_FIRST

    def calendar(self, today: date) -> Calendar:
        """Return how days are understood in this shop on a day."""
        return Calendar(today=today, order=self.day_order)

    def allowances_in(self, unit: Unit) -> Allowances:
        """Return what a piece worked in a unit starts with."""
        return self.allowances if unit is self.unit else in_steps_of(self.allowances, unit)

    @property
    def cutter(self) -> Cutter:
        """The cutter that tickets are made for: the first one, or the usual one until one is described."""
        return self.cutters[0] if self.cutters else usual_cutter(self.unit)

    def cutter_in(self, unit: Unit) -> Cutter:
        """Return the cutter that tickets in a unit are made for, read on its scale of that unit where it has one (B8)."""
        return self.cutter.read_in(unit)

    @property
    def cutting(self) -> CuttingHabits:
        """The habits of cutting up sticks and sheets: the shop's own, or the usual ones until it says any."""
        return self.cutting_habits or CuttingHabits.usual(self.unit)

    @property
    def steps(self) -> Steps:
        """The cutting step and unit by which this shop rounds."""
        return Steps(unit=self.unit, step=self.step)

    @property
    def rules(self) -> PriceRules:
        """The rules of the shop that pricing needs."""
        return PriceRules(
            currency=self.currency,
            length_unit=self.unit,
            hourly_rate=self.labour.hourly_rate,
            operations=self.labour.operations,
            markup_tables=self.markup_tables,
            saw_loss=self.saw_loss,
            tax_rates=self.tax_rates,
            labour_tax=self.labour.tax,
            tax_policy=self.tax_policy,
            rounding_step=self.rounding_step or Money.zero(self.currency),
            number_breaks=self.number_breaks,
        )


def usual_shop(name: str, unit: Unit, currency_code: str, tax: Fraction) -> Shop:
    """Return a shop with the handbook's defaults, as the first-run page makes it.

    The hourly rate of 36 units is only a start: every shop must set its own.
    """
    money = currency(currency_code)
    return Shop(
        name=name,
        unit=unit,
        currency=money,
        allowances=Allowances.usual(unit),
        step=DEFAULT_STEP[unit],
        labour=Labour(
            hourly_rate=Money(36 * 10**money.digits, money), operations=usual_operations(unit)
        ),
        paper=Paper.A4 if unit is Unit.MM else Paper.LETTER,
        tax_rates=(
            TaxRate("standard", "Tax", tax),
            TaxRate("none", "No tax", Fraction(0)),
        ),
        saw_loss=USUAL_SAW_LOSS[unit],
        keep=USUAL_KEEP[unit],
        weights=WeightRules.usual(unit),
    )
