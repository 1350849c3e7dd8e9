"""The quote page: one form for customer and piece, with what it comes to beside it."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cache

from app.errors import Fault, Invalid
from app.forms.kinds import LENGTH, MASS, SIZE, TEXT
from app.forms.table import Field, Form, Typed
from app.framing import Dimensions, Notice, Presentation, Spec
from app.framing.mass import mass_text, parse_mass, usual_text
from app.framing.notices.given_size import borders_left
from app.lengths import parse_length, show, show_size
from app.orders import Agreed, ArtworkKind, Customer, Shop
from app.orders.dimensions_memo import as_cut
from app.orders.quoting.choices import Sizing
from app.orders.quoting.form import PIECE, PIECE_FIELDS
from app.orders.quoting.partial import SoFar
from app.orders.quoting.piece_typed import PieceTyped, unit_of
from app.pricing import Chosen
from app.services import who_is_meant
from app.services.colour_matches import Needed
from app.storage import Store
from app.web.kit.fields import Fields, FieldView, FormView, OfShop, Question
from app.web.kit.templating import Page
from app.web.pictures.block import PhotoBlock
from app.web.pieces.piece import VIEW_LABELS, DrawingView, PieceView, understood_size
from app.web.pieces.stock import FromRack, ReallyUsed
from app.web.quotes.going_on import Onward
from app.web.quotes.matching import MatchView
from app.web.quotes.partial import SoFarView
from app.web.quotes.repricing import ChangeView, CustomerChange
from app.web.quotes.said import FORM, NEW_NAME, is_it, who_is_it
from app.web.quotes.sizes import OffersView
from app.web.quotes.windows import WindowsView

CUSTOMER = Form[OfShop](
    Field(
        "customer",
        "Customer",
        TEXT,
        "Part of a name, phone or e-mail; an unknown one is new.",
        needed=True,
        asked=True,
    ),
    Field("customer.phone", "Phone", replace(TEXT, control="tel")),
    Field("customer.email", "E-mail", replace(TEXT, control="email"), beside=True),
    Field(NEW_NAME, "New customer", replace(TEXT, control="hidden")),
)
"""The fields that find or make a customer."""

AT_THE_COUNTER = Form[OfShop](
    replace(
        CUSTOMER.at["customer"],
        hint="Part of a name, phone or e-mail; an unknown one is new. Blank for a counter sale.",
        needed=False,
    ),
    *CUSTOMER.fields[1:],
)
"""The same where something may be sold without a name."""

BESIDE_CUSTOMER = Form[OfShop](
    replace(CUSTOMER.at["customer"], hint="As it is to stand on the quote."), *CUSTOMER.fields[1:]
)
"""The same while the screen faces the customer, where nobody else is looked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Who:
    """The known customers who may be meant by what was typed.

    fitting: those whom it fits. alike: where it fits none, the label of the only one with a similar
    name. untold: whether nothing is said of it, since the customer reads it. told: the label of the only one whom it fits.
    """

    fitting: tuple[Customer, ...] = ()
    alike: str | None = None
    untold: bool = False
    told: str = ""

    @classmethod
    def typed(cls, store: Store, form: Typed, *, beside_customer: bool = False) -> "Who":
        """Return those who may be meant by the fields of a form. beside_customer: whether a customer may have typed them."""
        asked = who_is_meant.CustomerRequest.of(form, beside_customer=beside_customer)
        if asked.is_new and not beside_customer:
            return cls()
        known = who_is_meant.fitting(store, asked)
        told = who_is_meant.meant(store, asked) if len(known) == 1 else None
        alike = None if known else who_is_meant.alike(store, asked)
        return cls(fitting=known, alike=alike, told=told or "")

    def said(self, typed: str) -> str:
        """Say what a typed name was read as, "" where that is not told: the name of the known customer where something else was typed for it."""
        if self.untold:
            return ""
        if len(self.fitting) != 1:
            return f"{len(self.fitting)} of this name" if self.fitting else "new customer"
        name = self.fitting[0].name
        named = typed.casefold().startswith(name.casefold())
        return "known customer" if named else f"known customer: {name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What working out the typed form came to.

    needed: what is still to be typed, which is no fault while one types. asked: questions about sizes,
    for which the likeliest answer is taken until they are answered. result, stock, used: None where
    something is wrong or needed. so_far: what can be told all the same. names: the names of materials,
    beside the fields where a code was typed. takes: what the piece needs of a mat and a moulding. echoes: what blank fields came out as, where that is not
    what the form would take for them. kept_since: the day of the agreed price, where that price
    is kept. change: the agreed price beside that of the changed piece, where it is another one. photo_drawn: whether the piece is
    drawn with the photo of its artwork; None where that cannot be told yet.
    """

    faults: tuple[Fault, ...] = ()
    needed: tuple[Fault, ...] = ()
    asked: tuple[Fault, ...] = ()
    result: PieceView | None = None
    stock: FromRack | None = None
    used: ReallyUsed | None = None
    so_far: SoFar | None = None
    names: Mapping[str, str] = field(default_factory=dict)
    takes: Needed = Needed()
    echoes: Mapping[str, str] = field(default_factory=dict)
    offers: OffersView = OffersView(sizes=(), next_up=True)
    kept_since: date | None = None
    change: ChangeView | CustomerChange | None = None
    photo_drawn: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotePage(Page):
    """The page of a quote's piece.

    result: None while the piece cannot be worked out; faults and needed then say why, and so_far shows
    what can be told all the same. stock, used: what the stock has for the piece and what it takes in
    fact, for the shop alone. frame_to_come: whether a moulding is still to be chosen for
    the frame. kept_since: the day of the agreed price, which stays while only the artwork is
    described anew. kept_word: "agreed", or what a customer reads of a quote. new_moulding: the fields of one that the price book has not. usual: what the shop's habit filled in, carried along; None where it fills
    nothing. filled: the same as a live form is to write it into its fields. marked: lengths that got their unit as another one was chosen, likewise. taken: what doubtful sizes are taken as until their unit is said; empty where none
    is doubtful. action: the address that the form is posted to. live: the address that works it out and
    keeps nothing. change: of a piece that was agreed, the old price beside the new one. todays_prices: the box
    by which all of it is priced anew; None where nothing was agreed. onward: the buttons that save and go on. mat: as the shop
    calls a window board. match: the colours block; None where nothing of the piece has one to choose. for_customer: whether the screen faces a
    customer; stock, used and new_moulding are None then, and aside is the id of what is kept of the form without being shown.
    """

    section: str = "Quotes"
    wide: bool = True
    heading: str
    subheading: str
    action: str
    live: str
    save_label: str
    onward: Onward
    version: str
    unit: str
    customer: FormView[OfShop] | None
    piece: FormView[PieceTyped]
    photo: PhotoBlock
    mat: str
    is_object: bool
    windows: WindowsView
    needed: tuple[Fault, ...]
    frame_to_come: bool
    taken: str
    result: PieceView | None
    stock: FromRack | None
    used: ReallyUsed | None
    so_far: SoFarView | None
    offers: OffersView
    views: tuple[tuple[str, str, bool], ...]
    tax_word: str
    kept_since: date | None
    kept_word: str
    new_moulding: FormView[OfShop] | None
    change: ChangeView | CustomerChange | None
    todays_prices: FieldView | None
    match: MatchView | None
    usual: str | None = None
    filled: str = "{}"
    marked: str = "{}"
    for_customer: bool = False
    told: str = ""
    aside: str = ""
    turned_by: str = FORM
    enter: str = "save"

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What is noticed of the piece and of the stock for it; nothing beside a customer."""
        of_stock = self.stock.notices if self.stock else ()
        return of_stock + self.result.notices + self.photo.notices if self.result else of_stock

    @property
    def fields_there(self) -> tuple[FieldView, ...]:
        """The fields that the posted page had."""
        customer = [
            field
            for field in (self.customer.values() if self.customer else ())
            if field.control != "hidden"
        ]
        piece = (each for each in self.piece.on_the_page if each.control != "hidden")
        return (*customer, *piece, *(self.new_moulding.values() if self.new_moulding else ()))

    @property
    def asked_of_artwork(self) -> str:
        """What has to be said of the artwork before the piece can be weighed; empty where nothing has."""
        return self.result.asked_of_artwork if self.result else ""

    def needed_at(self, path: str) -> str:
        """Return what is still to be typed in a field; empty where nothing is."""
        return " ".join(fault.message for fault in self.needed if fault.path == path)


