"""The page of pieces on a wall. It faces the customer: nothing of the shop stands on it, no cost, no code, no name."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from markupsafe import Markup

from app.documents.kit.pictures import PictureAddress, in_lists, look_of, on_pages
from app.documents.kit.png import can_make_png
from app.documents.quote.advice import FIXINGS
from app.drawings import HungPiece, on_a_wall
from app.drawings.wall.colours import WALL_COLOURS
from app.drawings.wall.hanging import HungPlace
from app.drawings.wall.things import LEAF, THINGS, Thing
from app.drawings.wall.wall import in_words
from app.errors import Fault
from app.forms.table import Typed
from app.lengths import Length, Unit, show_size_on_rule
from app.orders import Order, Piece
from app.orders.dimensions_memo import worked_out
from app.web.kit.fields import Fields, FormView
from app.web.kit.templating import Page
from app.web.wall.form import (
    BEGINS,
    OWN,
    WALL,
    OfWall,
    WallAsked,
    before_it_is_read,
    called,
    came_out,
    to_mark,
)

BEFORE_DRILLING = f"{FIXINGS} Look where pipes and cables run before anything is drilled; what is heavy is for somebody who knows walls."


@dataclass(frozen=True, slots=True, kw_only=True)
class NailRow:
    """Where one piece hangs. top, across: its top edge above the floor, and its middle from that of the group.

    nail: where its hook is above the floor, "" where nobody said how far that lies below the top edge.
    """

    name: str
    top: str
    nail: str
    across: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WallView:
    """What is drawn. figures: (what, figure) of the whole. address: of the picture to keep; kind: what that is."""

    drawing: Markup
    said: str
    figures: tuple[tuple[str, str], ...]
    nails: tuple[NailRow, ...]
    hook_known: bool
    left_off: str
    address: str
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Swatch:
    """A wall to choose. colour: as "#rrggbb", "" for the customer's own."""

    value: str
    label: str
    colour: str
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPage(Page):
    """The page. form: None for an order without a piece. shown: None while what is typed cannot be read."""

    wide: bool = True
    order_id: int
    order_number: str
    form: FormView[OfWall] | None
    swatches: tuple[Swatch, ...]
    chooses: bool
    shown: WallView | None
    fixings: str = BEFORE_DRILLING

    @property
    def path(self) -> str:
        """The address of the page, without what is chosen."""
        return path_of(self.order_id)


def path_of(order_id: int) -> str:
    """Return the address of the wall of an order."""
    return f"/orders/{order_id}/wall"


def drawn(asked: WallAsked, address: PictureAddress) -> str:
    """Draw the wall. address: where photos of artworks are had."""
    pieces = tuple(
        HungPiece(
            dimensions=worked_out(piece.agreed.spec),
            look=look_of(piece.artwork, piece.agreed.chosen, address),
        )
        for piece in asked.pieces
    )
    return on_a_wall(asked.hanging, pieces, asked.colour)


def wall_page(
    known: OfWall,
    typed: Typed,
    asked: WallAsked | None,
    faults: tuple[Fault, ...] = (),
) -> WallPage:
    """Return the page. asked: None where the form has faults."""
    order = known.order
    hints = came_out(asked, known) if asked else before_it_is_read(known)
    texts = _with_usual(typed)
    return WallPage(
        title=f"On the wall: {order.number}",
        section="Orders" if order.order_number else "Quotes",
        faults=faults,
        order_id=order.id,
        order_number=order.number,
        form=FormView(WALL, known, Fields(texts, faults, hints=hints)) if order.pieces else None,
        swatches=tuple(_swatches(texts["colour"])),
        chooses=bool(order.pieces) and known.chooses,
        shown=_view(known, typed, asked) if asked else None,
    )


def _with_usual(typed: Typed) -> dict[str, str]:
    """Return what was typed, with a choice made where none was."""
    return {**typed, **{path: typed.get(path, "") or text for path, text in BEGINS.items()}}


