"""A piece of which some fields are missing or wrong, as far as the others tell it.

For looking at while one types, never to be kept: there is no `Agreed` without every field in order. Owns
which fields are passed over for which fault, and which prices still stand without them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from app.errors import Fault, Invalid
from app.forms.table import Typed
from app.framing import Dimensions
from app.framing.checks.objects import AS_CANVAS, TOUCHES_GLAZING
from app.lengths import Size, Steps, mm
from app.money import Money
from app.orders.dimensions_memo import worked_out
from app.orders.order import ArtworkRecord
from app.orders.quoting.agreement import steps_for
from app.orders.quoting.faults import on_the_form
from app.orders.quoting.form import TELL_SIZES
from app.orders.quoting.frame_fields import MOST_FRAMES
from app.orders.quoting.reader import FindMaterial, Several
from app.orders.quoting.request import PieceRequest, read_piece
from app.orders.shop import Shop
from app.orders.standalone_plan import opened_alone
from app.pricing import (
    Charge,
    ChargeBy,
    Chosen,
    CostPer,
    Kind,
    LineGroup,
    Material,
    PriceLine,
    Selling,
    SheetStock,
    Use,
    known_lines,
)
from app.pricing.uses import uses_of

_PLAIN = "a plain one"
"""Typed for a mat that cannot be read, so that its row keeps its place."""

USUAL_MAT = mm("1.4")
"""How thick a plain mat is drawn. Common practice: a board of four plies."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SoFar:
    """fields: as they were read. left_out: what was typed in each that was passed over; empty where a
    mat is missing.

    chosen: has a plain mat in the place of each that is missing or unknown. lines: of the parts that
    are known; work is not among them, since all parts tell it. sized: whether sizes are as typed.
    """

    artwork: ArtworkRecord
    dimensions: Dimensions
    chosen: Chosen
    steps: Steps
    fields: Typed
    left_out: Mapping[str, str]
    lines: tuple[PriceLine, ...]
    sized: bool


def so_far(typed: Typed, faults: Iterable[Fault], shop: Shop, find: FindMaterial) -> SoFar | None:
    """Return what can be told of a typed piece without the fields that its faults stand at.

    faults: why it could not be agreed, at the quote page's fields. None where the rest tells no
    piece either, as without a size.
    """
    plain = _plain_mat(shop)
    finds = _with(plain, find)
    fields = _passing_over(typed, on_the_form(faults))
    while True:
        try:
            asked = read_piece(fields, shop, finds)
            dimensions = worked_out(asked.spec)
        except Invalid as invalid:
            fewer = _passing_over(fields, on_the_form(invalid.faults))
            if fewer == fields:
                return None
            fields = fewer
        else:
            return _told(asked, dimensions, (typed, fields), shop, plain)


def _told(
    asked: PieceRequest,
    dimensions: Dimensions,
    fields: tuple[Typed, Typed],
    shop: Shop,
    plain: Material,
) -> SoFar:
    """fields: as typed, and as read."""
    left_out = _left_out(*fields)
    sized = not TELL_SIZES & left_out.keys()

    def known(use: Use) -> bool:
        if use.material == plain or (use.group is LineGroup.FRAME and "allowance" in left_out):
            return False
        return sized or use.material.charge.by is ChargeBy.EACH

    copies = asked.adjustments.copies
    opened = opened_alone(dimensions, asked.chosen, shop, copies)
    uses = uses_of(dimensions, asked.chosen)
    return SoFar(
        artwork=asked.artwork,
        dimensions=dimensions,
        chosen=asked.chosen,
        steps=steps_for(asked.spec.unit, shop),
        fields=fields[1],
        left_out=left_out,
        lines=known_lines(
            uses, replace(shop.rules, length_unit=asked.spec.unit), opened, known, copies
        ),
        sized=sized,
    )


def _plain_mat(shop: Shop) -> Material:
    nothing = Money.zero(shop.currency)
    return Material(
        code="plain",
        name=f"Plain {shop.mat_word.value}",
        kind=Kind.MAT,
        cost=nothing,
        per=CostPer.SHEET,
        charge=Charge(by=ChargeBy.SHEET_SHARE),
        selling=Selling(price=nothing),
        colour="#f1eee6",
        sheet=SheetStock(size=Size(mm(1000), mm(1000)), thickness=USUAL_MAT, grams_per_m2=0),
    )


def _with(plain: Material, find: FindMaterial) -> FindMaterial:
    def found(text: str, kind: Kind) -> Material | Several | None:
        return plain if kind is Kind.MAT and text == _PLAIN else find(text, kind)

    return found


def _passing_over(fields: Typed, faults: Iterable[Fault]) -> dict[str, str]:
    """Return the fields without those that faults stand at and those that mean nothing without them."""
    left = dict(fields)
    for fault in faults:
        match _at_fault(fault).split("."):
            case ["mats", _, "material"]:
                left[fault.path] = _PLAIN
            case ["artwork", "size"]:
                pass
            case _:
                gone = _gone_with(_at_fault(fault))
                left = {path: text for path, text in left.items() if not path.startswith(gone)}
    return left


def _at_fault(fault: Fault) -> str:
    """Return the field without which the rest may tell a piece; of an object not what it stands in (G22)."""
    return _OF_AN_OBJECT.get(fault.code, fault.path)


_OF_AN_OBJECT = {AS_CANVAS: "artwork.kind", TOUCHES_GLAZING: "artwork.thickness"}


def _gone_with(path: str) -> tuple[str, ...]:
    """Tell how the fields begin that go with one: an outer frame has no size without the one in it."""
    match path.split("."):
        case ["frames", row, "material"]:
            return tuple(f"frames.{outer}." for outer in range(int(row), MOST_FRAMES))
        case [("fillet" | "spacer") as part, _]:
            return (f"{part}.",)
        case [("hardware" | "extras") as part, row, _]:
            return (f"{part}.{row}.",)
        case [("package" | "outside"), "size"]:
            return (path, "sizing")
        case ["given_frame", ("material" | "rebate" | "depth")]:
            return ("given_frame.", "frame.source")
    return (path,) if path else ()


def _left_out(typed: Typed, fields: Typed) -> dict[str, str]:
    """Return what was typed in each field that was not read as it was."""
    paths = dict.fromkeys((*typed, *fields))
    changed = {path: typed.get(path, "").strip() for path in paths}
    return {
        path: text
        for path, text in changed.items()
        if fields.get(path) != typed.get(path) and (text or path in fields)
    }
