"""What comes in by a small door: numbers in forms and questions, files, heads, and a disk that is full."""

import errno
import os
import re
import tempfile
from collections import Counter as Counts
from collections.abc import Iterator
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.documents.kit.pango import how_to_install
from app.services import price_book
from app.storage import DATABASE_NAME, Store, is_full
from app.web.app import create_app
from app.web.kit.cleaning import cleaned
from app.web.kit.templating import STATIC
from tests.builders.hasty import new_sample
from tests.landed.addresses import addresses_of
from tests.web.conftest import OWN_ADDRESS
from tests.web.shown import Counter

BEYOND = (str(2**63), "9" * 5000)
"""No number of anything."""


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Counter, tuple[str, ...]]]:
    """A sample shop that is served, and the addresses of its pages."""
    with (
        new_sample(tmp_path_factory.mktemp("doors") / DATABASE_NAME, orders=12) as store,
        TestClient(
            create_app(store),
            base_url=OWN_ADDRESS,
            raise_server_exceptions=False,
            headers={"sec-fetch-site": "same-origin"},
        ) as client,
    ):
        yield Counter(client), tuple(addresses_of(store.path))


def test_a_question_that_no_number_can_answer_is_not_found(counter: Counter) -> None:
    for number in (2**63, "9" * 5000):
        for page in ("/quotes/new?customer={}", "/sell?customer={}"):
            assert counter.get(page.format(number)).status == 404
    assert counter.get("/orders/1/pieces/new?like=99999999999999999999").status == 404


def test_static_files_and_json_answer_a_question_about_their_head(counter: Counter) -> None:
    # Source: RFC 9110, 9.3.2.
    files = [path for path in STATIC.rglob("*") if path.is_file()]
    addresses = [f"/static/{path.relative_to(STATIC).as_posix()}" for path in files]
    assert len(addresses) > 20
    for address in (*addresses, "/api/openapi.json"):
        given, head = counter.client.get(address), counter.client.head(address)
        assert (address, head.status_code) == (address, given.status_code)
        assert head.content == b""
        assert head.headers["content-length"] == str(len(given.content))
        assert head.headers["content-type"] == given.headers["content-type"]


# The soft hyphen, a blank without a width, a mark of direction, a bell, hard and thin blanks.
DIRTY, CLEAN = "\u00a0Lin\u00aden\u200b bo\u200eard\x07\u2009", "Linen board"


def test_what_nobody_sees_is_left_out() -> None:
    assert cleaned(DIRTY).strip() == CLEAN
    assert cleaned("a\tb\r\nc") == "a\tb\r\nc"
    assert (
        cleaned("\u0646\u0645\u06cc\u200c\u0634\u0648\u062f")
        == "\u0646\u0645\u06cc\u200c\u0634\u0648\u062f"
    )


def test_a_file_leaves_out_what_a_form_leaves_out(counter: Counter, stocked: Store) -> None:
    for code in ("FORM-1", "FILE-1"):
        first = next(each for each in price_book.listed(stocked) if each.code.startswith("LIN"))
        page = counter.get(f"/materials/new?copy={first.code}")
        if code == "FORM-1":
            form = page.form("/materials/new") | {"code": f"\u200b{code}\x07", "name": DIRTY}
            assert counter.post("/materials/new", form | {"action": "save"}).status == 303
            continue
        book = counter.client.get("/materials/price-book.csv").text
        head, row = (
            book.splitlines()[0],
            next(line for line in book.splitlines() if "FORM-1" in line),
        )
        file = f"{head}\n{row.replace('FORM-1', f'\u200b{code}\x07').replace(CLEAN, DIRTY)}\n"
        shown = counter.client.post(
            "/materials/price-book", files={"file": ("book.csv", file.encode(), "text/csv")}
        )
        assert shown.status_code == 200
        form = Counter(counter.client).post(
            "/materials/price-book", {"text": file, "action": "save"}
        )
        assert form.status == 303
    names = {each.code: each.name for each in price_book.listed(stocked)}
    assert names["FORM-1"] == names["FILE-1"] == CLEAN


