"""`POST /api/price`: a piece with materials of the price book in, its dimensions and its price out.

Keeps nothing. Reads the same fields as the quote page, under the paths of the request. What the shop pays and
earns is not in the answer.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import BeforeValidator, Field

from app.errors import Fault, FaultCollector, Invalid
from app.forms.reader import number_text
from app.framing import MOST_WINDOWS
from app.framing.mass import exact_text, parse_mass
from app.framing.notices.artwork_weight import Support
from app.framing.spec import Core
from app.lengths import Unit
from app.orders import ArtworkKind
from app.orders.piece_report import Findings, findings
from app.orders.quoting.form import MOST_FRAMES, MOST_MATS, MOST_ROWS, PIECE, STANDS_IN_BOX
from app.services import quotes
from app.services.boxes import from_price_book
from app.services.price_book import hardware
from app.web.api.artwork_weight import artwork_weight_json
from app.web.api.dimensions import LengthText, dimensions_json, notices_json
from app.web.api.refusal import INVALID, NO_SHOP
from app.web.api.requests_lengths import MassText, RequestModel
from app.web.api.requests_windows import ArrangementAsked, WindowAsked
from app.web.api.responses_price import HangingAnswered, PieceAnswered, PriceAnswered
from app.web.api.typed_windows import (
    check_windows,
    request_path,
    size_text,
    typed_arrangement,
    typed_windows,
)
from app.web.kit.context import Here


def _code_alone(value: Any) -> Any:
    return {"material": value} if isinstance(value, str) else value


Code = Annotated[str, Field(max_length=200, examples=["SALT14"])]


class MaterialAsked(RequestModel):
    """A material: its code, or as much of its name as only it has."""

    material: Code


OneMaterial = Annotated[MaterialAsked, BeforeValidator(_code_alone)]


class SizedAsked(RequestModel):
    """A size as said, or width and height."""

    size: str | None = Field(default=None, max_length=200, examples=["16x20 in", "A3"])
    width: LengthText | None = None
    height: LengthText | None = None


class ArtworkToPrice(SizedAsked):
    """The artwork."""

    kind: ArtworkKind = ArtworkKind.OTHER
    thickness: LengthText = "0"
    object: bool = Field(
        default=False, strict=True, description="as of `/api/dimensions`; the kind does not say it"
    )
    support: Support | None = Field(
        default=None, description="what it is made of; by default as is usual for its kind"
    )
    weight: MassText | None = Field(
        default=None, description="by default estimated; that of an object never is"
    )


class MatToPrice(MaterialAsked):
    """One layer of mat; the reveal is how much of it shows inside the layer above."""

    reveal: LengthText | None = None
    core: Core = Field(default=Core.WHITE, description="what the bevel shows of the board")


class BordersToPrice(RequestModel):
    """Borders of layer 1; a blank one is as the left, the bottom as the top with the weighting."""

    left: LengthText | None = None
    right: LengthText | None = None
    top: LengthText | None = None
    bottom: LengthText | None = None


class SpacerAsked(MaterialAsked):
    """Spacers between glazing and what lies beneath."""

    depth: LengthText


class FilletToPrice(MaterialAsked):
    """A fillet in every window: a moulding charged by length; tucked by its lip where not said."""

    tuck: LengthText | None = None
    depth: LengthText = Field(description="its thickness behind the mat")


class CountedAsked(MaterialAsked):
    """So many of a material."""

    count: int = Field(default=1, ge=1, le=999)


class PriceAsked(RequestModel):
    """A piece. Whatever is left out is as the shop usually has it. Layer 1 first, inner frame first."""

    unit: Literal["mm", "in"] | None = Field(default=None, description="the shop's, if left out")
    artwork: ArtworkToPrice
    presentation: Literal["window", "float", "close", "canvas", "canvas-float"] = "window"
    overlap: LengthText | None = None
    gap: LengthText | None = None
    mats: tuple[MatToPrice, ...] = Field(default=(), max_length=MOST_MATS)
    borders: BordersToPrice | None = None
    package: SizedAsked | None = None
    weighting: LengthText | None = None
    windows: tuple[WindowAsked, ...] = Field(
        default=(), max_length=MOST_WINDOWS, description="as of `/api/dimensions`"
    )
    arrangement: ArrangementAsked | None = Field(
        default=None,
        description="as of `/api/dimensions`, but a gap left out is the shop's usual one unless "
        "package and borders are both given",
    )
    groove: LengthText | None = None
    fillet: FilletToPrice | None = None
    frames: tuple[MaterialAsked, ...] = Field(default=(), max_length=MOST_FRAMES)
    allowance: LengthText | None = None
    glazing: OneMaterial | None = None
    mount_board: OneMaterial | None = None
    backing: OneMaterial | None = None
    spacer: SpacerAsked | None = None
    hardware: tuple[CountedAsked, ...] = Field(default=(), max_length=MOST_ROWS)
    extras: tuple[CountedAsked, ...] = Field(default=(), max_length=MOST_ROWS)
    discount: str = Field(default="0", max_length=40, description="per cent")
    rush: bool = False
    tax_free: bool = False


def typed_of(asked: PriceAsked, unit: Unit) -> dict[str, str]:
    """The fields of the quote page that a request speaks of; they have the paths of the request.

    Raises: Invalid where a size is given twice, by half or not at all, or cannot be read.
    """
    faults = FaultCollector()
    check_windows(asked.windows, asked.arrangement, faults)
    said = asked.model_dump(mode="json", exclude={"windows", "arrangement"})
    typed = {
        **{path: text for path, text in _texts(said) if path in PIECE.at},
        "unit": unit.value,
        "artwork.size": _size(asked.artwork, "artwork", unit, faults),
        "artwork.weight": _weight(asked.artwork, faults),
        STANDS_IN_BOX: "yes" if asked.artwork.object else "no",
        "sizing": _sizing(asked),
        "package.size": _size(asked.package, "package", unit, faults) if asked.package else "",
        **typed_windows(asked.windows, unit, faults, floats=asked.presentation == "float"),
        **typed_arrangement(asked.arrangement),
    }
    faults.finish()
    return {path: text for path, text in typed.items() if text}


def _texts(said: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """(path, text) of all that a request says, as it would be typed."""
    if isinstance(said, dict | list):
        for name, each in said.items() if isinstance(said, dict) else enumerate(said):
            yield from _texts(each, f"{path}.{name}" if path else str(name))
    elif said is True:
        yield path, "1"
    elif said is not None and said is not False:
        yield path, str(said)


def _sizing(asked: PriceAsked) -> str:
    if asked.package is None:
        return "borders"
    return "package" if asked.borders is None else "both"


def _size(asked: SizedAsked, path: str, unit: Unit, faults: FaultCollector) -> str:
    """A size as it is typed on the quote page."""
    given = asked.width is not None or asked.height is not None
    if asked.size is not None and given:
        faults.add(path, "Give either size, or width and height, not both.")
    if asked.size is not None or not given:
        return asked.size or ""
    return size_text((asked.width, asked.height), path, unit, faults)


def _weight(artwork: ArtworkToPrice, faults: FaultCollector) -> str:
    """A weight as it is typed on the quote page; a program says what it is in."""
    if artwork.weight is None:
        return ""
    try:
        parse_mass(artwork.weight, bare=None, path="artwork.weight")
    except Invalid as invalid:
        faults.take(invalid)
    return artwork.weight


def in_the_request(faults: Iterable[Fault], asked: PriceAsked) -> Invalid:
    """Faults at the quote page's fields, those of a size at what the request gave it by."""
    by_sides = {
        f"{name}.size": name
        for name, sized in (("artwork", asked.artwork), ("package", asked.package))
        if sized is not None and sized.size is None
    }
    return Invalid(
        replace(f, path=by_sides.get(f.path) or request_path(f.path, asked.windows)) for f in faults
    )


