"""The fields of a material, each declared once: for its form, its two versions and its column in a file.

One more field is one more line of FIELDS. What a select may be told in a file stands beside it: the
words on the form, and what else the trade says for the same.
"""

import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, cached_property
from typing import Any

from app.forms.in_other_marks import in_grams, marked, told_mass
from app.forms.reader import Reader, number_text, read_number
from app.forms.table import (
    ABOVE_ZERO,
    LENGTH,
    MASS,
    MONEY,
    SIZE,
    TEXT,
    TICK,
    Field,
    FieldKind,
    Form,
    FormContext,
    Options,
    Rows,
    Typed,
    choice,
    number,
    optional,
    otherwise,
    percent,
    text_of,
    whole,
)
from app.framing import ProfileShape
from app.framing.mass import WeightOf
from app.framing.notices.weight import DENSITIES
from app.lengths import Example, Examples, Size, Unit, inches, mm
from app.money import Money, TaxRate, show_percent
from app.orders import Shop
from app.pricing import (
    CHARGES,
    TRAITS_OF,
    Bears,
    Charge,
    ChargeBy,
    CostPer,
    Kind,
    Material,
    Selling,
    Trait,
    cost_bases,
)
from app.pricing.measure import SQUARE_FOOT_M2, Measure
from app.pricing.wording import short_quantity
from app.web.kit import stating
from app.web.kit.fields import OfShop
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

_ALL = frozenset(Kind)
_MOULDINGS = frozenset({Kind.MOULDING})
_READY_MADE = frozenset({Kind.READY_MADE})
_SHEETS = frozenset(kind for kind in Kind if kind.is_sheet)


SELLING_WAYS = tuple(way for way, _ in WAYS)
SECTION = ("profile.face", "profile.rebate_depth", "profile.stick")
"""What every stick has; a moulding has a lip as well, or says that it has none."""


def kind_of(typed: Typed) -> Kind:
    """Return the kind that a form is for; it is a moulding where the form says none."""
    return Kind(typed["kind"]) if typed.get("kind") in set(Kind) else Kind.MOULDING


def rule_of(typed: Typed) -> ChargeBy:
    """Return the charge rule that was chosen, or the usual one of the kind."""
    rules = CHARGES[kind_of(typed)]
    return ChargeBy(typed["charge.by"]) if typed.get("charge.by") in set(ChargeBy) else rules[0]


@dataclass(frozen=True)
class MaterialTyped(OfShop):
    """The shop and all that was typed in the form of a material, from which its fields follow."""

    typed: Typed

    @cached_property
    def kind(self) -> Kind:
        """The kind of the material, as typed."""
        return kind_of(self.typed)

    @cached_property
    def by(self) -> ChargeBy:
        """The charge rule that was chosen, or the usual one of the kind."""
        return rule_of(self.typed)

    @cached_property
    def amounts(self) -> ChargeBy:
        """The rule whose amounts are asked: by length a least length and a step, by area a least area.

        A material that is charged by what is opened is asked for those of its sticks or sheets.
        """
        if self.by is not ChargeBy.OPENED:
            return self.by
        return ChargeBy.AREA if self.kind.is_sheet else ChargeBy.LENGTH

    @cached_property
    def way(self) -> str:
        """The way of selling that was chosen; "" for a size band, which has prices of its own."""
        if self.by is ChargeBy.SIZE_BAND:
            return ""
        way = self.typed.get("selling", "").strip()
        return way if way in SELLING_WAYS else SELLING_WAYS[0]

    @cached_property
    def has_section(self) -> bool:
        """Whether it has a section: a moulding always has, an extra (a slip or spacer strip) if any of
        it is typed.
        """
        given = any(self.typed.get(path, "").strip() for path in SECTION)
        return self.kind is Kind.MOULDING or (self.kind is Kind.EXTRA and given)

    @cached_property
    def rate(self) -> TaxRate | None:
        """The tax rate that it bears; None while that is not known."""
        return self.shop.rules.rate_of(self.typed.get("tax", ""))


type _When = Callable[[MaterialTyped], bool]

_COUNTS: Mapping[str, _When] = {
    "section": lambda known: known.has_section,
    "sheet": lambda known: known.kind.is_sheet,
    "frame": lambda known: known.kind is Kind.READY_MADE,
    "hanging": lambda known: known.kind is Kind.HARDWARE,
}
"""When the fields of a part of the page are read."""


