"""A small price book, a shop and a piece that was really read, worked out and priced."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction

from app.lengths import Unit, mm
from app.orders import Agreed, ArtworkRecord, Shop, usual_shop
from app.orders.quoting.agreement import agree
from app.pricing import Charge, ChargeBy, CostPer, Kind, Material, Selling, Trait
from app.services import erasing
from app.services.erasing import RemovalRequest
from app.storage import NewPiece, Stamp, Store
from tests.builders.materials import (
    BY_SHEET,
    by_band,
    counted,
    marked_up,
    moulding,
    profile,
    sheet,
    sold_at,
    stock,
)
from tests.builders.values import TODAY, finder

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
ACT = Stamp(who="Ilse", now=NOW)


def later(**passed: int) -> Stamp:
    """The same person, some days or minutes later."""
    return Stamp(who=ACT.who, now=NOW + timedelta(**passed))


SHOP = usual_shop("Kesselhof Frames", Unit.MM, "EUR", Fraction(1, 5))

MOULDING = moulding(
    "LIN-20", "Linden, limewashed", profile("20", "6", "14", 240), "9.40", marked_up("2.8"),
    charge=Charge(
        by=ChargeBy.LENGTH, waste=Fraction(1, 10), minimum_length=mm(600), step=mm(10)
    ),
    supplier="Holzwerk Nord", finish="limewash", colour="#d8d0c0", tags=("light", "wood"),
)  # fmt: skip


def _sheet(code: str, name: str, kind: Kind, thickness: str, *traits: Trait) -> Material:
    return sheet(
        code, name, kind, stock(thickness, 980, *traits), "12.00", marked_up("3"),
        per=CostPer.SHEET, charge=BY_SHEET, supplier="Papierhaus",
    )  # fmt: skip


TOP_MAT = _sheet("M-101", "Chalk white", Kind.MAT, "1.4", Trait.ACID_FREE)
UNDER_MAT = _sheet("M-140", "Réséda green", Kind.MAT, "1.4", Trait.ACID_FREE)
GLASS = _sheet("G-2", "Float glass 2 mm", Kind.GLAZING, "2", Trait.GLASS)
BOARD = _sheet("B-3", "Backing board", Kind.BOARD, "3")
BANDED = counted(
    "DRY", "Dry mounting", Kind.EXTRA, "2.10", Selling(),
    charge=by_band((800, "9.00"), (2400, "21.00")), tags=("adhesive",),
)  # fmt: skip
WIRE = counted("W-1", "Picture wire set", Kind.HARDWARE, "85.00", sold_at("2.50"))
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


in_the_book = finder(BOOK)


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


def asked_to_go(store: Store, customer_id: int) -> RemovalRequest:
    """Everything that is offered is ticked, and copies stay."""
    keys = erasing.asked(store, customer_id).keys
    return RemovalRequest(shown=keys, ticked=keys)
