"""A moulding that is not in the price book yet, entered on a quote: it comes into the book when the quote is saved.

What a quote needs to know of it is asked, and no more; the book says that the rest is to be completed.
"""

from collections import Counter
from dataclasses import replace

from app.errors import Fault, Invalid
from app.forms.kinds import LENGTH, MONEY, optional, otherwise, text_of
from app.forms.rows import code_from
from app.forms.table import Field, Form, Typed
from app.lengths import ZERO, Example, Length, Unit, inches, mm
from app.money import Money
from app.orders import Shop
from app.orders.quoting.choices import FrameSource
from app.orders.quoting.piece_typed import PieceTyped
from app.orders.quoting.reader import NEEDED
from app.pricing import Charge, ChargeBy, CostPer, Kind, Material, Profile, Selling
from app.services import price_book
from app.web.kit import stating
from app.web.kit.context import RequestContext
from app.web.kit.fields import OfShop
from app.web.materials.page import FROM_QUOTE

FIELD = "frames.0.material"
"""The field of the piece that it is chosen in."""

STICK = {Unit.MM: mm(3000), Unit.IN: inches(120)}
"""How long a stick of it is taken to be until the book says otherwise. Common practice."""


def _measure(known: OfShop) -> str:
    return "foot" if known.unit is Unit.IN else "metre"


_ASKED = otherwise(LENGTH, ZERO)

NEW_MOULDING = Form[OfShop](
    Field("name", "Name", text_of(120), wish="Name the moulding, as you will look for it."),
    Field(
        "face",
        "Face width",
        _ASKED,
        like=Example(mm(20), inches("3/4")),
        wish="Type its face width",
    ),
    Field("lip", "Lip", _ASKED, like=Example(mm(6), inches("1/4")), hint="none", beside=True),
    Field(
        "rebate_depth",
        "Rebate depth",
        _ASKED,
        like=Example(mm(15), inches("5/8")),
        wish="Type its rebate depth",
        beside=True,
    ),
    Field(
        "cost",
        lambda known: f"Cost a {_measure(known)}",
        optional(MONEY),
        stated=lambda known, _typed: stating.costs(
            known.shop, known.shop.rules.rate_of("standard")
        ),
    ),
    Field(
        "price",
        lambda known: f"or price a {_measure(known)}",
        optional(MONEY),
        beside=True,
        stated=lambda known, _typed: stating.prices(
            known.shop, known.shop.rules.rate_of("standard")
        ),
    ),
).under("new_moulding", "New moulding")


def with_new(here: RequestContext, typed: Typed, form: Typed) -> tuple[Typed, Material | None]:
    """Return the piece with the moulding that was entered chosen, and that; as it is where none was entered.

    typed: the piece's fields of the form. Raises: Invalid with every fault, at the fields of the moulding.
    """
    known = OfShop(here.shop)
    read = NEW_MOULDING.reader(form, known)
    if not NEW_MOULDING.filled(read):
        return typed, None
    material = read_new(here, form)
    if PieceTyped(here.shop, typed).source is not FrameSource.MADE:
        raise Invalid.at(
            "new_moulding.name",
            "No frame is made for this piece, so no moulding is cut for it; say that the frame is made, or empty these fields.",
        )
    if typed.get(FIELD, "").strip():
        raise Invalid.at(
            "new_moulding.name",
            f"“{typed[FIELD].strip()[:40]}” is chosen as the moulding already; empty that field, or these.",
        )
    return {**typed, FIELD: material.code}, material


def read_new(here: RequestContext, form: Typed) -> Material:
    """Return the moulding as it was entered. Raises: Invalid with every fault, at its fields."""
    shop, known = here.shop, OfShop(here.shop)
    read = NEW_MOULDING.reader(form, known)
    for path in ("name", "face", "rebate_depth"):
        field = NEW_MOULDING.at[path]
        if not read.given(field.path):
            read.need(field.path, field.wish)
    needed = tuple(replace(fault, code=NEEDED) for fault in read.faults.faults)
    again = NEW_MOULDING.reader(form, known)
    values = {
        path: field.kind.read(again, field.path, None) for path, field in NEW_MOULDING.at.items()
    }
    selling, faults = _selling(here, values["cost"], values["price"])
    found = (*needed, *again.faults.faults, *faults)
    if found:
        raise Invalid(found)
    try:
        return Material(
            code=_code(here, values["name"]),
            name=values["name"],
            kind=Kind.MOULDING,
            cost=values["cost"] or Money.zero(shop.currency),
            per=CostPer.FOOT if shop.unit is Unit.IN else CostPer.METRE,
            charge=Charge(by=ChargeBy.LENGTH),
            selling=selling,
            profile=_profile(values["face"], values["lip"], values["rebate_depth"], shop),
            tags=(FROM_QUOTE,),
            notes=f"Entered on a quote, {here.today.isoformat()}. Complete its weight, waste and length of stick.",
        )
    except Invalid as invalid:
        raise Invalid(replace(fault, path=_at(fault.path)) for fault in invalid.faults) from invalid


def _profile(face: Length, lip: Length, depth: Length, shop: Shop) -> Profile:
    return Profile(
        face=face, lip=lip, rebate_depth=depth, stick=STICK[shop.unit], grams_per_metre=0
    )


def _at(path: str) -> str:
    """Return the field at which a fault of the material stands."""
    name = path.removeprefix("profile.")
    return f"new_moulding.{name if name in NEW_MOULDING.at else 'name'}"


def _selling(
    here: RequestContext, cost: Money | None, price: Money | None
) -> tuple[Selling, tuple[Fault, ...]]:
    """Return how it sells: for the price that was typed, else for its cost by the table that most mouldings sell by."""
    if price is not None:
        return Selling(price=price), ()
    if cost is None:
        sentence = "Type what it costs, or what it sells for."
        return Selling(), (Fault(path="new_moulding.cost", message=sentence, code=NEEDED),)
    table = _usual_table(here)
    if table:
        return Selling(table=table), ()
    sentence = "Type what it sells for as well; the shop has no table of markups that makes it from the cost."
    return Selling(), (Fault(path="new_moulding.price", message=sentence, code=NEEDED),)


def _usual_table(here: RequestContext) -> str:
    mouldings = price_book.listed(here.store, price_book.Selection(kind=Kind.MOULDING))
    used = Counter(each.selling.table for each in mouldings if each.selling.table)
    tables = [table.code for table in here.shop.markup_tables]
    common = [code for code, _ in used.most_common() if code in tables]
    return next(iter((*common, *tables)), "")


def _code(here: RequestContext, name: str) -> str:
    """Make a code of a name that no material has or had."""
    taken = {code.casefold() for code in price_book.by_code(here.store)}
    return code_from(name, taken).upper()
