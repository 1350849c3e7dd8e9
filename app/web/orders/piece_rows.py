"""A piece on its order's page: what its row says at a glance, and what stands in its fold."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from app.counting import counted
from app.documents.kit.pictures import in_lists
from app.framing import Concern, Notice
from app.orders import Order, Piece, Shop, Stage
from app.orders.artwork_size import artwork_as_said
from app.orders.below_cost import notices_of_price
from app.orders.copies import in_words
from app.orders.hanging_parts import NO_HARDWARE, Hardware
from app.orders.piece_report import Findings, findings
from app.orders.workbench import notices_at_shop
from app.pricing import Chosen
from app.services.orders import is_changeable
from app.stock.planning.problems import OnRack
from app.web.orders.acts import Act, acts_of_piece, undo_of
from app.web.orders.designs_page import DesignsView, designs_view
from app.web.pieces.chosen import materials_of
from app.web.pieces.piece import DrawingView, draw, facts_of
from app.web.pieces.price import PriceView, price_view
from app.web.pieces.stock import NOTHING_FROM_RACK, FromRack, OffcutView, from_rack


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceCard:
    """A piece on its order's page.

    made_of: moulding, mats and glazing in short. risks, checks: how many of its notices are risks and how many are to
    be checked, in words; empty for none. acts: what may follow now. designs: of a piece that has several; while none of them is chosen the rest is the
    first one's. copies: how many are alike; spread: how these stand, where they do not all stand at the stage.
    undo: the words to undo the last change, "" where there is none.
    """

    number: int
    title: str
    artwork: str
    made_of: str
    place: str
    condition: str
    note: str
    stage: Stage
    stage_word: str
    copies: int
    spread: str
    drawing: str
    facts: tuple[tuple[str, str], ...]
    materials: tuple[tuple[str, str], ...]
    notices: tuple[Notice, ...]
    risks: str
    checks: str
    price: PriceView
    offcuts: tuple[OffcutView, ...]
    acts: tuple[Act, ...]
    may_change: bool
    undo: str
    may_remove: bool
    may_add_design: bool
    priced_on: date
    designs: DesignsView | None
    folded: bool = False

    @property
    def outside(self) -> tuple[str, str]:
        """The first of its facts: what it measures outside, or the rebate of a frame that is given."""
        return self.facts[0]


def may_add_design(order: Order) -> bool:
    """Tell whether further designs of its pieces may be added, which is until it is ordered (P10)."""
    return order.stage is Stage.QUOTED


def piece_card(
    order: Order,
    piece: Piece,
    shop: Shop,
    rack: Sequence[OnRack] = (),
    hardware: Hardware = NO_HARDWARE,
    *,
    of_photo: tuple[Notice, ...] = (),
) -> PieceCard:
    """Return a piece with its drawing and price, from what was frozen.

    Until it is cut, its notices also say what the shop's cutter cannot do and what no stock holds, and
    the offcuts that fit are named. of_photo: what is noticed of its photo.
    """
    found = findings(piece.artwork, piece.agreed, shop, hardware)
    uncut = is_changeable(piece)
    stock = from_rack(piece.agreed, shop, rack) if uncut else NOTHING_FROM_RACK
    notices = (*_notices(piece, found, shop, stock), *of_photo) if uncut else found.notices
    return PieceCard(
        number=piece.number,
        title=piece.artwork.title or "Untitled",
        artwork=f"{piece.artwork.kind.value}, {artwork_as_said(piece.agreed.spec, piece.agreed.typed)}",
        made_of=made_of(piece.agreed.chosen),
        place=piece.artwork.place,
        condition=piece.artwork.condition,
        note=piece.agreed.note,
        stage=piece.stage,
        stage_word=piece.stage_word,
        copies=piece.copies,
        spread=in_words(piece.stands),
        drawing=draw(DrawingView.SEEN, piece.artwork, piece.agreed, found, in_lists),
        facts=facts_of(piece.agreed, found, shop),
        materials=materials_of(piece.agreed.chosen),
        notices=notices,
        risks=_many(notices, Concern.RISK, "risk", "risks"),
        checks=_many(notices, Concern.LOOK, "thing to check", "things to check"),
        offcuts=stock.offcuts,
        price=price_view(piece.agreed),
        acts=acts_of_piece(order, piece),
        may_change=uncut,
        undo="" if order.deleted else undo_of(piece),
        may_remove=piece.stage is Stage.QUOTED and len(order.pieces) + order.has_lines > 1,
        may_add_design=may_add_design(order) and piece.stage is Stage.QUOTED,
        priced_on=piece.agreed.priced_on,
        designs=designs_view(piece, shop, hardware),
    )


def _notices(piece: Piece, found: Findings, shop: Shop, stock: FromRack) -> tuple[Notice, ...]:
    """Return what is to be noticed of a piece that may still be changed."""
    at_shop = notices_at_shop(found, shop)
    return (*notices_of_price(piece.agreed.price), *stock.notices, *at_shop)


def _many(notices: Sequence[Notice], concern: Concern, one: str, many: str) -> str:
    """Say how many notices are of a concern; empty for none."""
    count = sum(notice.concern is concern for notice in notices)
    return counted(count, one, many) if count else ""


def made_of(chosen: Chosen) -> str:
    """Name what a piece is made of in short: "Linden 20, 2 mats, Float glass 2 mm"."""
    frames = [frame.name for frame in chosen.frames]
    if chosen.ready_made:
        frames.append(chosen.ready_made.name)
    mats = [counted(len(chosen.mats), "mat")] if chosen.mats else []
    glazing = [chosen.glazing.name] if chosen.glazing else []
    return " · ".join((*frames, *mats, *glazing))
