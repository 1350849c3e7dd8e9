"""The page of a quote or order: what is next, its money, its pieces, the record of changes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Any

from app.errors import Fault
from app.forms.table import Typed
from app.framing import Notice
from app.orders import LEFT_THE_WAY, Customer, Order, Piece, QuotePrices, Shop, Stage
from app.orders.hanging_parts import NO_HARDWARE, Hardware
from app.orders.target_price import may_be_lowered
from app.orders.totals import Account
from app.services.orders import may_add_piece
from app.services.spoiling import PartNoted
from app.stock.planning.problems import OnRack
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.templating import Page
from app.web.orders import form as forms
from app.web.orders.acts import Act, acts_of_order
from app.web.orders.form import OfOrder
from app.web.orders.handing_over import HandOverView
from app.web.orders.invoices_page import InvoicesView
from app.web.orders.line_cards import LineCard
from app.web.orders.materials import OrderMaterials, StockState
from app.web.orders.money import (
    EntryView,
    ReductionView,
    charged_words,
    entry_views,
    reduction_views,
)
from app.web.orders.next_act import NextAct
from app.web.orders.parts import FoldedPiece, PartView, folded_piece, parts_of
from app.web.orders.piece_rows import PieceCard, piece_card
from app.web.orders.record import ChangeView, Histories, record_of
from app.web.orders.target import TARGET, TargetView
from app.web.orders.telling import TellingView
from app.web.pieces.material_states import MaterialStand
from app.web.pieces.planned import PlannedView
from app.web.pieces.printed import PrintedView
from app.web.pieces.spoiled import SpoiledView


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPage(Page):
    """The page of a quote or order.

    take, pay, goodwill, terms: the fields of the forms; take is None unless the quote can be ordered.
    choose: those that take a design with the order, of each piece of which none is taken.
    target_form: of a target price, None unless the quote may be lowered. target: what a typed one leaves.
    unfolded: which of the folded forms stand open, "payment", "goodwill", "target", "terms", "told" and "handover". stands: the state
    of the materials of each piece, by its number; stock: the same in a few words; materials: those of all pieces. printed: of the pieces whose ticket was printed, whether that
    holds; spoiled: of those with a part to be cut anew, which. asks: of those for which marking them cut asks first, why. deleted: whether it is a quote that was deleted, which
    shows what it was and can only be brought back. may_delete: whether it is a quote that may be
    deleted, as it is where the only thing on it is taken off. alone: whether one thing stands on it. prints_lines: whether its quote
    says prices line by line, as the shop chooses. parts: of a long order, of which one is open. charged: what is
    charged, in words; charges: whether anything is, so that there is a paper of it. due_in: how far off the due day is, in words, while it is waited for. account: the least while a
    design is still to be chosen; most: what it may come to then, None where it is settled (P10).
    """

    wide: bool = True
    id: int
    version: int
    number: str
    is_order: bool
    charges: bool
    stage: Stage
    customer_id: int
    customer: Customer
    quoted_on: date
    valid_until: date
    out_of_date: bool
    ordered_on: date | None
    due: date | None
    due_in: str
    overdue: bool
    due_closed: bool
    note: str
    stage_word: str
    pieces: tuple[PieceCard | FoldedPiece, ...]
    parts: tuple[PartView, ...]
    lines: tuple[LineCard, ...]
    has_jobs: bool
    prints_lines: bool
    charged: str
    alone: bool
    next: NextAct
    acts: tuple[Act, ...]
    account: Account
    most: Account | None
    entries: tuple[EntryView, ...]
    reductions: tuple[ReductionView, ...]
    record: tuple[ChangeView, ...]
    hand_over: HandOverView
    telling: TellingView
    take: FormView[OfOrder] | None
    choose: tuple[FieldView, ...]
    pay: FormView[OfOrder]
    goodwill: FormView[OfOrder]
    terms: FormView[OfOrder]
    target_form: FormView[OfOrder] | None
    target: TargetView | None = None
    deleted: bool
    may_delete: bool = False
    unfolded: frozenset[str]
    may_add_piece: bool
    may_add_line: bool
    may_take_back: bool
    materials: OrderMaterials
    stands: Mapping[int, tuple[MaterialStand, ...]]
    stock: Mapping[int, StockState | None]
    planned: Mapping[int, PlannedView | None]
    printed: Mapping[int, PrintedView]
    spoiled: Mapping[int, SpoiledView]
    asks: Mapping[int, tuple[str, ...]]
    invoices: InvoicesView


def order_fields(
    order: Order,
    shop: Shop,
    today: date,
    rack: Sequence[OnRack] = (),
    histories: Histories = MappingProxyType({}),
    *,
    opened: Sequence[Piece],
    hardware: Hardware = NO_HARDWARE,
    noted: Mapping[int, Sequence[PartNoted]] = MappingProxyType({}),
    of_photos: Mapping[int, tuple[Notice, ...]] = MappingProxyType({}),
) -> dict[str, Any]:
    """Return the page's fields that follow from the order.

    rack: what is free of its materials. histories: of the pieces that were agreed more than once.
    opened: the pieces that stand in full. hardware: of the price book. noted: of spoiled parts, by the piece's id.
    of_photos: what is noticed of their photos, by the piece's number.
    """
    in_full = {piece.number for piece in opened}
    return {
        "id": order.id,
        "version": order.version,
        "number": order.number,
        "is_order": order.order_number is not None,
        "charges": bool(order.sold),
        "stage": order.stage,
        "customer_id": order.customer_id,
        "quoted_on": order.quoted_on,
        "valid_until": order.valid_until,
        "out_of_date": order.out_of_date(today),
        "ordered_on": order.ordered_on,
        "due": order.due,
        "due_in": _days_off(order.due, today) if order.due and _is_waited_for(order) else "",
        "overdue": order.overdue(today),
        "due_closed": order.due is not None
        and order.stage in (Stage.ORDERED, Stage.CUT)
        and not shop.open_days.open_on(order.due),
        "note": order.note,
        "pieces": tuple(
            piece_card(order, piece, shop, rack, hardware, of_photo=of_photos.get(piece.number, ()))
            if piece.number in in_full
            else folded_piece(order, piece)
            for piece in order.pieces
        ),
        "parts": parts_of(order, opened),
        "alone": len(order.standing) == 1,
        "has_jobs": any(line.counts and line.agreed.is_work for line in order.lines),
        "prints_lines": shop.quote_prices is QuotePrices.LINES,
        "stage_word": order.stage_word,
        "acts": acts_of_order(order),
        "deleted": order.deleted,
        "entries": entry_views(order.entries),
        "record": record_of(order, histories, noted),
        "may_add_piece": may_add_piece(order),
        "may_add_line": order.stage not in (Stage.COLLECTED, *LEFT_THE_WAY),
        "may_take_back": any(each.last_change for each in order.all_of_it),
    }


def _is_waited_for(order: Order) -> bool:
    return order.stage not in (Stage.COLLECTED, *LEFT_THE_WAY)


def _days_off(day: date, today: date) -> str:
    """Say how far off a day is: "today", "in 18 days", "3 days ago"."""
    days = (day - today).days
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    return near.get(days) or (f"in {days} days" if days > 0 else f"{-days} days ago")


def form_fields(known: OfOrder, typed: Typed, faults: tuple[Fault, ...]) -> dict[str, Any]:
    """Return the account and the forms beside it, filled as they were typed, else as is usual in the shop."""
    make = Fields({**forms.beginning(known), **typed}, faults)
    quoted = known.order.stage is Stage.QUOTED
    return {
        "account": known.account,
        "most": known.most,
        "charged": charged_words(known.order, with_tax=bool(known.account.taxes)),
        "choose": forms.design_fields(make, known.order),
        "reductions": reduction_views(known.order, known.account),
        "take": FormView(forms.TAKE, known, make) if quoted else None,
        "pay": FormView(forms.PAYMENT, known, make),
        "goodwill": FormView(forms.GOODWILL, known, make),
        "terms": FormView(forms.TERMS, known, make),
        "target_form": FormView(TARGET, known, make) if may_be_lowered(known.order) else None,
        "unfolded": _unfolded(known, typed),
    }


def _unfolded(known: OfOrder, typed: Typed) -> frozenset[str]:
    """Return the folded forms that stand open: those that were posted, and the payment where money is to be returned."""
    posted = {path.partition(".")[0] for path in typed} & {
        "payment",
        "goodwill",
        "target",
        "terms",
        "told",
        "handover",
    }
    returning = known.order.order_number is not None and known.account.balance.minor < 0
    return frozenset(posted | ({"payment"} if returning else set()))
