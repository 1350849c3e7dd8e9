"""What an agreed piece says of its weight where the price book knows only a part of it."""

from dataclasses import replace

from app.orders import Agreed
from app.orders.piece_report import findings
from app.pricing import Material
from tests.builders.printed import SKETCH, a_shop, an_order


def weightless(material: Material) -> Material:
    assert material.sheet is not None
    return replace(material, sheet=replace(material.sheet, grams_per_m2=0))


def told(agreed: Agreed) -> list[str]:
    artwork = an_order(SKETCH).pieces[0].artwork
    return [
        n.message
        for n in findings(artwork, agreed, a_shop()).notices
        if n.code == "weight-not-known"
    ]


def test_what_the_price_book_cannot_weigh_is_named() -> None:
    agreed = an_order(SKETCH).pieces[0].agreed
    chosen = agreed.chosen
    assert chosen.glazing is not None
    assert told(agreed) == []
    frame = chosen.frames[0]
    assert frame.profile is not None
    unweighed = replace(
        chosen,
        mats=tuple(weightless(chosen.mats[0]) for _ in chosen.mats),
        glazing=weightless(chosen.glazing),
        frames=(replace(frame, profile=replace(frame.profile, grams_per_metre=0)),),
    )
    assert told(replace(agreed, chosen=unweighed)) == [
        "Weight incomplete: no weight entered for "
        f"“{chosen.mats[0].name}”, “{chosen.glazing.name}”, “{frame.name}”."
    ]
