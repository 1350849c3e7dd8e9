"""A paper is made in a child; one that takes more than a second is watched, stopped and fetched."""

import html
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.documents.kit.pdf import TOLD, StyleSheets, to_pdf
from app.errors import NotFound
from app.services.children import Children, StoppedError
from app.services.printing import (
    GONE,
    MANY,
    MOMENT,
    MOST_AT_ONCE,
    PRINTS,
    Make,
    Print,
    Prints,
    TooLarge,
)
from app.services.printing_worker import readied
from app.services.run_state import RunState
from app.storage import Store
from app.web.app import create_app
from app.web.kit.visitor import Role, Visitor
from tests.web.at_bench import PHONE, phone_on
from tests.web.conftest import NOW, OWN_ADDRESS
from tests.web.shown import Counter
from tests.web.test_papers import quote  # noqa: F401 - a fixture


class Slow:
    """Makes a paper of three pieces, the first of them; the rest once it may."""

    def __init__(self) -> None:
        self.go = threading.Event()

    @property
    def standing_in(self) -> Any:
        """A method that does it: an object that is called is none."""

        def answered(prints: Prints, paper: Print, make: Make) -> Path:
            return self(prints, paper, make)

        return answered

    def __call__(self, _prints: Prints, paper: Print, make: Make) -> Path:
        paper.begun.set()
        paper.done, paper.of = 1, 3
        while not self.go.wait(0.005):
            if paper.stop.is_set():
                raise StoppedError
        into = _prints._file(paper)
        into.write_bytes(make())
        return into


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[Slow]:
    slow = Slow()
    monkeypatch.setattr(Prints, "_answered", slow.standing_in)
    monkeypatch.setattr(PRINTS, "moment", 0.01)
    yield slow
    slow.go.set()


def watched(counter: Counter, address: str) -> str:
    answer = counter.get(address)
    assert answer.status == 303
    return answer.location


@pytest.mark.documents
def test_a_long_paper_says_how_far_it_is_and_then_opens(
    counter: Counter,
    quote: str,  # noqa: F811
    slow: Slow,
) -> None:
    at = watched(counter, f"{quote}/quote.pdf")
    page = counter.get(at)
    assert page.status == 200
    assert "Pieces laid out: 1 of 3" in page.main
    assert "Making Q-2026-" in page.main
    assert 'http-equiv="refresh"' in counter.client.get(at).text
    assert "Stop" in page.buttons()
    slow.go.set()
    assert PRINTS.look(at.removeprefix("/prints/")).ended.wait(60)
    assert counter.get(at).location == f"{at}/paper.pdf"
    paper = counter.client.get(f"{at}/paper.pdf")
    assert paper.headers["content-type"] == "application/pdf"
    assert paper.content.startswith(b"%PDF-")
    assert paper.headers["content-disposition"].startswith('inline; filename="Q-')


def test_a_paper_that_is_stopped_says_so_and_is_none(
    counter: Counter,
    quote: str,  # noqa: F811
    slow: Slow,
) -> None:
    at = watched(counter, f"{quote}/quote.pdf")
    assert counter.post(f"{at}/stop").location == at
    assert PRINTS.look(at.removeprefix("/prints/")).ended.wait(60)
    assert "Making this paper was stopped." in counter.get(at).main
    assert counter.get(f"{at}/paper.pdf").location == at


def test_a_paper_that_is_gone_is_not_found(counter: Counter, quote: str) -> None:  # noqa: F811
    assert counter.get("/prints/0123456789abcdef").status == 404


def test_of_very_many_papers_the_next_is_refused_for_now(
    counter: Counter,
    quote: str,  # noqa: F811
    slow: Slow,
) -> None:
    for _ in range(MOST_AT_ONCE):
        watched(counter, f"{quote}/quote.pdf")
    refused = counter.get(f"{quote}/quote.pdf")
    assert refused.status == 503
    assert f"{MOST_AT_ONCE} papers are being made already" in refused.main
    assert counter.get("/orders").status == 200
    slow.go.set()


