"""The pages of settings: one form a section, all of them in one list beside it."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from app.cutting import Together
from app.errors import Fault
from app.forms.reader import counted, length_text
from app.forms.rows import rows_in
from app.forms.table import Options
from app.framing import DEFAULTS, UnderWay
from app.lengths import ALLOWED_STEPS, Unit
from app.money import Money, TaxRounding, show_money
from app.orders import Allowances, CuttingHabits, MatWord, Shop
from app.orders.change_of_currency import money_in
from app.orders.cutting_habits import STAGES
from app.pricing import When
from app.services.price_book import Uses
from app.services.sample import Contents
from app.web.kit import stating
from app.web.kit.fields import Fields, FieldView
from app.web.kit.listing import Chip
from app.web.kit.templating import Page
from app.web.settings import cutting_form as cutting_habits
from app.web.settings import labour_form as labour
from app.web.settings import markups_form as markups
from app.web.settings import shop_form as shop_forms
from app.web.settings import tax_form as tax
from app.web.settings import weights_form as weights
from app.web.settings.first_run_page import PAPERS, STATED, UNITS
from app.web.settings.weights_page import weight_fields

Typed = Mapping[str, str]
Row = Mapping[str, FieldView]

MAT_WORDS: Options = ((MatWord.MAT, "mat"), (MatWord.MOUNT, "mount"))
WAYS: Options = (
    (UnderWay.ATTACHED, "Attached: fixed behind the cut layer above, by its edges"),
    (UnderWay.OWN_EDGES, "Own edges: cut for itself, trimmed at each edge"),
)
ROUNDINGS: Options = (
    (TaxRounding.BY_DOCUMENT, "once for a whole quote or order"),
    (TaxRounding.BY_LINE, "at each line"),
)
TOGETHERS: Options = (
    (Together.PREFERRED, "from one stick where that costs no further one"),
    (Together.ALWAYS, "from one stick, even where that costs a further one"),
    (Together.NO_MATTER, "from any sticks"),
)
STAGE_COUNTS: Options = tuple(
    (str(count), f"{count}, as is usual" if count == CuttingHabits().stages else str(count))
    for count in STAGES
)
WHENS: Options = (
    (When.ALWAYS, "every piece"),
    (When.FRAME, "each frame"),
    (When.MAT, "a mat"),
    (When.BEHIND_MAT, "each artwork behind a mat"),
    (When.FLOAT, "each artwork that floats"),
    (When.OBJECT, "each object in a box"),
    (When.FILLET, "each window with a fillet"),
    (When.GLAZING, "glazing"),
    (When.SPACER, "spacers"),
    (When.MOUNT_BOARD, "a mount board"),
    (When.BACKING, "a backing"),
    (When.CANVAS, "a canvas in a rebate"),
    (When.TRAY, "a canvas in a tray"),
    (When.HANGING, "hanging parts"),
)
NEEDED_IN_ROWS = ("operations.name", "rates.name", "rates.percent")
"""What each row must have; a row is dropped by its button."""

OPERATION = {
    "name": "What is done",
    "when": "For",
    "fixed": "each time",
    "per_metre": "a metre of frame",
    "per_layer": "a layer",
    "per_window": "a window",
    "per_m2": "a m²",
    "code": "Code",
}
RATE = {"name": "Name on the quote", "percent": "Rate, %", "code": "Code"}
STEP = {"up_to": "Unit cost up to", "factor": "Cost ×"}
LEAST_STEPS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class TableFields:
    """A markup table: its name and its steps. path: of the table in the form."""

    path: str
    head: Row
    steps: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsPage(Page):
    """A section. rows: its repeated fields; blank: one that a button adds, both empty elsewhere.

    asks: what a change of unit or currency means, for a yes; empty where nothing is asked. live: what
    tells of its amounts while one types; empty where it has none.
    """

    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    slug: str
    about: str
    live: str
    version: str
    unit: str
    fields: Row
    rows: tuple[Row, ...]
    blank: Row
    tables: tuple[TableFields, ...]
    blank_table: TableFields
    asks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DataPage(Page):
    """The shop's data as a whole."""

    title: str = "Data"
    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    path_of_data: Path
    folder: Path
    sample: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveSamplePage(Page):
    """Asks before the sample goes."""

    title: str = "Remove the sample shop"
    section: str = "Settings"
    contents: Contents


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsSection:
    """A section: how it is read, what its form begins with, and how each field is called."""

    slug: str
    title: str
    about: str
    read: Callable[[Typed, Shop, Uses], Shop]
    typed: Callable[[Shop], dict[str, str]]
    fields: Callable[[Fields, Shop], dict[str, FieldView]]


