"""The page of a quote or order: its pieces, what may happen next, the money, the record of changes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import pairwise
from types import MappingProxyType
from typing import Any

from app.errors import Fault
from app.forms.table import Typed
from app.framing import Notice
from app.journal import standing, taken_back
from app.money import Money, show_money
from app.orders import (
    LEFT_THE_WAY,
    MAY_FOLLOW,
    Customer,
    DesignAct,
    DesignChange,
    Entry,
    Order,
    Piece,
    Shop,
    Stage,
    StageChange,
    design_letter,
)
from app.orders.artwork_size import artwork_size
from app.orders.below_cost import notices_of_price
from app.orders.copies import BY_NUMBER, in_words, may_become
from app.orders.hanging_parts import NO_HARDWARE, Hardware
from app.orders.piece_report import Findings, findings
from app.orders.quoting.form import ARTWORK_FACTS
from app.orders.reductions import NewReduction
from app.orders.target_price import may_be_lowered
from app.orders.totals import Account, Lowered
from app.orders.workbench import notices_at_shop
from app.services.cut_by_hand import PartNoted
from app.services.orders import is_changeable, may_add_piece
from app.stock.planning.problems import OnRack
from app.storage import Frozen
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.stating import words_of
from app.web.kit.templating import Page
from app.web.orders import form as forms
from app.web.orders.designs_page import DesignsView, designs_view
from app.web.orders.form import OfOrder
from app.web.orders.handing_over import HandOverView
from app.web.orders.invoices_page import InvoicesView
from app.web.orders.line_cards import LineCard, happened
from app.web.orders.target import TARGET, TargetView
from app.web.orders.telling import TellingView
from app.web.pieces.chosen import materials_of
from app.web.pieces.material_states import MaterialStand
from app.web.pieces.piece import DrawingView, PriceView, draw, facts_of, price_view
from app.web.pieces.planned import PlannedView
from app.web.pieces.printed import PrintedView
from app.web.pieces.spoiled import SpoiledView
from app.web.pieces.stock import NOTHING_FROM_RACK, FromRack, OffcutView, from_rack

NEXT_ACT: dict[Stage, str] = {
    Stage.CUT: "All parts are cut",
    Stage.FRAMED: "Framed",
    Stage.COLLECTED: "Collected",
    Stage.DECLINED: "Not this one",
    Stage.CANCELLED: "Cancel",
    Stage.QUOTED: "Quote it again",
}
"""What a person says when a piece comes to a stage. Ordering has a form of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """One line of the record of changes."""

    at: datetime
    what: str
    by: str


