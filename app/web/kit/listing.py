"""What the lists share: filters as links, page numbers, matches under a field that finds."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from urllib.parse import urlencode


@dataclass(frozen=True, slots=True, kw_only=True)
class Chip:
    """A link that sets a filter, an order or a page of a list, or takes it off."""

    label: str
    href: str
    current: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One match under a field that finds."""

    value: str
    label: str
    hint: str = ""
    colour: str = ""


def page_number(query: Mapping[str, str]) -> int:
    """The page of a list that an address asks for; the first where it cannot be read."""
    page = query.get("page", "")
    return int(page) if page.isascii() and page.isdigit() and len(page) < 7 else 1


def with_query(path: str, values: Mapping[str, object]) -> str:
    """An address with what is not blank."""
    query = urlencode({name: str(value) for name, value in values.items() if value})
    return f"{path}?{query}" if query else path


def numbered(page: int, pages: int, href: Callable[[int], str]) -> tuple[Chip, ...]:
    """Links to the pages around one, the first and the last; none for a single page."""
    if pages < 2:
        return ()
    near = (number for number in range(page - 2, page + 3) if 1 <= number <= pages)
    return tuple(
        Chip(label=str(number), href=href(number), current=number == page)
        for number in sorted({1, pages, *near})
    )


def items_of(code: str) -> str:
    """The address of a material's items on the rack."""
    return with_query("/stock/items", {"material": code})
