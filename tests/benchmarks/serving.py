"""The app as its user has it: a process of its own, asked over loopback on a kept connection."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode

ROOT = Path(__file__).resolve().parents[2]

_FORM = {
    "content-type": "application/x-www-form-urlencoded",
    "sec-fetch-site": "same-origin",  # as our own pages send it
}


def python(*arguments: str) -> list[str]:
    """A command line of this Python."""
    return [sys.executable, *arguments]


def environment() -> dict[str, str]:
    """The environment of a child: the program's own code, little said."""
    return {**os.environ, "PYTHONPATH": str(ROOT), "BEVELBOOK_LOG": "warning"}


class Server:
    """A running app, at its address. Its browser keeps one connection."""

    def __init__(self, process: "subprocess.Popen[str]", port: int) -> None:
        self._process = process
        self.address = f"http://127.0.0.1:{port}"
        self._connection = HTTPConnection("127.0.0.1", port, timeout=60)

    def get(self, path: str) -> bytes:
        """The body of a page. Raises: RuntimeError where it is not answered with 200."""
        return self._ask("GET", path, None, {}, {200})

    def post(self, path: str, form: Mapping[str, str], **headers: str) -> bytes:
        """The body of the answer to a form; a_b names the header a-b.

        Raises: RuntimeError for anything but 200 and 303.
        """
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return self._ask("POST", path, urlencode(form), _FORM | named, {200, 303})

    def _ask(
        self, method: str, path: str, body: str | None, headers: Mapping[str, str], good: set[int]
    ) -> bytes:
        self._connection.request(method, path, body, dict(headers))
        answer = self._connection.getresponse()
        content = answer.read()
        if answer.status not in good:
            raise RuntimeError(f"{method} {path} was answered with {answer.status}")
        return content

    @property
    def resident_mb(self) -> float | None:
        """Memory of the process in use, in MB of 10^6 bytes; None where /proc does not tell."""
        status = Path(f"/proc/{self._process.pid}/status")
        if not status.exists():
            return None
        found = re.search(r"^VmRSS:\s+(\d+) kB", status.read_text(), re.MULTILINE)
        return int(found[1]) * 1024 / 1e6 if found else None

    def processor_seconds(self) -> float:
        """Time of a processor that the process has had, all threads together; 0 without /proc."""
        threads = Path(f"/proc/{self._process.pid}/task").glob("*/schedstat")
        return sum(int(thread.read_text().split()[0]) for thread in threads) / 1e9

    def close(self) -> None:
        """Stop the process."""
        self._connection.close()
        self._process.terminate()
        self._process.wait(timeout=20)


@contextmanager
def serving(data: Path) -> Iterator[Server]:
    """The app on a folder of data, from the moment it listens. Raises: RuntimeError."""
    command = python("-m", "app", "--data", str(data), "--port", "0", "--no-browser")
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, env=environment(), cwd=ROOT
    ) as process:
        assert process.stdout is not None
        greeting = process.stdout.readline()
        port = re.search(r":(\d+)/", greeting)
        if port is None:
            process.kill()
            raise RuntimeError(f"the app did not start: {greeting!r}")
        server = Server(process, int(port[1]))
        try:
            yield server
        finally:
            server.close()
