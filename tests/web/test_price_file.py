"""The price book as a CSV file: what goes out comes back, with all faults by row."""

import csv
import io
from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from app.pricing import Charge, ChargeBy, Trait
from app.services import price_book
from app.storage import Stamp, Store
from tests.builders.watercolour import backing, glazing, mat, moulding
from tests.web.conftest import NOW
from tests.web.reading import Page

ACT = Stamp(who="", now=NOW)


@pytest.fixture
def book(store: Store) -> Store:
    for material in (moulding(), glazing(), backing()):
        price_book.add(store, material, ACT)
    return store


def bring(page: TestClient, text: str) -> Page:
    files = {"file": ("book.csv", text.encode(), "text/csv")}
    return Page(page.post("/materials/price-book", files=files).text)


def changed(text: str, row: int, **cells: str) -> str:
    """The file with some cells of a row changed; the first material is row 0."""
    rows = list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))
    rows[row] |= {name.replace("__", "."): value for name, value in cells.items()}
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0].keys())
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def test_the_file_that_went_out_changes_nothing_when_it_comes_back(
    page: TestClient, book: Store
) -> None:
    before = price_book.listed(book, inactive=True)
    text = page.get("/materials/price-book.csv").text
    shown = bring(page, text)
    assert "Unchanged 3" in shown.text
    assert "Bring it in" not in shown.text
    assert price_book.listed(book, inactive=True) == before


def test_a_changed_file_is_looked_at_and_then_brought_in(page: TestClient, book: Store) -> None:
    text = page.get("/materials/price-book.csv").text
    shown = bring(page, changed(text, 0, cost="8.40"))  # the first by code: B3
    assert "B3 Backing board · row 2 Cost, without tax 7.00 → 8.40" in shown.text
    assert price_book.get(book, "B3").value == backing()
    page.post("/materials/price-book", data={"text": shown.values["text"], "action": "save"})
    assert price_book.get(book, "B3").value.cost.minor == 840
    assert price_book.get(book, "B3").value.charge == backing().charge


def test_the_rule_of_what_is_opened_goes_out_and_comes_in(page: TestClient, book: Store) -> None:
    text = page.get("/materials/price-book.csv").text
    shown = bring(page, changed(text, 1, charge__by="opened", charge__minimum_area="0.2"))
    page.post("/materials/price-book", data={"text": shown.values["text"], "action": "save"})
    charge = Charge(by=ChargeBy.OPENED, minimum_area=Fraction(1, 5))
    code = sorted(each.code for each in price_book.listed(book))[1]
    assert price_book.get(book, code).value.charge == charge
    assert ",opened," in page.get("/materials/price-book.csv").text.replace(";", ",")


def test_all_faults_are_said_by_row_and_nothing_is_brought_in(
    page: TestClient, book: Store
) -> None:
    text = page.get("/materials/price-book.csv").text
    text = changed(text, 0, cost="much", charge__bands="800: x")
    text = changed(text, 1, sheet__traits="shiny")
    text = changed(text, 2, code="B3")
    shown = bring(page, text).text
    assert "Rows refused 3 To change in the file" in shown
    codes = sorted(each.code for each in price_book.listed(book))
    assert f"Row 2, {codes[0]}, Cost:" in shown
    assert f"Row 2, {codes[0]}, Prices by size (charge.bands):" in shown
    assert f"Row 3, {codes[1]}, What it is (sheet.traits):" in shown
    assert "Row 4, B3, Code:" in shown
    assert len(price_book.listed(book)) == 3


def test_what_is_not_said_of_a_kind_is_refused_by_row(page: TestClient, book: Store) -> None:
    text = page.get("/materials/price-book.csv").text
    kinds = [row["kind"] for row in csv.DictReader(io.StringIO(text.removeprefix("\ufeff")))]
    shown = bring(page, changed(text, kinds.index("board"), sheet__traits="glass")).text
    assert "“glass” is not said of a board; acid-free, one-way may be." in shown


def test_cells_that_a_spreadsheet_would_take_for_a_formula_are_made_safe(
    page: TestClient, store: Store
) -> None:
    for code, name in (("A", "=1+1"), ("B", "@cmd"), ("C", "-x"), ("D", "'=y"), ("E", "plain")):
        price_book.add(store, moulding(code=code, name=name), ACT)
    text = page.get("/materials/price-book.csv").text
    rows = list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))
    assert [row["name"] for row in rows] == ["'=1+1", "'@cmd", "'-x", "''=y", "plain"]
    assert "Unchanged 5" in bring(page, text).text


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "No file was chosen."),
        (b"hello", "The first row must name the columns"),
        (b"\xff\xfe\x00", "The file is not in UTF-8"),
        (b"code,kind,colr\nA,mat,x\n", "is not known"),
        (b'code,kind\n"A', "This is no CSV file"),
        (
            b"code;kind" + b";" * 100_000,
            "Row 1 has 100002 cells; at most 200 are read in a row.",
        ),
        (
            b"code,kind\nA,mat" + b",x" * 100_000,
            "Row 2 has 100002 cells; at most 200 are read in a row.",
        ),
        (b";" * 100_000, "The first row must name the columns"),
        (b"code,kind," + b";x" * 60_000 + b"\nA,mat,", "is not known"),
        (b"x" * 1_000_001, "The file is too large"),
        (b"code,kind\nA,<b>wood</b>\n", "The kind is"),
    ],
)
def test_a_file_that_cannot_be_read_is_said_why(
    page: TestClient, content: bytes, sentence: str
) -> None:
    name = "book.csv" if content else ""
    answer = page.post("/materials/price-book", files={"file": (name, content, "text/csv")})
    assert answer.status_code == 422
    assert sentence in Page(answer.text).text
    assert "<b>wood" not in answer.text


def test_a_new_material_in_the_file_is_added(page: TestClient, store: Store) -> None:
    price_book.add(store, moulding(), ACT)
    text = page.get("/materials/price-book.csv").text
    shown = bring(page, changed(text, 0, code="W26", name="Walnut hollow, black"))
    assert "W26 Walnut hollow, black · row 2 Kind moulding" in shown.text
    page.post("/materials/price-book", data={"text": shown.values["text"], "action": "save"})
    assert price_book.get(store, "W26").value.name == "Walnut hollow, black"
    assert mat().name not in shown.text


def test_a_file_in_the_words_that_the_form_had_before_is_read(
    page: TestClient, store: Store
) -> None:
    price_book.add(store, moulding(), ACT)
    price_book.add(store, backing(), ACT)
    text = (
        "code;Further words to find it by;On offer in quotes;selling;sheet.traits\n"
        f"W25;walnut dark;no;Cost × a number;\n{backing().code};;;;has a direction: never cut turned\n"
    )
    shown = bring(page, text)
    assert "Search words" in shown.text
    assert "Changed 2" in shown.text
    page.post("/materials/price-book", data={**shown.values, "action": "save"})
    assert price_book.get(store, "W25").value.tags == ("walnut", "dark")
    assert not price_book.get(store, "W25").value.active
    sheet = price_book.get(store, backing().code).value.sheet
    assert sheet is not None
    assert Trait.ONE_WAY in sheet.traits