def _shop_fields(make: Fields, shop: Shop) -> dict[str, FieldView]:
    return {
        "name": make.field("name", "Name of the shop", required=True),
        "address": make.field("address", "Address", hint="As it stands on quotes."),
        "contact": make.field("contact", "Phone, e-mail, web", hint="As they stand on quotes."),
        "tax_number": make.field(
            "tax_number",
            "Tax number",
            hint="Stands on invoices, where most countries ask for one; check local law.",
        ),
        "people": make.field(
            "people",
            "Who works here",
            hint="A name a line; whoever is at the screen is noted with each change.",
        ),
        "unit": make.field("unit", "Work in", options=UNITS),
        "currency": make.field("currency", "Currency", hint="Three letters.", required=True),
        "paper": make.field("paper", "Paper", options=PAPERS),
        "mat_word": make.field("mat_word", "A window board is called", options=MAT_WORDS),
        "confirm": make.field("confirm", "Yes, change it"),
    }


_ALLOWANCES = {
    "overlap": ("Overlap at each edge", "How far a window covers the artwork."),
    "gap": ("Gap at each edge", "Around an artwork that floats in a window."),
    "canvas_gap": ("Gap in a tray", "Around a canvas that floats in a frame."),
    "reveal": ("Reveal", "How much of an under layer shows."),
    "border": ("Border to start from", "From the edge to the window."),
    "weighting": ("More at the bottom", "Added to the bottom border."),
    "allowance": ("Allowance in all", "Rebate size over package size."),
    "spacer_width": ("Width of spacers", "As seen from the front."),
    "object_clearance": (
        "Room over an object",
        "Between the glazing and an object that stands in a box.",
    ),
    "under_trim": ("Trim of under layers", "At each edge, where they have their own."),
    "glazing_trim": ("Trim of glazing", "At each edge."),
    "backing_trim": ("Trim of backing", "At each edge."),
    "smallest_border": (
        "Smallest border",
        "A narrower one gets a notice; teaching hand-outs have 2 to 3 in.",
    ),
    "least_bridge": (
        "Least board between windows",
        "Less of it gets a notice; common practice.",
    ),
}


def _allowance_fields(make: Fields, shop: Shop) -> dict[str, FieldView]:
    usual = Allowances.usual(shop.unit)
    limits = {name: getattr(DEFAULTS[shop.unit], name) for name in shop_forms.LIMITS}
    lengths = {
        name: make.field(
            name,
            label,
            hint=f"{hint} Usual: "
            f"{length_text(limits.get(name) or getattr(usual, name), shop.unit)}.",
        )
        for name, (label, hint) in _ALLOWANCES.items()
    }
    steps: Options = tuple(
        (text := length_text(step, shop.unit), f"{text} {shop.unit.value}")
        for step in ALLOWED_STEPS[shop.unit]
    )
    return lengths | {
        "under_way": make.field("under_way", "Under layers", options=WAYS),
        "step": make.field("step", "Cut in steps of", options=steps),
    }


def _work_fields(make: Fields, shop: Shop) -> dict[str, FieldView]:
    rates: Options = tuple((rate.code, rate.name) for rate in shop.tax_rates)
    return {
        "hourly_rate": make.amount(
            "hourly_rate",
            "Hourly rate you charge",
            stating.prices(shop, shop.rules.rate_of(make.typed("labour_tax") or shop.labour.tax)),
            hint=shop.currency.code,
            required=True,
        ),
        "labour_tax": make.field("labour_tax", "Tax on work", options=rates),
        "operations": make.field("operations", "Operations"),
    }


def _tax_fields(make: Fields, _shop: Shop) -> dict[str, FieldView]:
    return {
        "stated": make.field("stated", "Prices", options=STATED),
        "rounding": make.field("rounding", "Tax is rounded", options=ROUNDINGS),
        "rates": make.field("rates", "Rates"),
    }


def _price_fields(make: Fields, shop: Shop) -> dict[str, FieldView]:
    return {
        "rounding_step": make.amount(
            "rounding_step",
            "Round the price of a piece to steps of",
            stating.prices(shop, None),
            hint="As 0.50; blank for none.",
        ),
        "saw_loss": make.field(
            "saw_loss", "Length lost with each rail", hint="Charged with every rail of a frame."
        ),
        "kerf": make.field(
            "kerf", "or width of the saw's cut", hint="Then the loss is twice that × √2."
        ),
        "tables": make.field("tables", "Markup tables"),
    }


