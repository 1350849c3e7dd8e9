"""A colour of the photo is picked with the pointer, and what comes near it is tried by one press."""

import re
from dataclasses import replace

from playwright.sync_api import Browser, expect

from app.services import pictures, price_book
from app.services.picture_making import made_of
from app.storage import Stamp
from tests.browser.clock import NOW
from tests.browser.conftest import Shop, visiting
from tests.browser.keyboard import Keyboard
from tests.browser.until import until
from tests.builders.photos import photo
from tests.builders.worked import UNDER_MAT

ACT = Stamp(who="Ilse", now=NOW)


def test_a_colour_is_picked_with_the_pointer_and_a_mat_near_it_is_tried_in_place(
    browser: Browser, shop: Shop
) -> None:
    """The photo is red #c81e1e in its left upper quarter and blue #283cc8 in its left lower one; the picture stands 200 × 150."""
    price_book.add(
        shop.store, replace(UNDER_MAT, code="M-RED", name="Signal red", colour="#c41f1e"), ACT
    )
    kept = pictures.keep(shop.store, made_of(photo(400, 300, "PNG")), by=ACT)
    with visiting(browser, shop) as page:
        page.goto("/quotes/new")
        Keyboard(page).type("artwork.size", "410x310")
        page.evaluate(
            """id => { const field = document.querySelector("[name='artwork.photo']");
                       field.value = id; field.dispatchEvent(new Event("input", { bubbles: true })); }""",
            kept.id,
        )
        expect(page.locator("#match-summary")).to_have_text("Colours of the picture")
        page.locator("#match > summary").click()
        expect(page.locator("[name='match.open']")).to_have_value("1")
        picture = page.locator("#match-picture input")
        expect(picture).to_be_visible()
        own = page.locator("[name='match.own']")

        def moved() -> bool:
            """The picture is fetched again when the pointer first comes over it."""
            picture.hover(position={"x": 50, "y": 110})
            picture.hover(position={"x": 51, "y": 110})
            return own.input_value() == "#283cc8"

        until(page, moved, "the colour under the pointer is told")
        picture.click(position={"x": 50, "y": 40})
        expect(own).to_have_value("#c81e1e")
        expect(page.locator("[name='match'][value='own']")).to_be_checked()
        offer = page.locator("#match-rows button", has_text="Signal red").first
        expect(offer).to_be_visible()
        assert page.url.endswith("/quotes/new")
        expect(offer.locator(".match-price")).to_have_text(
            re.compile(r"\d")
        )  # it is priced once it is seen
        offer.click()
        expect(page.locator("[name='mats.0.material']")).to_have_value("M-RED")
        expect(offer).to_have_attribute("aria-pressed", "true")
        expect(page.locator(".finder-list:visible")).to_have_count(0)
        expect(page.locator("#match")).to_have_attribute("open", "")
