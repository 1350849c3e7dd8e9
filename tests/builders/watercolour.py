"""A small invented price book and the piece that the hand-worked figures are about."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from app.framing import (
    Dimensions,
    Edges,
    Frame,
    Mat,
    Panel,
    Presentation,
    Spec,
    work_out,
)
from app.lengths import Unit, mm
from app.money import TaxPolicy, TaxRate, TaxRounding
from app.pricing import (
    DEFAULT_OPERATIONS,
    Charge,
    ChargeBy,
    Chosen,
    ChosenCount,
    CostPer,
    Kind,
    MarkupStep,
    MarkupTable,
    Material,
    PriceRules,
    Selling,
)
from tests.builders import materials
from tests.builders.materials import by_band, marked_up, sold_at, stock
from tests.builders.values import EUR, euro, size

STANDARD = TaxRate("standard", "Tax", Fraction(1, 5))
REDUCED = TaxRate("reduced", "Reduced tax", Fraction(1, 20))


SHEET = stock("1.4", 980)
PROFILE = materials.profile("25", "6", "14", 310)


def moulding(**changes: Any) -> Material:
    """15.00 a stick of 3 m, so 5.00 a metre; sold at 2.84 times that, 14.20."""
    plain = materials.moulding(
        "W25", "Walnut hollow", PROFILE, "15.00", marked_up("2.84"), per=CostPer.STICK
    )
    return replace(plain, **changes)


def mat(**changes: Any) -> Material:
    """9.00 a sheet, by sheet share, sold by the table "boards"."""
    plain = materials.sheet("M1", "Chalk white", Kind.MAT, SHEET, "9.00", Selling(table="boards"))
    return replace(plain, **changes)


def glazing(**changes: Any) -> Material:
    """18.00 a m², by area with 10 % waste, at least 0.25 m², sold at 54.00."""
    charge = Charge(by=ChargeBy.AREA, waste=Fraction(1, 10), minimum_area=Fraction(1, 4))
    pane = replace(SHEET, thickness=mm(2))
    plain = materials.sheet(
        "G2", "Clear 2 mm", Kind.GLAZING, pane, "18.00", marked_up("3"), charge=charge
    )
    return replace(plain, **changes)


def backing(**changes: Any) -> Material:
    """By size band: 4.00 up to 800 mm of width + height, 6.00 up to 1200 mm."""
    charge, board = by_band((800, "4.00"), (1200, "6.00")), replace(SHEET, thickness=mm(3))
    plain = materials.sheet(
        "B3", "Backing board", Kind.BOARD, board, "7.00", Selling(), charge=charge
    )
    return replace(plain, **changes)


def ring(**changes: Any) -> Material:
    """6.00 a hundred, sold at 0.50 each."""
    plain = materials.counted("R1", "Hanging ring", Kind.HARDWARE, "6.00", sold_at("0.50"))
    return replace(plain, **changes)


def extra(**changes: Any) -> Material:
    """Cost 2.00, sold at 5.00 each."""
    plain = materials.counted("X1", "Label of brass", Kind.EXTRA, "2.00", sold_at("5.00"))
    return replace(plain, **changes)


BOARDS = MarkupTable(
    code="boards",
    name="Boards",
    steps=(
        MarkupStep(up_to=euro("10.00"), factor=Fraction(4)),
        MarkupStep(up_to=euro("20.00"), factor=Fraction(3)),
        MarkupStep(up_to=None, factor=Fraction(2)),
    ),
)


def rules(**changes: Any) -> PriceRules:
    """38.40 an hour, prices without tax, 20 % by document, no rounding step, 8.5 mm a rail."""
    plain = PriceRules(
        currency=EUR,
        length_unit=Unit.MM,
        hourly_rate=euro("38.40"),
        operations=DEFAULT_OPERATIONS,
        markup_tables=(BOARDS,),
        saw_loss=mm("8.5"),
        tax_rates=(STANDARD, REDUCED),
        labour_tax="standard",
        tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT),
        rounding_step=euro("0"),
    )
    return replace(plain, **changes)


WATERCOLOUR = Spec(
    unit=Unit.MM,
    artwork=size(420, 297),
    presentation=Presentation.WINDOW,
    overlap=mm(5),
    gap=mm(10),
    mats=(Mat(thickness=mm("1.4")), Mat(thickness=mm("1.4"), reveal=mm(6))),
    borders=Edges(left=mm(70), right=mm(70), top=mm(70), bottom=mm(80)),
    frames=(Frame(face=mm(25), lip=mm(6), rebate_depth=mm(14), allowance=mm(3)),),
    glazing=Panel(thickness=mm(2)),
    backing=Panel(thickness=mm(3)),
)


def watercolour() -> Dimensions:
    """Window 410 × 287, under it 6 mm of reveal: 422 × 299; package 562 × 449; outside 603 × 490."""
    return work_out(WATERCOLOUR)


def chosen(**changes: Any) -> Chosen:
    """What the watercolour is framed with."""
    plain = Chosen(
        frames=(moulding(),),
        mats=(mat(), mat(code="M2", name="Slate blue")),
        glazing=glazing(),
        backing=backing(),
        hardware=(ChosenCount(material=ring(), count=2),),
    )
    return replace(plain, **changes)


def bare(width: int | str, height: int | str) -> Dimensions:
    """A package and nothing else: a print in a close fit, without frame, mat, glazing or board."""
    return work_out(
        Spec(
            unit=Unit.MM,
            artwork=size(width, height),
            presentation=Presentation.CLOSE,
            overlap=mm(0),
            gap=mm(0),
        )
    )
