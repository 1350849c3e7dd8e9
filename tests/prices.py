"""A small price book with round figures, and the one piece that is worked by hand with it.

Everything here can be followed on paper; tests of pages compare what is shown with `WORKED`.

The piece, in mm. Artwork 410 × 310 behind a window of two mats; overlap 5 at each edge, reveal 10,
borders left 90, right 90, top 80, bottom 100; moulding with face 20 and lip 6.5; allowance 3.

    window 2    410 − 2 × 5 = 400           310 − 2 × 5 = 300            (G1)
    window 1    400 + 2 × 10 = 420          300 + 2 × 10 = 320           (G3)
    package     90 + 420 + 90 = 600         80 + 320 + 100 = 500         (G4)
    borders 2   each of the first and the reveal: 100, 100, 90, 110      (G7, attached)
    rebate      600 + 3 = 603               500 + 3 = 503                (G11)
    sight       603 − 13 = 590              503 − 13 = 490               (G11)
    long points 603 + 2 × 13.5 = 630        503 + 2 × 13.5 = 530         (G12)
    stack       glass 2 + mats 1.5 + 1.5 + backing 3 = 8, of 14          (D1)

The price, in euro, tax of 20 % included (P2 to P6, M1, M2).

    moulding    4 rails: 2 × 630 + 2 × 530 = 2320; saw 4 × 8.5 = 34; 2354, up to the next 100 = 2400
                2.4 m at 4.00 × 2.5 = 10.00                              24.00
    top mat     600 × 500 is a quarter of 1200 × 1000; 10.00 × 4 a sheet 10.00
    under mat   at most 600 × 500, a quarter too                         10.00
    glass       0.6 × 0.5 = 0.3 m² at 20.00 × 2.5 = 50.00                15.00
    backing     600 + 500 = 1100, in the band up to 1200                  6.00
    rings       2 at 0.50                                                 1.00
    work        62.52 min at 36.00 an hour = 37.512                      37.51
    in all                                                              103.51
    tax         103.51 × 20 / 120 = 17.2516…                             17.25
    without tax 103.51 − 17.25                                           86.26

The work, in minutes, by the table that ships (P5): take in 4; size two mats 2 × 2 = 4; cut two
windows 2 + 2 × 4 = 10; hinge 5; backing 2; glazing 4 + 8 × 0.3 = 6.4; then with 2.32 m of frame
mitre 4 + 3.48 = 7.48, join 7 + 1.16 = 8.16, fit 3 + 1.16 = 4.16, seal 2 + 2.32 = 4.32;
hang 3; finish 4. Together 62.52.

Cost of materials: 2.4 × 4.00 = 9.60; mats 2 × 2.50 = 5.00; glass 0.3 × 20.00 = 6.00;
backing 0.3 m² of 1.2 m² at 8.00 = 2.00; rings 2 × 0.20 = 0.40. Together 23.00.
Margin 86.26 − 23.00 = 63.26, which is 73 % of 86.26; in 62.52 min, so 60.71 an hour.
"""

from fractions import Fraction

from app.lengths import Size, Unit, mm
from app.money import Money, currency
from app.orders import Shop, usual_shop
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

EUR = currency("EUR")


def euro(text: str) -> Money:
    """euro("4.20")."""
    return Money(int(Fraction(text) * 100), EUR)


SHOP: Shop = usual_shop("Sedge Lane Frames", Unit.MM, "EUR", Fraction(1, 5))
"""36.00 an hour, 20 % tax included, valid 30 days, ready in 14, half down, rush 25 %."""

MOULDING = Material(
    code="LIN-20",
    name="Linden, limewashed",
    kind=Kind.MOULDING,
    cost=euro("4.00"),
    per=CostPer.METRE,
    charge=Charge(by=ChargeBy.LENGTH, step=mm(100)),
    selling=Selling(markup=Fraction(5, 2)),
    finish="limewash",
    colour="#d8d0c0",
    profile=Profile(
        face=mm(20), lip=mm("6.5"), rebate_depth=mm(14), stick=mm(3000), grams_per_metre=500
    ),
)


def _mat(code: str, name: str, colour: str) -> Material:
    return Material(
        code=code,
        name=name,
        kind=Kind.MAT,
        cost=euro("10.00"),
        per=CostPer.SHEET,
        charge=Charge(by=ChargeBy.SHEET_SHARE),
        selling=Selling(markup=Fraction(4)),
        colour=colour,
        sheet=SheetStock(
            size=Size(mm(1200), mm(1000)),
            thickness=mm("1.5"),
            grams_per_m2=1000,
            traits=frozenset({Trait.ACID_FREE}),
        ),
    )


TOP_MAT = _mat("M-101", "Chalk white", "#f4f1e8")
UNDER_MAT = _mat("M-140", "Slate blue", "#51627a")

