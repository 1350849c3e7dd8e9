"""The lines without a piece on their order's page: their cards, and what happened to them (P12)."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from app.documents.job_sheet import minutes_text
from app.money import Money, TaxRate, show_money, show_percent
from app.orders import Order, OrderLine, Stage
from app.web.kit.listing import items_of
from app.web.pieces.material_states import MaterialStand
from app.web.pieces.price import PriceView, price_view

NEXT_ACT = {
    Stage.FRAMED: "Mark done",
    Stage.COLLECTED: "Hand over",
    Stage.QUOTED: "Quote it again",
}
"""What a button says by which a line comes to a stage by itself; what ends it is to strike it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineCard:
    """A line on its order's page. acts: (stage, words) that may follow now. stands: what it took off the rack."""

    number: int
    what: str
    quantity: str
    rate: str
    stated: Money
    stage: Stage
    stage_word: str
    struck: bool
    is_work: bool
    facts: tuple[tuple[str, str], ...]
    goods: tuple[str, str] | None
    stands: tuple[MaterialStand, ...]
    price: PriceView
    acts: tuple[tuple[str, str], ...]
    may_change: bool
    may_take_back: bool


type Stands = Mapping[int, tuple[MaterialStand, ...]]
"""By the id of a line, what it took off the rack."""


def line_cards(order: Order, stands: Stands) -> tuple[LineCard, ...]:
    """Return the lines of an order, those that were struck last."""
    cards = [_card(line, stands.get(line.id, ())) for line in order.lines]
    return tuple(sorted(cards, key=lambda card: card.struck))


def _card(line: OrderLine, stands: tuple[MaterialStand, ...]) -> LineCard:
    agreed = line.agreed
    ended = line.stage in (Stage.COLLECTED, Stage.CANCELLED, Stage.DECLINED)
    goods = agreed.goods
    return LineCard(
        number=line.number,
        what=agreed.what,
        quantity=agreed.quantity,
        rate="tax not charged" if agreed.tax_free else f"{agreed.rate.name} {percent(agreed.rate)}",
        stated=line.stated,
        stage=line.stage,
        stage_word=line.stage_word,
        struck=line.struck,
        is_work=agreed.is_work,
        facts=tuple(
            (name, text)
            for name, text in (("work", minutes_text(line)), ("note", agreed.note))
            if text
        ),
        goods=(goods.code, items_of(goods.code)) if goods else None,
        stands=stands,
        price=price_view(agreed),
        acts=tuple((s.value, NEXT_ACT[s]) for s in line.may_follow if s in NEXT_ACT)
        if not line.deleted
        else (),
        may_change=not line.struck and not ended,
        may_take_back=not (line.struck or line.deleted) and line.last_change is not None,
    )


def percent(rate: TaxRate) -> str:
    """Return a rate as it is printed."""
    return show_percent(rate.percent)


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """Something that happened to a line, for the record of its order."""

    at: datetime
    what: str
    by: str


def happened(order: Order) -> tuple[Happened, ...]:
    """Return every change of every line: of its stage, of what was agreed, struck and put back."""
    return tuple(each for line in order.lines for each in _happened(line))


def _happened(line: OrderLine) -> Iterable[Happened]:
    called = f"Line {line.number} ({line.agreed.what})"
    for change in line.changes:
        new = "done" if change.new is Stage.FRAMED else change.new.value
        said = f"undone, {change.old} → {change.new}" if change.takes_back else new
        said = change.of_deletion or said
        yield Happened(at=change.at, what=f"{called}: {said}", by=change.by)
    for old, new_entry in pairwise(line.entries):
        if old.struck is not new_entry.struck:
            said = "struck" if new_entry.struck else "put back"
        else:
            before, now = old.agreed.price.to_pay, new_entry.agreed.price.to_pay
            said = f"changed: {show_money(before)} → {show_money(now)}"
            if before == now:
                said = "changed, price as agreed"
        yield Happened(at=new_entry.at, what=f"{called}: {said}", by=new_entry.by)
