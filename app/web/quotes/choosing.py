"""Materials to choose from on a quote: what the piece costs with each, and what of it lies on the rack.

Under the field while one types; mouldings also as a page of their own that goes without scripts.
"""

from dataclasses import dataclass, replace

from app.counting import count_text, counted
from app.forms.reader import whole_number
from app.forms.table import Typed, called
from app.lengths import Unit, show
from app.money import round_half_up, show_money
from app.orders.quoting.form import PIECE
from app.pricing import Kind, Material
from app.pricing.measure import Measure, in_measure
from app.services.material_names import MaterialNames
from app.services.material_offers import (
    KIND_AT,
    MOULDING_FIELDS,
    MaterialOffer,
    OfferTerms,
    not_priced,
    offers,
)
from app.stock.wording import counted as counted_of
from app.web.kit.context import RequestContext
from app.web.kit.facing import ASIDE
from app.web.kit.fields import Fields, FieldView
from app.web.kit.listing import Option
from app.web.kit.templating import Page
from app.web.materials.page import short_details
from app.web.quotes.facing import shown
from app.web.quotes.said import FORM, SAY

CHOOSE = "mouldings"
"""The action of the button that asks for the page, before a colon and the field's path; more follow the page by a number."""

SEARCH = "moulding.search"
"""The field of the page that narrows its list."""

IN_LIST, ON_PAGE = 12, 24
"""How many are shown, and so priced, at a time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldingView:
    """A moulding to choose. action: of the button that takes it."""

    code: str
    name: str
    colour: str
    details: str
    rack: str
    enough: bool
    price: str
    why_not: str
    action: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldingsPage(Page):
    """The page on which a moulding is chosen for a quote that is being typed.

    kept: every field of the quote as it was typed, by name. not_priced: why the piece has no price with any of them; "" where it has. back, more: the actions of the buttons that lead back unchanged and on.
    """

    title: str = "Choose a moulding"
    section: str = "Quotes"
    wide: bool = True
    turned_by: str = FORM
    heading: str
    action: str
    search: FieldView
    more: str
    kept: tuple[tuple[str, str], ...]
    not_priced: str
    rows: tuple[MouldingView, ...]
    sees_costs: bool = True

    def for_customer(self, names: MaterialNames) -> "MouldingsPage":
        """Return the page without codes and the rack, and with what is the shop's own set aside."""
        facing = shown(dict(self.kept), names)
        kind = Kind.MOULDING
        text = self.search.value
        return replace(
            self,
            sees_costs=False,
            kept=(*facing.form.items(), (ASIDE, facing.aside)),
            search=replace(
                self.search, label="Part of a name or finish", value=names.of(text, kind)
            ),
            not_priced=_MEND_FIRST if self.not_priced else "",
            rows=tuple(_row_for_customer(row, names, kind) for row in self.rows),
        )


_MEND_FIRST = "The quote says which field."
"""Said to a customer, in place of what was typed there."""


def _row_for_customer(row: MouldingView, names: MaterialNames, kind: Kind) -> MouldingView:
    before, _, code = row.action.rpartition(":")
    return replace(
        row,
        code="",
        rack="",
        why_not="not for this piece" if row.why_not else "",
        action=f"{before}:{names.of(code, kind)}",
    )


def asked_for(action: str) -> tuple[str, int] | None:
    """Return the field that a pressed button chooses a moulding for, and how many to pass over; None for any other button."""
    word, _, rest = action.partition(":")
    path, _, skip = rest.partition(":")
    if word != CHOOSE or path not in MOULDING_FIELDS:
        return None
    return path, whole_number(skip, digits=5) or 0


