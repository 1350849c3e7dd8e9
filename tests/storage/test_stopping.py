"""However the program is stopped, its one file holds everything, and nothing is left behind."""

import json
import signal
import socket
import sqlite3
import subprocess
import time
from collections.abc import Callable
from contextlib import closing
from http.client import HTTPConnection
from pathlib import Path
from shutil import copyfile

import pytest

from app.storage import DATABASE_NAME
from tests.storage.processes import TOO_LONG, Program, serving, started

pytestmark = pytest.mark.slow

STOPS = [
    getattr(signal, name)
    for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
    if hasattr(signal, name)
]
"""Windows knows no SIGHUP, and nobody else SIGBREAK."""


def customers_in_a_copy(data: Path, elsewhere: Path) -> list[str]:
    """What a copy of the one file alone holds."""
    copyfile(data / DATABASE_NAME, elsewhere)
    with closing(sqlite3.connect(elsewhere)) as copy:
        return [name for (name,) in copy.execute("SELECT name FROM customers ORDER BY id")]


def send_half(program: Program) -> socket.socket:
    """A request of which the rest never comes."""
    half = socket.create_connection(("127.0.0.1", program.port))
    half.sendall(
        b"POST /customers HTTP/1.1\r\nHost: 127.0.0.1\r\nSec-Fetch-Site: same-origin\r\n"
        b"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 100\r\n\r\nname=Bo"
    )
    return half


def children_of(process: subprocess.Popen[str]) -> set[int]:
    """The processes that a process has started."""
    listed = subprocess.run(
        ("ps", "-A", "-o", "pid=,ppid="), capture_output=True, text=True, check=True
    ).stdout
    pairs = (map(int, line.split()) for line in listed.splitlines())
    return {child for child, parent in pairs if parent == process.pid}


def alive(pid: int) -> bool:
    state = subprocess.run(
        ("ps", "-o", "stat=", "-p", str(pid)), capture_output=True, text=True, check=False
    ).stdout.strip()
    return state != "" and not state.startswith("Z")


def until(true: Callable[[], bool], seconds: float = TOO_LONG) -> None:
    """Wait until something is true; a test that waits for too long has failed."""
    limit = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < limit, "it never came"
        time.sleep(0.02)


@pytest.mark.parametrize("stop", STOPS, ids=lambda stop: stop.name)
@pytest.mark.parametrize("hanging", [False, True], ids=["at rest", "a half-sent request"])
def test_a_copy_of_the_one_file_holds_what_was_acknowledged(
    tmp_path: Path, stop: signal.Signals, hanging: bool
) -> None:
    data = tmp_path / "data"
    names = [f"Customer {number}" for number in range(10)]
    with serving("--data", str(data)) as program:
        program.set_up(*names)
        half = send_half(program) if hanging else None
        program.process.send_signal(stop)
        assert program.ended() == 0
        if half is not None:
            half.close()
    assert customers_in_a_copy(data, tmp_path / "copy.sqlite3") == names
    assert {file.name for file in data.iterdir()} <= {
        DATABASE_NAME,
        "bevelbook.lock",
        "bevelbook.keys",
        "bevelbook.log",
    }


@pytest.mark.parametrize("stop", STOPS, ids=lambda stop: stop.name)
def test_ten_half_sent_requests_hold_neither_a_page_nor_the_end(
    tmp_path: Path, stop: signal.Signals
) -> None:
    with serving("--data", str(tmp_path)) as program:
        program.set_up("Amber Quill")
        halves = [send_half(program) for _ in range(5)]
        for _ in range(5):
            half = socket.create_connection(("127.0.0.1", program.port))
            half.sendall(b"GET /orders HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Half: ")
            halves.append(half)
        assert program.get("/orders").status == 200
        program.process.send_signal(stop)
        program.process.communicate(timeout=TOO_LONG / 4)  # and not what a body may take
        assert program.process.returncode == 0
        for half in halves:
            half.close()
    assert customers_in_a_copy(tmp_path, tmp_path / "copy.sqlite3") == ["Amber Quill"]


def test_who_presses_six_times_loses_nothing_either(tmp_path: Path) -> None:
    with serving("--data", str(tmp_path)) as program:
        program.set_up("Amber Quill")
        with send_half(program):
            for _ in range(6):
                program.process.send_signal(signal.SIGINT)
                time.sleep(0.05)
            program.ended()
    assert customers_in_a_copy(tmp_path, tmp_path / "copy.sqlite3") == ["Amber Quill"]


PARTS = [
    {"id": f"P{number}", "width": str(300 + 7 * number), "height": str(410 + 11 * number)}
    for number in range(40)
]
HARD_SECONDS = 30
HARD = {
    "unit": "mm",
    "stock": [{"id": "new", "width": "1220", "height": "915", "copies": None, "cost": "1"}],
    "parts": [{**part, "copies": 3, "turn": True} for part in PARTS],
    "seconds": HARD_SECONDS,
}
"""Parts that keep a solver busy for as long as it may."""


@pytest.mark.parametrize("stop", STOPS, ids=lambda stop: stop.name)
def test_a_solver_at_work_ends_with_the_program(tmp_path: Path, stop: signal.Signals) -> None:
    with (
        serving("--data", str(tmp_path)) as program,
        closing(HTTPConnection("127.0.0.1", program.port, timeout=TOO_LONG)) as asking,
    ):
        program.set_up()
        own = {"content-type": "application/json", "sec-fetch-site": "same-origin"}
        asking.request("POST", "/api/cutting/sheets", json.dumps(HARD), own)
        until(lambda: bool(children_of(program.process)))
        children = children_of(program.process)
        program.process.send_signal(stop)
        assert asking.getresponse().status == 503  # nobody waits until there is a plan
        program.ended()
        until(lambda: not any(alive(child) for child in children), seconds=HARD_SECONDS / 3)


@pytest.mark.parametrize("stop", STOPS, ids=lambda stop: stop.name)
def test_the_folder_of_the_demo_goes_with_it(tmp_path: Path, stop: signal.Signals) -> None:
    with serving("demo", TMPDIR=str(tmp_path), TEMP=str(tmp_path)) as program:
        assert list(tmp_path.glob("bevelbook-demo-*"))
        program.process.send_signal(stop)
        assert program.ended() == 0
    assert list(tmp_path.glob("bevelbook-demo-*")) == []


@pytest.mark.parametrize("stop", STOPS, ids=lambda stop: stop.name)
def test_a_demo_that_is_stopped_while_it_is_made_leaves_nothing(
    tmp_path: Path, stop: signal.Signals
) -> None:
    with started("demo", TMPDIR=str(tmp_path), TEMP=str(tmp_path)) as process:
        assert process.stdout is not None
        assert "Setting up" in process.stdout.readline()
        process.send_signal(stop)
        process.communicate(timeout=TOO_LONG)
        assert process.returncode == 130
    assert list(tmp_path.glob("bevelbook-demo-*")) == []
