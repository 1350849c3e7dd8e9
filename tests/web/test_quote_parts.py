"""The live form is answered with parts of the page: the same ones, all of them, and nothing else."""

from dataclasses import dataclass
from xml.etree.ElementTree import Element, tostring

import pytest

from tests.builders.worked import TYPED
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
    "sizes to be asked about": {
        **TYPED,
        "artwork.size": "41x31",
        "windows.count": "2",
        "windows.1.size": "16x20",
        "sizing": "package",
        "package.size": "50 x 70",
    },
    "measured": {**TYPED, "view": "measured"},
    "section": {**TYPED, "view": "section"},
}


@dataclass(frozen=True)
class Parts:
    """What swap.js takes from an answer, by id.

    renewed: takes the place of what the page has. grown: by the growing element they go to, the
    rows with fields of the answer and whether they are wanted.
    """

    renewed: dict[str, str]
    grown: dict[str, list[str]]
    wanted: dict[str, bool]


def parts(page: Shown, posted: dict[str, str]) -> Parts:
    """Of rows that grow only those that are not on the page which was posted."""
    found = Parts(renewed={}, grown={}, wanted={})
    for element in page.tree.iter():
        if element.get("data-grow") is not None:
            found.grown[element.get("id") or ""] = [
                _as_text(row)
                for row in element
                if (names := _names(row)) and names.isdisjoint(posted)
            ]
            for row in element:
                if row.get("id"):
                    found.wanted[row.get("id") or ""] = row.get("hidden") is None
    _gather(page.tree, posted, found.renewed)
    return found


def _names(element: Element) -> set[str]:
    return {name for part in element.iter() if (name := part.get("name"))}


def _gather(element: Element, posted: dict[str, str], found: dict[str, str]) -> None:
    """Parts within parts go with them, and those of a new row go with the row."""
    for child in element:
        names = _names(child)
        if element.get("data-grow") is not None and names and names.isdisjoint(posted):
            continue
        id_ = child.get("id")
        if id_ and child.get("data-swap") is not None:
            assert id_ not in found, f"{id_} is there twice"
            found[id_] = _as_text(child)
        else:
            _gather(child, posted, found)


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
    assert parts(alone, form) == parts(whole, form)
    assert len(parts(alone, form).renewed) > 60


def test_the_parts_of_a_further_piece_leave_its_customer_alone(counter: Counter) -> None:
    order = counter.post("/quotes", {**FORMS["worked out"], "action": "save"}).address
    whole = counter.post(f"{order}/pieces?live=1", TYPED)
    alone = counter.post(f"{order}/pieces?live=1", TYPED, **{"x-partial": "1"})
    assert parts(alone, TYPED) == parts(whole, TYPED)
    assert "customer-error" not in parts(alone, TYPED).renewed


def test_a_browser_that_posts_its_whole_page_gets_only_the_rows_it_has_not(
    counter: Counter,
) -> None:
    on_the_page = {**counter.get("/quotes/new").fields, **TYPED, "windows.count": "2"}
    alone = counter.post("/quotes?live=1", on_the_page, **{"x-partial": "1"})
    whole = counter.post("/quotes?live=1", on_the_page)
    found = parts(alone, on_the_page)
    assert found == parts(whole, on_the_page)
    assert found.wanted == {"mats-asked": True, "window-0": True, "window-1": True}
    assert [len(found.grown[name]) for name in ("mat-rows", "hardware-rows", "window-rows")] == [
        1,
        1,
        1,
    ]
    assert set(alone.fields) - {"view"} == {
        "unit.read",
        "customer.told",
        *("artwork.photo", "photo"),  # the block of the photo is renewed as a whole
        *("mats.2.material", "mats.2.reveal", "hardware.1.material", "hardware.1.count"),
        *(name for name in whole.fields if name.startswith("windows.1.")),
    }


def test_a_window_that_is_no_longer_wanted_is_hidden_and_keeps_what_was_typed(
    counter: Counter,
) -> None:
    two = {**TYPED, "windows.count": "1", "windows.0.size": "", "windows.1.size": "10 x 15 cm"}
    alone = counter.post("/quotes?live=1", two, **{"x-partial": "1"})
    assert parts(alone, two).wanted == {
        "mats-asked": True,
        "window-0": True,
        "window-1": False,
    }


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
