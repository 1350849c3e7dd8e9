"""The page on which the photo of a quote that is being typed is straightened, all else carried along."""

from dataclasses import dataclass, replace

from fastapi.responses import HTMLResponse

from app.errors import Invalid
from app.forms.table import Typed
from app.lengths import parse_size
from app.orders import Shop
from app.orders.quoting.form import PHOTO
from app.orders.quoting.piece_typed import unit_of
from app.services.material_names import names_of
from app.web.kit.context import RequestContext
from app.web.kit.facing import ASIDE
from app.web.pictures import straightening
from app.web.pictures.fitting import SIZE, SizeTyped
from app.web.pictures.straightening import PRESS, STRAIGHTEN, Action, Straightened
from app.web.quotes.facing import shown
from app.web.quotes.said import FORM


def asked_for(form: Typed) -> bool:
    """Tell whether a post is of the page on which the photo is straightened, or asks for it."""
    asked = form.get("action", "").partition(":")[0] == STRAIGHTEN or f"{PRESS}.x" in form
    return asked and bool(form.get(PHOTO))


@dataclass(frozen=True, slots=True, kw_only=True)
class Back:
    """What the quote page goes on with. form: its fields, with the photo as it is now; said: what became of that."""

    form: Typed
    said: str


def answered(
    here: RequestContext, form: Typed, *, heading: str, action: str
) -> HTMLResponse | Back:
    """Return the page again, or what the quote page goes on with. Raises: NotFound."""
    size = size_typed(form, here.shop)
    if form.get("action") == Action.EXCHANGE and size:
        form = {**form, SIZE: size.exchanged}
        size = size_typed(form, here.shop)
    done = straightening.answered(here, form[PHOTO], form, size)
    kept = straightening.without(form)
    if isinstance(done, Straightened):
        return Back(form={**kept, PHOTO: done.id, "action": "recalculate"}, said=done.said)
    if here.visitor.beside_customer:
        facing = shown(kept, names_of(here.store))
        kept = {**facing.form, ASIDE: facing.aside}
    page = replace(
        done,
        turned_by=FORM,
        heading=heading,
        action=action,
        kept=tuple((name, text) for name, text in kept.items() if name != "action"),
        back=Action.BACK,
    )
    return straightening.show(here, page)


def without(form: Typed) -> dict[str, str]:
    """Return a form as the quote page has it, without the fields of this one, worked out anew."""
    return {**straightening.without(form), "action": "recalculate"}


def size_typed(typed: Typed, shop: Shop) -> SizeTyped | None:
    """Return the size of the artwork as typed; None where it cannot be read."""
    text, unit = typed.get(SIZE, ""), unit_of(typed, shop)
    try:
        return SizeTyped(size=parse_size(text, unit=unit, path=SIZE), unit=unit, text=text)
    except Invalid:
        return None
