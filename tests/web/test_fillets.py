"""A fillet through HTTP: from the quote page to its ticket, and as programs ask for it (G19).

The figures of the page are worked by hand beside FILLET in `tests.builders.worked`: in the inner window of
400 × 300 outside 408 × 308, inside 388 × 288; 115.81 to pay.
"""

from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from app.services import price_book
from app.storage import Stamp, Store
from tests.builders.worked import FILLET, TO_PAY, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown
from tests.web.test_orders import do

LINED = {**TYPED, "fillet.material": "FIL-10", "fillet.depth": "3"}
NEW = {"customer": "Amber Quill", "version": "0", "action": "save"}


@pytest.fixture
def at_counter(counter: Counter, stocked: Store) -> Counter:
    """A counter whose price book has the fillet as well."""
    price_book.add(stocked, FILLET, Stamp(who="Ilse", now=NOW))
    return counter


def worked(counter: Counter, **changes: str) -> Shown:
    """The page while typing; a__b stands for a.b."""
    typed = {name.replace("__", "."): text for name, text in changes.items()}
    return counter.post("/quotes?live=1", LINED | typed)


def test_a_fillet_is_worked_out_while_typing(at_counter: Counter) -> None:
    page = worked(at_counter)
    assert page.status == 200
    assert page.facts["fillet shows"] == "6 mm"
    assert page.facts["sight size in the fillet"] == "388 × 288 mm"
    assert page.facts["stack"] == "11 of 14 mm in the rebate"
    price = page.words(id="price")
    assert "115.81" in price
    assert "Gilt bead fillet" in price
    assert "covers, with the mat, 11 mm of the artwork" in price
    assert page.words(id="fillet-material-said") == "Gilt bead fillet"


def test_what_is_missing_is_asked_for_and_what_is_wrong_stands_at_its_field(
    at_counter: Counter,
) -> None:
    missing = worked(at_counter, fillet__depth="")
    assert missing.error("fillet.depth") == ""
    assert "type it, as 3 mm" in missing.words(id="price")
    refused = at_counter.post("/quotes", LINED | NEW | {"fillet.depth": ""})
    assert refused.status == 422
    assert "type it, as 3 mm" in refused.error("fillet.depth")
    assert refused.fields["fillet.material"] == "FIL-10"
    wrong = worked(at_counter, fillet__tuck="12")
    assert "whole face is 10 mm" in wrong.error("fillet.tuck")


def test_the_form_works_without_scripts_and_keeps_what_was_typed(at_counter: Counter) -> None:
    typed = LINED | {"fillet.tuck": "3 1/2 mm", "customer": "Amber Quill"}
    page = at_counter.post("/quotes", typed | {"action": "recalculate", "version": "0"})
    assert page.status == 200
    assert page.fields["fillet.tuck"] == "3 1/2 mm"
    assert page.words(id="fillet-tuck-said") == "3.5 mm"
    # 400 + 2 × 3.5 = 407, less 2 × 10 = 387.
    assert page.facts["sight size in the fillet"] == "387 × 287 mm"


def test_a_fillet_waits_while_the_artwork_is_shown_without_a_mat(at_counter: Counter) -> None:
    page = at_counter.post(
        "/quotes", LINED | {"presentation": "close", "action": "recalculate", "version": "0"}
    )
    assert page.status == 200
    assert page.fields["fillet.material"] == "FIL-10"
    assert page.words(id="fillet-material-said") == "not used here"
    assert "Gilt bead fillet" not in page.words(id="price")


def test_an_untouched_piece_costs_what_it_did(at_counter: Counter) -> None:
    page = at_counter.post("/quotes?live=1", TYPED)
    assert TO_PAY in page.words(id="price")
    assert "fillet shows" not in page.facts


@pytest.mark.documents
def test_from_the_quote_to_the_ticket(at_counter: Counter) -> None:
    at_counter.go("/quotes", LINED | NEW)
    order = "/orders/1"
    again = at_counter.get(f"{order}/pieces/1/change")
    assert (again.fields["fillet.material"], again.fields["fillet.depth"]) == ("FIL-10", "3")
    assert "Gilt bead fillet (FIL-10)" in at_counter.get(order).main
    do(at_counter, order, "take", deposit="")
    steps = at_counter.get(f"{order}/pieces/1").main
    assert "Fillet: 2 rails, cut to the long point (short point 388), equal end to end" in steps
    assert "fillet rail: 408 mm" in steps
    assert "Glue the fillet behind the window, 4 tucked all round" in steps
    ticket = text_of(at_counter, f"{order}/pieces/1/ticket.pdf")
    # Take 1432 + 4 × 8.5 = 1466.
    assert "FIL-10 Gilt bead fillet: uses 1466 of one 3000 stick" in ticket
    for figure in ("408", "388", "308", "288"):
        assert figure in ticket
    assert "glue the fillet behind the window" in ticket


