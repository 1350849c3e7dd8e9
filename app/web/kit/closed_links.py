"""Takes out of a page what leads to where its reader may not go: buttons and forms go, other links become words.

It reads only what our own templates write, in which a quoted `>` is escaped and no form stands in another.
"""

import re
from collections.abc import Callable
from html import unescape
from re import Match

type Opens = Callable[[str, str], bool]
"""(method, address) -> whether the reader may ask for it."""

_LINK = re.compile(r"<a\b([^>]*)>(.*?)</a>", re.DOTALL)
_FORM = re.compile(r"<form\b([^>]*)>.*?</form>", re.DOTALL)
_ITEM = re.compile(r'class="[^"]*\b(?:button|chip|rule-link)\b', re.ASCII)
_HOLLOW = re.compile(r'<(p|div|nav) class="(?:actions|chips)[^"]*"[^>]*>\s*</\1>')


def without_closed(html: str, opens: Opens) -> str:
    """Return a page without the links and forms that its reader could not follow."""
    html = _FORM.sub(lambda form: form[0] if _form_opens(form[1], opens) else "", html)
    html = _LINK.sub(lambda link: _link(link, opens), html)
    return _HOLLOW.sub("", html)


def _form_opens(attributes: str, opens: Opens) -> bool:
    action = _attribute("action", attributes)
    if action is None:
        return True
    return opens((_attribute("method", attributes) or "get").upper(), action)


def _link(link: Match[str], opens: Opens) -> str:
    attributes, inside = link.groups()
    href = _attribute("href", attributes)
    if href is None or href.startswith("#") or (href.startswith("/") and opens("GET", href)):
        return link[0]
    return "" if _ITEM.search(attributes) else f"<span>{inside}</span>"


def _attribute(name: str, attributes: str) -> str | None:
    found = re.search(rf'(?<![\w-]){name}="([^"]*)"', attributes)
    return unescape(found[1]) if found else None
