"""What is looked for stands in no address, with a script and without one, and Back and reload find it again."""

from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Shop, visiting


def look_for(page: Page, text: str) -> None:
    page.get_by_role("search", name="Everywhere").get_by_role("searchbox").fill(text)
    page.keyboard.press("Enter")


def searched(page: Page) -> None:
    """Look for a name, open what was found, go back, reload, and look for another."""
    page.goto("/")
    look_for(page, "quill")
    expect(page.get_by_role("heading", name="Found for “quill”")).to_be_visible()
    found_at = page.url
    assert "quill" not in found_at
    page.get_by_role("link", name="Q-2026-0001").first.click()
    expect(page).not_to_have_url(found_at)
    page.go_back()
    expect(page.get_by_role("heading", name="Found for “quill”")).to_be_visible()
    page.reload()
    expect(page.get_by_role("heading", name="Found for “quill”")).to_be_visible()
    look_for(page, "nobody is called so")
    expect(page.get_by_role("heading", name="Nothing is called so")).to_be_visible()
    assert "nobody" not in page.url


def test_the_field_in_the_head(browser: Browser, busy_shop: Shop) -> None:
    with visiting(browser, busy_shop) as page:
        searched(page)


def test_the_field_in_the_head_without_a_script(browser: Browser, busy_shop: Shop) -> None:
    with visiting(browser, busy_shop, java_script_enabled=False) as page:
        searched(page)


def test_a_list_of_customers_and_the_field_of_a_quote(browser: Browser, busy_shop: Shop) -> None:
    asked: list[str] = []
    with visiting(browser, busy_shop) as page:
        page.on("request", lambda request: asked.append(request.url))
        page.goto("/customers")
        page.get_by_role("textbox", name="Find").fill("Quill")
        page.get_by_role("main").get_by_role("button", name="Find").click()
        expect(page.get_by_role("link", name="Amber Quill").first).to_be_visible()
        page.goto("/quotes/new")
        page.locator("#customer").press_sequentially("Quil")
        expect(page.locator(".finder-list:not([hidden]) [role=option]").first).to_be_visible()
    assert [url for url in asked if "quil" in url.casefold()] == []
