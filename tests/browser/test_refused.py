"""Every form with what nobody can read in it: refused in words, everything typed kept, and readable for everyone."""

import re

from playwright.sync_api import Browser, Page

from tests.browser.accessible import found_by_axe, unfold, wider_than_the_screen
from tests.browser.conftest import DESK, PHONE, Shop, visiting
from tests.browser.test_every_page import PAGES

UNREADABLE = "12 3/0 of it"
"""No number, length, date, amount or code; as a name it would do."""

_FILLABLE = "input:is([type=text], [type=tel], :not([type])), textarea"


def forms_of(page: Page) -> list[tuple[int, str]]:
    """The forms of a page that write and in which something is typed: their places among its forms, and of what kind they are.

    Of one kind are forms that are posted to one address and ask the same, whichever number stands in either.
    """
    found = page.evaluate(
        """(fillable) => [...document.forms].flatMap((form, place) =>
          form.method === 'post' && form.closest('main') && form.querySelector(fillable)
          && !form.closest('[hidden]')
            ? [[place, form.getAttribute('action') || location.pathname,
                ...[...form.querySelectorAll(fillable)].map((each) => each.name)]]
            : [])""",
        _FILLABLE,
    )
    return [
        (place, " ".join(dict.fromkeys(re.sub(r"\d+", "1", each) for each in kind)))
        for place, *kind in found
    ]


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


def look(page: Page, *, dark: bool) -> list[str]:
    unfold(page)
    found = [*found_by_axe(page, dark=dark), wider_than_the_screen(page)]
    if not page.title().startswith("Error: "):
        found.append(f"titled {page.title()}")
    kept = page.evaluate(
        "([fillable, text]) => [...document.querySelectorAll(fillable)].some((field) => field.value === text)",
        [_FILLABLE, UNREADABLE],
    )
    if not kept:
        found.append("nothing of what was typed is kept")
    return [each for each in found if each]


def test_every_form_comes_back(browser: Browser, busy_shop: Shop) -> None:
    """Each kind of form once, as it comes back on a laptop and, once the window is as narrow, on a phone."""
    found: dict[str, list[str]] = {}
    tried: set[str] = set()
    with visiting(browser, busy_shop, viewport=DESK) as page:
        page.on("dialog", lambda dialog: dialog.accept())
        for path in PAGES:
            page.goto(path)
            for place, kind in forms_of(page):
                if kind in tried:
                    continue
                tried.add(kind)
                if not refused(page, path, place):
                    continue
                for name, size in (("phone", PHONE), ("laptop", DESK)):
                    page.set_viewport_size(size)  # type: ignore[arg-type]
                    found[f"{path} {place} on a {name}"] = look(page, dark=size is DESK)
    assert len(found) >= 60
    assert {where: what for where, what in found.items() if what} == {}


def test_every_page_that_answers_while_one_types(browser: Browser, busy_shop: Shop) -> None:
    found: dict[str, list[str]] = {}
    with visiting(browser, busy_shop, viewport=PHONE) as page:
        page.on("dialog", lambda dialog: dialog.accept())
        for path in PAGES:
            if "data-live" not in page.request.get(path).text():
                continue
            page.goto(path)
            field = page.locator(f"form[data-live] :is({_FILLABLE}):visible").first
            if field.count() == 0:
                continue
            # A form of what stands in the address asks by GET, any other one by POST.
            with page.expect_response(lambda answer: answer.request.resource_type == "fetch"):
                field.press_sequentially("12 3/")
            page.wait_for_timeout(50)
            unfold(page)
            found[path] = [*found_by_axe(page, dark=False), wider_than_the_screen(page)]
    assert len(found) >= 8
    assert {where: what for where, what in found.items() if any(what)} == {}