def _cutting_fields(make: Fields, shop: Shop) -> dict[str, FieldView]:
    shortest = length_text(CuttingHabits.usual(shop.unit).keep_length, shop.unit)
    return {
        "end_trim": make.field("end_trim", "Trim of sticks", hint="Cut off at each end. Usual: 0."),
        "keep_length": make.field(
            "keep_length", "Keep sticks from", hint=f"Shorter ones are waste. Usual: {shortest}."
        ),
        "together": make.field("together", "Rails of one frame", options=TOGETHERS),
        "sheet_trim": make.field(
            "sheet_trim", "Trim of sheets", hint="Cut off at each edge. Usual: 0."
        ),
        "keep": make.field(
            "keep", "Keep sheets from", hint="Offcuts and fallouts, either way round."
        ),
        "stages": make.field(
            "stages",
            "Stages of cuts on a sheet",
            options=STAGE_COUNTS,
            hint="One for each direction in turn: across, down, across.",
        ),
    }


def _promise_fields(make: Fields, _shop: Shop) -> dict[str, FieldView]:
    return {
        "valid_days": make.field("valid_days", "A quote holds for, days"),
        "ready_days": make.field("ready_days", "A piece is ready in, days"),
        "deposit": make.field("deposit", "Deposit, % of the total"),
        "rush": make.field("rush", "Rush adds, %"),
    }


SECTIONS: tuple[SettingsSection, ...] = (
    SettingsSection(
        slug="shop",
        title="Shop",
        about="What heads your quotes, and what you measure and charge in.",
        read=lambda typed, shop, _: shop_forms.read_identity(typed, shop),
        typed=shop_forms.identity_typed,
        fields=_shop_fields,
    ),
    SettingsSection(
        slug="allowances",
        title="Allowances",
        about="What a new piece starts with; on each quote you can type something else.",
        read=lambda typed, shop, _: shop_forms.read_allowances(typed, shop),
        typed=shop_forms.allowances_typed,
        fields=_allowance_fields,
    ),
    SettingsSection(
        slug="work",
        title="Work",
        about="What an hour costs and how long things take you. Time yourself and correct the table.",
        read=lambda typed, shop, _: labour.read_labour(typed, shop),
        typed=labour.labour_typed,
        fields=_work_fields,
    ),
    SettingsSection(
        slug="tax",
        title="Tax",
        about="Rates, whether they are in your prices, and where they are rounded. Ask your adviser.",
        read=lambda typed, shop, uses: tax.read_tax(typed, shop, uses.rates),
        typed=tax.tax_typed,
        fields=_tax_fields,
    ),
    SettingsSection(
        slug="prices",
        title="Prices",
        about="How sell prices come about from costs, and what the saw takes.",
        read=lambda typed, shop, uses: markups.read_markups(typed, shop, uses.tables),
        typed=markups.markups_typed,
        fields=_price_fields,
    ),
    SettingsSection(
        slug="cutting",
        title="Cutting plans",
        about="How sticks and sheets are cut up, and what is left over that you keep.",
        read=lambda typed, shop, _: cutting_habits.read_cutting(typed, shop),
        typed=cutting_habits.cutting_typed,
        fields=_cutting_fields,
    ),
    SettingsSection(
        slug="weight",
        title="Weight and hanging",
        about="What artworks are taken to weigh, and what is asked of the parts that a piece hangs by. "
        "Wall, fixings and local rules are always judged on the spot.",
        read=lambda typed, shop, _: weights.read_weights(typed, shop),
        typed=weights.weights_typed,
        fields=weight_fields,
    ),
    SettingsSection(
        slug="promises",
        title="Promises",
        about="What a new quote says unless you change it.",
        read=lambda typed, shop, _: shop_forms.read_promises(typed, shop),
        typed=shop_forms.promises_typed,
        fields=_promise_fields,
    ),
)


WITH_AMOUNTS = frozenset({"work"})
"""The sections with amounts that are something else with tax than without."""


def section_of(slug: str) -> SettingsSection | None:
    """Return the section of an address."""
    return next((section for section in SECTIONS if section.slug == slug), None)


def nav_sections(slug: str) -> tuple[Chip, ...]:
    """Link to all sections, to the cutters, and to the data."""
    named = (
        *((section.slug, section.title) for section in SECTIONS),
        ("cutters", "Cutters"),
        ("data", "Data"),
    )
    return tuple(
        Chip(label=title, href=f"/settings/{each}", current=each == slug) for each, title in named
    )


def rows_of(section: SettingsSection, typed: Typed, faults: Iterable[Fault]) -> tuple[Row, ...]:
    """Return the repeated fields of a section; none where it has none."""
    make = Fields(typed, faults)
    name = {"work": "operations", "tax": "rates"}.get(section.slug)
    if name is None:
        return ()
    return tuple(_row(make, name, str(row)) for row in range(rows_in(typed, name)))