def _swatches(chosen: str) -> Iterable[Swatch]:
    for name, (label, colour) in WALL_COLOURS.items():
        yield Swatch(value=name.value, label=label, colour=colour.hex, chosen=chosen == name.value)
    yield Swatch(value=OWN, label="Another", colour="", chosen=chosen == OWN)


FEW = 6
"""Of more pieces the photos are shown as they are listed: each is a hundred pixels wide then. Source: ours."""


def _view(known: OfWall, typed: Typed, asked: WallAsked) -> WallView:
    query = urlencode([(path, typed[path]) for path in WALL.paths if typed.get(path, "").strip()])
    return WallView(
        drawing=Markup(drawn(asked, on_pages if len(asked.pieces) <= FEW else in_lists)),
        said=_said(asked, known.unit),
        figures=_figures(asked, known.unit),
        nails=tuple(_nails(asked, known)),
        hook_known=asked.hook is not None,
        left_off=" ".join((*_left_off(asked), *_other_designs(asked))),
        address=f"{path_of(known.order.id)}.png{'?' if query else ''}{query}",
        kind="PNG" if can_make_png() else "SVG",
    )


def _said(asked: WallAsked, unit: Unit) -> str:
    """Say what is drawn, and how large the thing is that shows the scale."""
    hanging = asked.hanging
    thing = THINGS.get(hanging.thing)
    if thing is None:
        return f"{in_words(hanging)}, drawn to scale."
    if hanging.thing is Thing.DOOR:
        return f"{in_words(hanging)}, drawn to scale; its leaf is {show_size_on_rule(LEAF, unit, mark=True)}."
    size = show_size_on_rule(thing.size, unit, mark=True)
    return f"{in_words(hanging)}, drawn to scale; the {thing.called} is {size}."


def _figures(asked: WallAsked, unit: Unit) -> tuple[tuple[str, str], ...]:
    hanging = asked.hanging
    thing = THINGS.get(hanging.thing)
    figures = [
        (
            "all of it",
            f"{to_mark(hanging.size.width, unit)} × {to_mark(hanging.size.height, unit)}",
        ),
        ("middle above the floor", to_mark(hanging.middle, unit)),
        ("lowest edge above the floor", to_mark(hanging.foot, unit)),
    ]
    if thing and thing.beneath:
        above = to_mark(hanging.foot - thing.height, unit)
        figures.append((f"above the {thing.called}", above))
    return tuple(figures)


def _nails(asked: WallAsked, known: OfWall) -> Iterable[NailRow]:
    unit = known.unit
    for place, piece in zip(asked.hanging.places, asked.pieces, strict=True):
        hook = asked.hook
        yield NailRow(
            name=_name(piece),
            top=to_mark(place.top, unit),
            nail=to_mark(place.top - hook, unit) if hook is not None else "",
            across=_across(place, unit),
        )


def _name(piece: Piece) -> str:
    title = piece.artwork.title
    return f"{called(piece)} {title}" if title else f"Piece {called(piece)}"


def _across(place: HungPlace, unit: Unit) -> str:
    """Say where the middle of a piece is: "in the middle", "320 mm to the left"."""
    if not place.across:
        return "in the middle"
    away: Length = abs(place.across)
    side = "right" if place.across > -place.across else "left"
    return f"{to_mark(away, unit)} to the {side}"


def _left_off(asked: WallAsked) -> Iterable[str]:
    if asked.left_off:
        yield f"{len(asked.pieces)} of {len(asked.pieces) + asked.left_off} hang here; others are named by their numbers."


def _other_designs(asked: WallAsked) -> Iterable[str]:
    """Say of a piece of which no design is chosen yet that one of them hangs, and how all are named."""
    hung = Counter(piece.number for piece in asked.pieces)
    for piece in asked.pieces:
        if piece.undecided and hung[piece.number] == 1:
            letters = " ".join(f"{piece.number}{each.letter}" for each in piece.designs)
            yield f"Piece {piece.number} hangs as design {piece.counted.letter}; all of its designs are {letters}."


def file_name(order: Order, kind: str) -> str:
    """Return the name of the picture as a file."""
    return f"{order.number} wall.{kind.lower()}"
