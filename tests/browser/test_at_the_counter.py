"""How fast a quote is typed while a customer waits, and that nothing typed is lost on the way."""

import re

from playwright.sync_api import Dialog, Page, expect

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp
from tests.browser.conftest import NOW, Shop
from tests.browser.keyboard import MATCHES, Keyboard
from tests.builders.worked import SHOP, TO_PAY, TYPED

MOST_TOUCHED = 20
SECONDS = 45


def save(shop: Shop) -> int:
    act = Stamp(who="", now=NOW)
    return quotes.save_new(shop.store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, act)


def test_a_returning_customer_is_quoted_within_twenty_fields(page: Page, shop: Shop) -> None:
    """Single mat, glazing, backing and frame, by keyboard, to the saved quote."""
    save(shop)
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.choose("customer", "amb", "Amber Quill")
    keyboard.type("artwork.size", "410x310")
    keyboard.find("mats.0.material", "chal", "Chalk white")
    keyboard.find("frames.0.material", "lin", "Linden")
    keyboard.find("glazing.material", "flo", "Float glass")
    keyboard.find("backing.material", "back", "Backing board")
    keyboard.push("save")
    expect(page.locator("h1")).to_have_text("Quote Q-2026-0002")
    expect(page.locator(".order-head")).to_contain_text("Amber Quill")
    assert len(keyboard.touched) <= MOST_TOUCHED
    assert keyboard.seconds < SECONDS
    with shop.store.reading() as work:
        assert work.customers.listed().total == 1, "the customer was known"


def test_a_slip_is_said_when_its_field_is_left_and_the_price_says_it_is_old(page: Page) -> None:
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "A3")
    keyboard.find("mats.0.material", "chal", "Chalk white")
    expect(page.locator("#price .price")).not_to_have_text("–")
    keyboard.type("borders.left", "12 3/0")
    expect(page.locator("#price")).to_have_attribute("data-stale", "")
    expect(page.locator("#borders-left-error")).to_be_empty()
    keyboard.press("Tab")
    expect(page.locator("#borders-left-error")).to_contain_text("“12 3/0”")
    keyboard.press("Shift+Tab", "Control+a")
    keyboard.type("borders.left", "70")
    expect(page.locator("#price")).not_to_have_attribute("data-stale", "")
    expect(page.locator("#borders-left-error")).to_be_empty()


def test_an_object_is_asked_how_high_it_is(page: Page) -> None:
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "200x150")
    height, words = page.locator("#artwork-thickness"), page.locator("#artwork-thickness-label")
    expect(height).not_to_be_visible()
    page.select_option("[name='artwork.kind']", "object")
    expect(words).to_have_text("Height of the object")
    expect(height).to_be_visible()
    page.select_option("[name='artwork.kind']", "print")
    expect(words).to_have_text("Thickness")
    expect(height).to_be_visible()


def test_a_wrong_field_leaves_what_can_be_drawn_and_priced(page: Page) -> None:
    """Of a piece that was never whole, what can be told stands there; one that was is held until it is whole again."""
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "410x310")
    expect(page.locator("#drawing svg.drawing-front")).to_be_visible()
    said = page.locator(".drawn-without")
    expect(said.first).to_contain_text("a plain top mat, since none is chosen")
    expect(said.last).to_contain_text("a thin outline stands for the frame")
    keyboard.type("frames.0.material", "zz9")
    keyboard.press("Tab")
    expect(page.locator("#frames-0-material-error")).to_contain_text("“zz9”")
    expect(page.locator(".drawn-without")).to_contain_text(
        "without the frame: no moulding called “zz9”"
    )
    keyboard.type("borders.left", "80")
    page.locator("#mats-0-material").fill("M-101")
    expect(page.locator("#price .price")).to_have_text("–")
    expect(page.locator("#price .so-far")).to_have_text("So far, without a total")
    expect(page.locator("#price")).not_to_have_attribute("data-stale", "")
    expect(page.locator("#price .price-line")).to_have_count(1)
    expect(page.locator(".drawn-without").first).to_contain_text("without the frame")
    page.locator("#frames-0-material").fill("LIN-20")
    expect(page.locator("#price .price")).not_to_have_text("–")
    expect(page.locator(".drawn-without")).to_have_count(0)
    keyboard.type("frames.0.material", "zz9")
    expect(page.locator("#price")).to_have_attribute("data-stale", "")
    keyboard.press("Tab")
    expect(page.locator("#price")).to_have_attribute("data-stale", "")
    expect(page.locator("#price .price")).not_to_have_text("–")
    page.locator("#frames-0-material").fill("")
    expect(page.locator("#price")).not_to_have_attribute("data-stale", "")
    expect(page.locator(".drawn-without")).to_contain_text("No moulding is chosen yet")


