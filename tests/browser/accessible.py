"""What is looked at on a page so that everybody can use it; each look answers with lines, none where nothing is found."""

from typing import Literal

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

TOUCH = 44
"""Pixels of a target on a touch screen: WCAG 2.2, 2.5.5 (AAA); 2.5.8 (AA) asks for 24."""

_ALL: dict[str, object] = {"resultTypes": ["violations"], "preload": False}
"""Style sheets and media are loaded beforehand only for rules on sound that plays by itself, which no page has."""
_CONTRAST_ONLY = _ALL | {"runOnly": ["color-contrast"]}
_SEEN = """const seen = (each) => each.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true })
  && each.getBoundingClientRect().width > 2;"""


def looked(page: Page, script: str, *asked: object) -> list[str]:
    """What a function in the page finds, given as its parameters and body; `seen(each)` tells it what can be seen."""
    given, body = script.split("=>", 1)
    return list(page.evaluate(f"{given}=> {{{_SEEN}{body}}}", *asked))


def unfold(page: Page) -> None:
    """Open everything that is folded, so that it is looked at too."""
    page.evaluate("() => document.querySelectorAll('details').forEach((each) => each.open = true)")


def found_by_axe(page: Page, *, dark: bool = True) -> list[str]:
    """Each finding as a line: rule, element, what to do. The page stands in light, and does so again.

    dark: by night too, where the colours are others and nothing else is; so there the contrast alone is looked at.
    """
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    found = _violations(page, _ALL)
    if dark:
        _light(page, "dark")
        found += [f"in the dark: {each}" for each in _violations(page, _CONTRAST_ONLY)]
        _light(page, "light")
    return found


def _light(page: Page, scheme: Literal["light", "dark"]) -> None:
    """Show the page by day or by night, with every colour at the end of its change."""
    page.emulate_media(color_scheme=scheme)
    page.evaluate(
        """() => document.getAnimations()
          .filter((each) => each instanceof CSSTransition).forEach((each) => each.finish())"""
    )


def _violations(page: Page, options: dict[str, object]) -> list[str]:
    """What axe finds, as lines. The many things that it finds in order stay in the page."""
    findings = page.evaluate("async (options) => (await axe.run(options)).violations", options)
    return [
        f"{finding['id']}: {node['target']}: {node['failureSummary']}"
        for finding in findings
        for node in finding["nodes"]
    ]


def wider_than_the_screen(page: Page) -> str:
    """The width of the page and what reaches past the screen; empty where nothing does."""
    return str(
        page.evaluate(
            """() => {
              const room = document.documentElement.clientWidth;
              if (document.documentElement.scrollWidth <= room) return '';
              const past = [...document.body.querySelectorAll('*')]
                .filter((each) => each.getBoundingClientRect().right > room + 1)
                .map((each) => each.tagName + '.' + each.className).slice(0, 5);
              return `${document.documentElement.scrollWidth} of ${room}: ${past.join(', ')}`;
            }"""
        )
    )


def cut_off(page: Page) -> list[str]:
    """Elements whose words reach past a box that hides what does not fit, and cannot be scrolled."""
    return looked(
        page,
        """() =>
              return [...document.querySelectorAll('main *, header *')].filter((each) => {
                const style = getComputedStyle(each);
                if (['absolute', 'fixed'].includes(style.position) || !seen(each) || !each.innerText?.trim()) return false;
                const hides = (way) => ['hidden', 'clip'].includes(way);
                return (hides(style.overflowX) && each.scrollWidth > each.clientWidth + 1)
                  || (hides(style.overflowY) && each.scrollHeight > each.clientHeight + 1);
              }).map((each) => `${each.tagName}.${each.className}: ${each.innerText.slice(0, 40)}`);""",
    )


def named_alike(page: Page) -> list[str]:
    """Buttons, links and folds of one name that do different things: who hears only the name cannot tell them apart."""
    return looked(
        page,
        """() =>
              const words = (each) => (each.getAttribute('aria-labelledby') ?? '').split(' ')
                .map((id) => document.getElementById(id)?.textContent ?? '').join(' ').trim()
                || each.getAttribute('aria-label') || each.textContent;
              const sent = (form) => {
                const fields = new URLSearchParams(form ? new FormData(form) : {});
                fields.delete('once');  // the key of each form is its own, whatever the form does
                return fields;
              };
              const does = (each) => each.href
                ?? (each.matches('summary') ? each.parentElement.textContent
                : `${each.formAction} ${each.name} ${each.value} ${sent(each.form)}`);
              const names = new Map();
              for (const each of document.querySelectorAll('main :is(a[href], button, details:has(form) > summary)')) {
                if (!seen(each) || each.getAttribute('role') === 'option') continue;
                const kind = each.matches('a') ? 'link' : each.matches('summary') ? 'fold' : 'button';
                const name = `${kind} “${words(each).replace(/\\s+/g, ' ').trim()}”`;
                names.set(name, (names.get(name) ?? new Set()).add(does(each)));
              }
              return [...names].filter(([, done]) => done.size > 1).map(([name, done]) => `${done.size} × ${name}`);""",
    )


def left_edges(page: Page) -> list[str]:
    """What stands directly on the page, where it does not all begin at one left edge."""
    return looked(
        page,
        """() =>
              const parts = [...document.querySelectorAll('main > *')]
                .filter((each) => seen(each) && !['absolute', 'fixed'].includes(getComputedStyle(each).position));
              const edges = parts.map((each) => Math.round(each.getBoundingClientRect().left));
              return new Set(edges).size <= 1 ? [] : parts.map((each, i) => `${each.tagName}.${each.className} at ${edges[i]}`);""",
    )


def too_small_to_touch(page: Page) -> list[str]:
    """Buttons, fields, folds and links that look like buttons, lower than a thumb; links within text are not meant."""
    return looked(
        page,
        """(least) =>
              const reach = (each) => {
                const box = each.matches('input[type=checkbox], input[type=radio]') ? each.closest('label') ?? each : each.closest('.box') ?? each;
                return box.getBoundingClientRect().height;
              };
              return [...document.querySelectorAll('main :is(button, .button, .chip, summary, select, textarea, input:not([type=hidden])), .head :is(button, a, input)')]
                .filter((each) => seen(each) && !each.matches('.visually-hidden, .skip') && reach(each) < least - 0.5)
                .map((each) => `${Math.round(reach(each))}: ${each.tagName}.${each.className} ${each.name ?? ''} ${each.textContent.trim().slice(0, 40)}`);""",
        TOUCH,
    )


def look_at(page: Page, path: str) -> None:
    """A page with everything unfolded: it answers, axe finds nothing, nothing is wider than the screen."""
    answer = page.goto(path)
    assert answer is not None
    assert answer.status == 200
    unfold(page)
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""
