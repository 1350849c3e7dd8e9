"""The fields of a material, each declared once: for its form, its two versions and its column in a file.

One more field is one more line of FIELDS, or of `made_as` for what its kind alone has. What a select may be told in a file is
in `choices`, how a field is read in `field_kinds`.
"""

from fractions import Fraction
from functools import cache

from app.forms.kinds import (
    LENGTH,
    MONEY,
    TEXT,
    TICK,
    FieldKind,
    choice,
    number,
    otherwise,
    percent,
    text_of,
)
from app.forms.table import Field, Form, Rows
from app.lengths import Example, Examples, Unit, inches, mm
from app.pricing import CHARGES, ChargeBy, CostPer, Kind, cost_bases
from app.web.materials.choices import (
    KINDS,
    PERS,
    RULE_CHOICES,
    RULES,
    WAY_CHOICES,
    WAYS,
    YES_OR_NO,
)
from app.web.materials.field_kinds import (
    AMOUNT,
    AREA,
    MEASURE,
    bases,
    by_area,
    by_length,
    by_shares,
    markup_hint,
    markup_tables,
    read_shares,
    sold,
    stated_costs,
    stated_prices,
    tax_rates,
    wasted,
    way_text,
)
from app.web.materials.made_as import MADE_AS
from app.web.materials.material_field import MaterialField, MaterialTyped, written

MOST_BANDS = 12

_ALL = frozenset(Kind)

BANDS = Rows[MaterialTyped](
    "charge.bands",
    "Band",
    Form(
        Field(
            "up_to",
            "Width + height up to",
            MEASURE,
            like=Example(mm(1200), inches(48)),
            wish="This band has a price but no size; type the largest width + height.",
        ),
        Field("price", "Price", MONEY, stated=stated_prices),
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
        AMOUNT,
        needs=_ALL,
        wish="The cost is empty; type what one costs you, such as 12.50.",
        stated=stated_costs,
        rule="P4",
    ),
    MaterialField(
        "per",
        "Cost is for",
        choice(CostPer, ()),
        usual=lambda known: cost_bases(known.kind, CHARGES[known.kind][0])[0],
        options=bases,
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
        counts=wasted,
        rule="P2",
    ),
    MaterialField(
        "charge.minimum_length",
        "Least length charged",
        written(otherwise(LENGTH, mm(0)), by_length),
        "Blank for none.",
        like=Example(mm(600), inches(24)),
        counts=by_length,
        rule="P2",
    ),
    MaterialField(
        "charge.step",
        "Rounded up to steps of",
        written(otherwise(LENGTH, mm(0)), by_length),
        "Blank for the exact length.",
        like=Example(mm(100), inches(6)),
        counts=by_length,
    ),
    MaterialField(
        "charge.minimum_area",
        "Least area charged, m²",
        written(AREA, by_area),
        lambda known: (
            "Blank for none; 1.5 sq ft is read as well."
            if known.unit is Unit.IN
            else "Blank for none."
        ),
        counts=by_area,
        rule="P3",
    ),
    MaterialField(
        "charge.shares",
        "Parts of a sheet on offer",
        written(
            FieldKind(
                control="text",
                read=read_shares,
                text=lambda shares, _known: ", ".join(map(str, shares)),
            ),
            by_shares,
        ),
        "From the smallest up; blank for 1/8, 1/4, 1/2, 1.",
        counts=by_shares,
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
        FieldKind(control="radios", read=lambda read, path, _: read.text(path, 20), text=way_text),
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
        markup_hint,
        needs=_ALL,
        wish="The markup factor is empty; type a number, such as 2.5.",
        counts=sold("markup"),
        head="Markup, cost ×",
    ),
    MaterialField(
        "selling.table",
        "Markup table",
        text_of(24, "select"),
        options=markup_tables,
        wish="Choose the markup table.",
        counts=sold("table"),
    ),
    MaterialField(
        "selling.price",
        "Sell price",
        AMOUNT,
        needs=_ALL,
        wish="The sell price is empty; type what one sells for, such as 12.50.",
        stated=stated_prices,
        counts=sold("price"),
    ),
    MaterialField(
        "tax", "Tax", otherwise(text_of(24, "select"), "standard"), options=tax_rates, rule="M2"
    ),
    *MADE_AS,
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