GLASS = Material(
    code="G-2",
    name="Float glass 2 mm",
    kind=Kind.GLAZING,
    cost=euro("20.00"),
    per=CostPer.SQUARE_METRE,
    charge=Charge(by=ChargeBy.AREA),
    selling=Selling(markup=Fraction(5, 2)),
    sheet=SheetStock(
        size=Size(mm(1600), mm(1200)),
        thickness=mm(2),
        grams_per_m2=5000,
        traits=frozenset({Trait.GLASS}),
    ),
)
ACRYLIC = Material(
    code="A-3",
    name="Acrylic 3 mm",
    kind=Kind.GLAZING,
    cost=euro("40.00"),
    per=CostPer.SQUARE_METRE,
    charge=Charge(by=ChargeBy.AREA),
    selling=Selling(markup=Fraction(5, 2)),
    sheet=SheetStock(
        size=Size(mm(1600), mm(1200)),
        thickness=mm(3),
        grams_per_m2=3570,
        traits=frozenset({Trait.ACRYLIC, Trait.UV_FILTER}),
    ),
)
BACKING = Material(
    code="B-3",
    name="Backing board",
    kind=Kind.BOARD,
    cost=euro("8.00"),
    per=CostPer.SHEET,
    charge=Charge(
        by=ChargeBy.SIZE_BAND,
        bands=(
            SizeBand(up_to=mm(800), price=euro("4.00")),
            SizeBand(up_to=mm(1200), price=euro("6.00")),
        ),
    ),
    selling=Selling(),
    sheet=SheetStock(
        size=Size(mm(1200), mm(1000)),
        thickness=mm(3),
        grams_per_m2=2000,
        traits=frozenset({Trait.ACID_FREE}),
    ),
)
RING = Material(
    code="R-1",
    name="Hanging ring",
    kind=Kind.HARDWARE,
    cost=euro("20.00"),
    per=CostPer.HUNDRED,
    charge=Charge(by=ChargeBy.EACH),
    selling=Selling(price=euro("0.50")),
)
LABEL = Material(
    code="X-1",
    name="Brass label",
    kind=Kind.EXTRA,
    cost=euro("2.00"),
    per=CostPer.EACH,
    charge=Charge(by=ChargeBy.EACH),
    selling=Selling(price=euro("5.00")),
)
FILLET = Material(
    code="FIL-10",
    name="Gilt bead fillet",
    kind=Kind.MOULDING,
    cost=euro("2.00"),
    per=CostPer.METRE,
    charge=Charge(by=ChargeBy.LENGTH, step=mm(100)),
    selling=Selling(markup=Fraction(5, 2)),
    colour="#b08d3c",
    profile=Profile(
        face=mm(10), lip=mm(4), rebate_depth=mm(3), stick=mm(3000), grams_per_metre=100
    ),
)
"""Not in the book of every test. In the piece's inner window, tucked by its lip and 3 thick behind the
mat: outside 400 + 2 × 4 = 408, 300 + 8 = 308; sight 408 − 20 = 388, 288 (G19). Stack 8 + 3 = 11.
2 × 408 + 2 × 308 = 1432, saw 4 × 8.5 = 34, up to 1500: 1.5 m at 2.00 × 2.5 = 5.00 is 7.50. Work 8 min
more: 70.52 min × 0.60 = 42.312, 42.31. In all 103.51 − 37.51 + 42.31 + 7.50 = 115.81."""

BOOK = (MOULDING, TOP_MAT, UNDER_MAT, GLASS, ACRYLIC, BACKING, RING, LABEL)

TYPED: dict[str, str] = {
    "artwork.size": "410 x 310",
    "artwork.title": "Harbour at dusk",
    "artwork.kind": "watercolour",
    "artwork.place": "Drawer 3",
    "presentation": "window",
    "mats.0.material": "M-101",
    "mats.1.material": "M-140",
    "mats.1.reveal": "10",
    "borders.left": "90",
    "borders.top": "80",
    "borders.bottom": "100",
    "frames.0.material": "LIN-20",
    "glazing.material": "G-2",
    "backing.material": "B-3",
    "hardware.0.material": "R-1",
    "hardware.0.count": "2",
}
"""The piece as it is typed; the right border is left blank and is as the left one."""

TO_PAY = "103.51"
TAX = "17.25"
WITHOUT_TAX = "86.26"
HALF = "51.76"
"""Half of 103.51 is 51.755, half up."""

LINES = (
    ("Linden, limewashed", "24.00"),
    ("Chalk white", "10.00"),
    ("Slate blue", "10.00"),
    ("Float glass 2 mm", "15.00"),
    ("Backing board", "6.00"),
    ("Hanging ring", "1.00"),
    ("Work", "37.51"),
)

FACTS = {
    "outside": "630 × 530 mm",
    "package": "600 × 500 mm",
    "window 1": "420 × 320 mm",
    "window 2": "400 × 300 mm",
    "seen inside the lip": "590 × 490 mm",
    "stack": "8 of 14 mm in the rebate",
    "weight": "about 3.7 kg",
}
"""Weight (D2): mat 1 0.1656 m² and mat 2 0.1734 m² (600 × 500 less the windows; the under blank is
trimmed by 3 at each edge) at 1 kg; glass 0.3 × 5 = 1.5; backing 0.3 × 2 = 0.6; rails 2.32 × 0.5 =
1.16; artwork and fixings 0.15. Together 3.749 kg."""
