"""On every form, what is refused when it is blank says beforehand that it is needed, and nothing else does.

Each form is sent filled as it should be, but for one field that is blank.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import pytest
from lxml.html import HtmlElement as Element
from starlette.testclient import TestClient

from app.pricing import Charge, ChargeBy, Kind
from app.services import quotes
from app.services import stages as progress
from app.services.orders import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import FILLET, SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, typed, words

STRIP = replace(
    FILLET,
    code="SP-5",
    name="Spacer strip",
    kind=Kind.EXTRA,
    charge=Charge(by=ChargeBy.LENGTH),
)
ACT = Stamp(who="Ilse", now=NOW)


@dataclass(frozen=True, kw_only=True)
class Form:
    """A form: where it is shown, where it is sent, and with what. asks: of its fields, when not all.

    given: typed beside what the page shows. action: of the button.
    """

    page: str
    to: str
    given: Mapping[str, str] = field(default_factory=dict)
    action: str = "save"
    unasked: tuple[str, ...] = ()


MOULDING = {
    "code": "N1",
    "name": "New",
    "cost": "5",
    "profile.face": "20",
    "profile.lip": "5",
    "profile.rebate_depth": "12",
    "profile.stick": "3000",
    "selling": "markup",
    "selling.markup": "3",
}
SHEET = {
    "code": "N2",
    "name": "New",
    "cost": "5",
    "selling": "price",
    "selling.price": "9",
    "sheet.size": "1120 x 815",
    "sheet.thickness": "1.4",
}
PLAIN = {"code": "N3", "name": "New", "cost": "5", "selling": "markup", "selling.markup": "3"}
BY_SIZE = {"charge.by": "size-band", "charge.bands.0.up_to": "900", "charge.bands.0.price": "5"}
OTHER_WAYS = ("selling.markup", "selling.table", "selling.price", *(p for p in BY_SIZE if "0" in p))


def _material(kind: str, given: dict[str, str]) -> Form:
    """The fields of the ways of selling and of prices by size are asked for by other choices alone."""
    asked = {path for path in given if given[path]}
    return Form(
        page=f"/materials/new?kind={kind}",
        to="/materials/new",
        given={"kind": kind, **given},
        unasked=tuple(path for path in OTHER_WAYS if path not in asked),
    )


TEST_CUT = {f"borders.{side}": "50" for side in ("left", "top", "right", "bottom")} | {
    "window.width": "140",
    "window.height": "100",
}
FORMS = {
    "a moulding": _material("moulding", MOULDING),
    "a moulding by size": _material(
        "moulding", {**MOULDING, "selling": "", "selling.markup": "", **BY_SIZE}
    ),
    "a mat": _material("mat", SHEET),
    "a board": _material("board", SHEET),
    "glazing": _material("glazing", SHEET),
    "hardware": _material("hardware", PLAIN),
    "an extra": _material("extra", PLAIN),
    "a strip": _material(
        "extra",
        PLAIN | {path: MOULDING[path] for path in MOULDING if path.startswith("profile.")},
    ),
    "a customer": Form(page="/customers/new", to="/customers", given={"name": "Amber Quill"}),
    "the shop": Form(page="/settings/shop", to="/settings/shop"),
    "allowances": Form(page="/settings/allowances", to="/settings/allowances"),
    "work": Form(page="/settings/work", to="/settings/work"),
    "tax": Form(page="/settings/tax", to="/settings/tax"),
    "prices": Form(
        page="/settings/prices",
        to="/settings/prices",
        given={"tables.0.name": "Boards", "tables.0.steps.0.factor": "3"},
    ),
    "cutting": Form(page="/settings/cutting", to="/settings/cutting"),
    "promises": Form(page="/settings/promises", to="/settings/promises"),
    "a cutter": Form(
        page="/settings/cutters/new", to="/settings/cutters/new", given={"name": "The other one"}
    ),
    "a test cut": Form(
        page="/settings/cutters/1/test",
        to="/settings/cutters/1/test",
        given=TEST_CUT,
        action="compare",
    ),
    "receiving": Form(
        page="/stock/receive", to="/stock/receive", given={"material": "LIN-20", "count": "2"}
    ),
    "an offcut": Form(
        page="/stock/offcuts/new",
        to="/stock/offcuts/new",
        given={"material": "LIN-20", "size": "740"},
    ),
    "taking": Form(
        page="/stock/items/1", to="/stock/items/1/take", given={"count": "1", "kind": "spoiled"}
    ),
    "an item": Form(page="/stock/items/1/edit", to="/stock/items/1/edit"),
    "levels": Form(page="/stock/levels/LIN-20", to="/stock/levels/LIN-20"),
    "raising prices": Form(
        page="/materials/raise", to="/materials/raise", given={"percent": "5"}, action=""
    ),
    "a payment": Form(
        page="/orders/1", to="/orders/1/entries", given={"payment.amount": "10"}, action=""
    ),
    "goodwill": Form(
        page="/orders/1",
        to="/orders/1/reductions",
        given={"goodwill.amount": "1", "goodwill.reason": "It came late"},
        action="",
    ),
    "a quote": Form(page="/quotes/new", to="/quotes", given={**TYPED, "customer": "Bram Sedge"}),
    "a quote by its package": Form(
        page="/quotes/new",
        to="/quotes",
        given={
            **TYPED,
            "customer": "Bram Sedge",
            "sizing": "package",
            "package.size": "600 x 500",
            "borders.left": "",
            "borders.top": "",
            "borders.bottom": "",
        },
    ),
    "a quote of an object": Form(
        page="/quotes/new",
        to="/quotes",
        given={
            **TYPED,
            "customer": "Bram Sedge",
            "artwork.kind": "object",
            "artwork.thickness": "30",
            "glazing.material": "",
        },
    ),
    "a quote with a fillet and spacers": Form(
        page="/quotes/new",
        to="/quotes",
        given={
            **TYPED,
            "customer": "Bram Sedge",
            "mats.1.material": "",
            "mats.1.reveal": "",
            "fillet.material": "FIL-10",
            "fillet.depth": "3",
            "spacer.material": "SP-5",
            "spacer.depth": "5",
        },
    ),
}


@pytest.fixture
def ready(counter: Counter, stocked: Store) -> Counter:
    """A shop with a cutter, a stick on the rack, and an order that was taken."""
    with stocked.writing() as work:
        work.materials.add_all((FILLET, STRIP), now=NOW)
    order = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    progress.take_order(stocked, OrderAt(id=order, version=1), progress.Terms(), ACT)
    counter.post("/stock/receive", {"material": "LIN-20", "count": "5"})
    cutter = counter.get("/settings/cutters/new").form("/settings/cutters/new")
    counter.go("/settings/cutters/new", {**cutter, "name": "The old one", "action": "save"})
    return counter


def shown_form(page: Shown, to: str) -> Element:
    return next(form for form in page.each(tag="form") if form.get("action") in (to, None))


def typed_into(form: Element) -> list[Element]:
    """The fields that a person can leave blank, but for rows that a button adds."""
    return [
        each
        for each in form.iter("input", "textarea", "select")
        if each.get("name")
        and "__row__" not in each.get("name")
        and each.get("type") not in ("hidden", "radio", "checkbox", "color")
        and (each.tag != "select" or any(not o.get("value") for o in each.iter("option")))
    ]


def is_marked(page: Shown, field: Element) -> bool:
    """Whether the label of a field says that it is needed."""
    label = next(each for each in page.each(tag="label") if each.get("for") == field.get("id"))
    return words(label).endswith(" needed")


def refused_at(page: Shown, path: str) -> bool:
    id_ = path.replace(".", "-").replace("_", "-") + "-error"
    return any(words(each) for each in page.each(id=id_))


def check(counter: Counter, form: Form) -> None:
    """Send the form once for each of its fields left blank."""
    filled = typed(counter.get(form.page).form(form.to)) | form.given
    if form.to in ("/quotes", "/materials/new"):  # the marks follow what was chosen
        shown = counter.post(form.to, {**filled, "action": "recalculate"})
    else:
        shown = counter.get(form.page)
    fields = typed_into(shown_form(shown, form.to))
    asked = [each for each in fields if each.get("name") not in form.unasked]
    marked = {each.get("name") for each in asked if is_marked(shown, each)}
    refused = set()
    for path in (each.get("name") for each in asked):
        answer = counter.post(form.to, {**filled, path: "", "action": form.action})
        if answer.status == 409 and "version" in filled:  # it did not grow by one
            filled["version"] = counter.get(form.page).form(form.to)["version"]
            answer = counter.post(form.to, {**filled, path: "", "action": form.action})
        if answer.status == 303 and filled.get("version"):
            filled["version"] = str(int(filled["version"]) + 1)
        if answer.status != 303 and refused_at(answer, path):
            refused.add(path)
    assert marked == refused


@pytest.mark.slow
@pytest.mark.parametrize("name", FORMS)
def test_what_is_refused_blank_is_marked_and_nothing_else(ready: Counter, name: str) -> None:
    check(ready, FORMS[name])


@pytest.mark.slow
def test_what_is_refused_blank_of_a_draft_to_a_supplier_is_marked(ready: Counter) -> None:
    short = ready.get("/buying").form("/buying")
    draft = ready.post("/buying", {**short, "supplier": "Holm Timber"}).location.partition("?")[0]
    check(ready, Form(page=draft, to=draft, given={"supplier": "Holm Timber"}))


def test_what_is_refused_blank_at_the_first_run_is_marked(first_page: TestClient) -> None:
    given = {"name": "Sedge Lane Frames", "currency": "EUR"}
    check(Counter(first_page), Form(page="/welcome", to="/welcome", given=given))