def mouldings_page(
    here: RequestContext, form: Typed, terms: OfferTerms, skip: int, *, heading: str, action: str
) -> MouldingsPage:
    """Make the page of the mouldings that match, so many passed over."""
    text = form.get(SEARCH, form.get(terms.path, "")).strip()
    found = offers(here.store, text, terms, limit=ON_PAGE + 1, skip=skip)
    chosen = any(text.casefold() in _names(each.material) for each in found)
    if SEARCH not in form and (chosen or not found):
        # What is chosen already, or fits nothing, is no search among the others.
        text, found = "", offers(here.store, "", terms, limit=ON_PAGE + 1, skip=skip)
    why = not_priced(here.store, terms)
    return MouldingsPage(
        heading=heading,
        action=action,
        search=Fields({SEARCH: text}).field(SEARCH, "Part of code, name, finish, supplier"),
        enter=f"{CHOOSE}:{terms.path}",
        more=f"{CHOOSE}:{terms.path}:{skip + ON_PAGE}" if len(found) > ON_PAGE else "",
        kept=tuple((name, value) for name, value in form.items() if name not in ("action", SEARCH)),
        not_priced=f"{_called(why.path)}: {why.message}" if why else "",
        rows=tuple(_view(each, terms) for each in found[:ON_PAGE]),
    )


def _names(material: Material) -> tuple[str, str]:
    return material.code.casefold(), material.name.casefold()


def _called(path: str) -> str:
    """Return what a field of a piece is called away from its place."""
    field = PIECE.at.get(path)
    return (
        called(str(field.label), str(field.within))
        if field and isinstance(field.label, str)
        else "The piece"
    )


def options(here: RequestContext, text: str, terms: OfferTerms) -> tuple[Option, ...]:
    """Return what the field offers while one types."""
    found = offers(here.store, text, terms, limit=IN_LIST)
    return tuple(
        Option(
            value=each.material.code,
            label=each.material.name,
            hint=" · ".join(
                part
                for part in (
                    each.material.code,
                    short_details(each.material, terms.shop.unit),
                    rack_words(each, terms.shop.unit),
                )
                if part
            ),
            colour=each.material.colour,
            price=show_money(each.to_pay) if each.to_pay else "",
        )
        for each in found
    )


def for_customer(
    found: tuple[Option, ...], terms: OfferTerms, names: MaterialNames
) -> tuple[Option, ...]:
    """Return what the field offers as a customer may see it: names, and what the piece costs with each."""
    kind = KIND_AT[terms.path]
    called = [names.of(each.value, kind) for each in found]
    return tuple(
        replace(each, value=name, label=name, hint="")
        for each, name in zip(found, called, strict=True)
    )


def _view(offer: MaterialOffer, terms: OfferTerms) -> MouldingView:
    material = offer.material
    return MouldingView(
        code=material.code,
        name=material.name,
        colour=material.colour,
        details=" · ".join(part for part in (_width(offer, terms), material.finish) if part),
        rack=rack_words(offer, terms.shop.unit),
        enough=offer.enough,
        price=show_money(offer.to_pay) if offer.to_pay else "",
        why_not=offer.why_not,
        action=f"{SAY}:{terms.path}:{material.code}",
    )


def _width(offer: MaterialOffer, terms: OfferTerms) -> str:
    profile = offer.material.profile
    return f"{show(profile.face, terms.shop.unit, mark=True)} wide" if profile else ""


def rack_words(offer: MaterialOffer, unit: Unit) -> str:
    """Say what of a material is free on the rack: "3 sticks, 9 m", "1 offcut, 0.8 m: order more", "to be ordered"; of
    what is no moulding "12 sheets and 1 offcut", "none on the rack".
    """
    if offer.material.kind is not Kind.MOULDING:
        return _counted_on_rack(offer)
    pieces = [
        counted(count, one)
        for count, one in ((offer.whole, "stick"), (offer.offcuts, "offcut"))
        if count
    ]
    if not pieces:
        return "to be ordered"
    measure = Measure.METRE if unit is Unit.MM else Measure.FOOT
    tenths = round_half_up(in_measure(offer.length, measure) * 10)
    length = f"{count_text(tenths // 10)}.{tenths % 10} {measure}"
    return f"{' and '.join(pieces)}, {length}{'' if offer.enough else ': order more'}"


def _counted_on_rack(offer: MaterialOffer) -> str:
    pieces = []
    if offer.whole:
        pieces.append(counted_of(offer.whole, offer.material))
    if offer.offcuts:
        pieces.append(counted(offer.offcuts, "offcut"))
    return f"{' and '.join(pieces)} on the rack" if pieces else "none on the rack"
