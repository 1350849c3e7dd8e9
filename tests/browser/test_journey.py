"""The main job from the first run to the last payment, each figure shown against one worked by hand.

The piece and its price are worked in `tests.builders.worked`; what comes on top is worked beside each step.
"""

import re
from collections.abc import Iterator
from io import BytesIO

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from tests.browser.conftest import Shop, stock, visiting
from tests.browser.keyboard import Keyboard
from tests.builders.worked import FACTS, HALF, LINES, TAX, TO_PAY

MEASURED = {
    *("artwork 410", "artwork 310", "window of mat 2: 400", "window of mat 2: 300", "reveal 10"),
    *(
        "window of mat 1: 420",
        "window of mat 1: 320",
        "90",
        "80",
        "100",
        "glass size 600",
        "glass size 500",
    ),
    *("rebate 603", "rebate 503", "sight 590", "sight 490", "face 20"),
    *("outside 630", "outside 530"),
}
SECTION = {
    *("lip 6.5", "face 20", "rebate 14", "stack 8", "room left 4", "fixing 2"),
    *("glazing 2", "mat 1: 1.5", "mat 2: 1.5", "backing 3"),
}
"""14 deep, less 2 for the points (D1), less the stack of 8, leaves 4."""


@pytest.fixture
def first_page(browser: Browser, new_shop: Shop) -> Iterator[Page]:
    """A page at the shop before its first run."""
    with visiting(browser, new_shop) as page:
        yield page


def facts(page: Page) -> dict[str, str]:
    """Every (what, figure) pair shown."""
    pairs = page.locator("main dl.facts > div")
    return dict(
        zip(
            pairs.locator("dt").all_inner_texts(),
            pairs.locator("dd").all_inner_texts(),
            strict=True,
        )
    )


def lines(page: Page) -> tuple[tuple[str, str], ...]:
    """(label, amount) of the lines of the price."""
    shown = page.locator(".price-line > summary")
    return tuple(
        (
            line.locator("> span").first.inner_text().split("\n")[0],
            line.locator(".amount").inner_text(),
        )
        for line in shown.all()
    )


def drawn(page: Page) -> set[str]:
    """The figures written on the drawing."""
    return set(page.locator("#drawing svg text").all_text_contents())


def set_up_the_shop(keyboard: Keyboard) -> None:
    keyboard.type("name", "Sedge Lane Frames")
    keyboard.type("currency", "EUR")
    keyboard.type("tax", "20")
    keyboard.type("hourly_rate", "36")
    keyboard.go_to("Set up the shop")
    keyboard.press("Enter")


def type_the_piece(keyboard: Keyboard) -> None:
    """Customer, artwork, two mats, a bottom wider by 20 than the top, frame, glass, back, rings."""
    keyboard.type("customer", "Amber Quill")
    keyboard.type("customer.phone", "0123 456")
    keyboard.type("artwork.size", "410x310")
    keyboard.type("artwork.title", "Harbour at dusk")
    keyboard.type("artwork.place", "Drawer 3")
    keyboard.find("mats.0.material", "chalk", "Chalk white")
    keyboard.find("mats.1.material", "slate", "Slate blue")
    keyboard.type("mats.1.reveal", "10")
    keyboard.type("borders.left", "90")
    keyboard.type("borders.top", "80")
    keyboard.type("borders.bottom", "100")
    keyboard.find("frames.0.material", "limewashed", "Linden")
    keyboard.find("glazing.material", "float", "Float glass")
    keyboard.find("backing.material", "back", "Backing board")
    keyboard.find("hardware.0.material", "ring", "Hanging ring")
    keyboard.type("hardware.0.count", "2")


