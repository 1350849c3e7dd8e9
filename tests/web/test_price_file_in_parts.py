"""A file that speaks of a part of the price book: what it leaves alone, and what it shows before it acts."""

import csv
import io
from dataclasses import replace
from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from app.framing import ProfileShape
from app.money import TaxRate
from app.pricing import Charge, ChargeBy, CostPer, Kind, Selling, Trait
from app.services import price_book
from app.services import shop as shops
from app.storage import Stamp, Store
from app.web.kit.text_table import SEPARATORS
from seed_demo.price_book import price_book as sample_book
from seed_demo.shop import quillmoor
from tests.builders.values import euro
from tests.builders.watercolour import backing, extra, glazing, mat, moulding, ring
from tests.web.conftest import NOW
from tests.web.reading import Page

ACT = Stamp(who="", now=NOW)
PATH = "/materials/price-book"

BLACK = moulding(
    code="BA20",
    name="Black ash",
    charge=Charge(by=ChargeBy.LENGTH, waste=Fraction(1, 10)),
    finish="waxed",
    supplier="Holm Timber",
    notes="Two lines\r\nas a browser posts them.",
)
OLIVE = moulding(code="OL30", name="Olive", active=False)


@pytest.fixture
def book(store: Store) -> Store:
    for material in (BLACK, OLIVE, glazing(), backing(), ring()):
        price_book.add(store, material, ACT)
    return store


def look(page: TestClient, content: str | bytes, status: int = 200) -> Page:
    """The answer to a file."""
    content = content.encode() if isinstance(content, str) else content
    answer = page.post(PATH, files={"file": ("book.csv", content, "text/csv")})
    assert answer.status_code == status, Page(answer.text).text
    return Page(answer.text)


def bring(page: TestClient, content: str | bytes) -> Page:
    """What a file was seen to do, after it was done."""
    seen = look(page, content)
    data = {name: seen.values[name] for name in ("text", "seen")} | {"action": "save"}
    answer = page.post(PATH, data=data, follow_redirects=False)
    assert answer.status_code == 303, Page(answer.text).text
    return seen


def test_a_file_of_costs_changes_costs_and_nothing_else(page: TestClient, book: Store) -> None:
    seen = bring(page, "code,cost\nBA20,16.20\n")
    assert "Changed 1 Unchanged 0 Not in the file 4 stay as they are" in seen.text
    assert "BA20 Black ash · row 2 Cost, without tax 15.00 → 16.20" in seen.text
    assert seen.text.count("→ 1") == 1
    assert price_book.get(book, "BA20").value == replace(BLACK, cost=euro("16.20"))


def test_a_blank_cell_leaves_its_field_and_a_dash_empties_it(page: TestClient, book: Store) -> None:
    seen = bring(page, "code,cost,finish,supplier,charge.waste\nba20,,-,,–\n")
    assert "Finish waxed → blank" in seen.text
    assert "Added for waste, % 10 → 0" in seen.text
    changed = replace(BLACK, finish="", charge=Charge(by=ChargeBy.LENGTH))
    assert price_book.get(book, "BA20").value == changed


def test_a_shape_of_profile_is_told_by_its_value_or_in_the_words_of_the_trade(
    page: TestClient, book: Store
) -> None:
    bring(page, "code,shape of profile\nba20,half-round\nol30,scoop\n")
    shapes = [price_book.get(book, code).value.shape for code in ("BA20", "OL30")]
    assert shapes == [ProfileShape.ROUNDED, ProfileShape.SCOOP]
    bring(page, "code,shape\nba20,-\n")
    assert price_book.get(book, "BA20").value == BLACK


