"""The fields of a material, each declared once: for its form, its two versions and its column in a file.

One more field is one more line of FIELDS. What a select may be told in a file stands beside it: the
words on the form, and what else the trade says for the same.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import KW_ONLY, dataclass, field
from typing import Any

from app.forms.table import Options
from app.lengths import Example, Examples, Size, inches, mm
from app.money import TaxRate
from app.orders import Shop
from app.pricing import Bears, ChargeBy, CostPer, Kind, Trait
from app.web.kit import stating
from app.web.kit.stating import Stated

MOST_BANDS = 12

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
    ChargeBy.SIZE_BAND: "by size, from a list",
    ChargeBy.EACH: "each",
    ChargeBy.OPENED: "by what is opened for the piece",
}
WAYS: Options = (
    ("markup", "Cost × a number"),
    ("table", "Cost × a number from a markup table"),
    ("price", "A price given outright"),
)
TRAITS: dict[Trait, str] = {
    Trait.ACID_FREE: "acid-free",
    Trait.UV_FILTER: "filters UV light",
    Trait.GLASS: "glass",
    Trait.ACRYLIC: "acrylic",
    Trait.LAMINATED: "laminated",
    Trait.ONE_WAY: "has a direction: never cut turned",
}


BEARS: dict[Bears, str] = {
    Bears.RING: "the piece, as a ring, strap or hook",
    Bears.WIRE: "the piece, as wire or cord",
    Bears.CLEAT: "the piece, as a cleat or wall plate",
    Bears.NOTHING: "nothing, as a bumper or clip",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One choice of a select. label: on the form; also: what a file may say for it."""

    value: str
    label: str
    also: tuple[str, ...] = ()


