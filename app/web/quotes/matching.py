"""The colours block of the quote page: the few that carry the picture, or one that is picked, and what comes near it.

One colour is looked at at a time; a press tries a mat or a moulding in the piece, which is worked out with it.
All of it is fields and buttons of the form, so that it goes without scripts; match.js reads the colour under the pointer.
"""

import json
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from app.colours import Colour, in_words
from app.documents.kit.pictures import on_pages
from app.errors import Invalid, NotFound
from app.forms.reader import whole_number
from app.forms.table import Typed
from app.framing import Presentation
from app.framing.notices.care import NOT_ACID_FREE
from app.money import Money, show_money
from app.orders.piece_report import is_on_paper
from app.orders.quoting.choices import FrameSource
from app.orders.quoting.form import PHOTO
from app.orders.quoting.piece_typed import PieceTyped
from app.pricing import Kind
from app.pricing.nearest import NearMaterial, paler
from app.services import pictures
from app.services.colour_matches import Needed, nearest, picked
from app.services.material_names import MaterialNames, names_of
from app.services.material_offers import OfferTerms, to_pay_with
from app.storage import PictureShape
from app.web.kit.context import RequestContext
from app.web.quotes.said import TRY

MATCH, OWN, AT, OPEN = "match", "match.own", "match.at", "match.open"
"""The fields: which colour is looked at, one of our own choosing, where the picture was pointed at (`.x`, `.y`), and whether the block
is open: only then are its materials priced.
"""

LOOK = "match"
"""The action of the button that shows what comes near the chosen colour."""

_CHOSEN = "own"
"""What `MATCH` holds where the colour of our own choosing is looked at."""

_WIDEST, _HIGHEST = 200, 150
"""Pixels in which the picture is shown, so that it is never made narrower by a page, not on a phone either: where it was
pointed at is sent in pixels as shown. Source: ours."""

