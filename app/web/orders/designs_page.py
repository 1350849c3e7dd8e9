"""Pages of the designs of a piece: beside each other on its order's page, compared at the counter, taken instead."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from app.documents.quote.comparison import ComparedDesign, Comparison, compare_designs, mode_of
from app.drawings import to_one_scale
from app.framing import Notice
from app.money import Money, show_money
from app.orders import Order, Piece, Shop, Stage
from app.orders.designs import at_odds, by_price, with_taken
from app.orders.hanging_parts import NO_HARDWARE, Hardware
from app.orders.piece_report import Findings, findings
from app.orders.workbench import notices_at_shop
from app.pricing import Repricing, compare
from app.services.order_transaction import account_now, piece_of
from app.services.orders import is_changeable
from app.stock.material_states import MaterialState
from app.web.pieces.chosen import materials_of
from app.web.pieces.material_states import MaterialStand
from app.web.pieces.piece import DrawingView, draw, facts_of
from app.web.pieces.piece_page import PiecePage
from app.web.pieces.planned import PlannedView
from app.web.pieces.price import PriceView, price_view


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignCard:
    """One of several designs on its order's page. differs: (what, text) of what is not the same in all.

    may_take: at once, on a quote; may_take_instead: of what is ordered, after its price was looked at.
    """

    number: int
    letter: str
    taken: bool
    drawing: Markup
    price: PriceView
    priced_on: date
    differs: tuple[tuple[str, str], ...]
    facts: tuple[tuple[str, str], ...]
    materials: tuple[tuple[str, str], ...]
    notices: tuple[Notice, ...]
    may_take: bool
    may_take_instead: bool
    may_change: bool
    may_remove: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignsView:
    """The designs of a piece that has several. undecided: none of them is chosen. odds: what they say otherwise
    of the one artwork. least, most: what the piece comes to.
    """

    cards: tuple[DesignCard, ...]
    undecided: bool
    may_leave_open: bool
    odds: tuple[str, ...]
    least: Money
    most: Money | None

    @property
    def untaken(self) -> tuple[DesignCard, ...]:
        """Return those that are not taken."""
        return tuple(card for card in self.cards if not card.taken)


def designs_view(piece: Piece, shop: Shop, hardware: Hardware = NO_HARDWARE) -> DesignsView | None:
    """Return the designs of a piece; None where there is one."""
    if not piece.several:
        return None
    compared = compare_designs(piece, shop)
    cheapest, dearest = by_price(piece)[0], by_price(piece)[-1]
    least, most = (each.agreed.price.to_pay for each in (cheapest, dearest))
    return DesignsView(
        cards=tuple(
            _card(
                piece.by_design(each.number),
                each,
                tuple(zip(compared.names, each.texts, strict=True)),
                shop,
                hardware,
            )
            for each in compared.designs
        ),
        undecided=piece.undecided,
        may_leave_open=piece.stage is Stage.QUOTED and piece.taken is not None,
        odds=tuple(at_odds(piece)),
        least=least,
        most=most if most != least else None,
    )


def _card(
    piece: Piece,
    compared: ComparedDesign,
    differs: tuple[tuple[str, str], ...],
    shop: Shop,
    hardware: Hardware,
) -> DesignCard:
    """Return the card of the design that the piece is given by."""
    design, agreed = piece.counted, piece.agreed
    found = findings(piece.artwork, agreed, shop, hardware)
    quoted, changeable = piece.stage is Stage.QUOTED, is_changeable(piece)
    return DesignCard(
        number=design.number,
        letter=design.letter,
        taken=compared.taken,
        drawing=draw(DrawingView.SEEN, piece.artwork, agreed, found),
        price=price_view(agreed),
        priced_on=agreed.priced_on,
        differs=differs,
        facts=facts_of(agreed, found, shop),
        materials=materials_of(agreed.chosen),
        notices=notices_at_shop(found, shop) if changeable else found.notices,
        may_take=quoted and not compared.taken,
        may_take_instead=piece.stage is Stage.ORDERED and not compared.taken,
        may_change=changeable,
        may_remove=quoted and not compared.taken,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenDesign:
    """A design at the counter: what the customer sees of it. shown: whether it is among those compared."""

    number: int
    letter: str
    shown: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparePage(PiecePage):
    """Designs of a piece at the counter, for the customer to look at: nothing of the shop's own stands here (P9).

    designs: all of the piece, to choose which are compared. drawings: by number. paper: where the same is printed.
    """

    section: str = "Quotes"
    wide: bool = True
    customer_name: str
    compared: Comparison
    drawings: dict[int, Markup]
    designs: tuple[SeenDesign, ...]
    paper: str
    may_take: bool

    @property
    def on_the_wall(self) -> str:
        """The address of those that are compared, one beside the other on a wall."""
        named = "+".join(f"{self.number}{each.letter}" for each in self.designs if each.shown)
        return f"/orders/{self.order_id}/wall?piece={named}"


def compare_page(order: Order, piece: Piece, shop: Shop, numbers: Sequence[int]) -> ComparePage:
    """Return the page that compares some designs of a piece, all of them where none is named."""
    compared = compare_designs(piece, shop, numbers)
    shown = {each.number for each in compared.designs}
    query = "&".join(f"of={number}" for number in sorted(shown))
    return ComparePage(
        title=f"Designs of {compared.title}",
        order_id=order.id,
        order_number=order.number,
        version=order.version,
        number=piece.number,
        customer_name=order.customer_name,
        compared=compared,
        drawings=drawings_of(piece, [each.number for each in compared.designs], shop),
        designs=tuple(
            SeenDesign(number=each.number, letter=each.letter, shown=each.number in shown)
            for each in piece.designs
        ),
        paper=f"/orders/{order.id}/pieces/{piece.number}/designs.pdf?{query}",
        may_take=piece.stage is Stage.QUOTED,
    )


def drawings_of(piece: Piece, numbers: Sequence[int], shop: Shop) -> dict[int, Markup]:
    """Draw some designs of a piece as they will look, by number, all to one scale."""
    drawn = [drawing_of(piece.by_design(number), shop) for number in numbers]
    return dict(zip(numbers, map(Markup, to_one_scale(drawn)), strict=True))


def drawing_of(piece: Piece, shop: Shop) -> Markup:
    """Draw the design of a piece that counts, as it will look."""
    found: Findings = findings(piece.artwork, piece.agreed, shop)
    return draw(DrawingView.SEEN, piece.artwork, piece.agreed, found)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeInsteadPage(PiecePage):
    """What taking another design of an ordered piece changes, before it is done.

    old, new: letters, with their drawings. before, after: what the order comes to. cut: the materials of which parts are cut or planned.
    """

    section: str = "Orders"
    heading: str
    design: int
    old: str
    new: str
    old_drawing: Markup
    new_drawing: Markup
    mode: str
    repricing: Repricing
    difference: str
    before: Money
    after: Money
    cut: tuple[MaterialStand, ...]
    planned: PlannedView | None
    priced_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class DoneSoFar:
    """What is planned and cut of the design that another one is taken instead of. stands: of all its materials."""

    stands: tuple[MaterialStand, ...]
    planned: PlannedView | None


def take_instead_page(
    order: Order, number: int, design: int, shop: Shop, done: DoneSoFar
) -> TakeInsteadPage:
    """Return the page. number: of the piece. Raises: NotFound."""
    after = with_taken(order, {number: design})
    old, new = piece_of(order, number), piece_of(after, number).by_design(design)
    repricing = compare(old.agreed.price, new.agreed.price)
    return TakeInsteadPage(
        title=f"Choose design {new.counted.letter} instead: {order.number}",
        order_id=order.id,
        order_number=order.number,
        version=order.version,
        number=old.number,
        heading=old.artwork.title or f"Piece {old.number}",
        design=new.counted.number,
        old=old.counted.letter,
        new=new.counted.letter,
        old_drawing=drawing_of(old, shop),
        new_drawing=drawing_of(new, shop),
        mode=mode_of(new.agreed.price.customer_view()),
        repricing=repricing,
        difference=_difference(repricing.difference),
        before=account_now(order).to_pay,
        after=account_now(after).to_pay,
        cut=tuple(
            each
            for each in done.stands
            if each.words in (MaterialState.CUT.value, MaterialState.PLANNED.value)
        ),
        planned=done.planned,
        priced_on=new.agreed.priced_on,
    )


def _difference(difference: Money) -> str:
    """Say by how much a price differs, as "12.00 more"."""
    if not difference:
        return "the same price"
    return f"{show_money(abs(difference))} {'more' if difference.minor > 0 else 'less'}"
