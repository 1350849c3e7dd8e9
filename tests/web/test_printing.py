"""A paper is made in a child; one that takes more than a moment is watched, stopped and fetched."""

import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app.errors import NotFound
from app.services.cutting_child import StoppedError
from app.services.printing import MOST_AT_ONCE, PRINTS, Make, Print, Prints, PrintState, TooLarge
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
        assert paper.state is PrintState.DONE
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