type Act = tuple[str, str, int]
"""(stage, words, most) of what may follow. most: of several alike how many may, 0 where all move together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceCard:
    """A piece on its order's page.

    acts: what may follow now. designs: of a piece that has several; while none of them is taken the rest is the
    first one's. copies: how many are alike; spread: how these stand, where they do not all stand at the stage.
    undo: the words to take the last change back, "" where there is none.
    """

    number: int
    title: str
    artwork: str
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
    price: PriceView
    offcuts: tuple[OffcutView, ...]
    acts: tuple[Act, ...]
    may_change: bool
    undo: str
    may_remove: bool
    may_add_design: bool
    priced_on: date
    designs: DesignsView | None


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryView:
    """One line of the ledger.

    may_correct: whether it stands and was no correction.
    """

    id: int
    at: datetime
    what: str
    note: str
    by: str
    amount: Money
    may_correct: bool
    corrected: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ReductionView:
    """One line of what was taken off as goodwill.

    stands: whether it was not undone and undoes none. amount: as it was stated. mode: whether that was
    with tax, and what it is the other way, where it stands.
    """

    id: int
    at: datetime
    reason: str
    by: str
    amount: Money
    mode: str
    stands: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountsPart:
    """The fields of the amounts that were typed in one of the forms, for the live answer to it."""

    amounts: tuple[FieldView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPage(Page):
    """The page of a quote or order.

    take, pay, goodwill, terms: the fields of the forms; take is None unless the quote can be ordered.
    choose: those that take a design with the order, of each piece of which none is taken.
    target_form: of a target price, None unless the quote may be lowered. target: what a typed one leaves.
    unfolded: which of the folded forms stand open, "payment", "goodwill", "target", "terms" and "told". stands: the state
    of the materials of each piece, by its number; printed: of the pieces whose ticket was printed, whether that
    holds; spoiled: of those with a part to be cut anew, which. deleted: whether it is a quote that was deleted, which
    shows what it was and can only be brought back. may_delete: whether it is a quote that may be
    deleted, as it is where the only thing on it is taken off. alone: whether one thing stands on it. counted: how many pieces are charged, each of those that are alike. account: the least while a
    design is still to be taken; most: what it may come to then, None where it is settled (P10).
    """

    wide: bool = True
    id: int
    version: int
    number: str
    is_order: bool
    stage: Stage
    customer_id: int
    customer: Customer
    quoted_on: date
    valid_until: date
    out_of_date: bool
    ordered_on: date | None
    due: date | None
    overdue: bool
    due_closed: bool
    note: str
    stage_word: str
    pieces: tuple[PieceCard, ...]
    lines: tuple[LineCard, ...]
    has_jobs: bool
    counted: int
    counted_lines: int
    alone: bool
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
    stands: Mapping[int, tuple[MaterialStand, ...]]
    planned: Mapping[int, PlannedView | None]
    printed: Mapping[int, PrintedView]
    spoiled: Mapping[int, SpoiledView]
    invoices: InvoicesView


def may_add_design(order: Order) -> bool:
    """Tell whether further designs of its pieces may be added, which is until it is ordered (P10)."""
    return order.stage is Stage.QUOTED


def piece_card(
    order: Order,
    piece: Piece,
    shop: Shop,
    rack: Sequence[OnRack] = (),
    hardware: Hardware = NO_HARDWARE,
) -> PieceCard:
    """Return a piece with its drawing and price, from what was frozen.

    Until it is cut, its notices also say what the shop's cutter cannot do and what no stock holds, and
    the offcuts that fit are named.
    """
    found = findings(piece.artwork, piece.agreed, shop, hardware)
    uncut = is_changeable(piece)
    stock = from_rack(piece.agreed, shop, rack) if uncut else NOTHING_FROM_RACK
    return PieceCard(
        number=piece.number,
        title=piece.artwork.title or "Untitled",
        artwork=f"{piece.artwork.kind.value}, {artwork_size(piece.agreed.spec)}",
        place=piece.artwork.place,
        condition=piece.artwork.condition,
        note=piece.agreed.note,
        stage=piece.stage,
        stage_word=piece.stage_word,
        copies=piece.copies,
        spread=in_words(piece.stands),
        drawing=draw(DrawingView.SEEN, piece.artwork, piece.agreed, found),
        facts=facts_of(piece.agreed, found),
        materials=materials_of(piece.agreed.chosen),
        notices=_notices(piece, found, shop, stock) if uncut else found.notices,
        offcuts=stock.offcuts,
        price=price_view(piece.agreed),
        acts=_acts_of_piece(order, piece),
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


def _acts_of_piece(order: Order, piece: Piece) -> tuple[Act, ...]:
    """Return what may follow. The only piece of a quote is declined with its quote, and a deleted one comes back with it."""
    if order.deleted or (piece.stage is Stage.QUOTED and len(order.pieces) + order.has_lines == 1):
        return ()
    return acts_of(piece)


def acts_of(piece: Piece) -> tuple[Act, ...]:
    """Return what may follow for a piece, or for those of several alike that stand before it."""
    following = dict.fromkeys(new for stage in piece.stands for new in MAY_FOLLOW[stage])
    ready = {new: sum(may_become(piece.stands, new).values()) for new in following}
    return tuple(
        (new.value, NEXT_ACT[new], most_of(piece, new))
        for new, count in ready.items()
        if count and new in NEXT_ACT
    )


def undo_of(piece: Piece) -> str:
    """Return the words to take the last change back, as “cut” or “12 cut”; empty where there is none."""
    last = piece.last_change
    return "" if last is None else f"Take back “{_by_number(last)}{last.new}”"


def most_of(piece: Piece, stage: Stage) -> int:
    """Return of how many that are alike it may be said that they come to a stage; 0 where nobody asks."""
    if piece.copies == 1 or stage not in BY_NUMBER:
        return 0
    return sum(may_become(piece.stands, stage).values())


def entry_views(entries: tuple[Entry, ...]) -> tuple[EntryView, ...]:
    """Return the lines of the ledger, the oldest first."""
    corrected = taken_back(entries)
    stand = standing(entries)
    return tuple(
        EntryView(
            id=written.id,
            at=written.entry.at,
            what=f"{written.entry.kind.value.capitalize()}, {written.entry.method.value}",
            note=written.entry.note,
            by=written.entry.by,
            amount=written.entry.amount,
            corrected=written.id in corrected,
            may_correct=written in stand,
        )
        for written in entries
    )


def reduction_views(order: Order, account: Account) -> tuple[ReductionView, ...]:
    """Return the reductions and what undid them, oldest first; amounts have the sign by which they change the sum."""
    stand = standing(order.reductions)
    lowered = {each.id: each for each in account.lowered}
    return tuple(
        ReductionView(
            id=each.id,
            at=each.entry.at,
            reason=each.entry.reason
            if each.entry.takes_back is None
            else f"Undone: {each.entry.reason}",
            by=each.entry.by,
            amount=-each.entry.amount,
            mode=_mode_of(lowered.get(each.id), account),
            stands=each in stand,
        )
        for each in order.reductions
    )


def _mode_of(lowered: Lowered | None, account: Account) -> str:
    """Say how a reduction was stated and what it is the other way: "without tax, −12.00 with tax";
    empty without tax.
    """
    if lowered is None or not account.agreed.tax:
        return ""
    other = not lowered.with_tax
    amount = show_money(-lowered.stated(with_tax=other))
    return f"{words_of(with_tax=lowered.with_tax)}, {amount} {words_of(with_tax=other)}"


type Histories = Mapping[tuple[int, int], Sequence[Frozen]]
"""By the numbers of a piece and a design, all that was ever agreed for it."""


def record_of(
    order: Order, histories: Histories, noted: Mapping[int, Sequence[PartNoted]]
) -> tuple[ChangeView, ...]:
    """Return every change of stage, of designs, of spoiled parts and every new agreement of each piece and line, the
    latest first. noted: of spoiled parts, by the piece's id.
    """
    several = len(order.pieces) > 1 or bool(order.lines)
    views = [
        ChangeView(at=act.at, what=_of_piece(piece.number, several) + _of_design(act), by=act.by)
        for piece in order.pieces
        for act in piece.design_changes
    ]
    views += [
        ChangeView(
            at=change.at,
            what=_of_piece(piece.number, several) + _of_stage(change),
            by=change.by,
        )
        for piece in order.pieces
        for change in piece.changes
    ]
    views += [
        ChangeView(at=each.at, what=_of_piece(piece.number, several) + each.what, by=each.by)
        for piece in order.pieces
        for each in noted.get(piece.id, ())
    ]
    views += dict.fromkeys(
        ChangeView(
            at=new.at, what=_of_piece(number, several) + _said_anew(old, new, letter), by=new.by
        )
        for (number, design), history in histories.items()
        for letter in [design_letter(design) if number in _with_designs(order) else ""]
        for old, new in pairwise(history)
    )
    views += [ChangeView(at=each.at, what=each.what, by=each.by) for each in happened(order)]
    views += [
        ChangeView(at=each.at, what=_of_reduction(each), by=each.by) for each in _taken_off(order)
    ]
    oldest_first = sorted(views, key=lambda view: view.at)
    return tuple(oldest_first[::-1])


def _taken_off(order: Order) -> tuple[NewReduction, ...]:
    """Return what was taken off while it was a quote; what was taken off an order later is told with its money."""
    ordered = [
        change.at
        for each in order.all_of_it
        for change in each.changes
        if change.new is Stage.ORDERED and not change.takes_back
    ]
    entries = (each.entry for each in order.reductions)
    return tuple(entry for entry in entries if not ordered or entry.at < min(ordered))


def _of_reduction(reduction: NewReduction) -> str:
    """Say what was taken off the whole, or that it was undone."""
    what = f"{reduction.reason}, {show_money(abs(reduction.amount))} off"
    return what if reduction.takes_back is None else f"undone: {what}"


def _of_stage(change: StageChange) -> str:
    """Say what a change of stage was."""
    if change.of_deletion:
        return change.of_deletion
    if change.takes_back:
        return f"taken back, {change.old} → {change.new}"
    return _by_number(change) + change.new.value + (f" – {change.note}" if change.note else "")


def _by_number(change: StageChange) -> str:
    return "" if change.count is None else f"{change.count} "


def _of_piece(number: int, several: bool) -> str:
    return f"Piece {number}: " if several else ""


def _with_designs(order: Order) -> frozenset[int]:
    """Return the numbers of the pieces that have, or had, several designs."""
    return frozenset(piece.number for piece in order.pieces if piece.design_changes)


def _of_design(act: DesignChange) -> str:
    """Say what happened to a design, as "design B taken"."""
    letter = design_letter(act.design)
    if act.act is DesignAct.LEFT_OPEN:
        return f"none taken after all, design {letter} was"
    return f"design {letter} {act.act}"


def _said_anew(old: Frozen, new: Frozen, letter: str = "") -> str:
    """Say what a new agreement changed: the description of the artwork alone, or the price.

    letter: of the design that was agreed anew, where there are several; the artwork is that of all.
    """
    before, now = old.agreed, new.agreed
    if before.price == now.price and before.priced_on == now.priced_on:
        changed = [
            path.removeprefix("artwork.").replace("_", " ")
            for path in ARTWORK_FACTS
            if before.typed.get(path, "") != now.typed.get(path, "")
        ]
        return f"{', '.join(changed) or 'nothing'} changed, price as agreed"
    prices = f"{show_money(before.price.to_pay)} → {show_money(now.price.to_pay)}"
    if before.copies != now.copies:
        prices = f"{before.copies} → {now.copies} alike, {prices}"
    return f"{f'design {letter} ' if letter else ''}agreed anew, {prices}"


def acts_of_order(order: Order) -> tuple[Act, ...]:
    """Return what may happen to all of it at once: what may follow for every unfinished piece.

    Handing over has a form of its own. A line goes along with what it does not come to itself, as goods do that wait while pieces are cut.
    """
    lines = [line for line in order.lines if line.may_follow]
    stages = {piece.stage for piece in order.pieces}
    on_the_way = [set(MAY_FOLLOW[stage]) for stage in stages if MAY_FOLLOW[stage]]
    if len(order.pieces) + len(lines) < 2 or not (on_the_way or lines):
        return ()
    common = set.intersection(*on_the_way, *(set(line.goes_with) for line in lines))
    moving = set().union(*on_the_way, *(line.may_follow for line in lines)) & common
    return tuple(
        (s.value, f"All: {_act_on_all(order, s).lower()}", 0)
        for s in NEXT_ACT
        if s in moving - {Stage.COLLECTED}
    )


def _act_on_all(order: Order, stage: Stage) -> str:
    """Return the words of an act on all of it: a job is done where a piece is framed."""
    return "Done" if stage is Stage.FRAMED and not order.pieces else NEXT_ACT[stage]


def order_fields(
    order: Order,
    shop: Shop,
    today: date,
    rack: Sequence[OnRack] = (),
    histories: Histories = MappingProxyType({}),
    *,
    hardware: Hardware = NO_HARDWARE,
    noted: Mapping[int, Sequence[PartNoted]] = MappingProxyType({}),
) -> dict[str, Any]:
    """Return the page's fields that follow from the order.

    rack: what is free of its materials. histories: of the pieces that were agreed more than once.
    hardware: of the price book. noted: of spoiled parts, by the piece's id.
    """
    return {
        "id": order.id,
        "version": order.version,
        "number": order.number,
        "is_order": order.order_number is not None,
        "stage": order.stage,
        "customer_id": order.customer_id,
        "quoted_on": order.quoted_on,
        "valid_until": order.valid_until,
        "out_of_date": order.out_of_date(today),
        "ordered_on": order.ordered_on,
        "due": order.due,
        "overdue": order.overdue(today),
        "due_closed": order.due is not None
        and order.stage in (Stage.ORDERED, Stage.CUT)
        and not shop.open_days.open_on(order.due),
        "note": order.note,
        "pieces": tuple(piece_card(order, piece, shop, rack, hardware) for piece in order.pieces),
        "counted": sum(piece.copies for piece in order.counting),
        "alone": len(order.standing) == 1,
        "counted_lines": sum(line.counts for line in order.lines),
        "has_jobs": any(line.counts and line.agreed.is_work for line in order.lines),
        "stage_word": order.stage_word,
        "acts": acts_of_order(order),
        "deleted": order.deleted,
        "entries": entry_views(order.entries),
        "record": record_of(order, histories, noted),
        "may_add_piece": may_add_piece(order),
        "may_add_line": order.stage not in (Stage.COLLECTED, *LEFT_THE_WAY),
        "may_take_back": any(each.last_change for each in order.all_of_it),
    }


def form_fields(known: OfOrder, typed: Typed, faults: tuple[Fault, ...]) -> dict[str, Any]:
    """Return the account and the forms beside it, filled as they were typed, else as is usual in the shop."""
    make = Fields({**forms.beginning(known), **typed}, faults)
    quoted = known.order.stage is Stage.QUOTED
    return {
        "account": known.account,
        "most": known.most,
        "choose": forms.design_fields(make, known.order),
        "reductions": reduction_views(known.order, known.account),
        "take": FormView(forms.TAKE, known, make) if quoted else None,
        "pay": FormView(forms.PAYMENT, known, make),
        "goodwill": FormView(forms.GOODWILL, known, make),
        "terms": FormView(forms.TERMS, known, make),
        "target_form": FormView(TARGET, known, make) if may_be_lowered(known.order) else None,
        "unfolded": _unfolded(known, typed),
    }


def amounts_there(known: OfOrder, typed: Typed, faults: tuple[Fault, ...]) -> tuple[FieldView, ...]:
    """Return the amounts of the form that was posted, each with what it is stated the other way."""
    make = Fields(typed, faults)
    return tuple(make.of(field, known) for field in forms.AMOUNTS if field.path in typed)


def _unfolded(known: OfOrder, typed: Typed) -> frozenset[str]:
    """Return the folded forms that stand open: those that were posted, and the payment where money is to be returned."""
    posted = {path.partition(".")[0] for path in typed} & {
        "payment",
        "goodwill",
        "target",
        "terms",
        "told",
    }
    returning = known.order.order_number is not None and known.account.balance.minor < 0
    return frozenset(posted | ({"payment"} if returning else set()))