def test_a_text_that_is_only_a_dash_goes_out_and_comes_back(page: TestClient, book: Store) -> None:
    price_book.save(book, "BA20", replace(BLACK, finish="-"), 1, ACT)
    text = page.get(f"{PATH}.csv").text
    assert ",'-," in text
    assert "Unchanged 5" in look(page, text).text


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        ("BA20,-,,", "Row 2, BA20, Cost: The cost is empty; type what one costs you"),
        (
            "BA20,,-,",
            "Row 2, BA20, Cost is for (per): A dash empties a field, but “Cost is for” is a choice",
        ),
        (
            "BA20,,,-",
            "Row 2, BA20, Offered in quotes (active): A dash empties a field, but “Offered in quotes” is a choice",
        ),
        (
            "BA20,,gross,",
            "Row 2, BA20, Cost is for (per): “gross” is no choice for “Cost is for”; one of a stick, a",
        ),
        ("-,5,,", "Row 2, Code: The code is empty"),
        ("NEW,5,,", "Row 2, NEW, Kind: “NEW” is not in the price book; say of what kind it is"),
        ("BA20,5,,,,7", "Row 2, BA20: The row goes on beyond the last column: “7”."),
        ("BA20,12,50,,", "Row 2, BA20, Cost is for (per): “50” is no choice"),
    ],
)
def test_what_cannot_be_read_is_said_by_row_and_column(
    page: TestClient, book: Store, row: str, sentence: str
) -> None:
    before = price_book.by_code(book)
    shown = look(page, f"code,cost,per,active\n{row}\nOL30,1.00,,\n", 422)
    assert sentence in shown.text
    assert price_book.by_code(book) == before


def test_rows_are_counted_as_a_spreadsheet_does(page: TestClient, book: Store) -> None:
    shown = look(page, 'code,notes\nBA20,"one\ntwo"\n\n,,\nOL30,x\nG2,y,z\n', 422)
    assert "Row 6, G2: The row goes on beyond" in shown.text


TEXT = "code{0}name{0}cost{0}charge.waste\nBA20{0}Frêne noir{0}16{1}25{0}12{1}5\n"


@pytest.mark.parametrize("separator", [(",", "."), (";", ","), ("\t", "."), (";", ".")])
@pytest.mark.parametrize(
    "coded",
    [
        ("utf-8", b""),
        ("utf-8", b"\xef\xbb\xbf"),
        ("utf-16-le", b"\xff\xfe"),
        ("utf-16-be", b"\xfe\xff"),
        ("cp1252", b""),
    ],
)
def test_the_ways_of_spreadsheets_to_save_a_table_are_read(
    page: TestClient, book: Store, separator: tuple[str, str], coded: tuple[str, bytes]
) -> None:
    (mark_of_columns, comma), (encoding, mark) = separator, coded
    content = mark + TEXT.format(mark_of_columns, comma).replace("\n", "\r\n").encode(encoding)
    seen = bring(page, content)
    assert f"separated by {SEPARATORS[mark_of_columns]}" in seen.text
    changed = price_book.get(book, "BA20").value
    assert (changed.name, changed.cost) == ("Frêne noir", euro("16.25"))
    assert changed.charge.waste == Fraction(1, 8)


@pytest.mark.parametrize(
    "content",
    [
        b"\xff\xfec\x00o\x00d\x00e",  # half a character
        b"\xef\xbb\xbfcode\n\xff",
        "code,name\nBA20,Łódź\n".encode("utf-16-le"),  # without its mark
        b"code,name\nBA20,\x81\x8d\n",  # no characters of Windows-1252
    ],
)
def test_bytes_that_are_no_text_are_refused(page: TestClient, content: bytes) -> None:
    assert "not in UTF-8, UTF-16 or Windows-1252" in look(page, content, 422).text


def test_with_semicolons_a_comma_is_a_decimal_comma_even_before_three_digits(
    page: TestClient, book: Store
) -> None:
    bring(page, "code;profile.face;charge.bands\nBA20;25,125;\nB3;;800: 4,50\n")
    profile = price_book.get(book, "BA20").value.profile
    assert profile is not None
    assert profile.face.mm == Fraction("25.125")
    assert price_book.get(book, "B3").value.charge.bands[0].price == euro("4.50")
    assert "may mean thousands" in look(page, 'code,profile.face\nBA20,"25,125"\n', 422).text


@pytest.mark.parametrize(
    ("said", "per"),
    [
        ("m", CostPer.METRE),
        ("metre", CostPer.METRE),
        ("a metre", CostPer.METRE),
        ("per metre", CostPer.METRE),
        ("Per Meter", CostPer.METRE),
        ("/m", CostPer.METRE),
        ("lin. m", CostPer.METRE),
        ("ft", CostPer.FOOT),
        ("foot", CostPer.FOOT),
        ("per ft.", CostPer.FOOT),
        ("a foot", CostPer.FOOT),
        ("a stick", CostPer.STICK),
    ],
)
def test_a_cost_basis_is_read_in_the_words_of_the_trade(
    page: TestClient, book: Store, said: str, per: CostPer
) -> None:
    bring(page, f'code,cost,per\nBA20,4.00,"{said}"\n')
    assert price_book.get(book, "BA20").value.per is per


