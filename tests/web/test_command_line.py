"""The command line: options before and after the command, and the sample shop through make."""

import os
import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from http.client import HTTPConnection
from itertools import permutations
from pathlib import Path

import pytest

from app.__main__ import _parser, main
from seed_demo.shop import NAME

ROOT = Path(__file__).resolve().parents[2]

COMMANDS = ("serve", "demo", "migrate", "backup", "restore", "check")
OPTIONS = (("--data", "shop"), ("--host", "::1"), ("--port", "8090"), ("--no-browser",))
SAID = {"data": Path("shop"), "host": "::1", "port": "8090", "no_browser": True}


def parsed(words: Sequence[str]) -> dict[str, object]:
    return vars(_parser().parse_args(words))


def spoken(parts: Sequence[tuple[str, ...]]) -> list[str]:
    return [word for part in parts for word in part]


@pytest.mark.parametrize("command", COMMANDS)
def test_options_stand_before_or_after_any_command(command: str) -> None:
    words = (command, "a.sqlite3") if command == "restore" else (command,)
    for before in range(len(OPTIONS) + 1):
        for order in (OPTIONS, OPTIONS[::-1]):
            asked = parsed(spoken((*order[:before], words, *order[before:])))
            assert asked["command"] == command
            assert {name: asked[name] for name in SAID} == SAID


@pytest.mark.parametrize("order", list(permutations((("copies",), ("--data", "shop")))))
def test_a_folder_for_the_backup_stands_before_or_after_the_options(
    order: tuple[tuple[str, ...], ...],
) -> None:
    asked = parsed(["backup", *spoken(order)])
    assert (asked["folder"], asked["data"]) == (Path("copies"), Path("shop"))


def test_of_an_option_said_twice_the_later_one_counts() -> None:
    assert parsed(["--port", "1", "demo", "--port", "2"])["port"] == "2"


def test_without_a_command_the_shop_is_served_and_what_is_not_said_is_left_open() -> None:
    assert parsed([]) == {
        "command": "serve",
        "data": None,
        "host": None,
        "port": None,
        "tls_cert": None,
        "tls_key": None,
        "no_browser": False,
    }


@pytest.mark.parametrize("words", [(), *((command,) for command in COMMANDS)], ids=str)
def test_the_help_of_every_command_shows_the_options(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit, match="0"):
        main([*words, "--help"])
    shown = capsys.readouterr().out
    for option in (
        *("--data", "--host", "--port", "--tls-cert", "--tls-key"),
        *("--no-browser", "--version"),
    ):
        assert f"  {option} " in shown


def test_a_port_that_is_taken_is_said_before_the_sample_shop_is_made(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert main(["demo", "--port", str(port), "--no-browser"]) == 2
    told = capsys.readouterr()
    assert f"Port {port} on 127.0.0.1 cannot be used" in told.err
    assert "Setting up" not in told.out


@contextmanager
def made(*words: str) -> Iterator[str]:
    """What make runs, without the setting up, until the end of the block: where it is open."""
    command = ["make", "-o", "packages", "-o", "setup", f"PY={sys.executable}", *words]
    running = subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, text=True, start_new_session=True
    )
    try:
        assert running.stdout is not None
        told = (re.search(r"open at (http://\S+)", line) for line in running.stdout)
        found = next(filter(None, told), None)
        assert found, f"it ended with {running.wait()} and never said where it is open"
        yield found[1]
    finally:
        if running.poll() is None:
            os.killpg(running.pid, signal.SIGINT)
        running.communicate(timeout=30)


@pytest.mark.slow
def test_make_demo_takes_options_and_serves_the_sample_there() -> None:
    with made("demo", "ARGS=--port 0 --host 127.0.0.2 --no-browser") as told:
        opened = re.fullmatch(r"(http://127\.0\.0\.2:(\d+)/)\?enter=[\w-]{43}", told)
        assert opened, told
        assert opened[2] != "8027"  # any free port, not the usual one
        address = opened[1]
        assert asked(address, "/") == (200, True)
        assert asked(address, "/", host="127.0.0.1") == (200, True)
        assert asked(address, "/", host="shop.example") == (421, False)
        assert asked(address, "/orders", "POST", origin="http://shop.example") == (403, False)


def asked(address: str, path: str, method: str = "GET", **headers: str) -> tuple[int, bool]:
    """The status of an answer, and whether it is a page of the sample shop."""
    connection = HTTPConnection(address.removeprefix("http://").rstrip("/"), timeout=30)
    try:
        connection.request(method, path, headers=headers)
        answer = connection.getresponse()
        return answer.status, NAME in answer.read().decode()
    finally:
        connection.close()
