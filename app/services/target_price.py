"""A quote brought to what the customer wants to pay: by a discount on the record, or by a cheaper choice (P13)."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from app.errors import Invalid
from app.money import Money
from app.orders import Order, Piece, Shop
from app.orders.dimensions_memo import worked_out
from app.orders.quoting.agreement import freeze
from app.orders.quoting.request import read_piece
from app.orders.reductions import NewReduction
from app.orders.target_price import MetTarget, comes_near, met_by, usual_reason
from app.orders.totals import account_of, stated_with_tax
from app.pricing import ChargeBy, Kind, Material, PriceLine, charged_in, unit_price
from app.services.order_transaction import OrderAt, changing
from app.storage import Stamp, Store, UnitOfWork

MOST_PRICED = 14
"""Choices of each part that are priced in full; those nearest by their unit price."""

MOST_SHOWN = 6
"""Choices that are shown. Our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CheaperChoice:
    """A material in the place of one of a piece, and what the quote then costs, with tax.

    path: the field of the piece that it goes into. What would bring a notice of size or depth is no choice.
    """

    number: int
    path: str
    material: Material
    instead_of: str
    to_pay: Money


def meet(store: Store, at: OrderAt, asked: Money, reason: str, act: Stamp) -> MetTarget:
    """Take off a quote what leads to a target price. reason: blank for the usual words.

    Raises: NotFound, Stale, Conflict where it is no quote, Invalid at "amount" or "reason".
    """
    with changing(store, at, act) as (work, order):
        met = met_by(order, asked)
        reduction = NewReduction(
            amount=met.off,
            reason=reason.strip() or usual_reason(asked, with_tax=stated_with_tax(order)),
            at=act.now,
            by=act.who,
            with_tax=True,
        )
        work.orders.add_reduction(order.id, reduction)
    return met


def cheaper_choices(
    store: Store, order: Order, asked: Money, shop: Shop, *, today: date
) -> tuple[CheaperChoice, ...]:
    """Mouldings and glazing of the price book that bring a quote near a target, each in the place of one of a piece.

    At today's prices, the nearest, the cheapest of them first; only what comes near (`NEAR`) and costs less than now
    and more than nothing.
    """
    with store.reading() as work:
        found = [
            choice
            for piece in order.counting
            for path, kind in _PLACES
            for choice in _choices(work, order, piece, (path, kind), asked, shop, today)
        ]
    found.sort(key=lambda each: (abs(each.to_pay.minor - asked.minor), each.material.code))
    return tuple(
        sorted(found[:MOST_SHOWN], key=lambda each: (each.to_pay.minor, each.material.code))
    )


_PLACES = (("frames.0.material", Kind.MOULDING), ("glazing.material", Kind.GLAZING))


def _choices(  # noqa: PLR0913, PLR0917 - what a choice follows from
    work: UnitOfWork,
    order: Order,
    piece: Piece,
    place: tuple[str, Kind],
    asked: Money,
    shop: Shop,
    today: date,
) -> Iterator[CheaperChoice]:
    path, kind = place
    now = _material_at(piece, path)
    line = next((each for each in piece.agreed.price.lines if now and each.code == now.code), None)
    if now is None or line is None:
        return
    price = account_of(order, asked).to_pay
    others = [each for each in work.materials.all(kind) if each.code != now.code]
    for other in _nearest(others, line, price - asked, shop):
        changed = _with(work, piece, path, other, shop, today)
        if changed is None or _brings_notices(piece, changed):
            continue
        pieces = tuple(changed if each.id == piece.id else each for each in order.pieces)
        to_pay = account_of(replace(order, pieces=pieces), asked).to_pay
        if 0 < to_pay.minor < price.minor and comes_near(to_pay, asked):
            yield CheaperChoice(
                number=piece.number,
                path=path,
                material=other,
                instead_of=now.name,
                to_pay=to_pay,
            )


def _material_at(piece: Piece, path: str) -> Material | None:
    chosen = piece.agreed.chosen
    if path == "glazing.material":
        return chosen.glazing
    return chosen.frames[0] if chosen.frames else None


def _nearest(
    others: list[Material], line: PriceLine, wanted: Money, shop: Shop
) -> tuple[Material, ...]:
    """Return those whose unit price alone would save about what is wanted, the nearest first."""
    estimated: list[tuple[Fraction, str, Material]] = []
    for other in others:
        saved = _saved(other, line, shop)
        if saved is not None and saved > 0:
            estimated.append((abs(saved - wanted.minor), other.code, other))
    return tuple(
        other for _, _, other in sorted(estimated, key=lambda each: each[:2])[:MOST_PRICED]
    )


def _saved(other: Material, line: PriceLine, shop: Shop) -> Fraction | None:
    """About how many minor units of a line another material saves; None where it cannot be said."""
    if other.charge.by is ChargeBy.SIZE_BAND:
        return Fraction(line.amount.minor - min(band.price.minor for band in other.charge.bands))
    if charged_in(other) is not line.measure:
        return Fraction(1)
    try:
        unit = unit_price(other, line.measure, shop.rules).minor
    except Invalid:
        return None
    return line.amount.minor - line.quantity * unit


def _with(  # noqa: PLR0913, PLR0917 - as above
    work: UnitOfWork, piece: Piece, path: str, other: Material, shop: Shop, today: date
) -> Piece | None:
    """Return the piece with another material, agreed as of today; None where it cannot be made."""
    typed = {**piece.agreed.typed, path: other.code}
    try:
        read = read_piece(typed, shop, work.materials.meant, tax_free=piece.agreed.tax_free)
        agreed = freeze(read, typed, shop, today=today)
    except Invalid:
        return None
    counted = replace(piece.counted, agreed=agreed)
    designs = tuple(counted if each.number == counted.number else each for each in piece.designs)
    return replace(piece, designs=designs)


def _brings_notices(old: Piece, new: Piece) -> bool:
    """Tell whether something is to be said of sizes and depth with the new material that was not said with the old one."""
    before = {notice.code for notice in worked_out(old.agreed.spec).notices}
    return any(notice.code not in before for notice in worked_out(new.agreed.spec).notices)