def found_json(found: Findings, unit: Unit) -> Mapping[str, Any]:
    """Dimensions as `/api/dimensions` answers them, weight, how it may hang, notices.

    weight_kg: to two places; those within weight are exact. Loads are in whole newtons.
    """
    hundredths = round(found.weight.kg * 100)
    return {
        "unit": unit.value,
        "dimensions": {
            **dimensions_json(found.exact),
            "shop": dimensions_json(found.cut),
        },
        "weight_kg": number_text(Fraction(hundredths, 100)),
        "weight": {
            "kg": exact_text(found.weight.kg),
            "at_least": found.weight.at_least,
            "artwork": artwork_weight_json(found.artwork),
        },
        "hanging": found.hanging and HangingAnswered.of(found.hanging, unit).plain(),
        "notices": notices_json(found.notices),
    }


router = APIRouter(prefix="/api", tags=["price"])


@router.post("/price", responses={200: {"model": PieceAnswered}, **INVALID, **NO_SHOP})
def price(here: Here, asked: PriceAsked) -> dict[str, Any]:
    """Dimensions and price of a piece with materials of the price book, at today's prices."""
    unit = Unit(asked.unit) if asked.unit else here.shop.unit
    typed = typed_of(asked, unit)
    try:
        piece = quotes.worked_out_as_given(
            here.store, typed, here.shop, today=here.today, tax_free=asked.tax_free
        )
    except Invalid as invalid:
        raise in_the_request(invalid.faults, asked) from invalid
    found = findings(piece.artwork, piece.agreed, here.shop, hardware(here.store))
    named = from_price_book(here.store, piece.agreed)
    priced = piece.agreed.price.customer_view()
    return {
        **found_json(replace(found, notices=(*found.notices, *named)), unit),
        "price": PriceAnswered.of(priced, here.shop.currency).plain(),
    }
