"""The wall at the counter: every choice is seen at once and stands in the address, with a script and without."""

import re

from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Shop, visiting

WALL = "/orders/4/wall"
"""A quote with three designs of one piece."""


def wall_of(page: Page) -> str:
    """The colour that the wall is washed with."""
    return page.locator(".drawing-wall .wash polygon").first.get_attribute("fill") or ""


def test_what_is_chosen_is_drawn_at_once_and_stands_in_the_address(
    browser: Browser, busy_shop: Shop
) -> None:
    with visiting(browser, busy_shop) as page:
        page.goto(WALL)
        assert wall_of(page) == "#bcc4b3"
        page.get_by_label("Ink blue").check()
        expect(page.locator(".drawing-wall .wash polygon").first).to_have_attribute(
            "fill", "#384a60"
        )
        page.get_by_label("Door").check()
        expect(page.locator(".thing-door")).to_have_count(1)
        page.get_by_label("Pieces, from the left").fill("1A 1B 1C")
        expect(page.locator(".on-wall")).to_have_count(3)
        expect(page).to_have_url(re.compile("colour=ink-blue.*thing=door.*piece=1A"))
        picture = page.get_by_role("link", name="The picture")
        expect(picture).to_have_attribute("href", re.compile("1A"))
        page.reload()
        expect(page.locator(".on-wall")).to_have_count(3)
        expect(page.get_by_label("Ink blue")).to_be_checked()


def test_what_cannot_be_read_leaves_the_last_drawing_and_says_why(
    browser: Browser, busy_shop: Shop
) -> None:
    with visiting(browser, busy_shop) as page:
        page.goto(WALL)
        page.get_by_label("Gap between frames").fill("wide")
        expect(page.locator("#drawing")).to_have_attribute("data-stale", "")
        assert page.locator(".drawing-wall").count() == 1
        page.get_by_label("Rows").focus()
        expect(page.locator("#gap-error")).to_contain_text("“wide” cannot be read as a length")
        page.get_by_label("Gap between frames").fill("80")
        expect(page.locator("#drawing[data-stale]")).to_have_count(0)
        expect(page.locator("#gap-error")).to_be_empty()


def test_a_colour_is_picked_once_another_one_is_asked_for(
    browser: Browser, busy_shop: Shop
) -> None:
    with visiting(browser, busy_shop) as page:
        page.goto(WALL)
        assert not page.get_by_label("Its colour").is_visible()
        page.get_by_label("Another").check()
        page.get_by_label("Its colour").fill("#806040")
        expect(page.locator(".drawing-wall .wash polygon").first).to_have_attribute(
            "fill", "#806040"
        )


def test_without_a_script_a_button_does_it(browser: Browser, busy_shop: Shop) -> None:
    with visiting(browser, busy_shop, java_script_enabled=False) as page:
        page.goto(WALL)
        page.get_by_label("Moss").check()
        page.get_by_label("Chair").check()
        page.get_by_role("button", name="Hang it so").click()
        page.wait_for_url(re.compile("colour=moss"))
        assert wall_of(page) == "#66725a"
        expect(page.locator(".thing-chair")).to_have_count(1)
        page.get_by_label("Gap between frames").fill("wide")
        page.get_by_role("button", name="Hang it so").click()
        expect(page.locator(".error-summary")).to_contain_text("cannot be read as a length")
        expect(page.get_by_label("Gap between frames")).to_have_value("wide")
        expect(page.get_by_label("Moss")).to_be_checked()


def test_the_picture_is_given_as_a_file(browser: Browser, busy_shop: Shop) -> None:
    with visiting(browser, busy_shop) as page:
        page.goto(WALL)
        with page.expect_download() as given:
            page.get_by_role("link", name="The picture").click()
        assert re.fullmatch(r"[\w-]+ wall\.(png|svg)", given.value.suggested_filename)
