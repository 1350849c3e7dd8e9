"""What a test reads off a page: faults, fields, words. Markup is parsed, not matched."""

from html.parser import HTMLParser


class Page(HTMLParser):
    """values: of every field by its name. errors: sentences beside fields, by the field's id."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.values: dict[str, str] = {}
        self.errors: dict[str, str] = {}
        self.links: dict[str, str] = {}
        self.title = ""
        self._words: list[str] = []
        self._open: list[tuple[str, str]] = []
        self.feed(html)
        self.errors = {
            id_: sentence
            for id_, words in self.errors.items()
            if (sentence := " ".join(words.split()).removeprefix("Error: "))
        }

    @property
    def text(self) -> str:
        """All words of the page, one blank between them."""
        return " ".join(" ".join(self._words).split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        has = {name: value or "" for name, value in attrs}
        name = has.get("name", "")
        if tag == "input" and name:
            if has.get("type") not in ("radio", "checkbox") or "checked" in has:
                self.values[name] = has.get("value", "")
        elif tag == "textarea":
            self.values[name] = ""
        elif tag == "option" and "selected" in has:
            self.values[self._inside("select")] = has.get("value", "")
            tag = tag if "value" in has else "chosen"
        if has.get("id", "").endswith("-error"):
            self.errors[has["id"].removesuffix("-error")] = ""
            name = has["id"].removesuffix("-error")
            tag = "error"
        if tag == "a" and "href" in has:
            name = has["href"]
        if tag not in ("input", "meta", "link", "br", "hr"):
            self._open.append((tag, name))

    def handle_endtag(self, tag: str) -> None:
        while self._open:
            opened, _ = self._open.pop()
            if opened == tag or (opened, tag) in (("error", "span"), ("chosen", "option")):
                break

    def handle_data(self, data: str) -> None:
        opened = dict(self._open)
        if "chosen" in opened:
            self.values[self._inside("select")] += data
        if "textarea" in opened:
            self.values[opened["textarea"]] += data
        elif "title" in opened:
            self.title += data
        else:
            self._words.append(data)
        if "error" in opened:
            self.errors[opened["error"]] += data
        if "a" in opened and data.strip():
            self.links[data.strip()] = opened["a"]

    def _inside(self, tag: str) -> str:
        return next(name for opened, name in reversed(self._open) if opened == tag)
