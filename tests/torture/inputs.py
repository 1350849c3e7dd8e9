"""Bad input at every door: forms and questions of the pages, and the JSON. It may be refused; it must not break anything.

Forms are taken off the pages of the sample shop as they stand there, so that a further form is tried by itself.
"""

import json
import random
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from urllib.parse import quote, urlencode, urlsplit

import lxml.html

from app.storage import DATABASE_NAME, Store, problems_of
from app.web.docs.routes import DAY, DIMENSIONS, SHEETS, STICKS
from seed_demo.build import build_demo
from tests.benchmarks.sample import QUOTE
from tests.landed.addresses import addresses_of
from tests.storage.processes import OWN_PAGE, serving
from tests.torture.figures import Figures

OF_A_KIND = 2
"""How many addresses of a kind are looked at, and how many forms with the same fields there are tried."""

LEFT_ALONE = re.compile(r"/settings/(data|workshop)|/welcome")
"""Forms that put another database in place, take the sample out or open a further socket."""

LONG = "x" * 20_000
BAD = (
    *(
        "",
        " ",
        "0",
        "-1",
        "-0",
        "1e999",
        "1e-999",
        "NaN",
        "Infinity",
        "0x10",
        "1/0",
        "1/3/5",
        "--",
        "½",
        "٣",
    ),
    *(
        "99999999999999999999",
        "9223372036854775808",
        "1,2,3",
        "1.2.3",
        "2 x",
        "x 2",
        "300 x 400 x 500",
        "3' 4\"",
    ),
    *(
        "2026-02-30",
        "31.13.2026",
        "0000-00-00",
        "in 99999999999 weeks",
        "Friday Friday",
        "1.1.10000",
    ),
    *(
        "<script>alert(1)</script>",
        "{{ 7*7 }}",
        "%s%n",
        "../../etc/passwd",
        "'; DROP TABLE orders; --",
        '" OR ""="',
    ),
    *(
        "\x00",
        "a\x00b",
        "\ud800".encode("utf-16", "surrogatepass").decode("utf-16", "replace"),
        "\u202e",
        "e\u0301" * 500,
    ),
    *(
        "\r\nSet-Cookie: a=b",
        "=1+1",
        "@SUM(A1)",
        "*",
        "AND",
        'NEAR("a" "b")',
        "a*",
        "😀" * 50,
        LONG,
        LONG * 5,
    ),
    *(
        "on",
        "off",
        "true",
        "null",
        "[]",
        "{}",
        "\N{MINUS SIGN}5",
        "5\N{MULTIPLICATION SIGN}5",
        "\t",
        "\n",
    ),
)
"""Text that no field expects. Source: ours."""

SURPRISES: tuple[object, ...] = (
    *(
        None,
        True,
        False,
        0,
        -1,
        10**40,
        1e308,
        "",
        " ",
        "1/0",
        "NaN",
        "0",
        "-5",
        "9" * 400,
        [],
        {},
        [[]],
        {"": ""},
    ),
    *("\x00", LONG, [1, 2], {"a": {"b": {}}}, "1e400", "5/0", "½"),
)
"""Values that no member of a request expects. Source: ours."""