def test_every_choice_is_read_in_plain_words(page: TestClient, book: Store) -> None:
    bring(
        page,
        "code,kind,name,cost,per,charge.by,selling,selling.price,tax,sheet.size,sheet.thickness,"
        "sheet.traits,active\n"
        'C1,Glass,Clear,18,sq. m,By area,fixed price,54,No tax,1200 x 900,2,"glass, filters UV light",no\n',
    )
    new = price_book.get(book, "C1").value
    assert (new.kind, new.per, new.charge.by) == (Kind.GLAZING, CostPer.SQUARE_METRE, ChargeBy.AREA)
    assert (new.selling, new.tax, new.active) == (Selling(price=euro("54")), "none", False)
    assert new.sheet is not None
    assert new.sheet.traits == {Trait.GLASS, Trait.UV_FILTER}


def test_what_is_new_is_on_sale_and_needs_what_its_form_needs(
    page: TestClient, book: Store
) -> None:
    head = "code,kind,name,cost,selling.markup,profile.face,profile.rebate_depth,profile.stick"
    row = "P15,moulding,Pine,9.00,3,15,10,3000"
    shown = look(page, f"{head}\n{row}\n", 422).text
    assert 'Row 2, P15, Lip: The lip is empty; type a length, such as 6 mm or 1/4"' in shown
    seen = bring(page, f"{head},Lip\n{row},5\n").text
    assert "Offered in quotes yes" in seen
    assert "Cost is for a stick" in seen
    assert price_book.get(book, "P15").value.active


def test_what_is_off_sale_stays_so_unless_the_file_says_otherwise(
    page: TestClient, book: Store
) -> None:
    bring(page, "code,cost,active\nOL30,9.00,\n")
    assert not price_book.get(book, "OL30").value.active
    seen = bring(page, "code,active\nOL30,yes\nBA20,off sale\n").text
    assert "Offered in quotes no → yes" in seen
    assert price_book.get(book, "OL30").value.active
    assert not price_book.get(book, "BA20").value.active


def test_the_way_of_selling_follows_the_one_price_that_is_given(
    page: TestClient, book: Store
) -> None:
    seen = bring(page, "code,selling.price\nBA20,12.00\n").text
    assert "Sells by Cost × a markup factor → A fixed selling price" in seen
    assert "Markup, cost × 2.84 → blank" in seen
    assert price_book.get(book, "BA20").value.selling == Selling(price=euro("12.00"))
    both = "code,selling.price,selling.markup\nBA20,12.00,3\n"
    assert "Row 2, BA20, Sells by: Several are given: markup, price" in look(page, both, 422).text


def test_only_figures_have_decimal_commas(page: TestClient, book: Store) -> None:
    kept = shops.get(book)
    rates = (*kept.value.tax_rates, TaxRate("low", "Low 5,5", Fraction(11, 200)))
    shops.save(book, replace(kept.value, tax_rates=rates), kept.version, ACT)
    bring(page, "code;name;tax;charge.shares\nBA20;Ash 1,5;low 5,5;\n")
    assert price_book.get(book, "BA20").value.name == "Ash 1,5"
    assert price_book.get(book, "BA20").value.tax == "low"


def test_columns_that_are_not_known_and_cells_that_count_for_nothing_are_named(
    page: TestClient, book: Store
) -> None:
    text = "code,cost,supplyer,EAN,profile.face,charge.step\nG2,19.00,x,400,20,\nBA20,15.00,,,,50\n"
    seen = bring(page, text).text
    assert "no such column: “supplyer” (did you mean supplier?), “EAN”." in seen
    assert "1 material has cells that count for nothing" in seen
    assert "G2 Clear 2 mm · row 2 Face width, mm 20" in seen
    assert "Rounded up to steps of, mm 0 → 50" in seen


def test_columns_are_known_by_the_words_of_the_form_too(page: TestClient, book: Store) -> None:
    bring(page, "CODE,Cost,Face width\nBA20,15.50,26\n")
    changed = price_book.get(book, "BA20").value
    assert changed.cost == euro("15.50")
    assert changed.profile is not None
    assert changed.profile.face.mm == 26
    twice = look(page, "code,cost,Cost\nBA20,1,2\n", 422).text
    assert "The first row names “cost” twice" in twice


