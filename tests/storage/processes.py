"""The program as a process of its own, as a person or a machine starts and stops it."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode

ROOT = Path(__file__).resolve().parents[2]

TOO_LONG = 60
"""Seconds after which what should have ended long ago is taken to hang."""

OWN_PAGE = {"sec-fetch-site": "same-origin", "content-type": "application/x-www-form-urlencoded"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What came back."""

    status: int
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Program:
    """A program that serves a shop. port: where it listens."""

    process: subprocess.Popen[str]
    port: int

    def get(self, path: str) -> Answer:
        """A page."""
        return self._asked("GET", path)

    def post(self, path: str, **fields: str) -> Answer:
        """Send a form as a page of ours does, and wait for the answer."""
        typed = {name.replace("__", "."): text for name, text in fields.items()}
        return self._asked("POST", path, urlencode(typed))

    def _asked(self, method: str, path: str, body: str | None = None) -> Answer:
        with closing(HTTPConnection("127.0.0.1", self.port, timeout=TOO_LONG)) as connection:
            connection.request(method, path, body, OWN_PAGE)
            answer = connection.getresponse()
            return Answer(status=answer.status, text=answer.read().decode())

    def set_up(self, *customers: str) -> None:
        """A shop with these customers, each of which was acknowledged."""
        shop = {"name": "Sedge Lane Frames", "unit": "mm", "currency": "EUR", "tax": "20"}
        assert self.post("/welcome", **shop, hourly_rate="36").status == 303
        for name in customers:
            self.add(name)

    def add(self, customer: str) -> None:
        """A further customer, which was acknowledged."""
        assert self.post("/customers", name=customer).status == 303

    def ended(self) -> int:
        """Wait for the end; its exit code. What it said is printed: it tells why where the code is another."""
        print(self.process.communicate(timeout=TOO_LONG)[0])
        return self.process.returncode


@contextmanager
def serving(*arguments: str, **environment: str) -> Iterator[Program]:
    """The program with some arguments on a free port; killed at the end where it still runs."""
    with started(*arguments, **environment) as process:
        assert process.stdout is not None
        found = None
        while found is None:
            line = process.stdout.readline()
            assert line, f"it ended with {process.wait()} before it served"
            found = re.search(r"(?:open|restore it) at http://127\.0\.0\.1:(\d+)/", line)
        program = Program(process=process, port=int(found[1]))
        program.get("/welcome")  # what was asked before it answers is answered when it does
        yield program


@contextmanager
def started(*arguments: str, **environment: str) -> Iterator[subprocess.Popen[str]]:
    """The program with some arguments, before it serves."""
    command = (sys.executable, "-m", "app", "--port", "0", "--no-browser", *arguments)
    with subprocess.Popen(
        command,
        cwd=ROOT,
        env={**os.environ, **environment},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    ) as process:
        try:
            yield process
        finally:
            process.kill()


def ran(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Run a command of the program to its end."""
    return subprocess.run(
        (sys.executable, "-m", "app", *arguments),
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=TOO_LONG,
        check=False,
    )