def views(current: DrawingView) -> tuple[tuple[str, str, bool], ...]:
    """Return (value, label, current) of each view of the drawing."""
    return tuple((view.value, label, view is current) for view, label in VIEW_LABELS.items())


def customer_fields(
    shop: Shop,
    typed: Typed,
    faults: Iterable[Fault],
    who: Who,
    form: Form[OfShop] = CUSTOMER,
) -> FormView[OfShop]:
    """Return the fields that find or make a customer."""
    name = typed.get("customer", "").strip()
    asked = who_is_it(name, faults) or is_it(who.alike if typed.get(NEW_NAME) != name else None)
    said = {"customer": who.said(name)} if name else {}
    make = Fields(typed, faults, said, {"customer": asked})
    return FormView(form, OfShop(shop), make)


def piece_fields(
    known: PieceTyped,
    faults: Iterable[Fault],
    understood: Mapping[str, str],
    questions: Mapping[str, Question] | None = None,
    *,
    echoes: Mapping[str, str] | None = None,
    habit: tuple[frozenset[str], frozenset[str]] = (frozenset(), frozenset()),
    finds_at: str = "",
) -> FormView[PieceTyped]:
    """Return the fields of the form with what was typed, understood, wrong and asked.

    echoes: hints that say what came out. habit: the fields that were filled in as usual, and those of them that
    the posted form had not. finds_at: the address at which a material is found with the price of the piece, up to the
    path of its field.
    """
    by_habit, grown = habit
    make = Fields(
        known.typed,
        faults,
        understood,
        questions,
        hints=echoes,
        by_habit=by_habit,
        grown=grown,
        finds_at=finds_at,
    )
    return FormView(PIECE, known, make)


