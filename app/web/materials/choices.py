"""What the selects of a material's form offer: the words on the form, and what else a file may have for the same."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from app.forms.kinds import Options
from app.framing import ProfileShape
from app.pricing import Bears, ChargeBy, CostPer, Kind, Trait

PER: dict[CostPer, str] = {
    CostPer.STICK: "a stick",
    CostPer.METRE: "a metre",
    CostPer.FOOT: "a foot",
    CostPer.SHEET: "a sheet",
    CostPer.SQUARE_METRE: "a m²",
    CostPer.SQUARE_FOOT: "a sq ft",
    CostPer.EACH: "each",
    CostPer.HUNDRED: "for a hundred",
}
RULES: dict[ChargeBy, str] = {
    ChargeBy.LENGTH: "by length",
    ChargeBy.AREA: "by area",
    ChargeBy.SHEET_SHARE: "by part of a sheet",
    ChargeBy.SIZE_BAND: "by size table (width + height)",
    ChargeBy.EACH: "each",
    ChargeBy.OPENED: "by whole sticks/sheets used",
}
WAYS: Options = (
    ("markup", "Cost × a markup factor"),
    ("table", "Cost × the factor of a markup table"),
    ("price", "A fixed selling price"),
)
TRAITS: dict[Trait, str] = {
    Trait.ACID_FREE: "acid-free",
    Trait.UV_FILTER: "filters UV light",
    Trait.GLASS: "glass",
    Trait.ACRYLIC: "acrylic",
    Trait.LAMINATED: "laminated",
    Trait.ONE_WAY: "grain: do not rotate",
}


BEARS: dict[Bears, str] = {
    Bears.RING: "the piece, as a ring, strap or hook",
    Bears.WIRE: "the piece, as wire or cord",
    Bears.CLEAT: "the piece, as a cleat or wall plate",
    Bears.NOTHING: "nothing, as a bumper or clip",
}

SHAPES: dict[ProfileShape, str] = {
    ProfileShape.FLAT: "flat, with square edges",
    ProfileShape.ROUNDED: "rounded: half-round, dome, cushion",
    ProfileShape.BEVELLED: "bevelled: falls straight to the lip",
    ProfileShape.SCOOP: "scoop: falls to the lip in a hollow",
    ProfileShape.OGEE: "ogee: rounded outside, hollow inside",
    ProfileShape.REVERSE: "reverse: highest at the lip",
    ProfileShape.STEPPED: "stepped down to the lip",
    ProfileShape.REEDED: "reeded: beads side by side",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One choice of a select.

    label: its words on the form. also: other words that a file may have for it.
    """

    value: str
    label: str
    also: tuple[str, ...] = ()


_FORMER: Mapping[str, str] = {
    ChargeBy.SIZE_BAND: "by size, from a list",
    ChargeBy.OPENED: "by what is opened for the piece",
    "markup": "Cost × a number",
    "table": "Cost × a number from a markup table",
    "price": "A price given outright",
    Trait.ONE_WAY: "has a direction: never cut turned",
}
"""What a choice was called on the form before; a file that says so is still read."""


def _also(labels: Mapping[Any, str], **also: str) -> tuple[Choice, ...]:
    """Return choices with the other words that a file may have for each.

    also: those words, "ft, foot", by the choice's value with underscores.
    """

    def words(value: str) -> tuple[str, ...]:
        others = also.get(value.replace("-", "_"), "").split(", ")
        return tuple(filter(None, (*others, _FORMER.get(value, ""))))

    return tuple(
        Choice(value=str(value), label=label, also=words(value)) for value, label in labels.items()
    )


KINDS = _also(
    {kind: kind.value for kind in Kind},
    moulding="mouldings, molding, moldings, picture moulding, frame moulding, frame",
    mat="mats, mount, mounts, mat board, matboard, window mat, window mount, passe-partout",
    glazing="glass, acrylic, glazing sheet",
    board="boards, backing, backings, backing board, back board, mount board",
    hardware="hanging hardware, hanging part, hanging parts, fitting, fittings, fixing, fixings",
    extra="extras, sundry, sundries, other",
)
"""A mount is what some call a mat; a mount board lies behind the artwork. Source: common practice."""

PERS = _also(
    PER,
    stick="sticks, whole stick",
    metre="m, metres, meter, meters, lm, lin m, linear metre, linear meter, running metre, "
    "running meter, metre run",
    foot="ft, feet, ', lin ft, lft, linear foot, linear feet, running foot, foot run",
    sheet="sheets, whole sheet, pane",
    square_metre="m2, sqm, sq m, square metre, square metres, square meter, square meters",
    square_foot="ft2, sqft, sq ft, square foot, square feet",
    each="ea, piece, pieces, pc, pcs, item, unit, one, 1",
    hundred="100, 100 pcs, 100 pieces, hundred pieces, box of 100, pack of 100",
)
RULE_CHOICES = _also(
    RULES,
    length="linear, by the metre, by the foot",
    area="square, surface",
    sheet_share="sheet share, part of a sheet, parts of a sheet, part sheet, share of a sheet",
    size_band="size, size band, size list, size table, united size, united inches",
    each="ea, piece, pieces, pc, pcs, unit",
    opened="what is opened, stock opened, opened stock, whole stock, whole sticks, whole sheets",
)
WAY_CHOICES = _also(
    dict(WAYS),
    markup="factor, multiplier, cost x factor, number",
    table="markup table, from a table",
    price="fixed, fixed price, sell price, selling price, outright, price outright",
)
TRAIT_CHOICES = _also(
    TRAITS,
    acid_free="acid free, acidfree",
    uv_filter="uv, uv filter, uv filtering",
    acrylic="pmma, acrylic glass",
    one_way="one way, grain, directional, do not turn, do not rotate",
)
NOT_SAID = Choice(value="", label="not said", also=("unknown", "?"))
"""Of a select that may be left open; a dash in a file says the same."""

SHAPE_CHOICES = (
    NOT_SAID,
    *(Choice(value=shape.value, label=label, also=shape.also) for shape, label in SHAPES.items()),
)
BEARS_CHOICES = (
    NOT_SAID,
    *_also(
        BEARS,
        ring="rings, d-ring, d-rings, strap, straps, hook, hooks, hanger, hangers",
        wire="wires, cord, cords, picture wire",
        cleat="cleats, wall plate, wall plates",
        nothing="bumper, bumpers, clip, clips",
    ),
)
YES_OR_NO = (
    Choice(
        value="1",
        label="yes",
        also=("y", "true", "on", "x", "on sale", "on offer", "active", "offered"),
    ),
    Choice(
        value="",
        label="no",
        also=("n", "0", "false", "off", "off sale", "off offer", "inactive", "discontinued"),
    ),
)


SELLING_WAYS = tuple(way for way, _ in WAYS)
