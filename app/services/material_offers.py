"""What a piece costs with each of some materials, and what of them lies free on the rack.

For a list to choose from: only what is shown is priced.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from types import MappingProxyType

from app.errors import Fault, Invalid
from app.forms.table import Typed
from app.lengths import LONGEST_SHEET, ZERO, Length
from app.money import Money
from app.orders import Agreed, Shop
from app.orders.dimensions_memo import worked_out
from app.orders.quoting.agreement import freeze
from app.orders.quoting.form import PIECE
from app.orders.quoting.frame_fields import MOST_FRAMES
from app.orders.quoting.request import read_piece
from app.orders.quoting.said_units import as_likely, open_questions
from app.orders.quoting.usual import Filled, filled_in
from app.pricing import Kind, Material
from app.services.usual_fields import anew_in
from app.stock.planning.problems import OnRack
from app.storage import Store, UnitOfWork

MOULDING_FIELDS = tuple(f"frames.{row}.material" for row in range(MOST_FRAMES))
"""The fields that a moulding is chosen for."""

KIND_AT = {path: Kind(field.kind.find) for path, field in PIECE.at.items() if field.kind.find}
"""The kind of material that each field of a piece finds."""

_MOST_PRICED = 100
"""Pieces with a material of a list that are remembered while it is looked for. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferTerms:
    """The piece as it is typed, and the field that a material is chosen for. before: what the shop's habit filled in of it,
    which follows the material. tax_free: whether it is priced without tax.
    """

    typed: Typed
    path: str
    shop: Shop
    today: date
    before: Filled = MappingProxyType({})
    tax_free: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialOffer:
    """A material for a piece.

    to_pay: what the piece costs with it, with tax; None while that cannot be worked out, or not with it. why_not: what
    is in the way with it, where the piece can be worked out without. whole, offcuts: free on the rack; length: of all of them,
    where it comes in sticks. needed: of its rails along their long points; None for what is no moulding, and while their size is not known.
    """

    material: Material
    to_pay: Money | None
    why_not: str
    whole: int
    offcuts: int
    length: Length
    needed: Length | None

    @property
    def enough(self) -> bool:
        """Whether as much of it is free as the piece needs, whatever the pieces it lies in."""
        return self.length > ZERO and (self.needed is None or self.length >= self.needed)


def offers(
    store: Store, text: str, terms: OfferTerms, *, limit: int, skip: int = 0
) -> tuple[MaterialOffer, ...]:
    """Return the materials of the field's kind that match a text, the best first, each with the price of the piece; all of them for no text."""
    with store.reading() as work:
        found = work.materials.find(text, kind=KIND_AT[terms.path], limit=skip + limit)[skip:]
        rack = work.rack.free({each.code for each in found})
        workable = _priced(work, terms, "") if found else None
        return tuple(_offer(work, each, terms, rack, workable) for each in found)


def to_pay_with(
    store: Store, terms: OfferTerms, codes: Iterable[str]
) -> tuple[Money | None, dict[str, Money]]:
    """Return what the piece costs as it is typed, None where that cannot be worked out, and with each material in the field, by its code;
    those with which it has no price are left out.
    """
    with store.reading() as work:
        now = _priced(work, terms, terms.typed.get(terms.path, ""))
        found = {code: _priced(work, terms, code) for code in codes}
    prices = {code: each.price.to_pay for code, each in found.items() if isinstance(each, Agreed)}
    return (now.price.to_pay if isinstance(now, Agreed) else None), prices


def not_priced(store: Store, terms: OfferTerms) -> Fault | None:
    """Return why the piece has no price whatever is chosen for the field; None where it has one."""
    with store.reading() as work:
        without = _priced(work, terms, "")
    return None if isinstance(without, Agreed) else without[0]


def _offer(
    work: UnitOfWork,
    material: Material,
    terms: OfferTerms,
    rack: Sequence[OnRack],
    without: Agreed | tuple[Fault, ...] | None,
) -> MaterialOffer:
    """without: what the piece comes to without the material; the faults that it has anyway are not its own."""
    free = [each for each in rack if each.kept.item.material == material.code]
    priced = _priced(work, terms, material.code)
    agreed = priced if isinstance(priced, Agreed) else None
    why_not = ""
    if not isinstance(priced, Agreed) and isinstance(without, Agreed):
        why_not = priced[0].message
    return MaterialOffer(
        material=material,
        to_pay=agreed.price.to_pay if agreed else None,
        why_not=why_not,
        whole=sum(each.available for each in free if each.kept.item.whole),
        offcuts=sum(each.available for each in free if not each.kept.item.whole),
        length=sum(((each.kept.item.length or ZERO) * each.available for each in free), ZERO),
        needed=_needed(agreed, terms.path) if agreed and terms.path in MOULDING_FIELDS else None,
    )


def _priced(work: UnitOfWork, terms: OfferTerms, code: str) -> Agreed | tuple[Fault, ...]:
    """Return the piece with a material in the field, as it would be agreed today; else what is in the way.

    While a material is looked for only the text of its field changes, and with that which materials are shown: each is
    priced once.
    """
    typed: Typed = {**terms.typed, terms.path: code}
    asked = (*map(frozenset, (typed.items(), terms.before.items())), terms.today, terms.tax_free)
    make = partial(_worked_out, work, terms, typed)
    return work.materials.of_book.of("offers", asked, make, same=(terms.shop,), most=_MOST_PRICED)


def _worked_out(work: UnitOfWork, terms: OfferTerms, typed: Typed) -> Agreed | tuple[Fault, ...]:
    if terms.before:
        typed = filled_in(typed, terms.before, anew_in(work, typed, terms.before, terms.shop))
    try:
        try:
            return _frozen(work, typed, terms)
        except Invalid as invalid:
            asked = open_questions(invalid.faults)
            if not asked:
                raise
            return _frozen(work, as_likely(typed, asked), terms)
    except Invalid as invalid:
        return invalid.faults


def _frozen(work: UnitOfWork, typed: Typed, terms: OfferTerms) -> Agreed:
    asked = read_piece(
        typed,
        terms.shop,
        work.materials.meant,
        tax_free=terms.tax_free,
        longest=work.materials.longest_sheet() or LONGEST_SHEET,
    )
    return freeze(asked, typed, terms.shop, today=terms.today)


def _needed(agreed: Agreed, path: str) -> Length:
    frame = worked_out(agreed.spec).frames[MOULDING_FIELDS.index(path)]
    width, height = frame.long_points
    return (width + height) * 2