def understood(typed: Mapping[str, str], shop: Shop) -> dict[str, str]:
    """Return what the machine read in sizes, lengths and weights, where it is not what was typed."""
    unit = unit_of(typed, shop)
    said: dict[str, str] = {}
    for path, text in typed.items():
        kind = PIECE.at[path].kind if path in PIECE.at and text.strip() else None
        with suppress(Invalid):
            if kind is SIZE:
                said[path] = understood_size(text, unit)
            elif kind is MASS:
                kg = parse_mass(text, bare=shop.unit, path=path)
                if mass_text(kg, shop.unit) != text.strip():
                    said[path] = usual_text(kg, shop.unit)
            elif kind is LENGTH:
                length = parse_length(text, unit=unit, path=path, zero_ok=True)
                if show(length, unit) != text.strip():
                    said[path] = show(length, unit, mark=True)
    return said


def names_of(chosen: Chosen, typed: Mapping[str, str]) -> dict[str, str]:
    """Return the name of each material that was typed by its code or a part of it, by the path of its
    field.

    Where the artwork is shown in a way that uses no mats or fillet, what was typed of these stays, and
    is said to count for nothing.
    """
    rows = {
        "mats": chosen.mats,
        "frames": chosen.frames,
        "hardware": tuple(taken.material for taken in chosen.hardware),
        "extras": tuple(taken.material for taken in chosen.extras),
        "glazing": (chosen.glazing,),
        "mount_board": (chosen.mount_board,),
        "backing": (chosen.backing,),
        "spacer": (chosen.spacer,),
        "given_frame": (chosen.ready_made,) if chosen.ready_made else (),
        "fillet": (chosen.fillet,) if chosen.fillet else (),
    }
    names: dict[str, str] = {}
    for part, materials in rows.items():
        filled = [path for path in _material_fields(part) if typed.get(path, "").strip()]
        if part in ("mats", "fillet") and not materials:
            names.update(dict.fromkeys(filled, "not used here"))
        for path, material in zip(filled, materials, strict=False):
            if material and material.name.casefold() != typed[path].strip().casefold():
                names[path] = material.name
    return names


def borders_that_followed(agreed: Agreed) -> dict[str, str]:
    """Return what the borders came out as, in the shop's steps, where an outside or a frame leaves them (G23, G24)."""
    cut = as_cut(agreed.spec, agreed.steps)
    if borders_left(cut) is None:
        return {}
    return {
        f"borders.{side}": show(length, agreed.spec.unit)
        for side, length in cut.layers[0].borders.sides()
    }


def sizes_that_followed(dimensions: Dimensions, typed: Mapping[str, str]) -> dict[str, str]:
    """Return what blank fields of package and outside came out as, where the outside or a frame is given."""
    spec = dimensions.spec
    if spec.outside is None and spec.given_frame is None:
        return {}
    came = {"package.size": dimensions.package}
    if spec.given_frame is None or spec.given_frame.outside is not None:
        came["outside.size"] = dimensions.outside
    return {
        path: show_size(size, spec.unit, mark=True)
        for path, size in came.items()
        if not typed.get(path, "").strip()
    }


def depth_of_spacers(spec: Spec, typed: Mapping[str, str]) -> dict[str, str]:
    """Return what a blank depth of spacers came out as, by the material."""
    if spec.spacer is None or typed.get("spacer.depth", "").strip():
        return {}
    return {"spacer.depth": show(spec.spacer.depth, spec.unit, mark=True)}


def weight_guessed(view: PieceView, typed: Mapping[str, str]) -> dict[str, str]:
    """Return what is said beside a blank field of the artwork's weight."""
    return {} if typed.get(_WEIGHT, "").strip() else {_WEIGHT: view.artwork_weighs}


_WEIGHT = "artwork.weight"


def names_so_far(told: SoFar) -> dict[str, str]:
    """Return the names of materials of a piece with faults, none for fields that are passed over."""
    names = names_of(told.chosen, told.fields)
    return {path: name for path, name in names.items() if path not in told.left_out}


@cache
def _material_fields(part: str) -> tuple[str, ...]:
    """Return the paths of the fields of a part's materials, in their order; whoever reads them skips blank rows."""
    return tuple(
        path for path in PIECE_FIELDS if path.startswith(f"{part}.") and path.endswith(".material")
    )


def default_typed(shop: Shop) -> dict[str, str]:
    """Return what the form of a new quote begins with."""
    return {
        "unit": shop.unit.value,
        "presentation": Presentation.WINDOW.value,
        "sizing": Sizing.BORDERS.value,
        "artwork.kind": ArtworkKind.WATERCOLOUR.value,
    }


def tax_word(shop: Shop, *, tax_free: bool) -> str:
    """Return the heading of the total, which says whether tax is in it."""
    if tax_free:
        return "Price, tax-free customer"
    return "Price with tax" if any(rate.percent for rate in shop.tax_rates) else "Price"
