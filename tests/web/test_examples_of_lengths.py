"""What a form asks for when it cannot read a length is a length that this very field takes.

Every field of a form is sent with a word in it; what the sentence then gives as an example is sent next,
in both units of a shop.
"""

import re
from collections.abc import Iterator
from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from app.lengths import Example, Size, Unit, inches, mm, parse_length, parse_size
from app.orders import usual_shop
from app.services import shop as shops
from app.storage import Stamp, Store
from tests.builders.worked import BOOK, FILLET
from tests.web.conftest import NOW, browser_on
from tests.web.shown import Counter, Shown, typed, words
from tests.web.test_needed_fields import FORMS, STRIP, Form

ACT = Stamp(who="", now=NOW)

ANY_SIZE = frozenset({"artwork.size", "package.size", *(f"windows.{row}.size" for row in range(4))})
"""Sizes that a customer says: these are exampled by several ways of saying one."""

LENGTHS = (
    "a moulding",
    "a moulding by size",
    "a mat",
    "glazing",
    "an extra",
    "allowances",
    "prices",
    "cutting",
    "a cutter",
    "a test cut",
    "receiving",
    "an offcut",
    "a quote",
    "a quote by its package",
    "a quote of an object",
    "a quote with a fillet and spacers",
)


def shown(path: str, answer: Shown) -> str:
    if answer.status == 303:
        return ""
    id_ = path.replace(".", "-").replace("_", "-") + "-error"
    return next((words(each) for each in answer.each(id=id_)), "")


@pytest.fixture(params=Unit)
def working(bare: Store, request: pytest.FixtureRequest) -> Iterator[tuple[Counter, Unit]]:
    """A shop in either unit, with a cutter."""
    unit: Unit = request.param
    shop = usual_shop("Sedge Lane Frames", unit, "EUR", Fraction(0))
    shops.set_up(bare, shop, ACT)
    with bare.writing() as work:
        work.materials.add_all((*BOOK, FILLET, STRIP), now=NOW)
    with browser_on(bare) as client:
        counter = Counter(client)
        cutter = counter.get("/settings/cutters/new").form("/settings/cutters/new")
        counter.go("/settings/cutters/new", {**cutter, "name": "The old one", "action": "save"})
        yield counter, unit


@pytest.mark.slow
@pytest.mark.parametrize("name", LENGTHS)
def test_the_example_for_a_length_is_one_that_its_field_takes(
    working: tuple[Counter, Unit], name: str
) -> None:
    (counter, unit), form = working, FORMS[name]
    filled = typed(counter.get(form.page).form(form.to)) | form.given | {"action": form.action}
    exampled = dict(examples_of(counter, form, filled))
    assert exampled, "the form asks for no length"
    ways = {path: such.split(" or ") for path, such in exampled.items()}
    for path, way in ways.items():
        for text in way:
            said = shown(path, counter.post(form.to, {**filled, path: text}))
            assert "cannot be read" not in said, (path, text, said)
    for path, (first, *_) in ways.items():
        in_mm = (unit is Unit.MM) is not path.startswith(
            "scales.1."
        )  # the second scale has the other unit
        assert first.endswith(" mm" if in_mm else '"'), (path, first)


def examples_of(counter: Counter, form: Form, filled: dict[str, str]) -> Iterator[tuple[str, str]]:
    """(path, example) of every field that reads a length."""
    for path in filled:
        if path in ANY_SIZE or path in ("version", "action", "kind"):
            continue
        answer = counter.post(form.to, {**filled, path: "zz"})
        said = shown(path, answer)
        if match := re.search(r"Type a (?:length|width and a height) such as (.*)\.$", said):
            assert "40 cm" not in match[1], f"{path} has no example of its own: {said}"
            yield path, match[1]


@pytest.mark.parametrize(
    ("unit", "sentence"),
    [
        (Unit.MM, 'The length of a stick is empty; type a length, such as 3000 mm or 120".'),
        (Unit.IN, 'The length of a stick is empty; type a length, such as 120" or 3000 mm.'),
    ],
)
def test_a_stick_is_not_asked_for_in_the_length_of_a_face(
    bare: Store, first_page: TestClient, unit: Unit, sentence: str
) -> None:
    shop = usual_shop("Sedge Lane Frames", unit, "EUR", Fraction(0))
    shops.set_up(bare, shop, ACT)
    form = {"kind": "moulding", "code": "A", "name": "A", "cost": "5", "action": "save"}
    answer = Counter(first_page).post("/materials/new", form)
    assert sentence in answer.error("profile.stick")
    assert "such as 20 mm" not in answer.error("profile.lip")


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize(
    "example",
    [Example(mm(3000), inches(120)), Example(mm("1.5"), inches("1/16"))],
)
def test_what_is_said_reads_back_as_the_example(example: Example, unit: Unit) -> None:
    read = [parse_length(text, unit=unit) for text in example.said(unit).split(" or ")]
    own = [example.mm, example.inches]
    assert read == (own if unit is Unit.MM else own[::-1])


def test_a_size_reads_back_as_the_example_too() -> None:
    example = Example(Size(mm(1120), mm(815)), Size(inches(40), inches(32)))
    read = [parse_size(text, unit=Unit.MM) for text in example.said(Unit.MM).split(" or ")]
    assert read == [example.mm, example.inches]


@pytest.mark.parametrize(("kind", "such"), [("watercolour", "0.3 mm"), ("object", "40 mm")])
def test_an_object_is_not_asked_for_the_height_of_a_sheet_of_paper(
    counter: Counter, kind: str, such: str
) -> None:
    form = FORMS["a quote"].given | {"artwork.kind": kind, "artwork.thickness": "high"}
    said = counter.post("/quotes", form | {"action": "save"}).error("artwork.thickness")
    assert f"such as {such}" in said