def text_of(counter: Counter, path: str) -> str:
    answer = counter.client.get(path)
    assert answer.headers["content-type"] == "application/pdf"
    pages = PdfReader(BytesIO(answer.content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


# --- as programs ask for it -----------------------------------------------------------------------

MATTED: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "297", "height": "420"},
    "presentation": "window",
    "mats": [{"thickness": "1.4"}],
    "borders": {"left": "60", "right": "60", "top": "60", "bottom": "70"},
}
STRIP = {"face": "10", "lip": "4", "thickness": "3"}


def test_a_program_gets_every_fillet_exact_and_in_steps(api: TestClient) -> None:
    """Window 287 × 410: outside 295 × 418, sight 275 × 398; with a tuck of 3.7 outside 294.4 and
    417.4, sight 274.4 and 397.4, each up to the next 0.5.
    """
    asked = MATTED | {"fillet": STRIP}
    answer = api.post("/api/dimensions", json=asked).json()
    assert answer["fillets"] == [
        {
            "id": "",
            "outside": {"width": "295", "height": "418"},
            "sight": {"width": "275", "height": "398"},
            "long_points": ["295", "418"],
            "short_points": ["275", "398"],
        }
    ]
    assert answer["stack"] == "4.4"
    tucked = MATTED | {"fillet": STRIP | {"tuck": "3.7"}}
    shop = api.post("/api/dimensions", json=tucked).json()["shop"]["fillets"][0]
    assert shop["long_points"] == ["294.5", "417.5"]
    assert shop["short_points"] == ["274.5", "397.5"]


def test_a_fillet_leaves_the_bench_as_it_is(api: TestClient) -> None:
    with_it = api.post("/api/dimensions", json=MATTED | {"fillet": STRIP}).json()
    without = api.post("/api/dimensions", json=MATTED).json()
    assert with_it["bench"] == without["bench"]
    assert without["fillets"] == []
    assert without["shop"]["fillets"] == []


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"tuck": "10"}, "fillet.tuck"),
        ({"face": "0"}, "fillet.face"),
        ({"thickness": "0"}, "fillet.thickness"),
        ({"thickness": None}, "fillet.thickness"),
        ({"lip": "x"}, "fillet.lip"),
        ({"colour": "gold"}, "fillet.colour"),
    ],
)
def test_a_program_is_told_what_is_wrong_with_a_fillet(
    api: TestClient, change: dict[str, Any], path: str
) -> None:
    response = api.post("/api/dimensions", json=MATTED | {"fillet": STRIP | change})
    assert response.status_code == 422
    assert path in {field["path"] for field in response.json()["error"]["fields"]}


def test_a_program_is_priced_as_the_quote_page_is(at_counter: Counter) -> None:
    asked = {
        "artwork": {"size": "410 x 310", "kind": "watercolour"},
        "mats": [{"material": "M-101"}, {"material": "M-140", "reveal": "10"}],
        "borders": {"left": "90", "top": "80", "bottom": "100"},
        "frames": [{"material": "LIN-20"}],
        "glazing": "G-2",
        "backing": "B-3",
        "hardware": [{"material": "R-1", "count": 2}],
    }
    fillet = {"material": "FIL-10", "depth": "3"}
    answer = at_counter.client.post("/api/price", json=asked | {"fillet": fillet}).json()
    assert answer["price"]["total"] == "115.81"
    assert answer["dimensions"]["fillets"][0]["long_points"] == ["408", "308"]
    assert at_counter.client.post("/api/price", json=asked).json()["price"]["total"] == TO_PAY
    refused = at_counter.client.post(
        "/api/price", json=asked | {"fillet": fillet | {"depth": "0"}}
    ).json()
    assert [field["path"] for field in refused["error"]["fields"]] == ["fillet.depth"]


def test_a_fillet_is_described_for_programs(api: TestClient) -> None:
    schemas = api.get("/api/openapi.json").json()["components"]["schemas"]
    assert "fillet" in schemas["DimensionsAsked"]["properties"]
    assert "fillet" in schemas["PriceAsked"]["properties"]
    assert "fillets" in schemas["PartsAnswered"]["properties"]
