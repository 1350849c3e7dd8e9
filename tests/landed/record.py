"""What the pages and papers of a landed shop say, read and kept."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from starlette.testclient import TestClient

from app import __version__
from tests.documents.reading import text_of
from tests.landed.addresses import addresses_of
from tests.landed.figures import as_text, difference, figures_in, read, text_of_page
from tests.landed.key_figures import key_figures
from tests.landed.shops import LandedShop

WHICH_PRINT = re.compile(r"(?:Version|Copy of version)\s\d+(?:,|\sof)\s\d\d:\d\d\b")
"""The mark at the head of a ticket that was printed for the first time, or again, on the day of the shop: it is of
that print and no figure of the shop's. `tests/web/test_printed_tickets.py` holds it.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What an address answers. figures: as `figures.as_text`."""

    status: int
    figures: str

    def against(self, now: "Said") -> str:
        """In what another answer differs; empty where it says the same."""
        if self.status != now.status:
            return f"status {self.status}, now {now.status}"
        return difference(read(self.figures), read(now.figures))


def ask(browser: TestClient, address: str, folder: Path) -> Said:
    """Ask for a page or a paper. folder: of the data, whose name may be shown and is none of theirs."""
    answer = browser.get(address, follow_redirects=False)
    kind = answer.headers.get("content-type", "").partition(";")[0]
    if kind == "application/pdf":
        text = WHICH_PRINT.sub("", text_of(answer.content))
    elif kind == "text/html":
        text = text_of_page(answer.text) if answer.text else ""
    elif kind == "image/vnd.dxf":
        text = ""  # a drawing for machines, which carries the moment at which it was made
    else:
        text = answer.text.replace(",", " ").replace('"', " ")
    said = figures_in(text.replace(str(folder), ""))
    said.pop(__version__, None)  # stands at the foot of every page and is none of the shop's
    return Said(status=answer.status_code, figures=as_text(said))


def is_paper(address: str) -> bool:
    """Whether an address answers with a PDF."""
    return address.partition("?")[0].endswith((".pdf", "/labels"))


def kept(shop: LandedShop) -> dict[str, Any]:
    """What was recorded: "key" figures, and "said" by address."""
    found: dict[str, Any] = json.loads(shop.said.read_text())
    return found


def said_of(shop: LandedShop) -> dict[str, Said]:
    """What was recorded of every address."""
    return {
        address: Said(status=status, figures=figures)
        for address, (status, figures) in kept(shop)["said"].items()
    }


def record(shop: LandedShop) -> Iterator[str]:
    """Read everything anew and keep it. Yields a line for each difference to what was kept."""
    before = kept(shop) if shop.said.exists() else {"key": {}, "said": {}}
    with TemporaryDirectory() as made:
        folder = Path(made)
        with shop.opened(folder) as (store, browser):
            every = tuple(addresses_of(store.path))
            # Pages first: what was printed is said on them from then on.
            asked = {each: ask(browser, each, folder) for each in sorted(every, key=is_paper)}
            said = {each: asked[each] for each in every}
            key = key_figures(store)
    yield from differences("", before["key"], key)
    now = {address: [each.status, each.figures] for address, each in said.items()}
    for address in before["said"].keys() - now.keys():
        yield f"{address}: is not asked for any more"
    for address, each in said.items():
        status, figures = before["said"].get(address, (each.status, ""))
        if changed := Said(status=status, figures=figures).against(each):
            yield f"{address}: {changed}"
    shop.said.write_text(_written(key, now))


def _written(key: Any, said: dict[str, Any]) -> str:
    """JSON with a line for each address, so that a change of one is a change of its line alone."""
    lines = (f"  {_plain(address)}: {_plain(answer)}" for address, answer in said.items())
    in_lines = ",\n".join(lines)
    return (
        f'{{"key": {json.dumps(key, indent=1, ensure_ascii=False)},\n"said": {{\n{in_lines}\n}}}}\n'
    )


def _plain(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def differences(where: str, before: Any, now: Any) -> Iterator[str]:
    """What differs between two plain values, a line each with the way to it."""
    if isinstance(before, dict) and isinstance(now, dict):
        for name in (*before, *(each for each in now if each not in before)):
            yield from differences(f"{where}/{name}", before.get(name), now.get(name))
    elif before != now:
        yield f"{where or '/'}: was {before!r}, is {now!r}"
