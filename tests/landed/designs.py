"""What is typed on the quote pages of the shops that are made: the designs that the sample has not."""

from dataclasses import dataclass
from fractions import Fraction

from app.lengths import Size, inches
from app.money import Money, currency
from app.pricing import (
    Charge,
    ChargeBy,
    CostPer,
    Kind,
    Material,
    Profile,
    Selling,
    SheetStock,
    SizeBand,
    Trait,
)

type Typed = dict[str, str]

_WINDOW: Typed = {
    "presentation": "window",
    "frames.0.material": "B20-OAK",
    "mats.0.material": "SALT14",
    "mats.1.material": "SLATE14",
    "borders.left": "60",
    "glazing.material": "CLEAR2",
    "mount_board.material": "MOUNT14",
    "backing.material": "BACK2/A",
    "hardware.0.material": "RING2",
    "hardware.0.count": "2",
    "hardware.1.material": "WIRE15",
}

NEW: tuple[Typed, ...] = (
    _WINDOW
    | {
        "artwork.size": "297 x 420",
        "artwork.title": "Lighthouse keeper's log",
        "artwork.kind": "print",
        "mats.1.reveal": "8",
        "borders.bottom": "75",
        "discount": "10",
    },
    _WINDOW
    | {
        "artwork.size": "10 x 15 cm",
        "artwork.title": "Three summers",
        "artwork.kind": "photograph",
        "windows.count": "3",
        "windows.1.size": "A6",
        "windows.1.shape": "oval",
        "windows.2.shape": "arch",
        "windows.2.rise": "30",
        "windows.2.slot": "60 x 12",
        "arrangement.rows": "2, 1",
        "arrangement.across": "25",
        "arrangement.down": "30",
        "groove": "12",
    },
    _WINDOW
    | {
        "artwork.size": "100 x 150",
        "artwork.title": "Two stamps, freely placed",
        "artwork.kind": "object",
        "mats.1.material": "",
        "windows.count": "2",
        "windows.1.size": "60 x 60",
        "arrangement.placing": "free",
        "windows.1.x": "225",
        "windows.1.y": "40",
        "package.size": "400 x 300",
        "sizing": "package",
        "borders.left": "",
    },
    _WINDOW
    | {
        "artwork.size": "420 x 594",
        "artwork.title": "Slip and block",
        "artwork.kind": "watercolour",
        "frames.0.material": "B15-OAK",
        "frames.1.material": "B30-OAK",
        "fillet.material": "F10-GLD",
        "fillet.depth": "2.5 mm",
        "weighting": "12",
        "rush": "1",
    },
    {
        "artwork.size": "600 x 450",
        "artwork.title": "Estuary, evening",
        "artwork.kind": "canvas",
        "artwork.thickness": "18 mm",
        "presentation": "canvas-float",
        "gap": "6",
        "frames.0.material": "T08-GLD",
        "hardware.0.material": "STRAP2",
        "hardware.0.count": "2",
        "extras.0.material": "STRETCH",
    },
    {
        "artwork.size": "12 x 16 in",
        "artwork.title": "Tide table",
        "artwork.kind": "print",
        "unit": "in",
        "presentation": "close",
        "frames.0.material": "M10-PEW",
        "glazing.material": "CLEAR2",
        "backing.material": "BACK2/A",
        "hardware.0.material": "RING1",
        "hardware.0.count": "2",
    },
)
"""For the metric shop: what comes up that its year had not, all in work at its end."""

CHANGED: Typed = {"borders.left": "70", "mats.1.reveal": "10", "frames.0.material": "B30-OAK"}
OTHER_DESIGN: Typed = {"mats.0.material": "OAT14", "frames.0.material": "B20-LIM"}

USD = currency("USD")


def _dollars(text: str) -> Money:
    return Money(int(Fraction(text) * 100), USD)


_MOULDING = Material(
    code="POP-1",
    name="Poplar, black wax",
    kind=Kind.MOULDING,
    cost=_dollars("1.85"),
    per=CostPer.FOOT,
    charge=Charge(by=ChargeBy.LENGTH, waste=Fraction(1, 10), step=inches(1)),
    selling=Selling(markup=Fraction(3)),
    profile=Profile(
        face=inches("9/8"),
        lip=inches("1/4"),
        rebate_depth=inches("5/8"),
        stick=inches(120),
        grams_per_metre=420,
    ),
)
_OPENED = Material(
    code="ASH-2",
    name="Ash, natural, by the stick",
    kind=Kind.MOULDING,
    cost=_dollars("24.60"),
    per=CostPer.STICK,
    charge=Charge(by=ChargeBy.OPENED),
    selling=Selling(markup=Fraction(5, 2)),
    profile=Profile(
        face=inches("3/4"),
        lip=inches("3/16"),
        rebate_depth=inches("3/4"),
        stick=inches(108),
        grams_per_metre=380,
    ),
)