def _also(labels: Mapping[Any, str], **also: str) -> tuple[Choice, ...]:
    """Choices with what else may be said for each, by its value with underscores: "ft, foot"."""
    return tuple(
        Choice(
            value=str(value),
            label=label,
            also=tuple(filter(None, also.get(value.replace("-", "_"), "").split(", "))),
        )
        for value, label in labels.items()
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

_ALL = frozenset(Kind)
_MOULDINGS = frozenset({Kind.MOULDING})
_SHEETS = frozenset(kind for kind in Kind if kind.is_sheet)


@dataclass(frozen=True, slots=True)
class MaterialField:
    """One field. label, hint: on the form; hint is "" for none.

    called: how a sentence begins that speaks of it, "" where none does. needed: the kinds for which a
    blank field is refused wherever it is asked. like: of a length or a size, one that would do; a
    bare number is in the shop's unit then, which the label names. stated: of an amount, how. choices: of a select, but for the
    shop's own tax rates and markup tables. prose: whatever somebody cares to write.
    """

    path: str
    label: str
    _: KW_ONLY
    hint: str = ""
    called: str = ""
    needed: Collection[Kind] = frozenset()
    like: Example | None = None
    stated: Callable[[Shop, TaxRate | None], Stated] | None = None
    choices: tuple[Choice, ...] = field(default=())
    prose: bool = False

    def named(self, shop: Shop) -> str:
        """Return the label with the shop's unit, where a bare number is in it, or with how amounts are stated."""
        if self.stated is not None:
            return self.stated(shop, None).after(self.label)
        return f"{self.label}, {shop.unit.value}" if self.like else self.label


def _bands() -> tuple[MaterialField, ...]:
    """The lines of prices by size; the list needs one, and is begun with it."""
    up_to = Example(mm(1200), inches(48))
    return tuple(
        each
        for row in range(MOST_BANDS)
        for each in (
            MaterialField(
                f"charge.bands.{row}.up_to",
                f"Width + height up to, line {row + 1}",
                needed=_ALL if row == 0 else frozenset(),
                like=up_to,
            ),
            MaterialField(
                f"charge.bands.{row}.price",
                f"Price, line {row + 1}",
                stated=stating.prices,
                needed=_ALL if row == 0 else frozenset(),
            ),
        )
    )


FIELDS: tuple[MaterialField, ...] = (
    MaterialField("kind", "Kind", needed=_ALL, choices=KINDS),
    MaterialField(
        "code",
        "Code",
        prose=True,
        needed=_ALL,
        hint="Your own: letters, digits, dots, strokes, dashes.",
    ),
    MaterialField("name", "Name", prose=True, needed=_ALL),
    MaterialField("cost", "Cost", needed=_ALL, stated=stating.costs),
    MaterialField("per", "Cost is for", choices=PERS),
    MaterialField("charge.by", "Charged", choices=RULE_CHOICES),
    MaterialField("charge.waste", "Added for waste, %", hint="For what a cut leaves over."),
    MaterialField(
        "charge.minimum_length",
        "Least length charged",
        hint="Blank for none.",
        like=Example(mm(600), inches(24)),
    ),
    MaterialField(
        "charge.step",
        "Rounded up to steps of",
        hint="Blank for the exact length.",
        like=Example(mm(100), inches(6)),
    ),
    MaterialField("charge.minimum_area", "Least area charged, m²", hint="Blank for none."),
    MaterialField(
        "charge.shares",
        "Parts of a sheet on offer",
        hint="From the smallest up; blank for 1/8, 1/4, 1/2, 1.",
    ),
    *_bands(),
    MaterialField("selling", "Sell price", choices=WAY_CHOICES),
    MaterialField(
        "selling.markup",
        "The number",
        needed=_ALL,
        hint="2.5 sells at two and a half times the cost.",
    ),
    MaterialField("selling.table", "Markup table"),
    MaterialField("selling.price", "Sell price", needed=_ALL, stated=stating.prices),
    MaterialField("tax", "Tax"),
    MaterialField(
        "profile.face",
        "Face width",
        called="The face width",
        needed=_MOULDINGS,
        like=Example(mm(20), inches("3/4")),
    ),
    MaterialField(
        "profile.lip",
        "Lip",
        called="The lip",
        needed=_MOULDINGS,
        like=Example(mm(6), inches("1/4")),
        hint="How far it covers what lies in the rebate; 0 for a tray, which has none.",
    ),
    MaterialField(
        "profile.rebate_depth",
        "Rebate depth",
        called="The rebate depth",
        needed=_MOULDINGS,
        like=Example(mm(15), inches("5/8")),
    ),
    MaterialField(
        "profile.stick",
        "Length of a stick",
        called="The length of a stick",
        needed=_MOULDINGS,
        like=Example(mm(3000), inches(120)),
    ),
    MaterialField(
        "profile.grams_per_metre",
        "Weight, g a metre",
        hint="For the weight of the piece; blank where you do not know.",
    ),
    MaterialField(
        "sheet.size",
        "Sheet size",
        called="The sheet size",
        needed=_SHEETS,
        like=Example(Size(mm(1120), mm(815)), Size(inches(40), inches(32))),
    ),
    MaterialField(
        "sheet.thickness",
        "Thickness",
        called="The thickness",
        needed=_SHEETS,
        like=Example(mm("1.5"), inches("1/16")),
    ),
    MaterialField("sheet.matter", "Made of"),
    MaterialField(
        "sheet.grams_per_m2", "Weight, g a m²", hint="Blank to work it out from what it is made of."
    ),
    *(MaterialField(f"sheet.traits.{trait.value}", label) for trait, label in TRAITS.items()),
    MaterialField("hanging.bears", "What hangs by it", choices=BEARS_CHOICES),
    MaterialField(
        "hanging.load",
        "Working load of one",
        hint="As its maker gives it: 15 kg, 33 lb. Blank where you do not know.",
    ),
    MaterialField("colour", "Colour in the drawing", prose=True),
    MaterialField(
        "finish",
        "Finish",
        prose=True,
        hint="As gilt, waxed, matt: words and the drawing follow it.",
    ),
    MaterialField("supplier", "Supplier", prose=True),
    MaterialField("tags", "Further words to find it by", prose=True),
    MaterialField("notes", "Notes", prose=True),
    MaterialField("active", "On offer in quotes", choices=YES_OR_NO),
)
"""Every field of a material, in the order of the page and of the file."""

MATERIAL_FIELDS: tuple[str, ...] = tuple(each.path for each in FIELDS)
FIELD_AT: Mapping[str, MaterialField] = {each.path: each for each in FIELDS}

EXAMPLES: Examples = {
    ".".join(part for part in each.path.split(".") if not part.isdigit()): each.like
    for each in FIELDS
    if each.like is not None
}
