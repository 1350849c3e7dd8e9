"""Every form with what nobody can read in it: refused in words, everything typed kept, and readable for everyone."""

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.accessible import found_by_axe, unfold, wider_than_the_screen
from tests.browser.conftest import DESK, PHONE, Shop, visiting
from tests.browser.test_every_page import PAGES

UNREADABLE = "12 3/0 of it"
"""No number, length, date, amount or code; as a name it would do."""

_FILLABLE = "input:is([type=text], [type=tel], :not([type])), textarea"


def forms_of(page: Page) -> list[int]:
    """The forms of a page that write and in which something is typed, by their place among its forms."""
    return list(
        page.evaluate(
            """(fillable) => [...document.forms].flatMap((form, place) =>
              form.method === 'post' && form.closest('main') && form.querySelector(fillable)
              && !form.closest('[hidden]') ? [place] : [])""",
            _FILLABLE,
        )
    )


def refused(page: Page, path: str, place: int) -> bool:
    """Fill a form with what cannot be read and send it; whether it came back."""
    page.goto(path)
    unfold(page)
    with page.expect_navigation():
        page.evaluate(
            """([place, fillable, text]) => {
              const form = document.forms[place];
              form.noValidate = true;
              for (const field of form.querySelectorAll(fillable)) {
                if (field.checkVisibility() && !field.readOnly && !field.disabled) field.value = text;
              }
              form.requestSubmit(form.querySelector('button:not([name]), button[value=save]') ?? undefined);
            }""",
            [place, _FILLABLE, UNREADABLE],
        )
    return page.locator(".error-summary").count() > 0


def look(page: Page) -> list[str]:
    unfold(page)
    found = [*found_by_axe(page), wider_than_the_screen(page)]
    if not page.title().startswith("Error: "):
        found.append(f"titled {page.title()}")
    kept = page.evaluate(
        "([fillable, text]) => [...document.querySelectorAll(fillable)].some((field) => field.value === text)",
        [_FILLABLE, UNREADABLE],
    )
    if not kept:
        found.append("nothing of what was typed is kept")
    return [each for each in found if each]


@pytest.mark.parametrize("viewport", [DESK, PHONE], ids=["laptop", "phone"])
def test_every_form_comes_back(browser: Browser, busy_shop: Shop, viewport: dict[str, int]) -> None:
    found: dict[str, list[str]] = {}
    with visiting(browser, busy_shop, viewport=viewport) as page:
        page.on("dialog", lambda dialog: dialog.accept())
        for path in PAGES:
            page.goto(path)
            for place in forms_of(page):
                if refused(page, path, place):
                    found[f"{path} {place}"] = look(page)
    assert len(found) >= 30
    assert {where: what for where, what in found.items() if what} == {}


def test_every_page_that_answers_while_one_types(browser: Browser, busy_shop: Shop) -> None:
    found: dict[str, list[str]] = {}
    with visiting(browser, busy_shop, viewport=PHONE) as page:
        page.on("dialog", lambda dialog: dialog.accept())
        for path in PAGES:
            page.goto(path)
            field = page.locator(f"form[data-live] :is({_FILLABLE}):visible").first
            if field.count() == 0:
                continue
            # A form of what stands in the address asks by GET, any other one by POST.
            with page.expect_response(lambda answer: answer.request.resource_type == "fetch"):
                field.press_sequentially("12 3/")
            page.wait_for_timeout(50)
            unfold(page)
            found[path] = [*found_by_axe(page), wider_than_the_screen(page)]
    assert len(found) >= 8
    assert {where: what for where, what in found.items() if any(what)} == {}
