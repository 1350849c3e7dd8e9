"""The designs of a piece on the whole screen: beside each other with their prices, or one of them alone as large as it goes.

Made for whoever stands in front of the screen: nothing of the shop's own stands here (P9).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from app.documents.quote.comparison import ComparedDesign, Comparison, compare_designs
from app.errors import NotFound
from app.money import Money
from app.orders import Order, Piece, Shop, Stage
from app.web.kit.templating import Page
from app.web.orders.designs_page import drawings_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownDesign:
    """A design on the whole screen. called: how it is named; "" where a piece has one. says: (what, text) of what tells it from the others, or of a
    piece with one design what it is made of. at: the address of it alone.
    """

    number: int
    letter: str
    called: str
    drawing: Markup
    price: Money
    mode: str
    taken: bool
    says: tuple[tuple[str, str], ...]
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowPage(Page):
    """Designs on the whole screen. designs: those that are shown, one or all. of: how many there are. all: the address that shows all of them, "" where this
    is all. before, after: of the one that is shown the addresses of those beside it, round and round; "" where there is one. back: where the
    page is left to.
    """

    section: str = "Quotes"
    whole_screen: bool = True
    order_id: int
    version: int
    number: int
    heading: str
    designs: tuple[ShownDesign, ...]
    of: int
    all: str
    before: str
    after: str
    back: str
    may_take: bool


def show_page(order: Order, piece: Piece, shop: Shop, alone: int | None, *, back: str) -> ShowPage:
    """Return the page. alone: the design that is shown by itself; None for all. Raises: NotFound for one that the piece has not."""
    compared = compare_designs(piece, shop)
    numbers = [each.number for each in compared.designs]
    if alone is not None and alone not in numbers:
        raise NotFound(f"Piece {piece.number} of {order.number} has no such design.")
    at = f"/orders/{order.id}/pieces/{piece.number}/show"
    drawings = drawings_of(piece, numbers, shop)
    several = len(numbers) > 1
    before, after = _beside(numbers, alone)
    return ShowPage(
        title=compared.title,
        order_id=order.id,
        version=order.version,
        number=piece.number,
        heading=compared.title,
        designs=tuple(
            _shown(at, compared, each, drawings[each.number])
            for each in compared.designs
            if alone in (None, each.number)
        ),
        of=len(numbers),
        all=at if several and alone is not None else "",
        before=_one(at, before),
        after=_one(at, after),
        back=back,
        may_take=several and piece.stage is Stage.QUOTED,
    )


def _beside(numbers: Sequence[int], alone: int | None) -> tuple[int | None, int | None]:
    """Return the designs before and after one, round and round."""
    if alone is None or len(numbers) < 2:
        return None, None
    place = numbers.index(alone)
    return numbers[place - 1], numbers[(place + 1) % len(numbers)]


def _one(at: str, design: int | None) -> str:
    return f"{at}?design={design}" if design is not None else ""


def _shown(at: str, compared: Comparison, design: ComparedDesign, drawing: Markup) -> ShownDesign:
    several = len(compared.designs) > 1
    differs = tuple(zip(compared.names, design.texts, strict=True))
    same = tuple((each.name, each.text) for each in compared.same)
    return ShownDesign(
        number=design.number,
        letter=design.letter,
        called=f"Design {design.letter}" if several else "",
        drawing=drawing,
        price=design.price,
        mode=design.mode,
        taken=design.taken,
        says=differs if several else same,
        at=_one(at, design.number),
    )
