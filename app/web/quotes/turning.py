"""A form that is being typed turns the screen, and comes back with all that is in it at an address of its own.

What was typed stands in no address: this process remembers it under an id. So Back and reload ask for a page again, and
send no form.
"""

import json
from contextlib import suppress

from starlette.responses import Response

from app.forms.table import Typed
from app.services import who_is_meant
from app.web.kit.context import RequestContext
from app.web.kit.facing import to_be_asked, turn, turned_from
from app.web.kit.sought import Memory
from app.web.kit.templating import see
from app.web.kit.visitor import Turned
from app.web.quotes.sheets import QuoteForm

_MEMORY = Memory()


def turned_with(here: RequestContext, sheet: QuoteForm, form: Typed) -> Response:
    """Turn the screen the other way, and lead to the form as it was typed."""
    to = None if here.visitor.turned else turned_from(here.visitor, sheet.order_id)
    typed = {name: text for name, text in form.items() if name not in ("action", "once")}
    if to is not None and sheet.asks_customer:
        typed = _meaning(here, typed)
    held = {"to": _id(to), "at": sheet.action, "typed": typed}
    name = _MEMORY.id_of(json.dumps(held, ensure_ascii=False))
    question = "" if to else to_be_asked(here.store, here.visitor.turned)
    page = f"{sheet.page}{'&' if '?' in sheet.page else '?'}typed={name}"
    return turn(see(page, question), to)


def _meaning(here: RequestContext, form: Typed) -> dict[str, str]:
    """Return a form with the customer whom it means while the shop reads it."""
    meant = who_is_meant.meant(here.store, who_is_meant.CustomerRequest.of(form))
    others = {name: text for name, text in form.items() if name != who_is_meant.MEANT}
    return others if meant is None else {**others, who_is_meant.MEANT: meant}


def came_back(here: RequestContext, at: str, name: str) -> dict[str, str] | None:
    """Return what was typed in a form that turned the screen. at: where it is sent. name: the id that stands for it.

    None where it is not remembered any more, is of another form, or was shown to another customer or to the shop alone.
    """
    found: object = None
    with suppress(ValueError):
        found = json.loads(_MEMORY.words_of(name))
    turned = here.visitor.turned
    if not isinstance(found, dict) or found["at"] != at:
        return None
    theirs = turned is None or (turned.id and found["to"] == turned.id)
    return found["typed"] if theirs else None


def _id(to: Turned | None) -> str:
    return to.id if to else ""