_TOP, _SECOND, _FRAME, _FILLET = (
    "mats.0.material",
    "mats.1.material",
    "frames.0.material",
    "fillet.material",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SwatchView:
    """A colour to look at. called: a plain word for it. chosen: whether it is looked at."""

    colour: str
    called: str
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureView:
    """The picture to point at, and in how many pixels it is shown."""

    address: str
    width: int
    height: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TryView:
    """A button that tries a material. action: without scripts; fill: with them. taken: whether the piece has it there."""

    words: str
    action: str
    fill: str
    taken: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferView:
    """A material near the colour.

    near: how near, in a word; apart: the figure behind that, for the shop, "" for a customer. price: by how much the piece gets dearer or
    cheaper with it, or its whole price where it has none yet; "" where it is taken or not priced. also: another place in the piece
    where it may be tried.
    """

    name: str
    colour: str
    called: str
    near: str
    apart: str
    price: str
    use: TryView
    also: TryView | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupView:
    """Materials of a row that lie alike: on the rack, to be ordered, or harmful to the artwork. title: "" for a customer, unless harmful."""

    title: str
    offers: tuple[OfferView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowView:
    """Materials of one kind near the colour. colour, called: what they are near to."""

    title: str
    colour: str
    called: str
    groups: tuple[GroupView, ...]
    none: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchView:
    """The colours block. is_open: whether it begins open. own: the colour of our own choosing."""

    is_open: bool
    swatches: tuple[SwatchView, ...]
    picture: PictureView | None
    own: str
    own_called: str
    own_chosen: bool
    rows: tuple[RowView, ...]

    @property
    def title(self) -> str:
        """What the block is called."""
        return "Colours of the picture" if self.picture else "Match a colour"


def match_view(
    here: RequestContext,
    form: Typed,
    known: PieceTyped,
    takes: Needed,
    terms_at: Callable[[str], OfferTerms],
) -> MatchView | None:
    """Make the colours block; None where the piece takes neither mat nor moulding.

    takes: what the piece needs of a material. terms_at: what a material in a field is priced by.
    """
    takes = replace(takes, on_paper=_on_paper(known))
    places = tuple(_places(known))
    if not places:
        return None
    photo = form.get(PHOTO, "").strip()
    picture = pictures.known_of(here.store, (photo,)).get(photo) if photo else None
    pointed_at = _pointed_at(here, form, picture)
    own = pointed_at or _own(form)
    colours = picture.colours if picture else ()
    is_own = pointed_at is not None or form.get(MATCH) == _CHOSEN
    chosen = own if is_own else _chosen(form, colours)
    action = form.get("action", "")
    looked_at = bool(form.get(OPEN) or pointed_at or action == LOOK or action.startswith(f"{TRY}:"))
    row = _RowMaker(
        here=here,
        known=known,
        takes=takes,
        names=None if here.visitor.sees_costs else names_of(here.store),
        terms_at=terms_at if looked_at else None,
    )
    return MatchView(
        is_open=is_own or looked_at,
        swatches=tuple(_swatch(each, each == chosen and not is_own) for each in colours),
        picture=_shown(picture) if picture else None,
        own=own.hex,
        own_called=in_words(own),
        own_chosen=is_own,
        rows=tuple(row.rows(chosen)) if chosen else (),
    )


def _on_paper(known: PieceTyped) -> bool:
    kind, support = (known.typed.get(f"artwork.{each}", "").strip() for each in ("kind", "support"))
    return is_on_paper(kind, support, known.presentation)


def _swatch(colour: Colour, chosen: bool) -> SwatchView:
    return SwatchView(colour=colour.hex, called=in_words(colour), chosen=chosen)


def _shown(picture: PictureShape) -> PictureView:
    """Return the picture as large as it goes into its room, in whole pixels and at least one."""
    scale = min(_WIDEST / picture.width, _HIGHEST / picture.height)
    width, height = (max(1, round(side * scale)) for side in (picture.width, picture.height))
    return PictureView(address=on_pages(picture.id), width=width, height=height)


def _pointed_at(here: RequestContext, form: Typed, picture: PictureShape | None) -> Colour | None:
    """Return the colour where the picture was pointed at without scripts; None where it was not."""
    x, y = (whole_number(form.get(f"{AT}.{axis}", ""), digits=4) for axis in "xy")
    if picture is None or x is None or y is None:
        return None
    shown = _shown(picture)
    try:
        return picked(here.store, picture.id, x / shown.width, y / shown.height)
    except NotFound:
        return None


_BEGUN = Colour.parse("#8a7f70")
"""The colour that is shown before one is chosen: neither light nor dark, nobody's."""


def _own(form: Typed) -> Colour:
    try:
        return Colour.parse(form.get(OWN, ""))
    except Invalid:
        return _BEGUN


def _chosen(form: Typed, colours: tuple[Colour, ...]) -> Colour | None:
    """Return the colour of the picture that is looked at, the first where none is named; None where there are none."""
    return next(
        (each for each in colours if each.hex == form.get(MATCH)), next(iter(colours), None)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where in the piece a material may go. also: another place for it, with the words of its button."""

    kind: Kind
    title: str
    path: str
    also: tuple[str, str] | None = None


def _places(known: PieceTyped) -> Iterator[_Place]:
    if known.matted:
        second = (_SECOND, f"under {known.mat}") if known.given(_TOP) else None
        yield _Place(kind=Kind.MAT, title=f"{known.mat.capitalize()}s", path=_TOP, also=second)
    if known.source is FrameSource.MADE and known.presentation != Presentation.AS_IT_CAME:
        fillet = (_FILLET, "as fillet") if known.matted and known.given(_FILLET) else None
        yield _Place(kind=Kind.MOULDING, title="Mouldings", path=_FRAME, also=fillet)


@dataclass(frozen=True, slots=True, kw_only=True)
class _RowMaker:
    """Makes the rows of a piece. names: what materials are called where no codes, stock and figures may stand in the page; None where they
    may. terms_at: None where nothing is priced.
    """

    here: RequestContext
    known: PieceTyped
    takes: Needed
    names: MaterialNames | None
    terms_at: Callable[[str], OfferTerms] | None

    def rows(self, colour: Colour) -> Iterator[RowView]:
        """Return what comes near a colour, and of mats what comes near its paler relative."""
        for place in _places(self.known):
            yield self._row(colour, place, place.title)
            let_down = paler(colour) if place.kind is Kind.MAT else None
            if let_down:
                yield self._row(let_down, place, f"Paler {place.title.lower()}")

    def _row(self, colour: Colour, place: _Place, title: str) -> RowView:
        rack_first = self.names is None
        found = nearest(self.here.store, colour, place.kind, self.takes, rack_first=rack_first)
        codes = [each.material.code for each in found]
        now, prices = (
            to_pay_with(self.here.store, self.terms_at(place.path), codes)
            if self.terms_at
            else (None, {})
        )
        return RowView(
            title=title,
            colour=colour.hex,
            called=in_words(colour),
            groups=tuple(
                GroupView(
                    title=words,
                    offers=tuple(
                        self._offer(each, place, _difference(now, prices.get(each.material.code)))
                        for each in group
                    ),
                )
                for words, group in groupby(found, lambda each: _lies(each, self.names))
            ),
            none="" if found else f"None of the price book comes near this {in_words(colour)}.",
        )

    def _offer(self, found: NearMaterial, place: _Place, price: str) -> OfferView:
        material, names, also = found.material, self.names, place.also
        text = names.of(material.code, place.kind) if names else material.code
        meant = {text.casefold()} if names else {text.casefold(), material.name.casefold()}
        use = _try(place.path, text, material.name, self.known, meant)
        return OfferView(
            name=material.name,
            colour=material.colour,
            called=found.called,
            near=found.nearness.value,
            apart="" if names else f"Colour difference (CIEDE2000) {found.apart:.1f}",
            price="" if use.taken else price,
            use=use,
            also=_try(also[0], text, also[1], self.known, meant) if also else None,
        )


def _difference(now: Money | None, then: Money | None) -> str:
    """Say by how much a piece gets dearer or cheaper, or what it costs where it has no price yet."""
    if then is None:
        return ""
    if now is None:
        return show_money(then)
    if now == then:
        return "same price"
    more = now < then
    return f"{'+' if more else '−'} {show_money(then - now if more else now - then)}"


def _lies(found: NearMaterial, names: MaterialNames | None) -> str:
    """Return what a material stands beneath: a customer is told of the artwork, not of the rack."""
    if found.harms:
        return NOT_ACID_FREE
    if names:
        return ""
    return "On the rack" if found.on_rack else "To order"


def _try(path: str, text: str, words: str, known: PieceTyped, meant: Collection[str]) -> TryView:
    """meant: the texts that stand for the material, in small letters."""
    return TryView(
        words=words,
        action=f"{TRY}:{path}:{text}",
        fill=json.dumps({path: text}, ensure_ascii=False),
        taken=known.typed.get(path, "").strip().casefold() in meant,
    )
