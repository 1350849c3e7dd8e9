"""What is frozen as it was agreed, set, issued, planned or printed, as the JSON of its row; how older forms read now."""

import re
from dataclasses import asdict
from typing import Any

from app.codec import Codec
from app.framing import DEFAULTS
from app.lengths import Length, Unit
from app.orders import Agreed, LineAgreed, Shop
from app.orders.invoices.invoice import Invoice
from app.orders.printed import TicketFacts
from app.pricing import DEFAULT_OPERATIONS, Material, When
from app.stock.planning.plans import PlanSection

type Plain = dict[str, Any]


def _with_objects(shop: Plain) -> Plain:
    """Return a shop from before objects in boxes with what is usual for them: the room over one, by its
    unit, and the time to mount one (G22, P5).
    """
    usual = DEFAULTS[Unit(shop["unit"])].object_clearance
    labour = shop["labour"]
    return shop | {
        "allowances": {"object_clearance": {"mm": str(usual.mm)}} | shop["allowances"],
        "labour": labour | {"operations": _with_mounting(labour["operations"])},
    }


def _with_mounting(operations: list[Plain]) -> list[Plain]:
    new = [asdict(each) for each in DEFAULT_OPERATIONS if each.when is When.OBJECT]
    taken = {each["code"] for each in operations}
    return [*operations, *(each for each in new if each["code"] not in taken)]


def _with_scales(shop: Plain) -> Plain:
    """Return a shop from before cutters had two scales: what stood of the scale among the rest of a cutter is
    its only one (B8).
    """
    return shop | {"cutters": [_with_scale(**each) for each in shop.get("cutters", ())]}


def _with_scale(
    *,
    unit: str,
    step: Plain,
    first_pin: Plain | None = None,
    pin_pitch: Plain | None = None,
    **cutter: Any,
) -> Plain:
    pins = None if first_pin is None else {"first": first_pin, "pitch": pin_pitch}
    return cutter | {"scales": [{"unit": unit, "step": step, "pins": pins}]}


def _with_arrangement(agreed: Plain) -> Plain:
    """Return what was typed with rows of windows, which stood under "layout", under the words of the request."""
    typed = {
        re.sub(r"^layout\.", "arrangement.", path): text for path, text in agreed["typed"].items()
    }
    return agreed | {"typed": typed}


def _with_plain_plans(sections: list[Plain]) -> list[Plain]:
    """Plans had a form of their own: lengths as text in the unit of their question, sizes unfolded."""
    return [each | {"plan": _plan_of_form_1(**each["plan"])} for each in sections]


_LENGTHS = {"kerf", "end_trim", "trim", "keep", "length", "at", "start", "end", "x", "y"}
_SIZE = {"width", "height"}


def _plan_of_form_1(*, form: int, asked: Plain, **plan: Any) -> Plain:
    if form != 1:
        raise ValueError(f"a plan has the form {form}, which was never written")
    unit = Unit(asked["unit"])
    del asked["kind"]
    return {"asked": _folded(asked, unit), **_folded(plan, unit)}


def _folded(plain: Any, unit: Unit) -> Any:
    """Values with each length in the form of now, and width and height together as a size."""
    if isinstance(plain, list):
        return [_folded(each, unit) for each in plain]
    if not isinstance(plain, dict):
        return plain
    found = {
        name: {"mm": str(Length.of(each, unit).mm)}
        if name in _LENGTHS | _SIZE and isinstance(each, str)
        else _folded(each, unit)
        for name, each in plain.items()
    }
    if found.keys() > _SIZE:
        found["size"] = {name: found.pop(name) for name in sorted(_SIZE)}
    return found


AGREED: Codec[Agreed] = Codec("agreed", Agreed, {2: _with_arrangement})
LINE: Codec[LineAgreed] = Codec("line", LineAgreed)
SHOP: Codec[Shop] = Codec("shop", Shop, {1: _with_objects, 3: _with_scales})
MATERIAL: Codec[Material] = Codec("material", Material)
INVOICE: Codec[Invoice] = Codec("invoice", Invoice)
TICKET_FACTS: Codec[TicketFacts] = Codec("facts", TicketFacts)
SECTIONS: Codec[tuple[PlanSection, ...]] = Codec(
    "sections", tuple[PlanSection, ...], {2: _with_plain_plans}
)
