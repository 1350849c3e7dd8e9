"""What takes long stands in a line with an end, and holds nobody who asks for something else."""

import asyncio
import threading
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.cutting.sticks.simple import simple_stick_plan
from app.errors import Busy
from app.services import cutting
from app.web.kit import line as lines
from app.web.kit.line import Line
from tests.apart import run_apart

ASKED: dict[str, Any] = {
    "unit": "mm",
    "stock": [{"id": "new", "length": "3000"}],
    "parts": [{"id": "A", "length": "1000"}],
}
ALL = 45
"""Three at work and forty-two waiting."""


class Slow:
    """Makes plans by our own rule, but only once it may."""

    def __init__(self) -> None:
        self.go = threading.Event()
        self.at_work = threading.Semaphore(0)

    def __call__(self, asked: Any, _seconds: int | None = None) -> Any:
        self.at_work.release()
        assert self.go.wait(60)
        return simple_stick_plan(asked)


@contextmanager
def filled(page: TestClient, slow: Slow) -> Iterator[list["Future[Any]"]]:
    """The line of cutting plans, full; let go at the end."""
    with ThreadPoolExecutor(ALL) as asking:
        answers = [asking.submit(page.post, "/api/cutting/sticks", json=ASKED) for _ in range(ALL)]
        try:
            for _ in range(3):
                assert slow.at_work.acquire(timeout=60)
            while lines.SOLVED.room:
                threading.Event().wait(0.01)
            yield answers
        finally:
            slow.go.set()


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Slow:
    slow = Slow()
    monkeypatch.setattr(cutting, "planned", slow)
    return slow


def test_a_full_line_holds_no_page_and_sends_the_next_away_at_once(
    page: TestClient, slow: Slow
) -> None:
    with filled(page, slow) as answers:
        assert page.get("/orders").status_code == 200
        assert page.get("/").status_code == 200
        refused = page.post("/api/cutting/sticks", json=ASKED)
        assert refused.status_code == 503
        assert refused.headers["retry-after"] == "10"
        assert refused.json()["error"] == {
            "code": "busy",
            "message": "No further cutting plan can be made now; 42 requests wait already. "
            "Nothing was changed; ask again in a while.",
            "fields": [],
        }
        assert not slow.at_work.acquire(blocking=False)  # three at work, and no more
    assert [answer.result().status_code for answer in answers] == [200] * ALL
    assert lines.SOLVED.room == ALL


def test_a_line_that_is_full_is_no_hindrance_to_another(page: TestClient, slow: Slow) -> None:
    spec = {
        "unit": "mm",
        "artwork": {"width": "297", "height": "420"},
        "presentation": "close",
        "frames": [{"face": "20", "lip": "6"}],
    }
    with filled(page, slow):
        assert page.post("/api/dimensions", json=spec).status_code == 200


def test_a_page_of_a_full_line_says_so_and_keeps_what_was_typed(
    page: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lines.WORKED_OUT, "_longest", 0)
    monkeypatch.setattr(lines.WORKED_OUT, "_at_work", 1)
    refused = page.post("/plans/new", data={"seconds": "7"})
    assert refused.status_code == 503
    assert refused.headers["retry-after"] == "10"
    assert "No more can be worked out now" in refused.text
    assert 'name="seconds" value="7"' in refused.text


def test_places_go_to_those_who_wait_in_their_order_and_past_those_who_left() -> None:
    async def stand() -> list[str]:
        line, came = Line("Full", at_work=1, waiting=2), []
        go = asyncio.Event()

        async def wait(name: str) -> None:
            async with line.place():
                came.append(name)
                await go.wait()

        tasks = [asyncio.create_task(wait(name)) for name in ("first", "second", "third")]
        await asyncio.sleep(0)
        with pytest.raises(Busy):
            await wait("fourth")
        tasks[1].cancel()
        await asyncio.sleep(0)
        assert line.room == 1
        go.set()
        await asyncio.gather(*tasks, return_exceptions=True)
        assert line.room == 3
        return came

    assert run_apart(stand()) == ["first", "third"]
