"""The unit of a piece, changed while lengths are typed: each keeps the unit in which it was read.

The page carries the unit that its bare numbers were read in. Where another one is chosen, they are marked with that
unit, which is exact in either, and the echo beside a field tells them in the new one.
"""

import json
from typing import Annotated

from fastapi import Depends
from starlette.concurrency import run_in_threadpool

from app.forms.kinds import LENGTH, SIZE
from app.forms.table import Typed
from app.lengths import Unit, doubt_about, doubt_about_border, mark_bare
from app.orders.quoting.form import PIECE
from app.orders.quoting.piece_typed import unit_of
from app.services.material_names import names_of
from app.services.who_is_meant import MEANT
from app.web.kit.context import Ctx, OurShop
from app.web.kit.facing import ASIDE
from app.web.pictures.brought import WithPhoto
from app.web.quotes.facing import restored

READ_IN = "unit.read"
"""The hidden field: the unit in which bare numbers of the form were read last."""

MARKED = "unit.marked"
"""What was marked just now, for a live form that is to write it into its fields."""


async def get_piece_form(form: WithPhoto, shop: OurShop, here: Ctx) -> dict[str, str]:
    """Return a posted form, with the photo that came with it, its bare lengths marked where another unit was chosen since they were read, and as it was before it was
    shown to a customer.
    """
    if ASIDE in form or MEANT in form:
        names = await run_in_threadpool(names_of, here.store)
        form = restored(form, names)
    unit = unit_of(form, shop)
    posted = {name: text for name, text in form.items() if name != MARKED}
    before = posted.get(READ_IN)
    if before not in set(Unit) or before == unit:
        return posted
    marked = _marked(posted, Unit(before))
    return {**posted, **marked, READ_IN: unit.value, MARKED: json.dumps(marked)}


PieceForm = Annotated[dict[str, str], Depends(get_piece_form)]


def _marked(form: Typed, unit: Unit) -> dict[str, str]:
    lengths = (field.path for field in PIECE.fields if field.kind in (LENGTH, SIZE))
    texts = {path: form[path] for path in lengths if path in form}
    return {
        path: marked
        for path, text in texts.items()
        if (marked := _as_taken(path, text, form, unit)) != text
    }


def _as_taken(path: str, text: str, form: Typed, unit: Unit) -> str:
    """Return a text with the unit that it was read in; a doubtful one, about which was asked, with that it was taken for (L4)."""
    doubt = doubt_about(text, unit=unit)
    if path.startswith("borders.") and unit is Unit.MM:
        doubt = doubt_about_border(text, form.get("artwork.size", ""))
    return doubt.likely if doubt else mark_bare(text, unit)