def test_one_paper_of_many_pieces_is_made_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    at_work = threading.Semaphore(0)
    slow = Slow()

    def counted(prints: Prints, paper: Print, make: Make) -> Path:
        at_work.release()
        return slow(prints, paper, make)

    monkeypatch.setattr(Prints, "_answered", counted)
    prints = Prints(moment=0.01)
    long = [prints.start(lambda made: made(lambda: b""), "long.pdf", 300) for _ in range(2)]
    assert at_work.acquire(timeout=60)
    assert not at_work.acquire(timeout=0.2)
    small = prints.start(lambda made: made(lambda: b""), "small.pdf")
    assert at_work.acquire(timeout=60)  # a small one does not wait for them
    slow.go.set()
    for paper in (*long, small):
        assert paper.ended.wait(60)
        assert paper.state is RunState.DONE
    prints.close()


HUNGRY = "import sys; from app.services import printing_worker as w; w.MOST_MEMORY = 600 * 2**20; w.main()"


def eats() -> bytes:
    """Take two gigabytes."""
    return bytes(2 * 2**30)


@pytest.mark.documents
@pytest.mark.skipif(sys.platform != "linux", reason="needs a bound on address space")
def test_a_paper_beyond_its_memory_is_given_up_in_words() -> None:
    prints = Prints((sys.executable, "-c", HUNGRY), moment=60)
    with pytest.raises(TooLarge, match="more memory or time than printing may"):
        prints.start(lambda made: made(eats), "hungry.pdf")
    prints.close()


def test_a_paper_that_is_forgotten_leaves_no_file(monkeypatch: pytest.MonkeyPatch) -> None:
    slow = Slow()
    slow.go.set()
    monkeypatch.setattr(Prints, "_answered", slow.standing_in)
    prints = Prints(moment=60)
    paper = prints.start(lambda made: made(lambda: b"%PDF-"), "a.pdf")
    assert paper.result is not None
    assert prints.taken(paper) == b"%PDF-"
    assert not paper.result.exists()
    with pytest.raises(NotFound):
        prints.look(paper.id)
    prints.close()


OTHER = Visitor(role=Role.BENCH, phone="Phone at the saw")
NOW_OFFICE = Visitor(role=Role.OFFICE, phone=PHONE.phone)
"""The phone of the bench, once it was paired for the office."""


@pytest.mark.parametrize(
    ("asked", "others"),
    [
        (PHONE, (OTHER, Visitor(), NOW_OFFICE)),
        (NOW_OFFICE, (PHONE, OTHER, Visitor())),
        (Visitor(), (PHONE, NOW_OFFICE)),
    ],
    ids=["bench", "office phone", "computer"],
)
def test_a_paper_is_given_to_who_asked_for_it_alone(
    stocked: Store,
    monkeypatch: pytest.MonkeyPatch,
    asked: Visitor,
    others: tuple[Visitor, ...],
) -> None:
    """Nobody else sees it, stops it, or learns that it is there."""

    def work(_made: object) -> Path:
        into = PRINTS._file(Print(id="0" * 16, name="", of=1))
        into.write_bytes(b"%PDF-1.7")
        return into

    monkeypatch.setattr(PRINTS, "close", lambda: None)  # the app of another ends, and this goes on
    paper = PRINTS.start(work, "paper.pdf", asked_by=asked)
    at = f"/prints/{paper.id}"
    for other in others:
        with phone_on(stocked, other) as their:
            for answer in (their.get(at), their.get(f"{at}/paper.pdf"), their.post(f"{at}/stop")):
                assert answer.status_code == 404
                assert html.escape(GONE) in answer.text
            assert not paper.stop.is_set()
    with phone_on(stocked, asked) as own:
        assert own.get(f"{at}/paper.pdf").content == b"%PDF-1.7"