def blank_of(section: SettingsSection) -> Row:
    """Return the row that a button adds."""
    name = {"work": "operations", "tax": "rates"}.get(section.slug)
    return _row(Fields({}), name, "__row__") if name else {}


def _row(make: Fields, name: str, row: str) -> Row:
    labels = OPERATION if name == "operations" else RATE
    options: dict[str, Options] = {"when": WHENS}
    one = "Operation" if name == "operations" else "Rate"
    return {
        field: _in_row(make, one, row).field(
            f"{name}.{row}.{field}",
            label,
            options=options.get(field, ()),
            required=f"{name}.{field}" in NEEDED_IN_ROWS,
        )
        for field, label in labels.items()
    }


def _in_row(make: Fields, one: str, row: str) -> Fields:
    """The form within one of its numbered rows; the row that a button adds has no number yet."""
    return make.within(f"{one} {int(row) + 1}") if row.isdigit() else make


def tables_of(
    section: SettingsSection, typed: Typed, faults: Iterable[Fault], shop: Shop
) -> tuple[TableFields, ...]:
    """Return the markup tables of the section of prices."""
    if section.slug != "prices":
        return ()
    make = Fields(typed, faults)
    return tuple(
        _table(make, str(row), rows_in(typed, f"tables.{row}.steps"), shop)
        for row in range(rows_in(typed, "tables"))
    )


def blank_table(shop: Shop) -> TableFields:
    """Return the markup table that a button adds."""
    return _table(Fields({}), "__row__", 0, shop)


def _table(make: Fields, row: str, filled: int, shop: Shop) -> TableFields:
    path = f"tables.{row}"
    shown = min(max(filled, LEAST_STEPS), markups.MOST_STEPS)
    inner = _in_row(make, "Table", row)
    called = f"Table {int(row) + 1} " if row.isdigit() else ""
    return TableFields(
        path=path,
        head={
            "name": inner.field(f"{path}.name", "Name of the table", required=True),
            "code": inner.field(f"{path}.code", "Code"),
        },
        steps=tuple(
            _step(make.within(f"{called}step {step + 1}"), f"{path}.steps.{step}", shop)
            for step in range(shown)
        ),
    )


def _step(make: Fields, path: str, shop: Shop) -> Row:
    """A step of a markup table: from a cost, without tax, to a price as the shop states it."""
    sold = stating.prices(shop, None)
    factor = f"{STEP['factor']} = price {sold.words}".rstrip()
    return {
        "up_to": make.amount(f"{path}.up_to", STEP["up_to"], stating.costs(shop)),
        "factor": make.field(f"{path}.factor", factor, required=path.endswith(".steps.0")),
    }


def labels_of(section: SettingsSection, shop: Shop, typed: Typed) -> dict[str, str]:
    """Return how each field is called, those of rows with their number."""
    labels = {path: field.label for path, field in section.fields(Fields({}), shop).items()}
    for row, fields in enumerate(rows_of(section, typed, ()), start=1):
        labels |= {field.path: f"{row}: {field.label}" for field in fields.values()}
    for row, table in enumerate(tables_of(section, typed, (), shop), start=1):
        labels |= {field.path: f"Table {row}: {field.label}" for field in table.head.values()}
        for step, each in enumerate(table.steps, start=1):
            labels |= {f.path: f"Table {row}, step {step}: {f.label}" for f in each.values()}
    return labels


def questions(old: Shop, new: Shop, contents: Contents) -> tuple[str, ...]:
    """Return what a change of unit or currency means, where there is already something it touches."""
    asks = []
    kept = counted(contents.orders, "quote or order stays", "quotes and orders stay")
    book = counted(contents.materials, "material keeps its figure", "materials keep their figures")
    if new.unit is not old.unit and contents.orders:
        word = "millimetres" if new.unit is Unit.MM else "inches"
        asks.append(
            f"From now on a bare number is in {word}, and new pieces are cut on that scale. "
            f"{kept} as agreed."
        )
    if new.currency != old.currency and (contents.orders or contents.materials):
        before, after = old.currency.code, new.currency.code
        figure = Money(25 * old.currency.minor_per_unit // 2, old.currency)
        moved = money_in(figure, new.currency)
        rounded = "," if money_in(moved, old.currency) == figure else " (rounded),"
        asks.append(
            f"The settings and {book}: {show_money(figure)} {before} becomes {show_money(moved)} "
            f"{after}{rounded} nothing is converted. {kept} in {before}."
        )
    return tuple(asks)
