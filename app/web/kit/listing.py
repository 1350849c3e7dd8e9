"""Lists: reads what an address asks of one, and makes one page of it with the ways to the others.

A list declares its filters as a table, the fields of a `ListQuery`. Reading an address, writing another
one, chips, what a search carries along and links to pages follow from that.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, fields
from enum import StrEnum
from typing import Any, ClassVar, Self
from urllib.parse import urlencode

from app.forms.reader import whole_number
from app.storage import ListPage, PageRequest
from app.web.kit.fields import FieldView
from app.web.kit.sought import MEMORY, SOUGHT, Sought, read_sought

FOUND = "q"
"""The name of the field that finds."""

ON_A_PAGE = 25
"""Rows of a list on a page. Source: ours, what two screens of a laptop hold."""

LONGEST_ADDRESS = 4000
"""Characters of an address that is gone to; browsers and programs take no head of any length. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chip:
    """A link that sets a filter, an order or a page of a list, or takes it off."""

    label: str
    href: str
    current: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ChipRow:
    """Chips that belong together. sorts: they set an order and leave nothing out."""

    label: str
    chips: tuple[Chip, ...]
    sorts: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One match under a field that finds. price: what the piece costs with it, where that is asked."""

    value: str
    label: str
    hint: str = ""
    colour: str = ""
    price: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing[Row]:
    """One page of a list. total: rows over every page. pages: links, none for a single page.

    fields: what is typed or chosen to narrow it; carried: (name, text) of the other filters, which that
    form keeps. narrowed: whether its address asks for anything but all. private: whether what is typed may name a person, so
    that it is posted. forgotten: whether its address asks for words that are not known any more.
    """

    path: str
    rows: tuple[Row, ...]
    total: int
    pages: tuple[Chip, ...]
    fields: tuple[FieldView, ...]
    carried: tuple[tuple[str, str], ...]
    chips: tuple[ChipRow, ...]
    narrowed: bool
    private: bool = False
    forgotten: bool = False


@dataclass(frozen=True, slots=True)
class _Filter:
    """A filter as it stands in an address. name: there; blank for the name of the field.

    read, write: between text and value. Blank is the filter taken off, and so is what cannot be read. words: whether it is by
    words that are typed, for which an id may stand; private: whether they may name a person.
    """

    read: Callable[[str], Any]
    write: Callable[[Any], str]
    name: str = ""
    words: bool = False
    private: bool = False


def _declared(declared: _Filter) -> Any:
    return field(default=declared.read(""), metadata={"filter": declared})


def words(name: str, longest: int) -> Any:
    """Declare a filter by words that are typed."""
    return _declared(_Filter(lambda text: text.strip()[:longest], str, name, words=name == FOUND))


def private_words() -> Any:
    """Declare a filter by words that may name a person, for which an id stands in addresses."""
    reader = _Filter(lambda text: read_sought(text, ""), str, FOUND, words=True, private=True)
    return _declared(reader)


def flag() -> Any:
    """Declare a filter that is set or not."""
    return _declared(_Filter(lambda text: text == "1", lambda is_set: "1" if is_set else ""))


def yes_or_no() -> Any:
    """Declare a filter for what is so, what is not so, or both."""
    texts = {True: "1", False: "0", None: ""}
    values = {text: value for value, text in texts.items()}
    return _declared(_Filter(values.get, texts.__getitem__))


def choice(values: type[StrEnum], usual: StrEnum | None = None) -> Any:
    """Declare a filter for one of some values. usual: what holds where the address names none."""
    return _declared(
        _Filter(
            lambda text: values(text) if text in set(values) else usual,
            lambda value: "" if value is usual else value.value,
        )
    )


def one_of(keys: Iterable[str]) -> Any:
    """Declare a filter for one of some words."""
    known = frozenset(keys)
    return _declared(_Filter(lambda text: text if text in known else "", str))


@dataclass(frozen=True, slots=True, kw_only=True)
class ListQuery:
    """What the address of a list asks for. Subclasses declare its path and its filters, by the functions above.

    on_a_page: rows of a page.
    """

    path: ClassVar[str]
    on_a_page: ClassVar[int] = ON_A_PAGE
    page: int = 1

    @classmethod
    def _filters(cls) -> dict[str, _Filter]:
        return {each.name: each.metadata["filter"] for each in fields(cls) if each.metadata}

    @classmethod
    def read(cls, query: Mapping[str, str]) -> Self:
        """Read the query of an address; whatever cannot be read is left out."""
        values = {
            attribute: MEMORY.words_of(query[SOUGHT])
            if each.words and query.get(SOUGHT)
            else each.read(query.get(each.name or attribute, ""))
            for attribute, each in cls._filters().items()
        }
        return cls(page=_page_number(query.get("page", "")), **values)

    def texts(self, **changes: object) -> dict[str, str]:
        """Write every filter as the address says it, by its name there. changes: other values, by field."""
        texts: dict[str, str] = {}
        for attribute, each in self._filters().items():
            value = changes.get(attribute, getattr(self, attribute))
            if isinstance(value, Sought) and value:
                texts[SOUGHT] = MEMORY.id_of(value)
            else:
                texts[each.name or attribute] = each.write(value)
        return texts

    @property
    def narrowed(self) -> bool:
        """Whether the list is narrowed by any filter."""
        return any(self.texts().values())

    def href(self, path: str = "", /, **changes: object) -> str:
        """Write the address of this list with something changed, on its first page unless one is named."""
        texts = self.texts(**changes)
        return with_query(path or self.path, {**texts, "page": changes.get("page", "")})

    def carried(self, *shown: str) -> tuple[tuple[str, str], ...]:
        """List the filters that are set, but for the fields that a form shows, as (name, text)."""
        left_out = {*shown, SOUGHT} if FOUND in shown else set(shown)
        return tuple(
            (name, text) for name, text in self.texts().items() if text and name not in left_out
        )

    def choices(self, attribute: str, labels: Iterable[tuple[object, str]]) -> tuple[Chip, ...]:
        """Make chips of which one is current. labels: (value, words) of each."""
        now = getattr(self, attribute)
        return tuple(
            Chip(label=label, href=self.href(**{attribute: value}), current=value == now)
            for value, label in labels
        )

    def toggles(self, attribute: str, labels: Iterable[tuple[object, str]]) -> tuple[Chip, ...]:
        """Make chips that set a filter and, where it is set, take it off. labels: (value, words) of each."""
        now, off = getattr(self, attribute), self._filters()[attribute].read("")
        return tuple(
            Chip(
                label=label,
                href=self.href(**{attribute: off if value == now else value}),
                current=value == now,
            )
            for value, label in labels
        )

    def part[Row](self, ask: Callable[[PageRequest], ListPage[Row]]) -> ListPage[Row]:
        """Ask for the page that is wanted; past the end of the list for its last one."""
        listed = ask(PageRequest(number=self.page, size=self.on_a_page))
        if listed.rows or not listed.total:
            return listed
        return ask(PageRequest(number=listed.pages, size=self.on_a_page))

    def listing[Row](
        self,
        listed: ListPage[Any],
        rows: Iterable[Row],
        *,
        fields: tuple[FieldView, ...] = (),
        chips: tuple[ChipRow, ...] = (),
    ) -> Listing[Row]:
        """Make the page of the list. rows: of `listed`, as they are shown."""
        return Listing(
            path=self.path,
            rows=tuple(rows),
            total=listed.total,
            pages=_page_chips(listed.page.number, listed.pages, lambda n: self.href(page=n)),
            fields=fields,
            carried=self.carried(*(each.path for each in fields)),
            chips=chips,
            narrowed=self.narrowed,
            private=any(each.private for each in self._filters().values()),
            forgotten=any(
                isinstance(value, Sought) and value.forgotten
                for value in (getattr(self, attribute) for attribute in self._filters())
            ),
        )


def part_of[Row](rows: Sequence[Row], page: PageRequest) -> ListPage[Row]:
    """Cut a page out of a whole list."""
    return ListPage.of(rows[page.offset : page.offset + page.size], len(rows), page)


def search_field(text: str, hint: str) -> FieldView:
    """Make the field that finds in a list."""
    return FieldView(path=FOUND, label="Find", value=text, hint=hint)


def _page_number(text: str) -> int:
    """Read the page that an address asks for; the first where it cannot be read."""
    page = whole_number(text, digits=6)
    return 1 if page is None else page


def with_query(path: str, values: Mapping[str, object]) -> str:
    """Write an address with what is not blank; alone the path where that would be longer than browsers take."""
    query = urlencode({name: str(value) for name, value in values.items() if value})
    return f"{path}?{query}" if 0 < len(query) <= LONGEST_ADDRESS else path


def _page_chips(page: int, pages: int, href: Callable[[int], str]) -> tuple[Chip, ...]:
    """Link to the pages around one, the first and the last; to none for a single page."""
    if pages < 2:
        return ()
    near = (number for number in range(page - 2, page + 3) if 1 <= number <= pages)
    return tuple(
        Chip(label=str(number), href=href(number), current=number == page)
        for number in sorted({1, pages, *near})
    )


def items_of(code: str) -> str:
    """Return the address of a material's items on the rack."""
    return with_query("/stock/items", {"material": code})