def test_a_phone_of_the_bench_watches_its_own_ticket_and_stops_it(
    stocked: Store, slow: Slow
) -> None:
    paper = PRINTS.start(lambda made: made(lambda: b""), "ticket.pdf", asked_by=PHONE)
    at = f"/prints/{paper.id}"
    with phone_on(stocked) as phone:
        page = phone.get(at)
        assert page.status_code == 200
        assert "Pieces laid out" in page.text
        assert phone.post(f"{at}/stop").status_code == 200
        assert paper.ended.wait(60)
        stopped = phone.get(at)
        assert "Making this paper was stopped." in stopped.text
        assert 'href="/"' in stopped.text


def test_one_slow_piece_is_said_to_take_longer(
    counter: Counter,
    quote: str,  # noqa: F811
    slow: Slow,
) -> None:
    at = watched(counter, f"{quote}/quote.pdf")
    paper = PRINTS.look(at.removeprefix("/prints/"))
    paper.done, paper.of = 0, 1
    assert "It is being laid out; this one takes longer." in counter.get(at).main
    paper.pages = 7
    assert "7 pages laid out so far." in counter.get(at).main
    paper.begun.clear()
    assert "The printing is being started" in counter.get(at).main
    paper.waits = True
    assert "It waits for its turn: another long paper is made first." in counter.get(at).main


@pytest.mark.documents
def test_the_pages_of_a_paper_without_pieces_are_told() -> None:
    told: list[tuple[int, int]] = []
    token = TOLD.set(lambda done, of: told.append((done, of)))
    try:
        lines = "<p>A line.</p>" * 100
        to_pdf(f'<html lang="en"><title>Lines</title>{lines}</html>', StyleSheets(names=()))
    finally:
        TOLD.reset(token)
    assert told[-1][0] >= 2
    assert {of for _, of in told} == {0}


def test_a_page_is_shown_from_the_first_second_on_also_while_the_child_starts() -> None:
    assert MOMENT == 1
    go = threading.Event()
    prints = Prints(("cat",), moment=0.01)

    def work(_made: object) -> Path:
        assert go.wait(60)
        return Path("made.pdf")

    paper = prints.start(work, "a.pdf")
    assert not paper.ended.is_set()
    assert not paper.begun.is_set()
    go.set()
    assert paper.ended.wait(60)
    prints.close()


def test_a_paper_waits_for_the_child_that_is_readied_and_no_page_does(
    stocked: Store,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    go, asked = threading.Event(), list[Make]()
    file = tmp_path / "made.pdf"

    def asked_of(_prints: Prints, _paper: Print, make: Make) -> Path:
        asked.append(make)
        assert go.wait(60)
        file.write_bytes(b"%PDF-1.7")
        return file

    monkeypatch.setattr(Prints, "_asked", asked_of)
    prints = Prints(moment=0.01)
    prints.expect()
    prints.expect()
    paper = prints.start(lambda made: made(bytes), "a.pdf", MANY)
    assert not paper.ended.is_set()
    assert asked in ([], [readied])  # a thread may not have come to it yet
    go.set()
    assert paper.ended.wait(60)
    assert asked == [readied, bytes]
    prints.close()


def test_the_page_of_an_order_readies_the_printing_where_it_is_wanted(
    stocked: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    expected: list[str] = []
    monkeypatch.setattr(PRINTS, "expect", lambda: expected.append("a paper"))
    for readies, times in ((False, 0), (True, 1)):
        app = create_app(stocked, now=lambda: NOW, readies_papers=readies)
        with TestClient(app, base_url=OWN_ADDRESS) as page:
            page.get("/orders/1")
        assert len(expected) == times


def test_a_child_that_made_many_pieces_ends_and_gives_its_memory_back() -> None:
    children = Children(("cat",))
    with children.kept():
        assert children.answer("many", 60, threading.Event(), lives_on=lambda _: False) == "many\n"
        assert not children.waits()
        assert children.answer("one", 60, threading.Event()) == "one\n"
        assert children.waits()