@pytest.mark.documents
def test_from_the_first_run_to_the_last_payment(first_page: Page, new_shop: Shop) -> None:
    page, keyboard = first_page, Keyboard(first_page)

    # The first run, reached from any address, by keyboard alone.
    page.goto("/")
    expect(page.locator("h1")).to_have_text("Your shop, set up in a minute")
    set_up_the_shop(keyboard)
    expect(page).to_have_url(f"{new_shop.address}/materials/start")
    stock(new_shop.store)  # a price book of round figures; its pages have tests of their own

    # The quote, by keyboard alone; drawing and price follow while typing.
    page.goto("/")
    expect(page.locator("h1")).to_have_text("Wednesday 25 November")
    page.get_by_role("link", name="New quote").first.press("Enter")
    expect(page.locator("#customer")).to_be_focused()
    type_the_piece(keyboard)
    expect(page.locator("#price .price")).to_have_text(TO_PAY)
    assert facts(page).items() >= FACTS.items()
    assert lines(page) == LINES
    expect(page.locator(".price-tax").first).to_contain_text(TAX)
    expect(page.locator("#drawing svg")).to_be_visible()

    # The measured view: every size that was worked by hand, and the borders of the top mat.
    keyboard.go_to("view")
    keyboard.press("ArrowRight")
    expect(page.locator("input[value=measured]")).to_be_checked()
    expect(page.locator("#drawing svg text", has_text="outside 630")).to_be_attached()
    assert drawn(page) >= MEASURED
    keyboard.press("ArrowRight")
    expect(page.locator("#drawing svg text", has_text="stack 8")).to_be_attached()
    assert drawn(page) >= SECTION

    # Saved: number, validity of 30 days, the price as it was shown.
    keyboard.push("save")
    expect(page.locator("h1")).to_have_text("Quote Q-2026-0001")
    expect(page.locator(".order-head")).to_contain_text("Amber Quill")
    page.wait_for_load_state()
    expect(page.locator(".order-head")).to_contain_text("valid until Fri 25 Dec 2026")
    expect(page.locator(".totals .price")).to_have_text(TO_PAY)
    assert facts(page).items() >= FACTS.items()

    # Ordered with a deposit: 103.51 − 50.00 = 53.51. Ready in 14 days; half is said to be usual.
    expect(page.locator("#due")).to_have_value("9 Dec 2026")
    expect(page.locator("#deposit")).to_have_value("")
    expect(page.locator("#deposit-hint")).to_contain_text(HALF)
    keyboard.type("deposit", "50")
    keyboard.go_to("Order")
    keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("Order 2026-0001")
    expect(page.locator(".totals .price")).to_have_text("53.51")
    expect(page.locator(".ledger")).to_contain_text("Deposit, cash")
    expect(page.locator(".ledger .amount")).to_have_text("50.00")
    expect(page.locator(".order-head")).to_contain_text("due Wed 9 Dec 2026")

    check_the_ticket(page)
    check_the_confirmation(page)
    check_the_bench(page)

    # Cut and framed, at the bench.
    page.get_by_role("button", name="Mark cut").press("Enter")
    expect(page.locator(".notice-done")).to_have_text("Piece 1 is cut.")
    page.get_by_role("button", name="Mark finished").press("Enter")
    expect(page.locator(".notice-done")).to_have_text("Piece 1 is framed.")

    # On the desk it waits for its owner, who owes 53.51 of 103.51.
    page.goto("/")
    expect(page.locator(".card", has_text="To collect")).to_contain_text("Amber Quill")
    expect(page.locator(".card", has_text="To collect")).to_contain_text("owes 53.51")
    owed = page.locator(".tally-part", has_text="owed")
    expect(owed).to_contain_text("EUR, 1 order")
    owed.get_by_role("link").click()
    expect(page.locator("tbody .amount")).to_have_text(["103.51", "53.51"])
    page.goto("/")

    # The balance is offered, taken, and the piece handed over: 50.00 + 53.51 = 103.51, nothing owed.
    page.locator(".card", has_text="To collect").get_by_role("link", name="Amber Quill").click()
    expect(page.locator("#handover-amount")).to_have_value("53.51")
    page.get_by_role("button", name="Hand over", exact=True).click()
    expect(page.locator(".totals .price")).to_have_text("0.00")
    expect(page.locator(".ledger .amount")).to_have_text(["50.00", "53.51"])
    expect(page.locator(".order-head .stage")).to_have_text("collected")
    expect(page.locator(".history strong")).to_have_text(["collected", "framed", "cut", "ordered"])

    # Nothing is left to do.
    page.goto("/")
    for title in ("Work by due date", "To collect"):
        expect(page.locator(".card", has_text=title).first.locator(".count")).to_have_text("0")
    expect(page.locator(".tally-part b")).to_have_text(["0", "0", "0", "0"])


def pdf_text(page: Page, link: str) -> str:
    """The text of a document that the page links to, as it is downloaded."""
    href = page.get_by_role("link", name=link, exact=True).first.get_attribute("href")
    answer = page.context.request.get(href or "")
    assert answer.status == 200
    assert answer.headers["content-type"] == "application/pdf"
    pages = PdfReader(BytesIO(answer.body())).pages
    assert len(pages) == 1
    return " ".join(pages[0].extract_text().split())


