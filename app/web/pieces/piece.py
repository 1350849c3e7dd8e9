"""Makes what a piece comes to ready to print: drawing, facts, price lines, notices.

Serves the quote page (live) and the order page (frozen). Cost and margin stand in fields of their
own, which the customer's documents never read.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache

from markupsafe import Markup

from app.documents.kit.pictures import PictureAddress, look_of, on_pages
from app.documents.kit.total_lines import (
    BY_NUMBER,
    NOT_CHARGED,
    SUBTOTAL,
    PriceWords,
    Sum,
    sums_of_piece,
)
from app.documents.quote.details import glazing_word
from app.drawings import Look, above_a_sofa, front, measured, section
from app.framing import Dimensions, Notice
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
from app.money import Money, round_half_up, show_money, show_percent
from app.orders import Agreed, ArtworkRecord, LineAgreed, QuotePrices, Shop
from app.orders.below_cost import notices_of_price
from app.orders.hanging_parts import NO_HARDWARE, Hardware
from app.orders.piece_report import Findings, findings
from app.orders.workbench import notices_at_shop
from app.pricing import LineGroup, Measure, PiecePrice, PriceLine
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
class LineView:
    """One line of a price.

    why: the sum for anyone. shop_why: the sum with cost and markup, for the shop. rules: the numbers of
    the handbook's rules that it rests on. steps: at which sizes near by it jumps, each in a sentence.
    """

    label: str
    quantity: str
    amount: Money
    why: tuple[str, ...]
    shop_why: tuple[str, ...]
    below_cost: bool
    notice: str | None
    rules: tuple[str, ...]
    steps: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceView:
    """The price of a piece.

    total: what the customer pays. cost, margin, margin_share, hourly: for the shop alone. each: of several alike
    how the total comes about, "20 × 41.50"; empty for a single piece.
    """

    total: Money
    each: str
    tax_included: bool
    lines: tuple[LineView, ...]
    adjustments: tuple[tuple[str, Money], ...]
    taxes: tuple[tuple[str, Money], ...]
    net: Money
    cost: Money
    margin: Money
    margin_share: str
    minutes: str
    hourly: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerPriceView:
    """The price of a piece as its customer sees it: by group as on the papers, without what it costs and how it came about (P9).

    total: what the customer pays. each: as of `PriceView`.
    """

    total: Money
    each: str
    sums: tuple[Sum, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceView:
    """A worked-out piece, ready to print.

    facts: (what, figure) pairs in the piece's unit. artwork_weighs: the weight of the artwork in short.
    asked_of_artwork: what has to be said for that weight to be known; empty where nothing has.
    """

    drawing: Markup
    view: DrawingView
    facts: tuple[tuple[str, str], ...]
    notices: tuple[Notice, ...]
    price: PriceView | CustomerPriceView
    artwork_weighs: str
    asked_of_artwork: str


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
            for fact in facts_of(agreed, found)
            if not (for_customer and fact[0] in _WORKSHOP_FACTS)
        ),
        notices=()
        if for_customer
        else (*notices_of_price(agreed.price), *notices_at_shop(found, shop)),
        price=customer_price(agreed, shop) if for_customer else price_view(agreed, rush_label),
        artwork_weighs=found.artwork.in_short(agreed.spec.unit),
        asked_of_artwork="" if for_customer else found.artwork.why,
    )


_WORKSHOP_FACTS = ("stack", "artwork weighs")
"""What of the facts says nothing to a customer."""


def customer_price(agreed: Agreed, shop: Shop) -> CustomerPriceView:
    """Make the view of the price of a piece for its customer, line by line or in total as the shop states it on paper."""
    price = agreed.price
    words = PriceWords(mat=shop.mat_word.value, glazing=glazing_word(agreed.chosen))
    sums = sums_of_piece(price.customer_view(), words)
    return CustomerPriceView(
        total=price.tax.gross,
        each=each_in_words(price) if price.copies > 1 else "",
        sums=_up_to(price.tax.gross, sums) if shop.quote_prices is QuotePrices.LINES else (),
    )


def _up_to(total: Money, sums: tuple[Sum, ...]) -> tuple[Sum, ...]:
    """Return sums of a piece that stands by itself: the last is the total where it is all that is paid."""
    last = sums[-1]
    whole = last.label == SUBTOTAL and last.amount == total
    return (*sums[:-1], replace(last, label="Total")) if whole else sums


def facts_of(agreed: Agreed, found: Findings) -> tuple[tuple[str, str], ...]:
    """List the figures that a framer looks for first."""
    unit = agreed.spec.unit
    cut = found.cut
    facts = [
        *_outside(cut),
        (cut.spec.package_word, show_size(cut.package, unit, mark=True)),
    ]
    facts += _borders_that_followed(cut)
    facts += windows_facts(found.exact, cut, agreed.steps)
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
    return (("borders", f"{', '.join(listed)} {unit.value}"),)


def _box(exact: Dimensions) -> tuple[tuple[str, str], ...]:
    """Return how deep the box of an object is, whichever way its depth was given (D7)."""
    spec = exact.spec
    if spec.boxed is None:
        return ()
    front = "glass" if spec.glazing else "front"
    return ((f"{front} to mount board", show(walls_of(spec), spec.unit, mark=True)),)


def _stack(agreed: Agreed, found: Findings) -> str:
    unit = agreed.spec.unit
    depth = agreed.spec.profiles[0].rebate_depth
    return f"{show(found.exact.stack, unit)} of {show(depth, unit, mark=True)} in the rebate"


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


def price_view(agreed: Agreed | LineAgreed, rush_label: str = "Rush") -> PriceView:
    """Make the view of a price, of a piece in its unit."""
    price = agreed.price
    unit = agreed.spec.unit if isinstance(agreed, Agreed) else Unit.MM
    return PriceView(
        total=price.tax.gross,
        each=each_in_words(price) if price.copies > 1 else "",
        tax_included=agreed.tax_policy.included,
        lines=tuple(line_view(line, unit) for line in price.lines),
        adjustments=_adjustments(price, rush_label, included=agreed.tax_policy.included),
        taxes=tuple(
            (f"{part.rate.name} {show_percent(part.rate.percent)}", part.tax)
            for part in price.tax.taxes
        ),
        net=price.tax.net,
        cost=price.cost,
        margin=price.margin,
        margin_share=margin_share(price.margin, price.tax.net),
        minutes=f"{round(price.minutes)} min",
        hourly=price.earnings_per_hour,
    )


def line_view(line: PriceLine, unit: Unit) -> LineView:
    """Make the view of one line of a price, read in a unit."""
    return LineView(
        label=line.label,
        quantity=line.short_in(unit),
        amount=line.amount,
        why=line.why,
        shop_why=line.why_shop,
        below_cost=line.below_cost,
        notice=line.notice,
        rules=_rules_of(line),
    )


_RULES = {
    Measure.METRE: ("P2", "P4"),
    Measure.FOOT: ("P2", "P4"),
    Measure.SQUARE_METRE: ("P3", "P4"),
    Measure.SQUARE_FOOT: ("P3", "P4"),
    Measure.SHEET: ("P3", "P4"),
    Measure.BAND: ("P1",),
    Measure.EACH: ("P1", "P4"),
    Measure.MINUTE: ("P5",),
}


def _rules_of(line: PriceLine) -> tuple[str, ...]:
    """Return the rules that a line rests on; for the rails of a frame also the one for how long they are, of
    several alike the one for how they count.
    """
    alike = ("P11",) if line.copies > 1 or line.together else ()
    rails = ("G12",) if line.group is LineGroup.FRAME and line.measure is not Measure.EACH else ()
    if line.group is LineGroup.SOLD:
        return ("P12", "P4") if line.cost else ("P12",)
    return (*rails, *_RULES[line.measure], *alike)


def _adjustments(
    price: PiecePrice, rush_label: str, *, included: bool
) -> tuple[tuple[str, Money], ...]:
    """Return what leads from the lines to the total.

    included: whether the lines hold the tax, which a tax-free customer does not pay (M2).
    """
    untaxed = price.tax.gross - price.total if included else Money.zero(price.total.currency)
    named = (
        (BY_NUMBER.format(price.copies), price.by_number),
        ("Discount", price.discount),
        (rush_label, price.rush),
        ("Rounding", price.rounding),
        (NOT_CHARGED, untaxed),
    )
    return tuple((label, amount) for label, amount in named if amount)


def each_in_words(price: PiecePrice) -> str:
    """Tell how many are alike and the price of one, which is what the total is exactly so many times.

    Of a price with tax that the customer does not pay it is what the customer pays for one, about where that cannot be
    divided without a rest.
    """
    if price.total == price.tax.gross:
        return f"{price.copies} × {show_money(price.each)}"
    if not price.tax_included:
        return f"{price.copies} × {show_money(price.each)} without tax"
    one = Fraction(price.to_pay.minor, price.copies)
    shown = show_money(Money(round_half_up(one), price.currency))
    return f"{price.copies} × {'' if one.denominator == 1 else 'about '}{shown} without tax"


def margin_share(margin: Money, net: Money) -> str:
    """Return what share of a price without tax is left over the materials, in whole percent; a dash where it is none."""
    return show_percent(Fraction(margin.minor, net.minor), 0) if net else "–"