def _mat(code: str, name: str, sell: str) -> Material:
    return Material(
        code=code,
        name=name,
        kind=Kind.MAT,
        cost=_dollars("9.75"),
        per=CostPer.SHEET,
        charge=Charge(by=ChargeBy.SHEET_SHARE),
        selling=Selling(markup=Fraction(sell)),
        sheet=SheetStock(
            size=Size(inches(40), inches(32)),
            thickness=inches("1/16"),
            grams_per_m2=1000,
            traits=frozenset({Trait.ACID_FREE}),
        ),
    )


_GLASS = Material(
    code="GL-332",
    name="Clear glass 3/32",
    kind=Kind.GLAZING,
    cost=_dollars("2.40"),
    per=CostPer.SQUARE_FOOT,
    charge=Charge(by=ChargeBy.AREA),
    selling=Selling(markup=Fraction(3)),
    sheet=SheetStock(
        size=Size(inches(48), inches(36)),
        thickness=inches("3/32"),
        grams_per_m2=6000,
        traits=frozenset({Trait.GLASS}),
    ),
)
_BOARD = Material(
    code="FB-316",
    name="Foam board 3/16",
    kind=Kind.BOARD,
    cost=_dollars("6.20"),
    per=CostPer.SHEET,
    charge=Charge(
        by=ChargeBy.SIZE_BAND,
        bands=(
            SizeBand(up_to=inches(32), price=_dollars("5.00")),
            SizeBand(up_to=inches(60), price=_dollars("9.50")),
        ),
    ),
    selling=Selling(),
    sheet=SheetStock(
        size=Size(inches(40), inches(32)),
        thickness=inches("3/16"),
        grams_per_m2=700,
        traits=frozenset({Trait.ACID_FREE}),
    ),
)
_RING = Material(
    code="DR-1",
    name="D-ring",
    kind=Kind.HARDWARE,
    cost=_dollars("11.00"),
    per=CostPer.HUNDRED,
    charge=Charge(by=ChargeBy.EACH),
    selling=Selling(price=_dollars("0.75")),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Imperial:
    """What the shop in inches sells and is asked for. stick: of what some are received."""

    materials: tuple[Material, ...]
    pieces: tuple[Typed, ...]
    stick: str


_MATTED: Typed = {
    "presentation": "window",
    "mats.0.material": "MW-1",
    "mats.1.material": "MB-2",
    "mats.1.reveal": "3/16",
    "borders.left": "2 1/2",
    "glazing.material": "GL-332",
    "backing.material": "FB-316",
    "hardware.0.material": "DR-1",
    "hardware.0.count": "2",
}

INCHES = Imperial(
    materials=(
        _MOULDING,
        _OPENED,
        _mat("MW-1", "Warm white", "4"),
        _mat("MB-2", "Brick", "4.2"),
        _GLASS,
        _BOARD,
        _RING,
    ),
    pieces=(
        _MATTED
        | {
            "artwork.size": "11 x 14",
            "artwork.title": "Orchard gate",
            "artwork.kind": "watercolour",
            "frames.0.material": "ASH-2",
            "borders.bottom": "3",
        },
        _MATTED
        | {
            "artwork.size": "5 3/8 x 7 1/16",
            "artwork.title": "Two cousins",
            "artwork.kind": "photograph",
            "frames.0.material": "POP-1",
            "windows.count": "2",
            "arrangement.across": "1 1/4",
            "overlap": "1/8",
        },
        {
            "artwork.size": "20 x 16",
            "artwork.thickness": "3/4",
            "artwork.title": "Barn in snow",
            "artwork.kind": "canvas",
            "presentation": "canvas",
            "frames.0.material": "POP-1",
            "hardware.0.material": "DR-1",
            "hardware.0.count": "2",
        },
        _MATTED
        | {
            "artwork.size": "16x20",
            "artwork.title": "Ferry timetable",
            "artwork.kind": "print",
            "frames.0.material": "POP-1",
        },
    ),
    stick="POP-1",
)
