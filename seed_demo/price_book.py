"""The sample's price book, read from its tables.

Two columns are little languages. charge: "length waste 10 least 1 step 0.1" (per cent, metres),
"area waste 15 least 0.12" (per cent, m²), "opened least 0.2" (m²), "share", "each",
"bands 700=4.50 1000=6.50" (mm of width + height = euro). sell: "table mouldings", "x 3.6" or
"= 36.00"; "-" where bands have their own prices.
"""

from fractions import Fraction

from app.framing import ProfileShape
from app.framing.notices.weight import DENSITIES, grams_per_m2
from app.lengths import Length, Size, mm
from app.pricing import (
    Bears,
    Charge,
    ChargeBy,
    CostPer,
    FrameStock,
    HangingPart,
    Kind,
    Material,
    Profile,
    Selling,
    SheetStock,
    SizeBand,
    Trait,
)
from seed_demo.shop import euro
from seed_demo.tables import Line, table

TABLES: tuple[tuple[str, Kind], ...] = (
    ("mouldings", Kind.MOULDING),
    ("mats", Kind.MAT),
    ("glazing", Kind.GLAZING),
    ("boards", Kind.BOARD),
    ("hardware", Kind.HARDWARE),
    ("extras", Kind.EXTRA),
    ("ready_made", Kind.READY_MADE),
    ("goods", Kind.GOODS),
)

_RULES = {
    "length": ChargeBy.LENGTH,
    "area": ChargeBy.AREA,
    "share": ChargeBy.SHEET_SHARE,
    "bands": ChargeBy.SIZE_BAND,
    "each": ChargeBy.EACH,
    "opened": ChargeBy.OPENED,
}


def price_book() -> tuple[Material, ...]:
    """Every material of the sample. Raises: Invalid where a table holds one that cannot be."""
    return tuple(_material(line, kind) for name, kind in TABLES for line in table(name))


def _material(line: Line, kind: Kind) -> Material:
    return Material(
        code=line["code"],
        name=line["name"],
        kind=kind,
        cost=euro(line["cost"]),
        per=CostPer(line["per"]),
        charge=_charge(line["charge"]),
        selling=_selling(line["sell"]),
        tax=line.get("tax") or "standard",
        supplier=line["supplier"],
        finish=line.get("finish", ""),
        shape=ProfileShape(line["shape"]) if line.get("shape") else None,
        colour=line.get("colour") or "#c8c2b4",
        profile=_profile(line) if kind is Kind.MOULDING else None,
        sheet=_sheet(line, kind) if kind.is_sheet else None,
        frame=_frame(line) if kind is Kind.READY_MADE else None,
        hanging=_hanging(line) if kind is Kind.HARDWARE else None,
        tags=tuple(line.get("tags", "").split()),
    )


def _charge(text: str) -> Charge:
    rule, *words = text.split()
    by = _RULES[rule]
    if by is ChargeBy.SIZE_BAND:
        return Charge(by=by, bands=tuple(map(_band, words)))
    given = dict(zip(words[::2], map(Fraction, words[1::2]), strict=True))
    least = given.get("least", Fraction(0))
    by_length = by is ChargeBy.LENGTH
    return Charge(
        by=by,
        waste=given.get("waste", Fraction(0)) / 100,
        minimum_length=_metres(least if by_length else Fraction(0)),
        step=_metres(given.get("step", Fraction(0))),
        minimum_area=Fraction(0) if by_length else least,
    )


def _metres(number: Fraction) -> Length:
    return mm(number * 1000)


def _band(text: str) -> SizeBand:
    up_to, price = text.split("=")
    return SizeBand(up_to=mm(up_to), price=euro(price))


def _selling(text: str) -> Selling:
    way, _, value = text.partition(" ")
    match way:
        case "table":
            return Selling(table=value)
        case "x":
            return Selling(markup=Fraction(value))
        case "=":
            return Selling(price=euro(value))
        case _:
            return Selling()


def _profile(line: Line) -> Profile:
    return Profile(
        face=mm(line["face"]),
        lip=mm(line["lip"]),
        rebate_depth=mm(line["rebate"]),
        stick=mm(line["stick"]),
        grams_per_metre=int(line["grams"]),
    )


def _frame(line: Line) -> FrameStock:
    """width, height: of the rebate. outside: width x height."""
    wide, high = line["outside"].split(" x ")
    return FrameStock(
        rebate=Size(mm(line["width"]), mm(line["height"])),
        depth=mm(line["depth"]),
        outside=Size(mm(wide), mm(high)),
        face=mm(line["face"]),
        lip=mm(line["lip"]),
        grams=int(line["grams"]),
    )


def _sheet(line: Line, kind: Kind) -> SheetStock:
    matter = "mat board" if kind is Kind.MAT else line["matter"]
    thickness = mm(line["thickness"])
    return SheetStock(
        size=Size(mm(line["width"]), mm(line["height"])),
        thickness=thickness,
        grams_per_m2=(
            grams_per_m2(thickness, DENSITIES[matter]) if matter in DENSITIES else int(matter)
        ),
        traits=_traits(line),
    )


def _hanging(line: Line) -> HangingPart:
    """load: of one in kg; empty where nothing hangs by it."""
    load = Fraction(line["load"]) if line["load"] else None
    return HangingPart(bears=Bears(line["bears"]), load_kg=load)


def _traits(line: Line) -> frozenset[Trait]:
    named = frozenset(map(Trait, line.get("traits", "").split()))
    return named | {Trait.ACID_FREE} if line.get("acid") == "yes" else named