def check_the_ticket(page: Page) -> None:
    """Every cut size, by hand in `tests.builders.worked`; the under blank is 600 − 6 by 500 − 6 (G7)."""
    text = pdf_text(page, "Ticket (PDF)")
    for figure in (
        "600 × 500",  # mat 1, glazing, backing
        "420 × 320",  # window 1
        "594 × 494",  # blank of mat 2
        "400 × 300",  # window 2
        "630",  # 2 rails, long point
        "530",
        "590",  # short points
        "490",
        "2354",  # of a stick: 2 × 630 + 2 × 530 + 4 × 8.5
        "LIN-20",
        "M-101",
        "M-140",
        "G-2",
        "B-3",
        "Drawer 3",
        "Amber Quill",
        "2026-0001",
    ):
        assert figure in text, f"{figure} is not on the ticket: {text}"
    for border in ("90", "80", "100", "110"):
        assert re.search(rf"(?<![\d.]){border}(?![\d.])", text), f"border {border}"
    for secret in (TO_PAY, "53.51", "23.00", "63.26"):
        assert secret not in text, "no money on a ticket"


def check_the_confirmation(page: Page) -> None:
    text = pdf_text(page, "Confirmation (PDF)")
    for figure in (TO_PAY, TAX, "50.00", "53.51", "2026-0001", "Amber Quill", "Harbour at dusk"):
        assert figure in text, f"{figure} is not on the confirmation: {text}"
    for secret in ("23.00", "63.26", "73 %", "60.71"):
        assert secret not in text, "cost and margin are the shop's own"


def check_the_bench(page: Page) -> None:
    """The piece's page at the bench says the same sizes."""
    page.get_by_role("link", name="Harbour at dusk").click()
    expect(page.locator("h1")).to_have_text("Harbour at dusk")
    expect(page.locator("main")).to_contain_text("stored at Drawer 3")
    figures = [
        "600 × 500",
        "420 × 320",
        "594 × 494",
        "400 × 300",
        "600 × 500",
        "600 × 500",
        "630",
        "530",
    ]
    expect(page.locator(".cut-table td.cut")).to_have_text(figures, use_inner_text=True)


def test_the_same_without_javascript(browser: Browser, shop: Shop) -> None:
    """Buttons do what the modules do; the figures are those of the journey above."""
    with visiting(browser, shop, java_script_enabled=False) as page:
        page.goto("/quotes/new")
        for name, text in {
            "customer": "Amber Quill",
            "artwork.size": "410x310",
            "mats.0.material": "M-101",
            "mats.1.material": "M-140",
            "mats.1.reveal": "10",
            "borders.left": "90",
            "borders.top": "80",
            "borders.bottom": "100",
            "frames.0.material": "LIN-20",
            "glazing.material": "G-2",
            "backing.material": "B-3",
            "hardware.0.material": "R-1",
            "hardware.0.count": "2",
        }.items():
            page.locator(f"[name='{name}']").fill(text)
        page.get_by_role("button", name="Work it out").click()
        expect(page.locator("#price .price")).to_have_text(TO_PAY)
        assert facts(page).items() >= FACTS.items()
        expect(page.locator("#drawing svg")).to_be_visible()
        expect(page.locator("#customer")).to_have_value("Amber Quill")
        page.locator(".view", has_text="Section").click()
        with page.expect_navigation():
            page.get_by_role("button", name="Work it out").click()
        expect(page.locator("input[value=section]")).to_be_checked()

        # A slip comes back with its sentence, and everything else as it was typed.
        page.locator("[name='borders.top']").fill("16x")
        page.get_by_role("button", name="Save the quote").click()
        expect(page.locator(".error-summary")).to_be_visible()
        expect(page.locator("#borders-top-error")).to_contain_text("“16x”")
        expect(page.locator("#frames-0-material")).to_have_value("LIN-20")
        page.locator("[name='borders.top']").fill("80")
        page.get_by_role("button", name="Save the quote").click()

        expect(page.locator(".totals .price")).to_have_text(TO_PAY)
        page.locator("#deposit").fill("50")
        page.get_by_role("button", name="Order", exact=True).click()
        expect(page.locator(".totals .price")).to_have_text("53.51")
        page.get_by_role("button", name="Mark cut").click()
        page.get_by_role("button", name="Mark finished").click()
        expect(page.locator(".notice-done")).to_have_text("Piece 1 is framed.")
        page.locator("summary", has_text="Record payment").click()
        page.get_by_role("button", name="Record payment").click()
        expect(page.locator(".totals .price")).to_have_text("0.00")
        page.get_by_role("button", name="Hand over", exact=True).click()
        expect(page.locator(".order-head .stage")).to_have_text("collected")
