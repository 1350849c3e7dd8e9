"""What an answer shows, as a person would find it: fields by name, parts by class or id, words."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from secrets import token_urlsafe

from lxml.html import HtmlElement as Element
from lxml.html import HTMLParser, document_fromstring
from starlette.testclient import TestClient

_FRACTION = re.compile(r'<span class="fraction">(.*?)</span>')
"""A fraction is one with what stands beside it, though the page marks it."""


def parsed(html: str) -> Element:
    """The elements of a page, its fractions as plain text."""
    return document_fromstring(_FRACTION.sub(r"\1", html), HTMLParser(remove_comments=True))


def words(element: Element) -> str:
    """The text in an element, parts and runs of blanks apart by one blank."""
    return " ".join(" ".join(element.itertext()).split())


@dataclass(frozen=True)
class Shown:
    """An answer of the app. status, headers, and the page in it."""

    status: int
    location: str
    headers: dict[str, str]
    text: str

    @cached_property
    def tree(self) -> Element:
        return parsed(self.text)

    def each(self, css_class: str = "", *, tag: str = "", id: str = "") -> Iterator[Element]:
        for element in self.tree.iter():
            if (
                (not tag or element.tag.rpartition("}")[2] == tag)
                and (not id or element.get("id") == id)
                and (not css_class or css_class in (element.get("class") or "").split())
            ):
                yield element

    def one(self, css_class: str = "", *, tag: str = "", id: str = "") -> Element:
        found = list(self.each(css_class, tag=tag, id=id))
        assert found, f"nothing shown is {tag}{'#' + id if id else ''} {css_class}"
        return found[0]

    def has(self, css_class: str = "", *, tag: str = "", id: str = "") -> bool:
        return any(True for _ in self.each(css_class, tag=tag, id=id))

    def words(self, css_class: str = "", *, tag: str = "", id: str = "") -> str:
        return words(self.one(css_class, tag=tag, id=id))

    @property
    def address(self) -> str:
        """The page that the answer leads to, without the place on it."""
        return self.location.partition("#")[0]

    @property
    def heading(self) -> str:
        return self.words(tag="h1")

    @property
    def main(self) -> str:
        return self.words(tag="main")

    @property
    def fields(self) -> dict[str, str]:
        """Every field of the page by name with what stands in it; of twins the first counts, and what is not of the head."""
        values: dict[str, str] = {}
        inside = next(self.tree.iter("main"), self.tree)
        for element in chain(inside.iter(), self.tree.iter()):
            name = element.get("name")
            if name and element.tag in ("input", "textarea", "select") and name not in values:
                values[name] = _value(element)
        return values

    def error(self, path: str) -> str:
        """The sentence beside the field of a path."""
        return words(self.one(id=path.replace(".", "-").replace("_", "-") + "-error"))

    @property
    def facts(self) -> dict[str, str]:
        """What is written in lists of facts."""
        pairs: dict[str, str] = {}
        for element in self.each("facts"):
            for pair in element.iter("div"):
                what, figure = pair.find("dt"), pair.find("dd")
                if what is not None and figure is not None:
                    pairs.setdefault(words(what), words(figure))
        return pairs

    def links(self, within: str = "") -> dict[str, str]:
        """Links by their words."""
        where = self.one(within) if within else self.tree
        return {words(link): link.get("href") or "" for link in where.iter("a")}

    def form(self, action: str, **holding: str) -> dict[str, str]:
        """The hidden and visible fields of the form that is posted there and holds these values."""
        for form in self.each(tag="form"):
            values = _form_values(form)
            if form.get("action") == action and holding.items() <= values.items():
                return values
        raise AssertionError(f"no form is posted to {action} with {holding}")

    def buttons(self, action: str = "") -> list[str]:
        """The words of the buttons, in all forms or in those posted to an address."""
        return [
            words(button)
            for form in self.each(tag="form")
            if not action or form.get("action") == action
            for button in form.iter("button")
        ]


def in_another_tab(form: dict[str, str]) -> dict[str, str]:
    """The same form as it stands on a page that was opened beside it."""
    return {**form, "once": token_urlsafe(16)}


def typed(form: dict[str, str]) -> dict[str, str]:
    """What stands in a form beside its key, which is another one each time that it is shown."""
    return {name: text for name, text in form.items() if name != "once"}


def keyless(html: str) -> str:
    """A page without the keys of its forms, which are others each time that it is shown."""
    text, keys = re.subn(r'(name="once" value=")[^"]+', r"\1", html)
    assert keys
    return text


def _value(element: Element) -> str:
    if element.tag == "select":
        options = list(element.iter("option"))
        chosen = [option for option in options if option.get("selected") is not None]
        return (chosen or options)[0].get("value") or ""
    if element.tag == "textarea":
        return "".join(element.itertext())
    if element.get("type") in ("checkbox", "radio"):
        return element.get("value", "on") if element.get("checked") is not None else ""
    return element.get("value") or ""


def _form_values(form: Element) -> dict[str, str]:
    values: dict[str, str] = {}
    for element in form.iter():
        name = element.get("name")
        if not name or element.tag not in ("input", "textarea", "select"):
            continue
        # Of radio buttons the pressed one is sent.
        if element.get("type") != "radio" or name not in values or _value(element):
            values[name] = _value(element)
    return values


@dataclass(frozen=True)
class Counter:
    """A browser at the counter: reads pages and sends forms as our own pages do."""

    client: TestClient

    def get(self, path: str) -> Shown:
        return _shown(self.client.get(path, follow_redirects=False))

    def post(self, path: str, form: dict[str, str] | None = None, **headers: str) -> Shown:
        sent = self.client.post(path, data=form or {}, headers=headers, follow_redirects=False)
        return _shown(sent)

    def sent(self, path: str, form: dict[str, str]) -> Shown:
        """Send a changed piece, and once more where its new price is shown before it is kept."""
        shown = self.post(path, form)
        if shown.status != 200:
            return shown
        return self.post(path, shown.form(path) | {"action": "save"})

    def change(self, path: str, form: dict[str, str]) -> Shown:
        """Send a changed piece that is accepted, and look at the page that it leads to."""
        answer = self.sent(path, form)
        assert answer.status == 303, f"{path} answered {answer.status}: {answer.main}"
        return self.get(answer.location)

    def go(self, path: str, form: dict[str, str] | None = None) -> Shown:
        """Send a form that is accepted, and look at the page that it leads to."""
        answer = self.post(path, form)
        assert answer.status == 303, f"{path} answered {answer.status}: {answer.main}"
        return self.get(answer.location)


def _shown(answer: object) -> Shown:
    return Shown(
        status=answer.status_code,  # type: ignore[attr-defined]
        location=answer.headers.get("location", ""),  # type: ignore[attr-defined]
        headers=dict(answer.headers),  # type: ignore[attr-defined]
        text=answer.text,  # type: ignore[attr-defined]
    )
