"""The fields of what a material is made as: a moulding, a ready-made frame, a sheet, a hanging part."""

from dataclasses import replace

from app.forms.in_other_marks import in_grams, marked, told_mass
from app.forms.kinds import (
    LENGTH,
    MASS,
    SIZE,
    TEXT,
    TICK,
    FieldKind,
    choice,
    optional,
    otherwise,
    whole,
)
from app.framing import ProfileShape
from app.framing.mass import WeightOf
from app.framing.notices.weight import DENSITIES
from app.lengths import Example, Size, inches, mm
from app.pricing import TRAITS_OF, Bears, Kind
from app.web.materials.choices import BEARS_CHOICES, SHAPE_CHOICES, TRAITS
from app.web.materials.field_kinds import MEASURE, read_matter
from app.web.materials.material_field import MaterialField

_MOULDINGS = frozenset({Kind.MOULDING})
_READY_MADE = frozenset({Kind.READY_MADE})
_SHEETS = frozenset(kind for kind in Kind if kind.is_sheet)

MADE_AS: tuple[MaterialField, ...] = (
    MaterialField(
        "profile.face",
        "Face width",
        MEASURE,
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
        MEASURE,
        needs=_MOULDINGS,
        like=Example(mm(15), inches("5/8")),
        beside=True,
        part="section",
        rule="D1",
    ),
    MaterialField(
        "profile.stick",
        "Length of a stick",
        MEASURE,
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
        MEASURE,
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
        MEASURE,
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
            read=read_matter,
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
)
