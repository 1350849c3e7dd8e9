"""What a phone of the bench is given holds no money and nobody's contacts: pages, parts, papers, page models.

Two shops are looked through, the busy one and the sample: every amount, currency, phone number, e-mail address and street
that their files hold is looked for in everything that such a phone may ask for.
"""

import json
import re
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass, fields, is_dataclass, replace
from html import unescape
from pathlib import Path

import pytest
from httpx2 import Response
from starlette.responses import HTMLResponse
from starlette.testclient import TestClient

from app.money import Money, show_money
from app.money.currency import CURRENCIES
from app.orders import Customer
from app.pricing import PriceLine
from app.storage import DATABASE_NAME, PageRequest, Store
from app.web.kit import templating
from seed_demo.build import build_demo
from tests.browser import busy
from tests.documents.reading import text_of
from tests.landed.addresses import addresses_of
from tests.web.at_bench import phone_on
from tests.web.conftest import NOW

pytestmark = [pytest.mark.slow, pytest.mark.documents, pytest.mark.poppler]

PHONES = "http://192.0.2.7:8027"


BUSY_CONTACTS = {
    "phone": "07700 900 111",
    "email": "quill@post.example",
    "address": "4 Reed Lane, Orrenby",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Secrets:
    """What a shop's file holds that the bench is not shown, as it would be printed."""

    amounts: frozenset[str]
    contacts: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """A shop that is open to a phone of the bench."""

    phone: TestClient
    secrets: Secrets
    answers: dict[str, Response]
    models: tuple[object, ...]

    @property
    def given_away(self) -> dict[str, set[str]]:
        """What of its secrets each answer holds."""
        return {
            address: given_away(said_by(answer), self.secrets)
            for address, answer in self.answers.items()
        }


def amounts_in(value: object) -> Iterator[Money]:
    """Yield every amount in the JSON of a record."""
    if isinstance(value, dict):
        currency = value.get("currency")
        if isinstance(currency, dict) and isinstance(value.get("minor"), int):
            yield Money(abs(value["minor"]), CURRENCIES[currency["code"]])
        for each in value.values():
            yield from amounts_in(each)
    elif isinstance(value, list):
        for each in value:
            yield from amounts_in(each)


def secrets_of(path: Path) -> Secrets:
    """Read a file by itself, whatever its tables are called: its records as JSON, and its numbers of minor units."""
    amounts: set[Money] = set()
    contacts: set[str] = set()
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as file:
        tables = file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
        for (table,) in tables:
            rows = file.execute(f'SELECT * FROM "{table}"')
            names = [column[0] for column in rows.description]
            for row in rows:
                for name, value in zip(names, row, strict=True):
                    if name.endswith("_minor") and isinstance(value, int):
                        amounts.add(Money(abs(value), CURRENCIES["EUR"]))
                    elif isinstance(value, str) and value.startswith(("{", "[")):
                        amounts.update(amounts_in(json.loads(value)))
                    elif table == "customers" and name in BUSY_CONTACTS:
                        contacts.add(
                            re.split(r",|\n", value)[0]
                        )  # of an address its street: a town names goods too
    return Secrets(
        # Below one a figure as 0.06 is as well a share of a square metre; the signs of currencies are looked for anyway.
        amounts=frozenset(show_money(amount) for amount in amounts if amount.minor >= 100),
        contacts=frozenset(contacts - {""}),
    )


def fill_busy(store: Store) -> None:
    """The busy shop, whose customers can be reached."""
    busy.fill(store)
    with store.writing() as work:
        listed = work.customers.listed("", PageRequest(size=100)).rows
        for each in listed:
            kept = work.customers.get(each.id)
            changed = replace(kept.value, **BUSY_CONTACTS)
            work.customers.save(each.id, changed, kept.version, now=NOW)


def fill_sample(store: Store) -> None:
    """The sample shop, with a few orders of each kind."""
    build_demo(store, orders=40)


@pytest.fixture(scope="module", params=[fill_busy, fill_sample], ids=["busy", "sample"])
def shop(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Shop]:
    """Every address of the shop is asked once, and the page models that are rendered are noted."""
    path = tmp_path_factory.mktemp("seen") / DATABASE_NAME
    models: list[object] = []
    written = templating._html

    def noting(template: str, status: int, **values: object) -> HTMLResponse:
        models.append(values["page"])
        return written(template, status, **values)

    with (
        Store.open(path) as store,
        pytest.MonkeyPatch.context() as patch,
        phone_on_filled(store, request.param) as phone,
    ):
        patch.setattr(templating, "_html", noting)
        answers = {address: phone.get(address) for address in some_of(addresses_of(path))}
        yield Shop(phone=phone, secrets=secrets_of(path), answers=answers, models=tuple(models))


@contextmanager
def phone_on_filled(store: Store, fill: Callable[[Store], None]) -> Iterator[TestClient]:
    """A phone of the bench in a shop that is filled first."""
    fill(store)
    with phone_on(store, phone_url=PHONES) as phone:
        phone.follow_redirects = False
        yield phone


NUMBER = re.compile(r"(?<![\d.,/])\d[\d,]*\.\d\d(?![\d])")
SIGNS = re.compile(r"[€£$¥₹]|\b(?:EUR|USD|GBP)\b")
DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
TAG = re.compile(r"<[^>]*>")
MEASURED = re.compile(r"\d(?:\.\d+)?\s(?:mm|cm|m|in|kg|g|lb|oz|%|m²)(?![a-z])")


def given_away(text: str, secrets: Secrets) -> set[str]:
    """What of a shop's secrets a text holds. Of a drawing its words are looked at, since its coordinates are numbers of their own."""
    seen = unescape(DRAWING.sub(lambda drawn: TAG.sub(" ", drawn[0]), text))
    figures = set(NUMBER.findall(MEASURED.sub("", seen)))
    said = {each for each in secrets.contacts if each in seen}
    return (figures & secrets.amounts) | said | set(SIGNS.findall(seen))


MOST_ALIKE = 4
"""So many addresses of one kind are looked at: the sample has dozens of pieces, and a ticket takes its time."""


def some_of(addresses: Iterable[str]) -> tuple[str, ...]:
    """A few addresses of every kind."""
    kinds: dict[str, list[str]] = {}
    for address in addresses:
        kinds.setdefault(re.sub(r"\d+", "1", address), []).append(address)
    return tuple(address for alike in kinds.values() for address in alike[:MOST_ALIKE])


def said_by(answer: Response) -> str:
    """What an answer says, read back where it is a paper."""
    if answer.headers.get("content-type", "").startswith("application/pdf"):
        return text_of(answer.content)
    if answer.url.path.endswith(".dxf"):
        return re.sub(
            r"^\s*\$[A-Z0-9_]+\s*$", "", answer.text, flags=re.MULTILINE
        )  # its own variables
    return answer.text


def held(value: object, seen: set[int]) -> Iterator[object]:
    """Yield whatever a page model holds, however deep."""
    if id(value) in seen or isinstance(value, str | int | bytes):
        return
    seen.add(id(value))
    yield value
    inside: Iterable[object] = ()
    if is_dataclass(value):
        inside = (getattr(value, each.name) for each in fields(value))
    elif isinstance(value, Mapping):
        inside = value.values()
    elif isinstance(value, tuple | list | frozenset | set):
        inside = value
    for each in inside:
        yield from held(each, seen)


def test_the_shops_have_secrets_to_look_for(shop: Shop) -> None:
    assert len(shop.secrets.amounts) > 40
    assert len(shop.secrets.contacts) >= 3


def test_no_page_or_paper_of_the_bench_says_an_amount_or_a_contact(shop: Shop) -> None:
    given = [answer for answer in shop.answers.values() if answer.status_code != 403]
    assert len(given) > 20
    assert {answer.status_code for answer in given} <= {200, 303}
    assert {address: said for address, said in shop.given_away.items() if said} == {}


def test_what_it_is_refused_is_looked_through_too(shop: Shop) -> None:
    assert sum(answer.status_code == 403 for answer in shop.answers.values()) > 20


def test_its_links_lead_to_what_it_is_given(shop: Shop) -> None:
    leading = {
        unescape(href)
        for answer in shop.answers.values()
        if answer.headers.get("content-type", "").startswith("text/html")
        for href in re.findall(r'<a\b[^>]*href="(/[^"#]*)', answer.text)
    }
    assert len(leading) > 30
    asked = {address: shop.phone.head(address).status_code for address in leading}
    assert {address: status for address, status in asked.items() if status not in (200, 303)} == {}


def test_no_page_model_of_the_bench_holds_money_or_a_customer(shop: Shop) -> None:
    """So that no template can show them: what a phone may not see is left out where its page is made."""
    closed = (Money, Customer, PriceLine)
    carried = {
        (type(model).__name__, type(each).__name__)
        for model in shop.models
        for each in held(model, set())
        if isinstance(each, closed)
    }
    assert len(shop.models) > 20
    assert carried == set()