def test_what_is_typed_is_never_replaced_by_the_answer(page: Page) -> None:
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "16 1/8 x 12in")
    expect(page.locator("#artwork-size-said")).to_contain_text("304.8")
    expect(page.locator("#artwork-size")).to_have_value("16 1/8 x 12in")
    expect(page.locator("#artwork-size")).to_be_focused()


def test_in_another_unit_everything_that_is_meant_is_said_in_it(page: Page) -> None:
    """5 mm of overlap are 0.19685 in, by the nearest sixteenth 3/16; borders are typed in inches."""
    page.goto("/quotes/new")
    page.locator("#artwork-size").fill("16x20")
    expect(page.locator("legend", has_text="Borders")).to_have_text("Borders mm")
    expect(page.locator("#overlap")).to_have_attribute("placeholder", "5")
    page.locator("#unit").select_option("in")
    expect(page.locator("legend", has_text="Borders")).to_have_text("Borders in")
    expect(page.locator("#overlap")).to_have_attribute("placeholder", "3/16")
    expect(page.locator("#overlap-hint")).to_have_text("If empty: 3/16")
    page.locator("#unit").select_option("mm")
    expect(page.locator("#overlap")).to_have_attribute("placeholder", "5")


def test_enter_in_a_field_keeps_the_quote_from_being_lost(page: Page) -> None:
    """Enter asks to save; where something is missing, the page says what, with all that was typed."""
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "410x310")
    keyboard.press("Enter")
    expect(page.locator(".error-summary")).to_be_focused()
    expect(page.locator("#artwork-size")).to_have_value("410x310")
    expect(page).to_have_title("Error: A new quote – Sedge Lane Frames")
    page.locator(".error-summary a").first.click()
    expect(page.locator("#customer")).to_be_focused()


def test_leaving_a_changed_quote_asks_first(page: Page) -> None:
    page.goto("/quotes/new")
    asked: list[str] = []

    def stay(dialog: Dialog) -> None:
        asked.append(dialog.type)
        dialog.dismiss()

    page.on("dialog", stay)
    Keyboard(page).type("artwork.size", "410x310")
    with page.expect_event("dialog"):
        page.get_by_role("link", name="Orders", exact=True).click()
    expect(page.locator("#artwork-size")).to_have_value("410x310")
    assert asked == ["beforeunload"]


def test_looking_for_an_order_over_a_half_typed_quote_asks_first_and_can_be_done_then(
    page: Page, shop: Shop
) -> None:
    """“Is it ready?” is asked while a quote is being typed: staying keeps it, and the same press leaves when it is meant."""
    save(shop)
    page.goto("/quotes/new")
    asked: list[str] = []

    def stay_once(dialog: Dialog) -> None:
        asked.append(dialog.type)
        if len(asked) == 1:
            dialog.dismiss()
        else:
            dialog.accept()

    page.on("dialog", stay_once)
    Keyboard(page).type("artwork.size", "410x310")
    find = page.get_by_role("searchbox").first
    find.fill("Q-")
    with page.expect_event("dialog"):
        find.press("Enter")
    expect(page.locator("#artwork-size")).to_have_value("410x310")
    expect(page.locator("form[action='/find'] [aria-disabled]")).to_have_count(0)
    with page.expect_event("dialog"):
        find.press("Enter")
    expect(page.locator("#artwork-size")).to_have_count(0)
    assert asked == ["beforeunload", "beforeunload"]


