"""`POST /api/price`: a piece with materials of the price book in, its dimensions and its price out.

Keeps nothing. Reads the same fields as the quote page, under the paths of the request. What the shop pays and
earns is not in the answer.
"""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from fastapi import APIRouter

from app.errors import Invalid
from app.forms.reader import number_text
from app.framing.mass import exact_text
from app.lengths import Unit
from app.orders.piece_report import Findings, findings
from app.services import quotes
from app.services.boxes import from_price_book
from app.services.price_book import hardware
from app.web.api.artwork_weight import artwork_weight_json
from app.web.api.dimensions import dimensions_json, notices_json
from app.web.api.refusal import INVALID, NO_SHOP
from app.web.api.requests_price import PriceAsked
from app.web.api.responses_price import HangingAnswered, PieceAnswered, PriceAnswered
from app.web.api.typed_fields import TypedFields
from app.web.kit.context import Here


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
    typed = TypedFields(unit)
    asked.type_into(typed)
    typed.faults.finish()
    try:
        piece = quotes.worked_out_as_given(
            here.store, typed.texts, here.shop, today=here.today, tax_free=asked.tax_free
        )
    except Invalid as invalid:
        raise typed.in_the_request(invalid.faults) from invalid
    found = findings(piece.artwork, piece.agreed, here.shop, hardware(here.store))
    named = from_price_book(here.store, piece.agreed)
    priced = piece.agreed.price.customer_view()
    return {
        **found_json(replace(found, notices=(*found.notices, *named)), unit),
        "price": PriceAnswered.of(priced, here.shop.currency).plain(),
    }