def _shape(text: str) -> str:
    """An address or the name of a field without what tells one thing from another of its kind: numbers, codes of materials."""
    return re.sub(r"\d", "1", re.sub(r"[A-Z][A-Z0-9]*(-[A-Z0-9]+)*(?=/|$)", "1", text))


@pytest.mark.slow
def test_no_number_in_any_field_of_any_form_is_a_bug(
    sample: tuple[Counter, tuple[str, ...]],
) -> None:
    """Each field in turn, once for each kind of form."""
    counter, addresses = sample
    asked: set[tuple[str, str]] = set()
    wrong: list[tuple[str, str, str]] = []
    looked: Counts[str] = Counts()
    for address in addresses:
        # One of a kind of page is enough: its forms are of a few kinds. What a material asks depends on what it is.
        page_kind = re.sub(r"\d", "1", address.partition("?")[0])
        looked[page_kind] += 1
        if ".pdf" in address or ".dxf" in address or looked[page_kind] > 1:
            continue
        page = counter.get(address)
        if page.status != 200 or "html" not in page.headers["content-type"]:
            continue
        for form in page.each(tag="form"):
            action = form.get("action") or address
            kind = _shape(action)
            fields = page.form(action) if form.get("method") == "post" else {}
            for name in fields:
                shape = _shape(name)
                if name == "once" or (kind, shape) in asked:
                    continue
                asked.add((kind, shape))
                for number in BEYOND:
                    answer = counter.post(action, fields | {name: number, "once": ""})
                    if answer.status >= 500:
                        wrong.append((action, name, number[:25]))
                    counter.client.cookies.clear()  # one turned the screen to the customer
    assert len(asked) > 600
    assert wrong == []


def refuse(*_: Any, **__: Any) -> Any:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_a_file_that_finds_no_room_while_it_comes_in_is_said(
    counter: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A large file is spooled to the disk by the reader of forms."""
    monkeypatch.setattr(tempfile, "TemporaryFile", refuse)
    large = b"code,name\n" + b"A,B\n" * 300_000  # above the megabyte that is kept in memory
    answer = counter.client.post(
        "/materials/price-book", files={"file": ("book.csv", large, "text/csv")}
    )
    assert answer.status_code == 507
    assert "The disk is full" in answer.text


def test_a_full_disk_that_a_library_hands_on_is_known() -> None:
    for number in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        handed_on = RuntimeError("the library could not")
        handed_on.__cause__ = OSError(number, "no room")
        assert is_full(handed_on)
    assert not is_full(OSError(errno.EACCES, "not allowed"))
    assert not is_full(RuntimeError("something else"))


def test_a_library_that_met_a_full_disk_is_answered_as_one(
    counter: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    def hand_on(*_: Any, **__: Any) -> Any:
        try:
            refuse()
        except OSError as full:
            raise RuntimeError("the picture could not be written") from full

    monkeypatch.setattr(price_book, "listed", hand_on)
    with TestClient(
        counter.client.app, base_url=OWN_ADDRESS, raise_server_exceptions=False
    ) as browser:
        answer = browser.get("/materials/price-book.csv")
    assert answer.status_code == 507
    assert "The disk is full" in answer.text
    assert "content-security-policy" in answer.headers


@pytest.mark.parametrize(
    ("system", "linux", "named"),
    [
        ("linux", {"ID": "debian"}, "apt-get install libpango-1.0-0"),
        (
            "linux",
            {"ID": "linuxmint", "ID_LIKE": "ubuntu debian"},
            "apt-get install libpango-1.0-0",
        ),
        ("linux", {"ID": "fedora"}, "dnf install pango"),
        ("linux", {"ID": "rocky", "ID_LIKE": "rhel centos fedora"}, "dnf install pango"),
        ("linux", {"ID": "arch"}, "pacman -S pango"),
        ("linux", {}, "on Debian (apt-get install libpango-1.0-0"),
        ("darwin", {}, "brew install pango"),
        ("win32", {}, "pacman -S mingw-w64-x86_64-pango"),
    ],
)
def test_what_a_pdf_lacks_is_named_by_the_packages_of_the_system(
    system: str, linux: dict[str, str], named: str
) -> None:
    # Source: WeasyPrint 70, documentation, "First steps".
    assert named in how_to_install(system, linux)