@dataclass(frozen=True, slots=True)
class MaterialField(Field[MaterialTyped]):
    """One field of a material. A length or size without a mark is in the shop's unit, which the label
    names.

    needs: the kinds for which a blank field is refused wherever it is asked. counts: tells when it is
    read, where its part does not say so. of: returns its value in a material, where the path does not
    say so. choices: those of a select, with the words that a file may have for each. prose: whether it
    holds free text. head: the head of its column, where the label alone would not be understood. cell:
    the fields that its cell in a file fills, where there are several.
    """

    needs: Collection[Kind] = frozenset()
    counts: _When | None = None
    of: Callable[[Material], Any] | None = None
    choices: tuple[Choice, ...] = ()
    prose: bool = False
    head: str = ""
    cell: tuple[str, ...] = ()

    @property
    def plain(self) -> str:
        """The label without unit or tax."""
        assert isinstance(self.label, str), "no label of a material follows from anything"
        return self.label

    def named(self, shop: Shop) -> str:
        """Return the label with the shop's unit for a length or size, or with how an amount is stated."""
        if self.stated is not None:
            return ", ".join(
                filter(None, (self.plain, self.stated(MaterialTyped(shop, {}), {}).words))
            )
        return f"{self.plain}, {shop.unit.value}" if self.like else self.plain

    def is_read(self, known: MaterialTyped) -> bool:
        """Tell whether the field counts, given what was typed in the others."""
        counts = self.counts or _COUNTS.get(self.part)
        return not self.cell and (counts is None or counts(known))

    def for_kind(self, kind: Kind) -> "MaterialField":
        """Return the field as it stands on the form of a kind."""
        needed: bool | _When = kind in self.needs
        if kind is Kind.EXTRA and self.path in SECTION:
            needed = lambda known: known.has_section  # noqa: E731
        what = "a width and a height" if self.kind.control == "size" else "a length"
        called = f"{self.plain[:1].lower()}{self.plain[1:]}"
        asks = f"The {called} is empty; type {what}" if self.like and needed else ""
        label = self.label if self.stated else lambda known: self.named(known.shop)
        return replace(self, label=label, needed=needed, wish=asks or self.wish)


def _costs(known: MaterialTyped, _typed: Typed) -> Stated:
    return stating.costs(known.shop, known.rate)


def _prices(known: MaterialTyped, _typed: Typed) -> Stated:
    return stating.prices(known.shop, known.rate)


def _written(kind: FieldKind[Any], when: _When) -> FieldKind[Any]:
    """Return the same kind of field, whose text is left blank where the field does not count."""

    def text(value: Any, known: Any) -> str:
        return kind.text(value, known) if when(known) else ""

    return replace(kind, text=text)


def _by_length(known: MaterialTyped) -> bool:
    return known.amounts is ChargeBy.LENGTH


def _by_area(known: MaterialTyped) -> bool:
    return known.amounts is ChargeBy.AREA


def _by_shares(known: MaterialTyped) -> bool:
    return known.by is ChargeBy.SHEET_SHARE


def _wasted(known: MaterialTyped) -> bool:
    return known.by in (ChargeBy.LENGTH, ChargeBy.AREA, ChargeBy.SIZE_BAND)


def _sold(way: str) -> _When:
    return lambda known: known.way == way


def _shares(read: Reader, path: str, _usual: object) -> tuple[Fraction, ...]:
    """Read the shares of a sheet that may be sold, "1/8, 1/4, 1/2, 1"; blank stands for the usual ones."""
    usual = Charge(by=ChargeBy.SHEET_SHARE).shares
    parts = read.text(path, 200).replace(",", " ").replace(";", " ").split()
    shares = []
    for part in parts:
        one = Reader({path: part}, read.unit, read.currency)
        shares.append(one.number(path, "part of a sheet"))
        for fault in one.faults.faults:
            read.faults.add(fault.path, fault.message, fault.code)
    return tuple(shares) if parts and not read.faults else usual


def _matter(read: Reader, path: str, _usual: object) -> str:
    matter = read.text(path, 40)
    if matter and matter not in DENSITIES:
        read.faults.add(path, f"Choose one of {', '.join(DENSITIES)}.")
    return matter


def _way_text(selling: Selling, _known: object) -> str:
    return next((way for way in ("price", "table") if getattr(selling, way) is not None), "markup")


def _bases(known: MaterialTyped) -> Options:
    bases = dict.fromkeys(base for by in CHARGES[known.kind] for base in cost_bases(known.kind, by))
    return tuple((base.value, PER[base]) for base in bases)


def _markup_hint(known: MaterialTyped) -> str:
    sold = stating.prices(known.shop, known.rate).words
    comes_to = f", which gives the price {sold}" if sold else ""
    return f"2.5 sells at two and a half times the cost{comes_to}."


