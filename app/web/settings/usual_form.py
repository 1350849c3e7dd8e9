"""Reads what a new piece usually begins with from its form: mat, glazing, boards, and hanging by weight and width."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from app.errors import Invalid
from app.forms.kinds import LENGTH, MASS, FieldKind, optional, text_of, whole
from app.forms.reader import Reader
from app.forms.table import Field, Form, Rows, Typed
from app.lengths import Example, inches, mm
from app.orders import Shop
from app.orders.usual_choices import MOST_PARTS, UsualChoices, UsualHanging, UsualPart
from app.pricing import Kind, Material

_CODE = text_of(120)


def _found(kind: Kind) -> FieldKind[str]:
    """Return the kind of field for the code of a material of one kind, which a finder looks up."""
    return replace(_CODE, control="finder", find=kind.value)


_COUNT = whole("count", 1, 99)

HANGING = Form[Shop](
    Field("up_to_kg", "Up to a weight of", optional(MASS), "any"),
    Field(
        "up_to_width",
        "Up to a width of",
        optional(LENGTH),
        "any",
        like=Example(mm(600), inches(24)),
        beside=True,
    ),
    *(
        field
        for row in range(MOST_PARTS)
        for field in (
            Field[Shop](f"parts.{row}.material", ("Part", "and")[row], _found(Kind.HARDWARE)),
            Field[Shop](
                f"parts.{row}.count",
                "Count",
                _COUNT,
                usual=1,
                within=("Part", "And")[row],
                beside=True,
            ),
        )
    ),
)

USUAL = Form[Shop](
    Field("mat", lambda shop: shop.mat_word.capitalize(), _found(Kind.MAT), "none"),
    Field("glazing", "Glazing", _found(Kind.GLAZING), "none", beside=True),
    Field("mount_board", "Mount board", _found(Kind.BOARD), "none"),
    Field("backing", "Backing", _found(Kind.BOARD), "none", beside=True),
    repeats=(Rows("hanging", "Hanging", HANGING, label="Hanging by weight and width"),),
)


@dataclass(frozen=True, slots=True)
class _Book:
    """The price book as the form looks materials up in it."""

    materials: tuple[Material, ...]

    def code(self, read: Reader, path: str, kind: Kind) -> str:
        """Return the code of the material that was typed in a field; "" with a fault where it is none or several."""
        typed = read.text(path, 120)
        if not typed:
            return ""
        said = typed.casefold()
        ours = [each for each in self.materials if each.kind is kind]
        named = [each for each in ours if said in (each.code.casefold(), each.name.casefold())]
        found = named or [
            each for each in ours if each.active and said in f"{each.code} {each.name}".casefold()
        ]
        if len(found) == 1 and found[0].active:
            return found[0].code
        if found and not any(each.active for each in found):
            read.faults.add(path, f"“{typed[:40]}” is discontinued; choose one that is offered.")
        else:
            read.faults.add(
                path,
                f"“{typed[:40]}” is not one {kind} of the price book; type its code or more of its name.",
            )
        return ""


def read_usual(typed: Typed, shop: Shop, book: Iterable[Material]) -> Shop:
    """Return the shop with the choices of a form.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = USUAL.reader(typed, shop)
    find = _Book(tuple(book))
    rows: list[UsualHanging] = []
    for row in USUAL.rows_filled("hanging", read):
        hanging = _hanging(read, row, shop, find)
        if hanging is None:
            continue
        if rows and not rows[-1].limited:
            read.faults.add(
                f"{row.root}up_to_kg",
                "The choice before it has no limit, so this one is never reached; put it first, or give that one a limit.",
            )
        rows.append(hanging)
    usual = UsualChoices(
        mat=find.code(read, "mat", Kind.MAT),
        glazing=find.code(read, "glazing", Kind.GLAZING),
        mount_board=find.code(read, "mount_board", Kind.BOARD),
        backing=find.code(read, "backing", Kind.BOARD),
        hanging=tuple(rows),
    )
    read.faults.finish()
    return replace(shop, usual_choices=usual)


def _hanging(read: Reader, row: Form[Shop], shop: Shop, find: _Book) -> UsualHanging | None:
    """Return the choice of a row; None with a fault where it cannot be read."""
    before = len(read.faults.faults)
    values = row.values(read, shop)
    parts: list[UsualPart] = []
    for number in range(MOST_PARTS):
        path = f"{row.root}parts.{number}.material"
        code = find.code(read, path, Kind.HARDWARE)
        if code:
            parts.append(UsualPart(material=code, count=values[f"parts.{number}.count"]))
    if len(read.faults.faults) > before:
        return None
    try:
        return UsualHanging(
            up_to_kg=values["up_to_kg"], up_to_width=values["up_to_width"], parts=tuple(parts)
        )
    except Invalid as invalid:
        at = {"parts": "parts.0.material"}
        read.faults.take(
            Invalid(
                replace(fault, path=f"{row.root}{at.get(fault.path, fault.path)}")
                for fault in invalid.faults
            )
        )
        return None
