"""A tiny invented price book, and pieces agreed from it through the real reading."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from app.lengths import Unit
from app.orders import Order, Piece, Shop, Stage, sole_design, usual_shop
from app.orders.quoting.agreement import agree
from app.pricing import Charge, CostPer, Kind, Material, Trait
from tests.builders.materials import (
    BY_AREA,
    BY_LENGTH,
    EACH,
    counted,
    moulding,
    profile,
    sheet,
    sold_at,
    stock,
)
from tests.builders.ordered import order_of
from tests.builders.values import TODAY


def _sheet(
    code: str, name: str, kind: Kind, thickness: str, grams: int, *traits: Trait, colour: str
) -> Material:
    of = stock(thickness, grams, *traits)
    by_area = {"per": CostPer.SQUARE_METRE, "charge": BY_AREA}
    return sheet(code, name, kind, of, "20.00", sold_at("50.00"), colour=colour, **by_area)


def _moulding(
    code: str, name: str, face: str, lip: str, depth: str, *, colour: str, finish: str = "satin"
) -> Material:
    shape, more = profile(face, lip, depth, 310), {"colour": colour, "finish": finish}
    return moulding(code, name, shape, "15.00", sold_at("14.20"), per=CostPer.STICK, **more)


def _each(code: str, name: str, kind: Kind, charge: Charge, per: CostPer) -> Material:
    return counted(code, name, kind, "1.00", sold_at("2.00"), per=per, charge=charge)


MAT, ACID_FREE = Kind.MAT, Trait.ACID_FREE
BOOK = {
    material.code: material
    for material in (
        _sheet("M1", "Chalk white", MAT, "1.4", 980, ACID_FREE, colour="#f4efe3"),
        _sheet("M2", "Slate blue", MAT, "1.4", 980, ACID_FREE, colour="#5f7480"),
        _sheet("M3", "Moss", MAT, "1.4", 980, colour="#6d7a61"),
        _sheet(
            "G2", "Clear 2 mm, UV filter", Kind.GLAZING, "2", 5000, Trait.GLASS, Trait.UV_FILTER,
            colour="#ffffff",
        ),
        _sheet(
            "A3", "Acrylic 3 mm", Kind.GLAZING, "3", 3570, Trait.ACRYLIC, colour="#ffffff"
        ),
        _sheet("B3", "Backing 3 mm", Kind.BOARD, "3", 2250, ACID_FREE, colour="#c8b79a"),
        _sheet("K1", "Museum board", Kind.BOARD, "1.4", 980, ACID_FREE, colour="#f6f2e8"),
        _moulding("W25", "Walnut hollow 25", "25", "6", "14", colour="#5a3f2b"),
        _moulding("S10", "Slip, raw oak", "10", "3", "8", colour="#c9a56b", finish="raw"),
        _moulding("F10", "Gilt bead fillet", "10", "4", "3", colour="#b8964f", finish="gilt"),
        _moulding("L40", "Lime gesso, gilt edge", "40", "7", "22", colour="#b8964f", finish="gilt"),
        _moulding("T20", "Tray, black ash", "20", "0", "40", colour="#2a2a2c", finish="matt"),
        _moulding("C30", "Canvas moulding", "30", "8", "16", colour="#8a6a4c"),
        _each("R1", "Hanging ring", Kind.HARDWARE, EACH, CostPer.EACH),
        _each("H5", "Hanging wire", Kind.HARDWARE, BY_LENGTH, CostPer.METRE),
        _each("X1", "Brass label", Kind.EXTRA, EACH, CostPer.EACH),
        _each("D5", "Spacer strip 5", Kind.EXTRA, BY_LENGTH, CostPer.METRE),
    )
}  # fmt: skip


def find(text: str, kind: Kind) -> Material | None:
    """By code."""
    found = BOOK.get(text)
    return found if found is not None and (found.kind is kind or text == "D5") else None


def a_shop(unit: Unit = Unit.MM, **changes: Any) -> Shop:
    """The invented shop, 20 % tax in its prices."""
    shop = usual_shop("Tern & Tide Framing", unit, "EUR", Fraction(1, 5))
    return replace(
        shop,
        **{
            "address": "3 Sail Loft Row\nEastmere",
            "contact": "hello@ternandtide.example · 0100 555 0148",
            **changes,
        },
    )


SKETCH: dict[str, str] = {
    "artwork.size": "420 x 297",
    "artwork.thickness": "0.3",
    "artwork.title": "Estuary, low tide",
    "artwork.kind": "watercolour",
    "artwork.condition": "Slight cockling at the top edge",
    "artwork.place": "Rack B2",
    "presentation": "window",
    "overlap": "5",
    "mats.0.material": "M1",
    "mats.1.material": "M2",
    "mats.1.reveal": "6",
    "borders.left": "70",
    "borders.right": "70",
    "borders.top": "70",
    "borders.bottom": "80",
    "frames.0.material": "W25",
    "allowance": "3",
    "glazing.material": "G2",
    "mount_board.material": "K1",
    "backing.material": "B3",
    "hardware.0.material": "R1",
    "hardware.0.count": "2",
    "hardware.1.material": "H5",
}
"""The worked piece of the design sketch: 420 × 297, two mats, borders 70 70 70 80."""


def an_order(
    *pieces: Mapping[str, str], shop: Shop | None = None, tax_free: bool = False, **changes: Any
) -> Order:
    """An order of pieces as typed."""
    shop = shop or a_shop()
    made = []
    for number, typed in enumerate(pieces, start=1):
        artwork, agreed = agree(typed, shop, find, today=TODAY, tax_free=tax_free)
        made.append(
            Piece(
                id=number,
                number=number,
                artwork=artwork,
                designs=sole_design(agreed),
                stage=Stage.ORDERED,
            )
        )
    numbered = {"id": 12, "quote_number": "Q-2026-0148", "order_number": "2026-0148"}
    said = {"customer_name": "Mairi Quill", "due": date(2026, 12, 10)}
    return order_of(*made, **{**numbered, **said, **changes})


TRIPLE = {**SKETCH, "mats.2.material": "M3", "mats.2.reveal": "4", "artwork.size": "297 x 420"}
FLOAT = {
    "artwork.size": "250x350",
    "artwork.title": "Tide table",
    "artwork.kind": "document",
    "presentation": "float",
    "gap": "12",
    "mats.0.material": "M1",
    "frames.0.material": "L40",
    "glazing.material": "G2",
    "mount_board.material": "K1",
    "backing.material": "B3",
    "spacer.material": "D5",
    "spacer.depth": "5",
}
CLOSE = {
    "artwork.size": "700x500",
    "presentation": "close",
    "artwork.kind": "print",
    "frames.0.material": "W25",
    "glazing.material": "A3",
    "backing.material": "B3",
}
CANVAS = {
    "artwork.size": "900x600",
    "artwork.thickness": "20",
    "presentation": "canvas",
    "artwork.kind": "canvas",
    "frames.0.material": "C30",
}
TRAY = {
    "artwork.size": "500x400",
    "artwork.thickness": "38",
    "presentation": "canvas-float",
    "gap": "5",
    "artwork.kind": "canvas",
    "frames.0.material": "T20",
}
TWO_FRAMES = {**SKETCH, "frames.0.material": "S10", "frames.1.material": "L40"}
INCHES = {
    "unit": "in",
    "artwork.size": "16 x 20",
    "artwork.title": "Gulls over the breakwater",
    "artwork.kind": "print",
    "artwork.place": "Drawer 4",
    "presentation": "window",
    "overlap": "3/16",
    "mats.0.material": "M1",
    "borders.left": "2 1/2",
    "borders.right": "2 1/2",
    "borders.top": "2 1/2",
    "borders.bottom": "3",
    "allowance": "1/8",
    "frames.0.material": "W25",
    "glazing.material": "G2",
    "backing.material": "B3",
}
"""A worked piece in inches: 16 × 20, one mat, bottom 3."""

EIGHT = {
    **SKETCH,
    "artwork.size": "110x160",
    "artwork.title": "Eight tides",
    "artwork.kind": "photograph",
    "mats.1.material": "",
    "mats.1.reveal": "",
    "borders.left": "60",
    "borders.right": "60",
    "borders.top": "60",
    "borders.bottom": "70",
    "windows.count": "8",
    "arrangement.rows": "4",
    "arrangement.across": "30",
    "arrangement.down": "30",
}
"""Two rows of four windows of 100 × 150, 30 apart, borders 60 60 60 70."""

OVAL = {**SKETCH, "artwork.size": "200x260", "windows.0.shape": "oval"}

FILLET = {**SKETCH, "fillet.material": "F10", "fillet.depth": "3"}
"""In the inner window of 410 × 287, tucked by its lip of 4: outside 418 × 295, sight 398 × 275."""

OBJECT = {
    "artwork.size": "200 x 150",
    "artwork.title": "First shoes",
    "artwork.kind": "object",
    "artwork.thickness": "18",
    "presentation": "float",
    "mats.0.material": "M1",
    "borders.left": "60",
    "frames.0.material": "L40",
    "glazing.material": "G2",
    "mount_board.material": "B3",
    "backing.material": "B3",
    "spacer.material": "D5",
    "spacer.depth": "20",
}
"""An object of 18 within 1.4 + 20, of which 3.4 stay clear: 2 + 21.4 + 3 + 3 = 29.4 in a rebate of 22."""

FILLETS = {**EIGHT, "fillet.material": "F10", "fillet.depth": "3"}
"""In each window of 100 × 150: outside 108 × 158, sight 88 × 138."""

EVERYTHING = {
    **TRIPLE,
    "artwork.kind": "pastel",
    "artwork.title": "A long title about the morning when the ferry was late and the quay waited",
    "borders.left": "20",
    "frames.0.material": "S10",
    "frames.1.material": "W25",
    "frames.2.material": "L40",
    "glazing.material": "A3",
    "spacer.material": "D5",
    "spacer.depth": "5",
    "extras.0.material": "X1",
    "rush": "1",
}
"""Three mats, three frames, spacers, boards, and a notice at nearly every station."""

OWN_FRAME = {
    **SKETCH,
    "frames.0.material": "",
    "frame.source": "own",
    "given_frame.rebate": "565 x 452",
    "given_frame.depth": "14",
}
"""The sketch in a frame that the customer brings."""

PIECES: dict[str, dict[str, str]] = {
    "sketch": SKETCH,
    "object": OBJECT,
    "triple mat": TRIPLE,
    "float": FLOAT,
    "close": CLOSE,
    "canvas": CANVAS,
    "tray": TRAY,
    "two frames": TWO_FRAMES,
    "inches": INCHES,
    "eight windows": EIGHT,
    "oval": OVAL,
    "fillet": FILLET,
    "eight fillets": FILLETS,
    "own frame": OWN_FRAME,
    "everything": EVERYTHING,
}


def in_stage(order: Order, stage: Stage, *, number: int | None = None) -> Order:
    """The order with one piece, or every piece, at a stage."""
    return replace(
        order,
        pieces=tuple(
            replace(piece, stage=stage) if number in (None, piece.number) else piece
            for piece in order.pieces
        ),
    )