def _tables(known: MaterialTyped) -> Options:
    return tuple((table.code, table.name) for table in known.shop.markup_tables)


def _rates(known: MaterialTyped) -> Options:
    return tuple(
        (rate.code, f"{rate.name} · {show_percent(rate.percent)}") for rate in known.shop.tax_rates
    )


_MEASURE = otherwise(ABOVE_ZERO, mm(1))
_AMOUNT = replace(MONEY, read=lambda read, path, _: read.money(path, Money.zero(read.currency)))
"""An amount whose blank is refused by its own sentence."""

_SQUARE_FEET = re.compile(r"(.+?)\s*(?:sq\.?\s*ft\.?|ft²|ft2)", re.IGNORECASE)


def _area(read: Reader, path: str, _usual: object) -> Fraction:
    """Read an area in m², or with its mark in sq ft: "0.1", "1.5 sq ft". It is none where it is blank."""
    match = _SQUARE_FEET.fullmatch(read.raw(path))
    if match is None:
        return read.number(path, "minimum area")
    read.used.add(path)
    feet = read.take(lambda: read_number(match[1], "minimum area", path=path))
    return Fraction(0) if feet is None else feet * SQUARE_FOOT_M2


def _area_text(area: Fraction, known: FormContext) -> str:
    """Write an area so that it reads back exactly: in sq ft where it was typed so, else in m²."""
    feet = number_text(area / SQUARE_FOOT_M2)
    ends = Fraction(feet) == area / SQUARE_FOOT_M2 and "/" not in feet
    return f"{feet} sq ft" if area and ends else number_text(area)


def _area_told(text: str, known: FormContext) -> str | None:
    read = Reader({"area": text}, known.unit, known.currency)
    area = _area(read, "area", None)
    if known.unit is not Unit.IN or read.faults or not area or _SQUARE_FEET.fullmatch(text.strip()):
        return None
    return short_quantity(area / SQUARE_FOOT_M2, Measure.SQUARE_FOOT)


_AREA = FieldKind[Fraction](control="number", read=_area, text=_area_text, told=_area_told)

BANDS = Rows[MaterialTyped](
    "charge.bands",
    "Band",
    Form(
        Field(
            "up_to",
            "Width + height up to",
            _MEASURE,
            like=Example(mm(1200), inches(48)),
            wish="This band has a price but no size; type the largest width + height.",
        ),
        Field("price", "Price", MONEY, stated=_prices),
    ),
    first=("up_to", "price"),
    least=3,
    most=MOST_BANDS,
)
"""The lines of prices by size; the list needs one, and is begun with it."""

