"""The live form is answered with parts of the page: the same ones, all of them, and nothing else."""

from xml.etree.ElementTree import Element, tostring

import pytest

from tests.prices import TYPED
from tests.web.shown import Counter, Shown

FORMS: dict[str, dict[str, str]] = {
    "worked out": {**TYPED, "customer": "Amber Quill"},
    "nothing typed": {"unit": "mm"},
    "faults in many places": {
        **TYPED,
        "artwork.size": "16x",
        "mats.0.material": "no such mat",
        "borders.left": "-3",
        "hardware.0.count": "none",
        "customer.email": "<b>",
    },
    "rows that grow": {
        **TYPED,
        "mats.2.material": TYPED["mats.1.material"],
        "hardware.1.material": TYPED["hardware.0.material"],
        "hardware.2.material": TYPED["hardware.0.material"],
        "extras.0.material": "no such extra",
    },
    "measured": {**TYPED, "view": "measured"},
    "section": {**TYPED, "view": "section"},
}


def parts(page: Shown) -> dict[str, str]:
    """What swap.js takes from an answer: by id, each part once, those within another not by themselves."""
    found: dict[str, str] = {}
    _gather(page.tree, found)
    return found


def _gather(element: Element, found: dict[str, str]) -> None:
    for child in element:
        id_ = child.get("id")
        if id_ and (child.get("data-swap") is not None or child.get("data-grow") is not None):
            assert id_ not in found, f"{id_} is there twice"
            found[id_] = _as_text(child)
        if child.get("data-swap") is None:
            _gather(child, found)


def _as_text(element: Element) -> str:
    tail, element.tail = element.tail, None
    text = tostring(element, encoding="unicode")
    element.tail = tail
    return text


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_the_parts_are_those_of_the_whole_page(counter: Counter, form: dict[str, str]) -> None:
    whole = counter.post("/quotes?live=1", form)
    alone = counter.post("/quotes?live=1", form, **{"x-partial": "1"})
    assert alone.status == whole.status
    assert parts(alone) == parts(whole)
    assert len(parts(alone)) > 60


def test_the_parts_of_a_further_piece_leave_its_customer_alone(counter: Counter) -> None:
    order = counter.post("/quotes", {**FORMS["worked out"], "action": "save"}).location
    whole = counter.post(f"{order}/pieces?live=1", TYPED)
    alone = counter.post(f"{order}/pieces?live=1", TYPED, **{"x-partial": "1"})
    assert parts(alone) == parts(whole)
    assert "customer-error" not in parts(alone)


def test_the_parts_come_without_the_page_around_them(counter: Counter) -> None:
    alone = counter.post("/quotes?live=1", FORMS["worked out"], **{"x-partial": "1"})
    assert "<main" not in alone.text
    assert "stylesheet" not in alone.text
    assert 'name="artwork.size"' not in alone.text
    assert alone.has(id="drawing")
    assert alone.has(id="price")


def test_a_button_without_javascript_is_answered_with_the_whole_page(counter: Counter) -> None:
    page = counter.post("/quotes", {**FORMS["worked out"], "action": "recalculate"})
    assert page.heading == "A new quote"
    assert page.fields["artwork.size"] == TYPED["artwork.size"]