def test_leaving_an_untouched_or_a_saved_quote_does_not_ask(page: Page, shop: Shop) -> None:
    save(shop)
    asked: list[str] = []

    def note(dialog: Dialog) -> None:
        asked.append(dialog.type)
        dialog.accept()

    page.on("dialog", note)
    page.goto("/orders/1/pieces/1/change")
    page.get_by_role("link", name="Orders", exact=True).click()
    expect(page.locator("h1")).to_have_text("Orders")
    page.goto("/orders/1/pieces/1/change")
    keyboard = Keyboard(page)
    keyboard.type("artwork.title", "Renamed")
    keyboard.push("save")
    expect(page.locator("h1")).to_have_text("Quote Q-2026-0001")
    assert asked == []


def test_a_finder_can_be_left_without_choosing(page: Page) -> None:
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("frames.0.material", "lin")
    expect(page.locator(MATCHES)).to_have_count(1)
    keyboard.press("Escape")
    expect(page.locator(".finder-list:not([hidden])")).to_have_count(0)
    expect(page.locator("#frames-0-material")).to_have_value("lin")


def test_a_finder_says_when_nothing_is_like_it(page: Page) -> None:
    page.goto("/quotes/new")
    Keyboard(page).type("frames.0.material", "zzz")
    expect(page.locator(".finder-none:visible")).to_have_text("Nothing is like “zzz”.")


def test_two_tabs_are_shown_side_by_side(page: Page, shop: Shop) -> None:
    save(shop)
    page.goto("/orders/1/pieces/1/change")
    other = page.context.new_page()
    other.goto("/orders/1/pieces/1/change")
    Keyboard(other).type("artwork.title", "From the other tab")
    other.get_by_role("button", name="Save the change").click()
    expect(other.locator("h1")).to_have_text("Quote Q-2026-0001")
    Keyboard(page).type("artwork.title", "From this tab")
    page.get_by_role("button", name="Save the change").click()
    expect(page.locator("h1")).to_have_text("Two versions")
    expect(page.locator("tbody tr")).to_have_count(1)
    expect(page.locator("tbody tr")).to_contain_text("From the other tab")
    expect(page.locator("tbody tr")).to_contain_text("From this tab")
    page.get_by_role("button", name="Save what I typed").click()
    expect(page.locator("main")).to_contain_text("From this tab")
    expect(page.locator(".totals .price")).to_have_text(TO_PAY)


def test_a_button_pressed_twice_writes_one_payment(page: Page, shop: Shop) -> None:
    save(shop)
    page.goto("/orders/1")
    page.locator("#deposit").fill("50")
    page.get_by_role("button", name="Order", exact=True).dblclick()
    expect(page.locator(".ledger li")).to_have_count(1)


def test_enter_takes_the_only_customer_in_the_list(page: Page, shop: Shop) -> None:
    save(shop)
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("customer", "amb")
    expect(page.locator(MATCHES)).to_have_count(1)
    keyboard.press("Enter")
    expect(page.locator("#customer")).to_have_value("Amber Quill #1")
    expect(page).to_have_url(f"{shop.address}/quotes/new")
    expect(page.locator("#customer-said")).to_have_text("known customer")


def test_a_new_customer_beside_one_alike_is_left_as_typed(page: Page, shop: Shop) -> None:
    save(shop)
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("customer", "Amber Qui")
    expect(page.locator(MATCHES)).to_have_count(1)
    keyboard.press("Tab")
    expect(page.locator("#customer")).to_have_value("Amber Qui")
    expect(page.locator("#customer-said")).to_have_text("new customer")


def test_of_several_customers_enter_takes_the_one_that_is_pointed_at(
    page: Page, shop: Shop
) -> None:
    save(shop)
    quotes.save_new(
        shop.store, CustomerRequest(name="Amber Vane"), TYPED, SHOP, Stamp(who="", now=NOW)
    )
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("customer", "amb")
    options = page.locator(MATCHES)
    expect(options).to_have_count(2)
    keyboard.press("Enter")
    expect(options).to_have_count(0)
    expect(page.locator("#customer")).to_have_value("amb")
    keyboard.press("ArrowDown")
    expect(options).to_have_count(2)
    keyboard.press("ArrowDown", "ArrowDown", "Enter")
    expect(page.locator("#customer")).to_have_value("Amber Vane #2")


