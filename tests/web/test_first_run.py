"""The first run: before there is a shop every page leads to the questions."""

from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from app.lengths import Unit, inches, mm
from app.orders import Paper
from app.storage import Store
from tests.web.reading import Page

ANSWERS = {
    "name": "Sedge Lane Frames",
    "unit": "in",
    "currency": "usd",
    "tax": "8.25",
    "stated": "without",
    "paper": "Letter",
    "hourly_rate": "42",
}


@pytest.mark.parametrize(
    "path", ["/", "/quotes", "/quotes/new", "/orders", "/orders/3", "/materials", "/customers",
             "/customers/7", "/settings"],
)  # fmt: skip
def test_without_a_shop_every_page_leads_to_the_questions(
    first_page: TestClient, path: str
) -> None:
    answer = first_page.get(path, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/welcome")


def test_the_answers_make_the_shop(first_page: TestClient, bare: Store) -> None:
    answer = first_page.post("/welcome", data=ANSWERS, follow_redirects=False)
    assert answer.status_code == 303
    shop = bare.current_shop()
    assert shop is not None
    assert (shop.name, shop.unit, shop.paper) == ("Sedge Lane Frames", Unit.IN, Paper.LETTER)
    assert shop.currency.code == "USD"
    assert shop.labour.hourly_rate.minor == 4200
    assert not shop.tax_policy.included
    assert shop.tax_rates[0].percent == Fraction("0.0825")


@pytest.mark.parametrize("paper", list(Paper))
def test_every_paper_can_be_chosen(first_page: TestClient, bare: Store, paper: Paper) -> None:
    assert f'value="{paper.value}"' in first_page.get("/welcome").text
    first_page.post("/welcome", data={**ANSWERS, "paper": paper.value})
    shop = bare.current_shop()
    assert shop is not None
    assert shop.paper is paper


def test_all_faults_stand_beside_their_fields_and_what_was_typed_is_kept(
    first_page: TestClient, bare: Store
) -> None:
    typed = {**ANSWERS, "name": "", "currency": "shells", "tax": "NaN", "hourly_rate": "-3"}
    answer = first_page.post("/welcome", data=typed)
    page = Page(answer.text)
    assert answer.status_code == 422
    assert set(page.errors) == {"name", "currency", "tax", "hourly-rate"}
    assert page.errors["currency"].count("shells") == 1
    assert page.title.startswith("Error: ")
    assert {name: page.values[name] for name in typed} == typed
    assert bare.current_shop() is None


def test_a_rate_is_judged_in_no_currency_that_was_not_chosen(first_page: TestClient) -> None:
    """The currency alone is to be mended: what stands beside a number may well be its sign."""
    typed = {**ANSWERS, "currency": "$", "hourly_rate": "$45.00"}
    page = Page(first_page.post("/welcome", data=typed).text)
    assert set(page.errors) == {"currency"}
    page = Page(first_page.post("/welcome", data={**typed, "hourly_rate": "-45"}).text)
    assert set(page.errors) == {"currency", "hourly-rate"}
    assert "-45" in page.errors["hourly-rate"]
    assert "EUR" not in page.errors["hourly-rate"]


@pytest.mark.parametrize("name", ["x" * 10_000, "", "   "])
def test_a_name_that_cannot_head_a_quote_is_refused(first_page: TestClient, name: str) -> None:
    answer = first_page.post("/welcome", data={**ANSWERS, "name": name})
    assert answer.status_code == 422
    assert set(Page(answer.text).errors) == {"name"}


def test_markup_and_emoji_in_a_name_are_plain_text(first_page: TestClient) -> None:
    first_page.post("/welcome", data={**ANSWERS, "name": "<script>x</script> 🖼"})
    answer = first_page.get("/customers")
    assert "<script>x" not in answer.text
    assert "<script>x</script> 🖼" in Page(answer.text).text


def test_a_second_first_run_is_refused(page: TestClient, store: Store) -> None:
    assert page.get("/welcome", follow_redirects=False).headers["location"] == "/"
    assert page.post("/welcome", data=ANSWERS).status_code == 409
    shop = store.current_shop()
    assert shop is not None
    assert shop.currency.code == "EUR"


def test_the_sample_moves_in_with_one_button_and_out_with_two(
    first_page: TestClient, bare: Store
) -> None:
    answer = first_page.post("/welcome/sample")
    assert answer.status_code == 200
    assert "sample shop, all invented" in Page(answer.text).text
    shop = bare.current_shop()
    assert shop is not None
    assert shop.sample
    assert first_page.post("/welcome/sample").status_code == 409
    links = Page(first_page.get("/settings/data").text).links
    first_page.get(links["Delete the sample shop"])
    answer = first_page.post(links["Delete the sample shop"])
    assert answer.url.path == "/welcome"
    assert bare.current_shop() is None
    assert first_page.post("/welcome", data=ANSWERS).status_code == 200
    shop = bare.current_shop()
    assert shop is not None
    assert not shop.sample


def test_a_cutter_that_is_named_is_the_shops_own(first_page: TestClient, bare: Store) -> None:
    """A bare 32 is in the shop's unit; what is not asked for is as a usual cutter has it."""
    cutter = {"cutter.name": "Bench cutter", "cutter.cut_length": "32", "cutter.unit": "mm"}
    first_page.post("/welcome", data={**ANSWERS, **cutter})
    shop = bare.current_shop()
    assert shop is not None
    (kept,) = shop.cutters
    assert (kept.name, kept.cut_length, kept.unit) == ("Bench cutter", inches(32), Unit.MM)
    assert kept.guide_reach == mm(200)


def test_without_a_word_of_a_cutter_none_is_made_up(first_page: TestClient, bare: Store) -> None:
    first_page.post("/welcome", data={**ANSWERS, "cutter.unit": ""})
    shop = bare.current_shop()
    assert shop is not None
    assert shop.cutters == ()


@pytest.mark.parametrize("text", ["16x", "0", "1e9", "\N{FRAME WITH PICTURE}"])
def test_a_cutter_that_cannot_be_is_said_at_its_field(
    first_page: TestClient, bare: Store, text: str
) -> None:
    answer = first_page.post("/welcome", data={**ANSWERS, "cutter.cut_length": text})
    shown = Page(answer.text)
    assert answer.status_code == 422
    assert set(shown.errors) == {"cutter-cut-length"}
    assert shown.values["cutter.cut_length"] == text
    assert bare.current_shop() is None


def test_the_shop_starts_with_what_the_page_says_is_needed(
    first_page: TestClient, bare: Store
) -> None:
    assert "Name, unit and currency are what the shop cannot start without" in (
        first_page.get("/welcome").text
    )
    needed = {"name": "Sedge Lane Frames", "unit": "mm", "currency": "eur"}
    assert first_page.post("/welcome", data=needed, follow_redirects=False).status_code == 303
    assert bare.current_shop() is not None