FIELDS: tuple[MaterialField, ...] = (
    MaterialField(
        "kind", "Kind", choice(Kind, ()), usual=lambda known: known.kind, needs=_ALL, choices=KINDS
    ),
    MaterialField(
        "code",
        "Code",
        text_of(80),
        "Your own: letters, digits, . / -",
        needs=_ALL,
        prose=True,
    ),
    MaterialField("name", "Name", TEXT, needs=_ALL, prose=True),
    MaterialField(
        "cost",
        "Cost",
        _AMOUNT,
        needs=_ALL,
        wish="The cost is empty; type what one costs you, such as 12.50.",
        stated=_costs,
        rule="P4",
    ),
    MaterialField(
        "per",
        "Cost is for",
        choice(CostPer, ()),
        usual=lambda known: cost_bases(known.kind, CHARGES[known.kind][0])[0],
        options=_bases,
        choices=PERS,
    ),
    MaterialField(
        "charge.by",
        "Charged",
        choice(ChargeBy, ()),
        usual=lambda known: known.by,
        options=lambda known: tuple((by.value, RULES[by]) for by in CHARGES[known.kind]),
        choices=RULE_CHOICES,
        rule="P1",
    ),
    MaterialField(
        "charge.waste",
        "Added for waste, %",
        otherwise(percent(200), Fraction(0)),
        "For offcuts you cannot use.",
        counts=_wasted,
        rule="P2",
    ),
    MaterialField(
        "charge.minimum_length",
        "Least length charged",
        _written(otherwise(LENGTH, mm(0)), _by_length),
        "Blank for none.",
        like=Example(mm(600), inches(24)),
        counts=_by_length,
        rule="P2",
    ),
    MaterialField(
        "charge.step",
        "Rounded up to steps of",
        _written(otherwise(LENGTH, mm(0)), _by_length),
        "Blank for the exact length.",
        like=Example(mm(100), inches(6)),
        counts=_by_length,
    ),
    MaterialField(
        "charge.minimum_area",
        "Least area charged, m²",
        _written(_AREA, _by_area),
        lambda known: (
            "Blank for none; 1.5 sq ft is read as well."
            if known.unit is Unit.IN
            else "Blank for none."
        ),
        counts=_by_area,
        rule="P3",
    ),
    MaterialField(
        "charge.shares",
        "Parts of a sheet on offer",
        _written(
            FieldKind(
                control="text",
                read=_shares,
                text=lambda shares, _known: ", ".join(map(str, shares)),
            ),
            _by_shares,
        ),
        "From the smallest up; blank for 1/8, 1/4, 1/2, 1.",
        counts=_by_shares,
    ),
    MaterialField(
        BANDS.path,
        "Prices by size",
        TEXT,
        cell=tuple(field.path for row in range(MOST_BANDS) for field in BANDS.at(row).fields),
    ),
    MaterialField(
        "selling",
        "Sell price",
        FieldKind(control="radios", read=lambda read, path, _: read.text(path, 20), text=_way_text),
        options=lambda known: WAYS if known.shop.markup_tables else (WAYS[0], WAYS[2]),
        counts=lambda known: bool(known.way),
        choices=WAY_CHOICES,
        head="Sells by",
        rule="P4",
    ),
    MaterialField(
        "selling.markup",
        "Markup factor",
        otherwise(number("markup"), Fraction(1)),
        _markup_hint,
        needs=_ALL,
        wish="The markup factor is empty; type a number, such as 2.5.",
        counts=_sold("markup"),
        head="Markup, cost ×",
    ),
    MaterialField(
        "selling.table",
        "Markup table",
        text_of(24, "select"),
        options=_tables,
        wish="Choose the markup table.",
        counts=_sold("table"),
    ),
    MaterialField(
        "selling.price",
        "Sell price",
        _AMOUNT,
        needs=_ALL,
        wish="The sell price is empty; type what one sells for, such as 12.50.",
        stated=_prices,
        counts=_sold("price"),
    ),
    MaterialField(
        "tax", "Tax", otherwise(text_of(24, "select"), "standard"), options=_rates, rule="M2"
    ),
    MaterialField(
        "profile.face",
        "Face width",
        _MEASURE,
        needs=_MOULDINGS,
        like=Example(mm(20), inches("3/4")),
        part="section",
        rule="G12",
    ),
    MaterialField(
        "profile.lip",
        "Lip",
        otherwise(LENGTH, mm(0)),
        "How far it covers what lies in the rebate; 0 for a tray, which has none.",
        needs=_MOULDINGS,
        like=Example(mm(6), inches("1/4")),
        beside=True,
        part="section",
        rule="G11",
    ),
    MaterialField(
        "profile.rebate_depth",
        "Rebate depth",
        _MEASURE,
        needs=_MOULDINGS,
        like=Example(mm(15), inches("5/8")),
        beside=True,
        part="section",
        rule="D1",
    ),
    MaterialField(
        "profile.stick",
        "Length of a stick",
        _MEASURE,
        needs=_MOULDINGS,
        like=Example(mm(3000), inches(120)),
        part="section",
    ),
    MaterialField(
        "profile.grams_per_metre",
        "Weight, g a metre",
        in_grams(otherwise(whole("weight in g a metre", high=50_000), 0), WeightOf.METRE),
        "For the weight of the piece; blank where you do not know.",
        beside=True,
        part="section",
        rule="D2",
    ),
    MaterialField(
        "frame.rebate",
        "Rebate, width × height",
        otherwise(replace(SIZE, control="size"), Size(mm(1000), mm(1000))),
        "The room between its walls, measured: a frame for 40 × 50 cm is a little larger.",
        needs=_READY_MADE,
        like=Example(Size(mm(402), mm(502)), Size(inches("129/8"), inches("161/8"))),
        part="frame",
        rule="G24",
    ),
    MaterialField(
        "frame.depth",
        "Depth of its rebate",
        _MEASURE,
        needs=_READY_MADE,
        like=Example(mm(15), inches("5/8")),
        beside=True,
        part="frame",
        rule="D1",
    ),
    MaterialField(
        "frame.outside",
        "Outside size",
        optional(replace(SIZE, control="size")),
        "Blank where nobody measured it.",
        like=Example(Size(mm(430), mm(530)), Size(inches("69/4"), inches("85/4"))),
        part="frame",
    ),
    MaterialField(
        "frame.face",
        "Face, as seen",
        optional(LENGTH),
        "For the drawing.",
        like=Example(mm(20), inches("3/4")),
        beside=True,
        part="frame",
    ),
    MaterialField(
        "frame.lip",
        "Lip of the frame",
        optional(LENGTH),
        "How far it covers what lies in it.",
        like=Example(mm(6), inches("1/4")),
        part="frame",
        rule="G13",
    ),
    MaterialField(
        "frame.grams",
        "Weight of one, g",
        in_grams(otherwise(whole("weight in g", high=100_000), 0), WeightOf.ONE),
        "Blank where you do not know.",
        beside=True,
        part="frame",
        rule="D2",
    ),
    MaterialField(
        "shape",
        "Shape of profile",
        optional(choice(ProfileShape, tuple((each.value, each.label) for each in SHAPE_CHOICES))),
        "The drawing follows it; where it is not said, the words of the name.",
        counts=lambda known: known.has_section or known.kind is Kind.READY_MADE,
        choices=SHAPE_CHOICES,
        part="shape",
    ),
    MaterialField(
        "sheet.size",
        "Sheet size",
        otherwise(replace(SIZE, control="size"), Size(mm(1000), mm(1000))),
        needs=_SHEETS,
        like=Example(Size(mm(1120), mm(815)), Size(inches(40), inches(32))),
        part="sheet",
    ),
    MaterialField(
        "sheet.thickness",
        "Thickness",
        _MEASURE,
        needs=_SHEETS,
        like=Example(mm("1.5"), inches("1/16")),
        beside=True,
        part="sheet",
        rule="D1",
    ),
    MaterialField(
        "sheet.matter",
        "Made of",
        FieldKind(
            control="select",
            read=_matter,
            text=TEXT.text,
            options=(("", "something else"), *((name, name) for name in DENSITIES)),
        ),
        of=lambda _material: None,
        part="sheet",
    ),
    MaterialField(
        "sheet.grams_per_m2",
        "Weight, g a m²",
        in_grams(optional(whole("weight in g a m²", high=200_000)), WeightOf.SQUARE_METRE),
        "Blank to work it out from what it is made of.",
        beside=True,
        part="sheet",
        rule="D2",
    ),
    MaterialField(
        "sheet.traits",
        "What it is",
        TICK,
        part="traits",
        cell=tuple(f"sheet.traits.{trait.value}" for trait in TRAITS),
    ),
    *(
        MaterialField(
            f"sheet.traits.{trait.value}",
            label,
            TICK,
            counts=lambda known, trait=trait: trait in TRAITS_OF.get(known.kind, ()),  # type: ignore[misc]
            part="traits",
        )
        for trait, label in TRAITS.items()
    ),
    MaterialField(
        "hanging.bears",
        "What hangs by it",
        optional(choice(Bears, tuple((each.value, each.label) for each in BEARS_CHOICES))),
        choices=BEARS_CHOICES,
        part="hanging",
    ),
    MaterialField(
        "hanging.load",
        "Working load of one",
        marked(MASS, told_mass),
        "As its maker gives it: 15 kg, 33 lb. Blank where you do not know.",
        of=lambda material: material.hanging and material.hanging.load_kg,
        beside=True,
        part="hanging",
        rule="D3",
    ),
    MaterialField(
        "colour",
        "Colour in the drawing",
        otherwise(text_of(40, "color"), "#c8c2b4"),
        prose=True,
        part="is",
    ),
    MaterialField(
        "finish",
        "Finish",
        text_of(80),
        "As gilt, waxed, matt: words and the drawing follow it.",
        prose=True,
        beside=True,
        part="is",
    ),
    MaterialField("supplier", "Supplier", text_of(80), prose=True, part="is"),
    MaterialField(
        "tags",
        "Search words",
        FieldKind(
            control="text",
            read=lambda read, path, _: tuple(read.text(path, 200).replace(",", " ").split()),
            text=lambda tags, _known: " ".join(tags),
        ),
        prose=True,
        beside=True,
        part="is",
    ),
    MaterialField("notes", "Notes", TEXT, prose=True),
    MaterialField("active", "Offered in quotes", TICK, choices=YES_OR_NO),
)
"""Every field of a material, in the order of the page and of the file. A further trait stands in the part "is"."""

MATERIAL_FIELDS: tuple[str, ...] = tuple(
    dict.fromkeys(path for each in FIELDS for path in each.cell or (each.path,))
)


@cache
def form_for(kind: Kind) -> Form[MaterialTyped]:
    """Return the form for materials of a kind."""
    fields = (each.for_kind(kind) for each in FIELDS if each.path != BANDS.path)
    return Form(*fields, repeats=(BANDS,))


EXAMPLES: Examples = form_for(Kind.MOULDING).examples