def test_a_file_comes_back_as_it_went_out_even_into_an_empty_shop(
    first_page: TestClient, bare: Store
) -> None:
    """The sample's whole book, with what no sample has."""
    shops.set_up(bare, quillmoor(), ACT)
    whole = (*sample_book(), BLACK, OLIVE, extra(), mat(selling=Selling(markup=Fraction(1, 3))))
    with bare.writing() as work:
        work.materials.add_all(whole, now=NOW)
    text = first_page.get(f"{PATH}.csv").text
    seen = look(first_page, text).text
    assert f"New 0 Changed 0 Unchanged {len(whole)}" in seen
    assert "count for nothing" not in seen
    before = price_book.listed(bare, inactive=True)
    for material in before:
        price_book.remove(bare, material.code, 1)
    bring(first_page, text)
    assert price_book.listed(bare, inactive=True) == before


def test_five_hundred_rows_are_counted_first_and_folded(page: TestClient, store: Store) -> None:
    with store.writing() as work:
        work.materials.add_all([moulding(code=f"W{n:03}") for n in range(500)], now=NOW)
    rows = "".join(f"W{n:03},16.00,{'Holm' if n < 30 else ''}\n" for n in range(500))
    answer = page.post(PATH, files={"file": ("b.csv", f"code,cost,supplier\n{rows}".encode())})
    text = Page(answer.text).text
    assert "change 500" in text
    assert "Changed: Cost, without tax 500×, Supplier 30×" in text
    assert text.count("Cost, without tax 15.00 → 16.00") == 500
    assert text.count("Supplier blank → Holm") == 30
    opened = answer.text.split("<details", 1)[0]
    assert opened.count('role="rowheader"') == 20


def test_what_was_changed_since_the_look_is_looked_at_again(page: TestClient, book: Store) -> None:
    seen = look(page, "code,cost\nBA20,16.20\n")
    price_book.save(book, "BA20", replace(BLACK, cost=euro("17")), 1, ACT)
    data = {name: seen.values[name] for name in ("text", "seen")} | {"action": "save"}
    answer = page.post(PATH, data=data)
    assert answer.status_code == 409
    again = Page(answer.text)
    assert "Nothing was brought in" in again.text
    assert "17.00 → 16.20" in again.text
    assert price_book.get(book, "BA20").value.cost == euro("17")
    page.post(PATH, data=data | {"seen": again.values["seen"]})
    assert price_book.get(book, "BA20").value.cost == euro("16.20")


def test_a_file_is_cleaned_as_a_form_is(page: TestClient, book: Store) -> None:
    dirty = "\x00 Black\x07 ash,\u00a0wide\x1b \x9f"
    bring(page, f'code,name\n" BA\x0020 ","{dirty}"\n')
    from_file = price_book.get(book, "BA20").value.name
    form = Page(page.get("/materials/OL30/edit").text).values
    page.post("/materials/OL30/edit", data=form | {"name": dirty, "action": "save"})
    assert from_file == price_book.get(book, "OL30").value.name == "Black ash,\u00a0wide"


def test_a_former_code_means_the_material_that_bore_it(page: TestClient, book: Store) -> None:
    price_book.save(book, "BA20", replace(BLACK, code="BA21"), 1, ACT)
    seen = bring(page, "code,cost\nBA20,16.20\n").text
    assert "BA21 Black ash" in seen
    assert price_book.get(book, "BA21").value.cost == euro("16.20")
    twice = look(page, "code,cost\nBA20,1\nBA21,2\n", 422).text
    assert "Row 3, BA21, Code: The code “BA21” stands in the file twice, first in row 2." in twice


def test_the_page_says_how_a_field_is_left_and_how_it_is_emptied(page: TestClient) -> None:
    text = Page(page.get(PATH).text).text
    assert "What the file does not speak of stays" in text
    assert "To empty a field on purpose type a single dash, -" in text


def test_the_file_says_yes_or_no_of_what_is_on_sale(page: TestClient, book: Store) -> None:
    text = page.get(f"{PATH}.csv").text.removeprefix("\ufeff")
    said = {row["code"]: row["active"] for row in csv.DictReader(io.StringIO(text))}
    assert said == {"B3": "yes", "BA20": "yes", "G2": "yes", "OL30": "no", "R1": "yes"}
