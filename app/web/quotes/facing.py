"""The quote page while the screen faces the customer: materials by their names, and what is the shop's own set aside.

What is not shown stands in the page by an id alone, under which this process remembers it: so nothing that was typed is lost
when the screen is turned, and nothing of the shop's own is in the page.
"""

import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

from app.errors import Fault, quoted
from app.forms.table import Typed
from app.orders.quoting.reader import NOT_FOUND
from app.pricing import Kind
from app.services import who_is_meant
from app.services.material_names import MaterialNames
from app.services.material_offers import KIND_AT
from app.services.who_is_meant import MEANT, OF_KNOWN, TOLD
from app.web.kit.facing import ASIDE
from app.web.kit.sought import Memory
from app.web.quotes.page import Outcome
from app.web.quotes.said import SAY, TRY

_MEMORY = Memory()

_SHOPS_OWN = (
    "new_moulding.",
    "usual",
    "todays_prices",
    "note",
    "discount",
    "artwork.place",
    MEANT,
    TOLD,
)
"""How the names of fields begin that are not shown to a customer."""

FROM_THE_LIST = "Choose from the list, by a part of the name."
CHOOSE_IT = "Choose it again from the list, by its name."
_CUSTOMER = "customer"
WHO_IT_IS = "This may be somebody known; turn the screen back to say who is meant."
NOT_HERE = (
    "Something that is not shown to the customer is to be mended; turn the screen back to see it."
)


@dataclass(frozen=True, slots=True)
class Facing:
    """A form as it is shown to a customer. form: names in place of codes, without what is the shop's own. aside: the id of what is kept of it.
    unsaid: the fields that are shown blank, since what was typed in them is no name.
    """

    form: Typed
    aside: str
    unsaid: frozenset[str]


def shown(form: Typed, names: MaterialNames) -> Facing:
    """Return a form as it is shown to a customer, and remember it as it is."""
    said = {
        path: (names.of(text, kind), text)
        for path, kind in KIND_AT.items()
        if (text := form.get(path, "").strip())
    }
    if meant := form.get(MEANT):
        said[_CUSTOMER] = (who_is_meant.named(meant), form.get(_CUSTOMER, "").strip())
    kept = {name: text for name, text in form.items() if name.startswith(_SHOPS_OWN)}
    open_form = {name: text for name, text in form.items() if name not in kept and name != ASIDE}
    return Facing(
        form=open_form | {path: name for path, (name, _) in said.items()},
        aside=_MEMORY.id_of(json.dumps({"kept": kept, "said": said}, ensure_ascii=False)),
        unsaid=frozenset(path for path, (name, _) in said.items() if not name),
    )


def restored(form: Typed, names: MaterialNames) -> dict[str, str]:
    """Return a posted form as it was before it was shown to a customer, with what was typed since; codes in place of names."""
    back = {name: text for name, text in form.items() if name not in (ASIDE, MEANT)}
    if ASIDE not in form:
        return back
    kept, said = _remembered(form[ASIDE])
    if MEANT in kept:
        shown_as, typed = said[_CUSTOMER]
        if back.get(_CUSTOMER, "").strip() == shown_as:
            back[_CUSTOMER] = typed
        else:
            del kept[MEANT]
    for path, kind in KIND_AT.items():
        if path in back:
            back[path] = _meant(back[path], kind, said.get(path), names)
    return kept | back | _answered(back.get("action", ""), names)


def _meant(text: str, kind: Kind, said: tuple[str, str] | None, names: MaterialNames) -> str:
    """Return what stands for the text of a field. said: what it was shown as, and what it was; None where it was blank."""
    if said is not None and text.strip() == said[0]:
        return said[1]
    return names.code_of(text, kind)


def _answered(action: str, names: MaterialNames) -> dict[str, str]:
    """Return a pressed button that chooses a material by its name, as one that does by its code."""
    word, _, answer = action.partition(":")
    path, _, text = answer.partition(":")
    if word not in (SAY, TRY) or path not in KIND_AT:
        return {}
    return {"action": f"{word}:{path}:{names.code_of(text, KIND_AT[path])}"}


def _remembered(name: str) -> tuple[dict[str, str], Mapping[str, tuple[str, str]]]:
    found: object = None
    with suppress(ValueError):
        found = json.loads(_MEMORY.words_of(name))
    return (found["kept"], found["said"]) if isinstance(found, dict) else ({}, {})


def told(faults: Iterable[Fault], facing: Facing, names: MaterialNames) -> tuple[Fault, ...]:
    """Return faults as a customer may read them: without codes, other customers, and fields that are not shown."""
    return tuple(dict.fromkeys(_told(fault, facing, names) for fault in faults))


def outcome_told(outcome: Outcome, facing: Facing, names: MaterialNames) -> Outcome:
    """Return what a form came to as a customer may read it."""
    said = facing.form
    so_far = outcome.so_far
    if so_far is not None:
        left_out = {path: said.get(path, "") for path in so_far.left_out}
        so_far = replace(so_far, left_out=left_out)
    return replace(
        outcome,
        so_far=so_far,
        faults=told(outcome.faults, facing, names),
        needed=told(outcome.needed, facing, names),
        names={
            path: name
            for path, name in outcome.names.items()
            if path not in KIND_AT or not said.get(path, "").startswith(name)
        },
    )


def _told(fault: Fault, facing: Facing, names: MaterialNames) -> Fault:
    if fault.code == OF_KNOWN:
        return Fault(path=_CUSTOMER, message=WHO_IT_IS, code=fault.code)
    if fault.path.startswith(_SHOPS_OWN):
        return Fault(path="", message=NOT_HERE, code=fault.code)
    if fault.path in facing.unsaid:
        return Fault(path=fault.path, message=CHOOSE_IT, code=fault.code)
    if fault.code == NOT_FOUND:
        text = facing.form.get(fault.path, "").strip()
        return replace(fault, message=f"Nothing is called {quoted(text)}. {FROM_THE_LIST}")
    return replace(fault, message=names.in_words(fault.message))
