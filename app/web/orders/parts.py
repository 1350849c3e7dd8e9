"""The parts of a long order: the pieces of one stand in full on its page, every other piece in a short row that opens its part."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.forms.reader import whole_number
from app.money import Money
from app.orders import Order, Piece, Stage
from app.orders.copies import in_words
from app.orders.designs import open_designs
from app.web.kit.context import RequestContext
from app.web.orders import handing_over
from app.web.orders.piece_rows import made_of
from app.web.pieces.place import IN_FULL, on_order


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedPiece:
    """A piece in a short row. made_of, spread: as on its card. least, most: what it comes to, the most None where that is
    settled. href: opens its part, at its row.
    """

    number: int
    title: str
    made_of: str
    place: str
    stage: Stage
    stage_word: str
    copies: int
    spread: str
    least: Money
    most: Money | None
    designs: int
    href: str
    folded: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PartView:
    """A part of a long order. numbers: "41–80"; open: whether its pieces stand in full."""

    numbers: str
    href: str
    open: bool


def opened_by(here: RequestContext) -> int:
    """Return the number of the piece that an address is about; 0 for none.

    It stands in the path of an act on it, in `?piece=`, or in what hands it over alone.
    """
    request = here.request
    asked = request.query_params
    named = [asked.get("piece", ""), asked.get(handing_over.PIECE, "")]
    if "/pieces/" in request.url.path:
        named.insert(0, str(request.path_params.get("number", "")))
    numbers = (whole_number(text, digits=6) for text in named)
    return next((number for number in numbers if number), 0)


def open_part(pieces: Sequence[Piece], number: int) -> tuple[Piece, ...]:
    """Return the pieces of the part with a number; of one that is gone, those beside it."""
    before = sum(piece.number <= number for piece in pieces)
    first = max(0, before - 1) // IN_FULL * IN_FULL
    return tuple(pieces[first : first + IN_FULL])


def parts_of(order: Order, opened: Sequence[Piece]) -> tuple[PartView, ...]:
    """Return the parts of an order, none of one that stands in full."""
    if len(order.pieces) <= IN_FULL:
        return ()
    parts = (
        order.pieces[first : first + IN_FULL] for first in range(0, len(order.pieces), IN_FULL)
    )
    return tuple(
        PartView(
            numbers=f"{part[0].number}–{part[-1].number}" if len(part) > 1 else f"{part[0].number}",
            href=on_order(order.id, part[0].number),
            open=part[0] is opened[0],
        )
        for part in parts
    )


def folded_piece(order: Order, piece: Piece) -> FoldedPiece:
    """Return the short row of a piece."""
    ways = [each.agreed.price for each in open_designs(piece)]
    least, most = (ways[0].to_pay, ways[-1].to_pay) if piece.undecided else (ways[0].total, None)
    return FoldedPiece(
        number=piece.number,
        title=piece.artwork.title or "Untitled",
        made_of="" if piece.undecided else made_of(piece.agreed.chosen),
        place=piece.artwork.place,
        stage=piece.stage,
        stage_word=piece.stage_word,
        copies=piece.copies,
        spread=in_words(piece.stands),
        least=least,
        most=most if most != least else None,
        designs=len(piece.designs) if piece.undecided else 1,
        href=on_order(order.id, piece.number),
    )
