"""The starting list of a price book: what most shops sell, with the prices left to fill in, on one page.

A row becomes a material when its cost is typed; what is left blank is no material. Sizes are those that
are common on the market and are changed where the supplier's differ. Source: common practice, from memory.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from app.errors import Fault, Invalid
from app.forms.table import Typed
from app.lengths import Unit
from app.orders import Shop
from app.pricing import CostPer, Kind, Material
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.templating import Page
from app.web.materials.choices import PER
from app.web.materials.fields import form_for
from app.web.materials.form import read_material, usual_typed
from app.web.materials.material_field import MaterialTyped
from app.web.materials.page import kind_word

MARKUP = "selling.markup"
MOULDINGS = 3
_STICK = ("profile.face", "profile.lip", "profile.rebate_depth", "profile.stick")
_SHEET = ("sheet.size", "sheet.thickness")


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """What a row begins with. inches: where an inch shop's text is another; fixed: what the row does not ask."""

    kind: Kind
    code: str = ""
    name: str = ""
    typed: Mapping[str, str]
    inches: Mapping[str, str]
    fixed: Mapping[str, str]


def _sheet(
    kind: Kind, code: str, name: str, sizes: tuple[str, str, str, str], **fixed: str
) -> Start:
    """sizes: size and thickness in mm, size and thickness in inches."""
    return Start(
        kind=kind,
        code=code,
        name=name,
        typed=dict(zip(_SHEET, sizes[:2], strict=True)),
        inches=dict(zip(_SHEET, sizes[2:], strict=True)),
        fixed={path.replace("__", "."): text for path, text in fixed.items()},
    )


def _counted(code: str, name: str, **fixed: str) -> Start:
    return Start(
        kind=Kind.HARDWARE,
        code=code,
        name=name,
        typed={},
        inches={},
        fixed={path.replace("__", "."): text for path, text in fixed.items()},
    )


_BOARD = ("1120 x 815", "1.4", "40 x 32", "1/16")
_PANE = ("1220 x 915", "2", "48 x 36", "3/32")
_BLANK = Start(
    kind=Kind.MOULDING,
    typed={"profile.stick": "3000"},
    inches={"profile.stick": "120"},
    fixed={},
)

