"""The fields of the quote page that the shop's habit fills, and the hidden one that remembers with what."""

import json
from collections.abc import Mapping
from contextlib import suppress

from app.forms.table import Typed
from app.orders.quoting.form import PIECE_FIELDS, piece_typed
from app.orders.quoting.usual import HANGING, Filled, filled_in, let_go, usual_there
from app.services import usual_fields
from app.web.kit.context import RequestContext

USUAL = "usual"
"""The name of the hidden field; a form without it is never filled, as that of a piece that was agreed."""

EMPTIED = "usual.emptied"
"""What of the form was emptied with something else just now, for a live form that is to empty it too."""


def begun(here: RequestContext, form: Typed) -> dict[str, str]:
    """Return the form of a new piece, filled with what is usual; as it is where the shop has no such habits."""
    filled = usual_fields.first(here.store, form, here.shop)
    return _carrying(form, filled) if filled else dict(form)


def renewed(here: RequestContext, form: Typed) -> dict[str, str]:
    """Return a posted form with what is usual now in fields that nobody has changed since they were filled."""
    if USUAL not in form:
        return dict(form)
    before = carried(form)
    emptied = let_go(form, before)
    form = {**form, **emptied}
    filled = usual_fields.anew(here.store, piece_typed(form), before, here.shop)
    renewed_form = _carrying(filled_in(form, before, filled), filled)
    return renewed_form | ({EMPTIED: json.dumps(emptied)} if emptied else {})


def _carrying(form: Typed, filled: Filled) -> dict[str, str]:
    return {**form, **filled, USUAL: json.dumps(dict(filled), ensure_ascii=False)}


def carried(form: Mapping[str, str]) -> dict[str, str]:
    """Read what the fields of a form were filled with last; nothing where that cannot be read."""
    found: object = None
    with suppress(ValueError, RecursionError):
        found = json.loads(form.get(USUAL, "") or "{}")
    if not isinstance(found, dict):
        return {}
    return {
        path: text for path, text in found.items() if path in PIECE_FIELDS and isinstance(text, str)
    }


def there(form: Typed) -> frozenset[str]:
    """Return the fields that stand as the habit filled them."""
    return usual_there(form, carried(form))


def fills(form: Typed) -> str:
    """Return what a live form writes into its fields, as JSON: of the hanging parts every row, so that fewer parts
    leave no old ones.
    """
    filled = carried(form)
    emptied = json.loads(form[EMPTIED]) if EMPTIED in form else {}
    hung = any(path in filled for path in HANGING)
    blank = dict.fromkeys(HANGING, "") if hung else {}
    return json.dumps({**blank, **emptied, **filled}, ensure_ascii=False)
