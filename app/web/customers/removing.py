"""Removing a customer: every text that names them, shown before it is cleared, what becomes of the copies, and what stays."""

from dataclasses import dataclass
from itertools import groupby

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.counting import counted
from app.errors import Fault, Invalid
from app.forms.kinds import TICK, choice, text_of
from app.forms.table import Field, Form, Typed
from app.orders import Shop
from app.services import erasing
from app.services.erasing import Copies, NamedText, Removal, Removed
from app.storage.erased_copies import KeptCopy
from app.web.kit.context import Here, Id, LongTypedForm, RequestContext
from app.web.kit.fields import Fields, FormView
from app.web.kit.templating import Page, render, see

router = APIRouter(prefix="/customers/{customer_id}/remove")

_OF_DOUBTFUL = {"all": True, "none": False}
"""Acts that tick, or take the ticks out of, all texts with a part of the name alone."""

_TEXT = "text."
"""How the name of a text's tick begins."""

REMOVAL = Form[Shop](
    Field(
        "also",
        "Also look for",
        text_of(1000, "lines"),
        "Former or other names, numbers and addresses, a line each.",
    ),
    Field(
        "copies",
        "Copies of the data",
        choice(
            Copies,
            (
                (Copies.ANEW.value, "Make them anew without the customer"),
                (Copies.DELETED.value, "Delete them"),
                (Copies.KEPT.value, "Leave them: they keep the record until you delete them"),
            ),
            "radios",
        ),
        usual=Copies.KEPT,
    ),
    Field("logs", "Delete what was put aside as well; it can only be deleted", TICK),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferedText:
    """A text that names the customer, with its tick. name: of the tick's field."""

    name: str
    text: NamedText
    ticked: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveCustomerPage(Page):
    """The page that asks before a customer is removed. shown: the keys of all texts on it."""

    section: str = "Customers"
    id: int
    removal: Removal
    sure: tuple[OfferedText, ...]
    doubtful: tuple[OfferedText, ...]
    copies: tuple[tuple[str, tuple[KeptCopy, ...]], ...]
    databases: bool
    others: bool
    shown: str
    fields: FormView[Shop]


@router.get("")
def ask(here: Here, customer_id: Id) -> HTMLResponse:
    """Show what removing means, before it is done."""
    return _page(here, customer_id, {"copies": Copies.ANEW.value})


@router.post("")
def remove(here: Here, customer_id: Id, form: LongTypedForm) -> Response:
    """Look for other words as well, or remove all that was chosen; orders, their ledgers and invoices stay."""
    if form.get("action") in ("look", *_OF_DOUBTFUL):
        return _page(here, customer_id, form)
    try:
        removed = erasing.erase(here.store, customer_id, _read(form, here.shop), here.act)
    except Invalid as invalid:
        return _page(here, customer_id, form, invalid.faults, 422)
    except erasing.OthersCameUp as others:
        fault = Fault(path="", message=others.message)
        return _page(here, customer_id, form, (fault,), 409)
    return see("/customers", _said(removed))


def _read(form: Typed, shop: Shop) -> erasing.RemovalRequest:
    values = REMOVAL.read(form, shop)
    ticked = (
        name.removeprefix(_TEXT) for name, tick in form.items() if name.startswith(_TEXT) and tick
    )
    return erasing.RemovalRequest(
        shown=frozenset(form.get("shown", "").split()),
        ticked=frozenset(ticked),
        also=tuple(values["also"].splitlines()),
        copies=values["copies"],
        logs=values["logs"],
    )


def _said(removed: Removed) -> str:
    done = ["The customer's name, address and notes are deleted."]
    if removed.texts:
        done.append(f"{counted(removed.texts, 'other text is', 'other texts are')} cleared.")
    if removed.anew:
        done.append(f"{counted(removed.anew, 'copy is', 'copies are')} made anew.")
    if removed.deleted:
        done.append(f"{counted(removed.deleted, 'copy is', 'copies are')} deleted.")
    return " ".join((*done, *removed.left))


def _offered(text: NamedText, form: Typed) -> OfferedText:
    """Return a text with its tick: as it was chosen, else where the text is taken to mean the customer."""
    name, act = f"{_TEXT}{text.key}", form.get("action", "")
    shown = text.key in form.get("shown", "").split()
    ticked = bool(form.get(name)) if shown else text.is_meant
    if act in _OF_DOUBTFUL and not text.sure:
        ticked = _OF_DOUBTFUL[act]
    return OfferedText(name=name, text=text, ticked=ticked)


def _page(
    here: RequestContext,
    customer_id: int,
    form: Typed,
    faults: tuple[Fault, ...] = (),
    status: int = 200,
) -> HTMLResponse:
    also = form.get("also", "").splitlines()
    try:
        removal = erasing.asked(here.store, customer_id, also)
    except Invalid as invalid:
        removal = erasing.asked(here.store, customer_id)
        faults, status = invalid.faults, 422
    offered = [_offered(text, form) for text in removal.texts]
    page = RemoveCustomerPage(
        title=f"Delete {removal.customer.name}",
        faults=faults,
        id=customer_id,
        removal=removal,
        sure=tuple(each for each in offered if each.text.sure),
        doubtful=tuple(each for each in offered if not each.text.sure),
        copies=tuple(
            (str(folder), tuple(copies))
            for folder, copies in groupby(
                sorted(removal.copies, key=lambda copy: str(copy.path.parent)),
                lambda copy: copy.path.parent,
            )
        ),
        databases=any(copy.is_database for copy in removal.copies),
        others=any(not copy.is_database for copy in removal.copies),
        shown=" ".join(sorted(removal.keys)),
        fields=FormView(REMOVAL, here.shop, Fields(form, faults)),
    )
    return render(here, "pages/customers/remove.html", page, status)