STARTS = (
    *(_BLANK,) * MOULDINGS,
    _sheet(Kind.MAT, "MAT-WHITE", "Mat board, white", _BOARD, colour="#f4f1ea"),
    _sheet(Kind.MAT, "MAT-CREAM", "Mat board, cream", _BOARD, colour="#ece3cd"),
    _sheet(Kind.MAT, "MAT-BLACK", "Mat board, black", _BOARD, colour="#26241f"),
    _sheet(Kind.GLAZING, "GLASS", "Float glass", _PANE, sheet__traits__glass="1"),
    _sheet(
        Kind.GLAZING,
        "ACRYLIC",
        "Acrylic, clear",
        _PANE,
        sheet__matter="acrylic",
        sheet__traits__acrylic="1",
    ),
    _sheet(Kind.BOARD, "BACKING", "Backing board", ("1120 x 815", "2", "40 x 32", "3/32")),
    _sheet(
        Kind.BOARD,
        "MOUNTBOARD",
        "Mount board, acid-free",
        _BOARD,
        **{"sheet__traits__acid-free": "1"},
    ),
    _counted("RING", "D-ring with screw", hanging__bears="ring"),
    replace(
        _counted("WIRE", "Picture wire, a metre", charge__by="length", hanging__bears="wire"),
        typed={"per": "metre"},
        inches={"per": "foot", "name": "Picture wire, a foot"},
    ),
    _counted("BUMPER", "Wall bumper", hanging__bears="nothing"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StartRow:
    """A row of the page: the fields that are asked of one material."""

    legend: str
    fields: tuple[FieldView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StartGroup:
    """The rows of one kind."""

    title: str
    rows: tuple[StartRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StartPage(Page):
    """The starting list. markup: by what every cost is multiplied."""

    title: str = "Begin the price book"
    section: str = "Materials"
    wide: bool = True
    markup: FieldView
    groups: tuple[StartGroup, ...]


@dataclass(frozen=True)
class _Row:
    """A row as it is read and shown: number in the form, what it begins with, and what was typed."""

    number: int
    start: Start
    shop: Shop
    typed: Typed

    @property
    def root(self) -> str:
        return f"materials.{self.number}"

    @property
    def asked(self) -> tuple[str, ...]:
        """The fields that the row asks for."""
        shape = {Kind.MOULDING: _STICK, Kind.HARDWARE: ()}.get(self.start.kind, _SHEET)
        return ("name", "code", *shape, "cost")

    @property
    def text(self) -> dict[str, str]:
        """The text of every field of the material: as typed, as the row begins, as is usual."""
        usual, start = usual_typed(self.start.kind, self.shop), self.start
        begins = start.inches if self.shop.unit is Unit.IN else start.typed
        asked = {
            path: self.typed[f"{self.root}.{path}"]
            for path in self.asked
            if f"{self.root}.{path}" in self.typed
        }
        own = {"name": start.name, "code": start.code, MARKUP: self.typed.get(MARKUP, "")}
        return {**usual, "selling": "markup", **start.fixed, **own, **begins, **asked}

    @property
    def legend(self) -> str:
        """What the row is called: its material, or the moulding's number."""
        if not self.start.name:
            return f"Moulding {self.number + 1}"
        return self.text["name"].strip() or self.start.name

    @property
    def filled(self) -> bool:
        """Whether it is to become a material: its cost was typed, or a moulding was begun."""
        begun = ("cost", "name", "code", *_STICK[:3]) if self.start is _BLANK else ("cost",)
        return any(self.text.get(path, "").strip() for path in begun)

    def fields(self, faults: tuple[Fault, ...]) -> tuple[FieldView, ...]:
        """Return the views of what it asks for, under its own paths."""
        mine = tuple(
            replace(fault, path=fault.path.removeprefix(f"{self.root}."))
            for fault in faults
            if fault.path.startswith(f"{self.root}.")
        )
        text = self.text
        form = FormView(
            form_for(self.start.kind), MaterialTyped(self.shop, text), Fields(text, mine)
        )
        per = PER[CostPer(text["per"])]
        told = {"cost": f"Cost {per}"}
        return tuple(
            replace(
                form[path],
                path=f"{self.root}.{path}",
                label=told.get(path, form[path].label),
                hint=None if self.number else form[path].hint,
                within=f"{self.legend},",
                required=False,
            )
            for path in self.asked
        )


def _rows(shop: Shop, typed: Typed) -> Iterator[_Row]:
    return (_Row(number, start, shop, typed) for number, start in enumerate(STARTS))


def read_start(typed: Typed, shop: Shop) -> tuple[Material, ...]:
    """Read the materials whose row was filled in. Raises: Invalid with every fault, at the page's fields."""
    materials, faults = [], []
    for row in _rows(shop, typed):
        if row.filled:
            try:
                materials.append(read_material(row.text, shop))
            except Invalid as invalid:
                faults += [_on_the_page(fault, row) for fault in invalid.faults]
    faults += _twice(materials)
    if not materials and not faults:
        faults.append(
            Fault(
                path="",
                message="No cost is filled in yet. Type the cost of what you sell; the rest stays out.",
            )
        )
    if faults:
        raise Invalid(dict.fromkeys(faults))
    return tuple(materials)


def _on_the_page(fault: Fault, row: _Row) -> Fault:
    return fault if fault.path == MARKUP else replace(fault, path=f"{row.root}.{fault.path}")


def _twice(materials: list[Material]) -> list[Fault]:
    codes = [material.code.casefold() for material in materials]
    twice = dict.fromkeys(code for code in codes if codes.count(code) > 1)
    return [
        Fault(path="", message=f"Two materials have the code {code.upper()}; each has its own.")
        for code in twice
    ]


def start_page(
    typed: Typed, shop: Shop, kept: frozenset[str], faults: tuple[Fault, ...] = ()
) -> StartPage:
    """Return the page with what was typed. kept: codes that the price book has already, whose rows are left out."""
    rows = [
        row
        for row in _rows(shop, typed)
        if row.start.code.casefold() not in kept or row.start is _BLANK
    ]
    kinds = dict.fromkeys(row.start.kind for row in rows)
    known = MaterialTyped(shop, {"kind": Kind.MOULDING.value, "selling": "markup"})
    markup = FormView(form_for(Kind.MOULDING), known, Fields(typed, faults))[MARKUP]
    return StartPage(
        faults=faults,
        markup=replace(markup, label="Sell at cost ×"),
        groups=tuple(
            StartGroup(
                title=kind_word(kind, shop, many=True).capitalize(),
                rows=tuple(
                    StartRow(
                        legend=row.legend,
                        fields=row.fields(faults),
                    )
                    for row in rows
                    if row.start.kind is kind
                ),
            )
            for kind in kinds
        ),
    )
