"""A small price book, a shop and a piece that was really read, worked out and priced."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction

from app.lengths import Size, Unit, mm
from app.money import Money, currency
from app.orders import Agreed, ArtworkRecord, Shop, usual_shop
from app.orders.quoting.agreement import agree
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
from app.storage import NewPiece, Stamp

EUR = currency("EUR")
TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
ACT = Stamp(who="Ilse", now=NOW)


def later(**passed: int) -> Stamp:
    """The same person, some days or minutes later."""
    return Stamp(who=ACT.who, now=NOW + timedelta(**passed))


def euros(text: str) -> Money:
    return Money(round(Fraction(text) * 100), EUR)


SHOP = usual_shop("Kesselhof Frames", Unit.MM, "EUR", Fraction(1, 5))

MOULDING = Material(
    code="LIN-20",
    name="Linden, limewashed",
    kind=Kind.MOULDING,
    cost=euros("9.40"),
    per=CostPer.METRE,
    charge=Charge(by=ChargeBy.LENGTH, waste=Fraction(1, 10), minimum_length=mm(600), step=mm(10)),
    selling=Selling(markup=Fraction("2.8")),
    supplier="Holzwerk Nord",
    finish="limewash",
    colour="#d8d0c0",
    profile=Profile(
        face=mm(20), lip=mm(6), rebate_depth=mm(14), stick=mm(3000), grams_per_metre=240
    ),
    tags=("light", "wood"),
)


def _sheet(code: str, name: str, kind: Kind, thickness: str, *traits: Trait) -> Material:
    return Material(
        code=code,
        name=name,
        kind=kind,
        cost=euros("12.00"),
        per=CostPer.SHEET,
        charge=Charge(by=ChargeBy.SHEET_SHARE),
        selling=Selling(markup=Fraction(3)),
        supplier="Papierhaus",
        sheet=SheetStock(
            size=Size(width=mm(1120), height=mm(815)),
            thickness=mm(thickness),
            grams_per_m2=980,
            traits=frozenset(traits),
        ),
    )


TOP_MAT = _sheet("M-101", "Chalk white", Kind.MAT, "1.4", Trait.ACID_FREE)
UNDER_MAT = _sheet("M-140", "Réséda green", Kind.MAT, "1.4", Trait.ACID_FREE)
GLASS = _sheet("G-2", "Float glass 2 mm", Kind.GLAZING, "2", Trait.GLASS)
BOARD = _sheet("B-3", "Backing board", Kind.BOARD, "3")
BANDED = Material(
    code="DRY",
    name="Dry mounting",
    kind=Kind.EXTRA,
    cost=euros("2.10"),
    per=CostPer.EACH,
    charge=Charge(
        by=ChargeBy.SIZE_BAND,
        bands=(
            SizeBand(up_to=mm(800), price=euros("9.00")),
            SizeBand(up_to=mm(2400), price=euros("21.00")),
        ),
    ),
    selling=Selling(),
    tags=("adhesive",),
)
WIRE = Material(
    code="W-1",
    name="Picture wire set",
    kind=Kind.HARDWARE,
    cost=euros("85.00"),
    per=CostPer.HUNDRED,
    charge=Charge(by=ChargeBy.EACH),
    selling=Selling(price=euros("2.50")),
)
BOOK = (MOULDING, TOP_MAT, UNDER_MAT, GLASS, BOARD, BANDED, WIRE)

TYPED: Mapping[str, str] = {
    "artwork.size": "420 x 297",
    "artwork.title": "Harbour at dusk",
    "artwork.kind": "watercolour",
    "artwork.condition": "foxing in one corner",
    "artwork.declared_value": "350",
    "artwork.place": "Drawer 3",
    "presentation": "window",
    "borders.left": "60",
    "borders.right": "60",
    "borders.top": "60",
    "borders.bottom": "70",
    "mats.0.material": "M-101",
    "mats.1.material": "M-140",
    "mats.1.reveal": "6",
    "frames.0.material": "LIN-20",
    "glazing.material": "G-2",
    "backing.material": "B-3",
    "hardware.0.material": "W-1",
    "hardware.0.count": "1",
}


def in_the_book(text: str, kind: Kind) -> Material | None:
    return next((each for each in BOOK if each.code == text and each.kind is kind), None)


def agreed(*, shop: Shop = SHOP, **typed: str) -> tuple[ArtworkRecord, Agreed]:
    """The sample piece with some fields typed otherwise ("artwork__title" for "artwork.title")."""
    fields = {name.replace("__", "."): text for name, text in typed.items()}
    return agree({**TYPED, **fields}, shop, in_the_book, today=TODAY)


def piece(**typed: str) -> NewPiece:
    artwork, frozen = agreed(shop=SHOP, **typed)
    return NewPiece(artwork=artwork, agreed=frozen)


_SAMPLE = piece()


def cheap_piece(title: str = "Harbour at dusk", place: str = "") -> NewPiece:
    """The sample piece without working it out anew, for tests that need many."""
    return replace(_SAMPLE, artwork=replace(_SAMPLE.artwork, title=title, place=place))