def test_a_doubtful_size_is_asked_about_and_answered_by_keyboard(page: Page, shop: Shop) -> None:
    """41x31 in a shop of millimetres: centimetres are likely (L4), and Tab leads to the answer."""
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("customer", "Amber Quill")
    keyboard.type("artwork.size", "41x31")
    question = page.locator("#artwork-size-question")
    expect(question).to_contain_text("cm, in or mm? Taken as 41x31 cm.")
    keyboard.find("mats.0.material", "chal", "Chalk white")
    expect(page.locator("#price .price-taken")).to_have_text("Taken as 41x31 cm until you say.")
    page.get_by_role("button", name="Save the quote").click()
    expect(page.locator(".error-summary")).to_contain_text("“41x31” may be meant in cm, in or mm")
    expect(
        page.locator(".error-summary")
    ).to_be_focused()  # the page has done what it does at first
    expect(page.locator("#mats-0-material")).to_have_value("M-101")
    page.locator("#artwork-size").focus()
    keyboard.press("Tab", "Enter")
    expect(page.locator("#artwork-size")).to_have_value("41x31 cm")
    expect(page.locator("#artwork-size")).to_be_focused()
    expect(question).to_be_empty()
    expect(page.locator("#artwork-size-error")).to_be_empty()
    expect(page.locator(".price-taken")).to_have_count(0)
    page.get_by_role("button", name="Save the quote").click()
    expect(page.locator("h1")).to_have_text("Quote Q-2026-0001")
    page.goto("/orders/1/pieces/1/change")
    expect(page.locator("#artwork-size")).to_have_value("41x31 cm")
    expect(question).to_be_empty()


def test_examples_of_sizes_follow_the_unit_worked_in(page: Page) -> None:
    page.goto("/quotes/new")
    expect(page.locator("#artwork-size-hint")).to_contain_text("400 x 500,")
    page.locator("#unit").select_option("in")
    expect(page.locator("#artwork-size-hint")).to_contain_text("16x20,")
    expect(page.locator("#package-size-hint")).to_contain_text("20x24,")


def test_enter_before_the_list_is_there_waits_for_it_and_saves_nothing(page: Page) -> None:
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "410x310")
    keyboard.type("mats.0.material", "chal")
    keyboard.press("Enter")
    expect(page.locator("[name='mats.0.material']")).not_to_have_value("chal")
    expect(page).to_have_url(re.compile("/quotes/new$"))
    expect(page.locator(".error-summary")).to_have_count(0)


def test_the_first_press_of_save_counts_though_the_field_left_is_wrong(page: Page) -> None:
    """What is wrong with it must not push the button away from under the pointer."""
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "410x310")
    keyboard.find("mats.0.material", "chal", "Chalk white")
    expect(page.locator("#price .price")).not_to_have_text("–")
    keyboard.type("discount", "101")
    expect(page.locator("#price")).to_have_attribute("data-stale", "")
    page.get_by_role("button", name="Save the quote").click()
    expect(page.locator(".error-summary")).to_contain_text("Discount")


def _line_typed_live(page: Page) -> None:
    """Type a price, then another field, and wait for the answer: the price stays as it was typed."""
    keyboard = Keyboard(page)
    panel = page.locator("#line-price .price")
    keyboard.type("price", "12.50")
    keyboard.type("what", "Picture hook")
    expect(panel).to_contain_text("12.50")
    keyboard.type("number", "3")
    expect(panel).to_contain_text("37.50")
    price = page.locator("[name='price']")
    expect(price).to_have_count(1)
    expect(price).to_have_value("12.50")
    expect(page.locator("#price")).to_have_attribute("name", "price")
    expect(panel).to_have_count(1)


def test_the_price_of_a_sale_stays_typed_while_the_page_says_what_it_comes_to(page: Page) -> None:
    page.goto("/sell")
    _line_typed_live(page)


def test_the_price_of_a_line_of_an_order_stays_typed_as_well(page: Page, shop: Shop) -> None:
    save(shop)
    page.goto("/orders/1/lines/new")
    _line_typed_live(page)
    page.get_by_role("button", name="Add the line").click()
    expect(page.locator(".notice-done")).to_have_text("The line is added.")
    page.goto("/orders/1/lines/1/change")
    page.locator("#number").fill("4")
    expect(page.locator("#line-price .price")).to_contain_text("50.00")
    expect(page.locator("[name='price']")).to_have_value("12.50")
