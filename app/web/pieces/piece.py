"""Makes what a piece comes to ready to print: drawing, facts, notices, with its price.

Serves the quote page (live) and the order page (frozen).
"""

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from markupsafe import Markup

from app.documents.kit.pictures import PictureAddress, look_of, on_pages
from app.drawings import Look, above_a_sofa, front, measured, section
from app.framing import Dimensions, Notice
from app.framing.depth_sum import depth_sum, stacked
from app.framing.fillets import shown_of
from app.framing.mass import show_kg
from app.framing.objects import walls_of
from app.framing.openings import package_asked
from app.lengths import (
    Steps,
    Unit,
    nearest_fraction_text,
    parse_size,
    show,
    show_on_rule,
    show_size,
    show_size_on_rule,
)
from app.orders import Agreed, ArtworkRecord, Shop
from app.orders.below_cost import notices_of_price
from app.orders.hanging_parts import NO_HARDWARE, Hardware
from app.orders.piece_report import Findings, findings
from app.orders.workbench import notices_at_shop
from app.pricing import Chosen
from app.web.pieces.price import CustomerPriceView, PriceView, customer_price, price_view
from app.web.pieces.window_facts import windows_facts


class DrawingView(StrEnum):
    """The ways in which a piece can be drawn."""

    SEEN = "seen"
    MEASURED = "measured"
    SECTION = "section"
    WALL = "wall"


