"""The frame of a piece that is given, as it is typed on the quote page: ready-made or the customer's own (G24)."""

from app.framing.given_frame import Diagonals, GivenFrame
from app.lengths import Length, Size
from app.orders.quoting.choices import FrameSource
from app.orders.quoting.reader import NEEDED, PieceReader
from app.pricing import Material


def ready_made_frame(read: PieceReader) -> Material | None:
    """Return the frame of the price book; None, with a fault, where one is asked for and none can be read."""
    if read.known.source is not FrameSource.READY_MADE:
        return None
    if not read.given("given_frame.material"):
        read.faults.add(
            "given_frame.material", "Choose which ready-made frame of the price book it is.", NEEDED
        )
    found: Material | None = read.at("given_frame.material")
    return found


def given_frame_of(read: PieceReader, ready_made: Material | None) -> GivenFrame | None:
    """Return what is measured of the frame; None where it is made, where there is none or it cannot be read."""
    match read.known.source:
        case FrameSource.READY_MADE:
            return _ready_made(read, ready_made)
        case FrameSource.OWN:
            return _own(read)
        case _:
            return None


def _ready_made(read: PieceReader, material: Material | None) -> GivenFrame | None:
    stock = material.frame if material else None
    if stock is None:
        return None
    return GivenFrame(
        rebate=stock.rebate,
        depth=stock.depth,
        allowance=read.at("allowance"),
        outside=stock.outside,
        face=stock.face,
        lip=stock.lip,
        own=False,
    )


def _own(read: PieceReader) -> GivenFrame | None:
    rebate = read.measured_size("given_frame.rebate", "size of the rebate")
    if not read.given("given_frame.depth"):
        read.faults.add(
            "given_frame.depth",
            "The depth of the rebate is empty; measure it, as "
            f"{read.such_as('given_frame.depth')}, for all has to go into it.",
            NEEDED,
        )
    depth, face, lip = (_length(read, name) for name in ("depth", "face", "lip"))
    opposite, diagonals, outside = (
        _size(read, name) for name in ("opposite", "diagonals", "outside")
    )
    if rebate is None or depth is None:
        return None
    return GivenFrame(
        rebate=rebate,
        depth=depth,
        allowance=read.at("allowance"),
        opposite=opposite,
        diagonals=_diagonals(diagonals),
        outside=outside,
        face=face,
        lip=lip,
    )


def _diagonals(typed: Size | None) -> Diagonals | None:
    """Two lengths with a × between them, as they are typed."""
    return None if typed is None else Diagonals(falling=typed.width, rising=typed.height)


def _length(read: PieceReader, name: str) -> Length | None:
    path = f"given_frame.{name}"
    return read.at(path) if read.given(path) else None


def _size(read: PieceReader, name: str) -> Size | None:
    path = f"given_frame.{name}"
    return read.measured_size(path, name) if read.given(path) else None
