"""The summary at the head of a page that was refused names the field that each sentence speaks of."""

import pytest

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown

ACT = Stamp(who="Ilse", now=NOW)


def summary(page: Shown) -> dict[str, str]:
    """The first words of each line, up to the colon, by the anchor it leads to."""
    return {anchor: line.partition(":")[0] for line, anchor in page.links("error-summary").items()}


@pytest.mark.parametrize(
    ("path", "given", "called"),
    [
        ("borders.left", "wide", "Border left"),
        ("artwork.size", "16x", "Artwork size"),
        ("overlap", "x", "Overlap at each edge"),
        ("mats.1.reveal", "x", "Under mat reveal"),
        ("spacer.depth", "x", "Spacers depth"),
        ("hardware.0.count", "some", "Hanging hardware 1 count"),
        ("frames.0.material", "no such", "Moulding"),
        ("windows.0.edge", "x", "Window A overlap or float margin"),
        ("discount", "much", "Discount, %"),
        ("artwork.declared_value", "much", "Declared value"),
    ],
)
def test_a_piece_that_is_refused_names_its_field(
    counter: Counter, path: str, given: str, called: str
) -> None:
    form = {**TYPED, "windows.count": "1", path: given, "customer": "Amber Quill", "action": "save"}
    answer = counter.post("/quotes", form)
    assert answer.status == 422
    anchor = "#" + path.replace(".", "-").replace("_", "-")
    assert summary(answer)[anchor] == called
    assert answer.words("error-summary").count(f"{called}: ") == 1, "at the head"
    for where in ("price", "price-held"):
        said = answer.words(id=where)
        assert said.count(f"{called}: ") == 1, "in the place of a price, and beside an old one"
    assert answer.main.count(f"{called}: ") == 3


def test_a_window_is_named_by_its_letter(counter: Counter) -> None:
    form = {**TYPED, "windows.count": "2", "windows.1.size": "16x", "action": "save"}
    assert summary(counter.post("/quotes", form))["#windows-1-size"] == "Window B"


@pytest.mark.parametrize(
    ("form", "typed", "called"),
    [
        (("/settings/allowances", ""), ("overlap", "x"), "Overlap at each edge"),
        (("/settings/work", ""), ("operations.2.fixed", "long"), "Operation 3 each time"),
        (("/settings/tax", ""), ("rates.0.percent", "much"), "Tax rate 1 percent"),
        (("/settings/promises", ""), ("ready_days", "soon"), "A piece is ready in, days"),
        (("/customers/new", "/customers"), ("name", ""), "Name"),
        (
            ("/materials/new?kind=moulding", "/materials/new"),
            ("profile.face", "x"),
            "Face width, mm",
        ),
    ],
)
def test_every_form_names_the_field_by_its_label(
    counter: Counter, stocked: Store, form: tuple[str, str], typed: tuple[str, str], called: str
) -> None:
    address, posted = form[0], form[1] or form[0]
    path, bad = typed
    shown = counter.get(address).form(posted)
    answer = counter.post(posted, {**shown, "action": "save", path: bad})
    assert answer.status == 422
    anchor = path.replace(".", "-").replace("_", "-")
    assert summary(answer)[f"#{anchor}"] == called
    assert answer.has(id=anchor)


def test_a_payment_and_a_deposit_are_told_apart(counter: Counter, stocked: Store) -> None:
    order = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )
    form = counter.get(order).form(f"{order}/take") | {"deposit": "some", "due": "soon"}
    assert summary(counter.post(f"{order}/take", form)) == {
        "#deposit": "Deposit received",
        "#due": "Ready on",
    }
    form = counter.get(order).form(f"{order}/entries") | {"payment.amount": "some"}
    assert summary(counter.post(f"{order}/entries", form)) == {"#payment-amount": "Amount"}


def test_what_concerns_no_field_is_said_without_a_name(counter: Counter, stocked: Store) -> None:
    order = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )
    answer = counter.post(f"{order}/stage", {"version": "1", "stage": "no such"})
    assert "“no such” is not a stage." in answer.words("error-summary")
    assert ":" not in answer.words("error-summary")