VIEW_LABELS = {
    DrawingView.SEEN: "As seen",
    DrawingView.MEASURED: "Measured",
    DrawingView.SECTION: "Section",
    DrawingView.WALL: "On a wall",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceView:
    """A worked-out piece, ready to print.

    facts: (what, figure) pairs in the piece's unit. artwork_weighs: the weight of the artwork in short.
    asked_of_artwork: what has to be said for that weight to be known; empty where nothing has.
    in_grey: which materials are drawn in grey for want of a colour; empty where none is.
    """

    drawing: Markup
    view: DrawingView
    facts: tuple[tuple[str, str], ...]
    notices: tuple[Notice, ...]
    price: PriceView | CustomerPriceView
    artwork_weighs: str
    asked_of_artwork: str
    in_grey: str


def draw(
    view: DrawingView,
    artwork: ArtworkRecord,
    agreed: Agreed,
    found: Findings,
    photo: PictureAddress = on_pages,
) -> Markup:
    """Draw one view of the piece as inline SVG; drawings escape every text that they print. photo: where it is had."""
    look = look_of(artwork, agreed.chosen, photo)
    return _drawn_as_agreed(view, found.exact, look, agreed.steps)


@lru_cache(maxsize=200)
def _drawn_as_agreed(view: DrawingView, exact: Dimensions, look: Look, steps: Steps) -> Markup:
    """Draw what was agreed, which stays the same: the last drawings are remembered, some 10 kB each."""
    return drawn(view, exact, look, steps)


def drawn(
    view: DrawingView, exact: Dimensions, look: Look, steps: Steps, *, frame_to_come: bool = False
) -> Markup:
    """Draw one view of what was worked out, whether it is agreed or not. frame_to_come: as of `front`."""
    unit = exact.spec.unit
    match view:
        case DrawingView.SEEN:
            return Markup(front(exact, look, frame_to_come=frame_to_come))
        case DrawingView.MEASURED:
            return Markup(measured(exact, unit, steps))
        case DrawingView.SECTION:
            return Markup(section(exact, unit, look))
        case DrawingView.WALL:
            return Markup(above_a_sofa(exact, look))


def piece_view(
    artwork: ArtworkRecord,
    agreed: Agreed,
    shop: Shop,
    view: DrawingView = DrawingView.SEEN,
    rush_label: str = "Rush",
    *,
    hardware: Hardware = NO_HARDWARE,
    frame_to_come: bool = False,
    for_customer: bool = False,
) -> PieceView:
    """Make the view of a piece, with what the shop's own cutter cannot do with it. frame_to_come: as of `front`. for_customer: without
    notices and all that the price came about by.
    """
    found = findings(artwork, agreed, shop, hardware)
    return PieceView(
        drawing=drawn(
            view,
            found.exact,
            look_of(artwork, agreed.chosen),
            agreed.steps,
            frame_to_come=frame_to_come,
        ),
        view=view,
        facts=tuple(
            fact
            for fact in facts_of(agreed, found, shop)
            if not (for_customer and fact[0] in _WORKSHOP_FACTS)
        ),
        notices=()
        if for_customer
        else (*notices_of_price(agreed.price), *notices_at_shop(found, shop)),
        price=customer_price(agreed, shop) if for_customer else price_view(agreed, rush_label),
        artwork_weighs=found.artwork.in_short(agreed.spec.unit),
        asked_of_artwork="" if for_customer else found.artwork.why,
        in_grey=in_grey(agreed.chosen),
    )


def in_grey(chosen: Chosen) -> str:
    """Say which materials of a piece are drawn in grey, since nobody entered their colours; empty where none is."""
    names = [f"“{material.name}”" for material in chosen.without_colour]
    if not names:
        return ""
    said = (
        "is drawn in grey, since its colour is"
        if len(names) == 1
        else ("are drawn in grey, since their colours are")
    )
    return f"{' and '.join(names)} {said} not entered yet."


_WORKSHOP_FACTS = ("stack", "artwork weighs")
"""What of the facts says nothing to a customer."""


def facts_of(agreed: Agreed, found: Findings, shop: Shop) -> tuple[tuple[str, str], ...]:
    """List the figures that a framer looks for first. shop: calls a mat its own word."""
    unit = agreed.spec.unit
    cut = found.cut
    facts = [
        *_outside(cut),
        (cut.spec.package_word, show_size(cut.package, unit, mark=True)),
    ]
    facts += _borders_that_followed(cut)
    facts += windows_facts(found.exact, cut, agreed.steps, shop.mat_word.value)
    facts += _fillet(cut)
    given = cut.spec.given_frame
    if cut.frames or (given is not None and given.known_lip is not None):
        facts.append(("sight size", show_size_on_rule(cut.surrounds[0].sight, unit, mark=True)))
    if cut.surrounds:
        facts.append(("stack", _stack(agreed, found)))
    facts += _box(found.exact)
    of_one = " each" if agreed.copies > 1 else ""
    facts.append(("weight", f"{found.weight.how} {show_kg(found.weight.kg, unit)}{of_one}"))
    facts.append(("artwork weighs", found.artwork.in_words(unit)))
    return tuple(facts)


def _outside(cut: Dimensions) -> tuple[tuple[str, str], ...]:
    """Return the outside; of a frame that is given its rebate, and the outside only where it was measured (G24)."""
    given, unit = cut.spec.given_frame, cut.spec.unit
    outside = ("outside", show_size(cut.outside, unit, mark=True))
    if given is None:
        return (outside,)
    rebate = ("rebate, measured", show_size(given.counted, unit, mark=True))
    return (rebate, outside) if given.outside else (rebate,)


def _fillet(cut: Dimensions) -> tuple[tuple[str, str], ...]:
    """Return how much of a fillet shows and, for a single window, the size that is seen inside it (G19)."""
    fillet, fillets = cut.spec.fillet, cut.fillets
    if fillet is None or not fillets:
        return ()
    unit = cut.spec.unit
    shows = ("fillet shows", show_on_rule(shown_of(fillet), unit, mark=True))
    if len(fillets) > 1:
        return (shows,)
    return (
        shows,
        ("sight size in the fillet", show_size_on_rule(fillets[0].sight, unit, mark=True)),
    )


def _borders_that_followed(cut: Dimensions) -> tuple[tuple[str, str], ...]:
    """Return the borders of the top mat where they follow from a package, an outside or a frame that is given; else they are as typed (G5)."""
    if package_asked(cut.spec) is None or not cut.layers:
        return ()
    unit, borders = cut.spec.unit, dict(cut.layers[0].borders.sides())
    pairs = (("left", "right"), ("top", "bottom"))
    alike = all(borders[one] == borders[other] for one, other in pairs)
    listed = [f"{one} and {other} {show(borders[one], unit)}" for one, other in pairs]
    if not alike:
        listed = [f"{side} {show(length, unit)}" for side, length in borders.items()]
    seen = "" if borders["left"] == borders["right"] else ", seen from the front"
    return (("borders", f"{', '.join(listed)} {unit.value}{seen}"),)


def _box(exact: Dimensions) -> tuple[tuple[str, str], ...]:
    """Return how deep the box of an object is, whichever way its depth was given (D7)."""
    spec = exact.spec
    if spec.boxed is None:
        return ()
    front = "glass" if spec.glazing else "front"
    return ((f"{front} to mount board", show(walls_of(spec), spec.unit, mark=True)),)


def _stack(agreed: Agreed, found: Findings) -> str:
    unit = agreed.spec.unit
    said = depth_sum(stacked(agreed.spec), agreed.spec.profiles[0].rebate_depth, unit)
    mark = '"' if unit is Unit.IN else " mm"
    return f"{said.about}{said.stack} of {said.depth}{mark} in the rebate"


def understood_size(size_text: str, unit: Unit) -> str:
    """Say what a typed size was read as: in the piece's unit where another was typed, and in the other
    unit to check.

    Raises: Invalid as `parse_size` does.
    """
    size = parse_size(size_text, unit=unit)
    other = (
        f"{nearest_fraction_text(size.width)} × {nearest_fraction_text(size.height)} in"
        if unit is Unit.MM
        else f"{show_size(size, Unit.MM)} mm"
    )
    shown = show_size(size, unit)
    as_typed = size_text.replace(" ", "").replace("x", "×") == shown.replace(" ", "")
    return f"{unit.value} · {other}" if as_typed else f"{shown} {unit.value} · {other}"