REQUESTS: Mapping[str, object] = {
    "/api/dimensions": DIMENSIONS,
    "/api/cutting/sticks": STICKS | {"seconds": 1},
    "/api/cutting/sheets": SHEETS | {"seconds": 1},
    "/api/price": {key: DIMENSIONS[key] for key in ("unit", "artwork")} | {"presentation": "close"},
    "/api/bench/day": DAY,
}
"""Whole requests, of which each member is spoiled in turn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """A request. what: how it is told where it broke something."""

    method: str
    path: str
    body: bytes
    kind: str

    @property
    def what(self) -> str:
        """The request in a line."""
        return f"{self.method} {self.path[:120]} {self.body[:200]!r}"


@dataclass(frozen=True, slots=True, kw_only=True)
class FormSeen:
    """A form of a page: where it goes, and its fields as they stand there."""

    path: str
    fields: tuple[tuple[str, str], ...]

    @property
    def kind(self) -> tuple[str, frozenset[str]]:
        """What makes it another form than the next one."""
        return (
            re.sub(r"\d+", "#", urlsplit(self.path).path),
            frozenset(re.sub(r"\d+", "#", name) for name, _ in self.fields),
        )


def tried(folder: Path, *, sent: int, seed: int, orders: int = 40) -> Figures:
    """Send so many bad requests to a sample shop of so many orders, one after the other."""
    chance = random.Random(seed)
    database = folder / DATABASE_NAME
    with Store.open(database) as store:
        build_demo(store, orders=orders)
    statuses: Counter[int] = Counter()
    wrong: list[str] = []
    with serving("--data", str(folder)) as program:
        asked = _Asking(program.port)
        addresses = tuple(_of_each_kind(addresses_of(database)))
        forms = tuple(_forms(asked, addresses))
        doors = _doors(chance, addresses, forms)
        for _ in range(sent):
            request = next(doors)
            try:
                status = asked.status(request)
            except (OSError, HTTPException) as error:
                wrong.append(f"no whole answer ({error!r}): {request.what}")
                continue
            statuses[status] += 1
            if status >= 500 and status not in (503, 507):
                wrong.append(f"{status}: {request.what}")
        if asked.page("/") is None:
            wrong.append("the desk does not answer any more")
        program.process.terminate()
        program.ended()
    counted = {f"answered with {status}": count for status, count in sorted(statuses.items())}
    return Figures(
        counted={"requests": sent, "addresses": len(addresses), "forms": len(forms)} | counted,
        wrong=(*wrong, *problems_of(database)),
    )


def _of_each_kind(addresses: Iterable[str]) -> Iterator[str]:
    seen: Counter[str] = Counter()
    for address in addresses:
        kind = re.sub(r"\d+", "#", address)
        if seen[kind] < OF_A_KIND:
            seen[kind] += 1
            yield address


class _Asking:
    """A connection that is opened anew where the last answer closed it."""

    def __init__(self, port: int) -> None:
        self._port = port

    def status(self, request: Sent) -> int:
        """The status of an answer, which is read to its end."""
        headers = OWN_PAGE | {"content-type": request.kind}
        with closing(HTTPConnection("127.0.0.1", self._port, timeout=120)) as connection:
            connection.request(request.method, request.path, request.body, headers)
            answer = connection.getresponse()
            answer.read()
            return answer.status

    def page(self, path: str) -> str | None:
        """The HTML at an address, None where there is none."""
        with closing(HTTPConnection("127.0.0.1", self._port, timeout=120)) as connection:
            connection.request("GET", path, headers=OWN_PAGE)
            answer = connection.getresponse()
            text = answer.read()
            html = answer.status == 200 and "html" in (answer.headers["content-type"] or "")
            return text.decode() if html else None


def _forms(asked: _Asking, addresses: tuple[str, ...]) -> Iterator[FormSeen]:
    seen: Counter[object] = Counter()
    for address in addresses:
        page = None if address.endswith((".pdf", ".svg", ".csv", ".dxf")) else asked.page(address)
        if page is None:
            continue
        tree = lxml.html.fromstring(page)
        tree.make_links_absolute(f"http://x{address}")
        for form in tree.forms:
            target = urlsplit(form.action)
            path = f"{target.path}?{target.query}" if target.query else target.path
            if form.method != "POST" or LEFT_ALONE.match(path):
                continue
            found = FormSeen(path=path, fields=tuple(_fields(form)))
            if seen[found.kind] < OF_A_KIND:
                seen[found.kind] += 1
                yield found


def _fields(form: lxml.html.FormElement) -> Iterator[tuple[str, str]]:
    yield from ((name, value or "") for name, value in form.form_values())
    named = {name for name, _ in form.form_values()}
    for element in form.iter("input", "button", "select", "textarea"):
        name = element.get("name")
        if name and name not in named:
            yield name, element.get("value") or ""


def _doors(
    chance: random.Random, addresses: tuple[str, ...], forms: tuple[FormSeen, ...]
) -> Iterator[Sent]:
    doors: tuple[Callable[[], Sent], ...] = (
        *(lambda: _form(chance, chance.choice(forms)),) * 12,
        lambda: _form(chance, FormSeen(path="/quotes?live=1", fields=tuple(QUOTE.items()))),
        *(lambda: _json(chance),) * 4,
        *(lambda: _question(chance, chance.choice(addresses)),) * 4,
        lambda: _bytes(chance, chance.choice(forms).path),
    )
    while True:
        yield chance.choice(doors)()


def _form(chance: random.Random, form: FormSeen) -> Sent:
    fields = list(form.fields)
    for _ in range(chance.randint(1, 4)):
        at = chance.randrange(len(fields)) if fields else 0
        name = fields[at][0] if fields else "x"
        act = chance.random()
        if act < 0.75 and fields:
            fields[at] = (name, chance.choice(BAD))
        elif act < 0.85 and fields:
            del fields[at]
        elif act < 0.95:
            fields.append((name, chance.choice(BAD)))
        else:
            fields.append((chance.choice(BAD)[:200], chance.choice(BAD)))
    body = urlencode(fields, errors="replace").encode()
    return Sent(method="POST", path=form.path, body=body, kind="application/x-www-form-urlencoded")


def _json(chance: random.Random) -> Sent:
    path = chance.choice(tuple(REQUESTS))
    value = json.loads(json.dumps(REQUESTS[path]))
    for _ in range(chance.randint(1, 3)):
        value = _spoiled(chance, value)
    return Sent(method="POST", path=path, body=json.dumps(value).encode(), kind="application/json")


def _spoiled(chance: random.Random, value: object) -> object:
    """One place of a value put to something that nobody expects there."""
    if isinstance(value, dict) and value and chance.random() < 0.8:
        key = chance.choice(tuple(value))
        if chance.random() < 0.1:
            return value | {chance.choice(BAD)[:100]: chance.choice(SURPRISES)}
        return value | {key: _spoiled(chance, value[key])}
    if isinstance(value, list) and value and chance.random() < 0.8:
        at = chance.randrange(len(value))
        return [*value[:at], _spoiled(chance, value[at]), *value[at + 1 :]]
    return chance.choice(SURPRISES)


def _question(chance: random.Random, address: str) -> Sent:
    bad = quote(chance.choice(BAD)[:3000], safe="", errors="replace")
    way = chance.random()
    if way < 0.4 and re.search(r"\d+", address):
        address = re.sub(r"\d+", lambda _: bad, address, count=1)
    elif way < 0.8 and "=" in address:
        address = re.sub(r"=[^&]*", lambda _: f"={bad}", address, count=1)
    else:
        names = (
            "q",
            "page",
            "stage",
            "sort",
            "kind",
            "due",
            "open",
            "items",
            "piece",
            "design",
            "size",
        )
        address += f"{'&' if '?' in address else '?'}{chance.choice(names)}={bad}"
    method = chance.choice(("GET", "GET", "GET", "HEAD", "POST", "PUT", "DELETE"))
    return Sent(method=method, path=address, body=b"", kind="text/plain")


def _bytes(chance: random.Random, path: str) -> Sent:
    body = chance.randbytes(chance.randint(0, 4000))
    kinds = (
        "application/x-www-form-urlencoded",
        "multipart/form-data; boundary=x",
        "application/json",
        "text/plain",
    )
    return Sent(method="POST", path=path, body=body, kind=chance.choice(kinds))
