"""The program as it is started, met by its own user and by another one of the same machine."""

import os
import socket
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from app.storage import keys_of
from tests.storage.processes import Program, serving

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(
        not Path("/proc/net/tcp").exists() or os.geteuid() != 0,
        reason="only root can ask as somebody else, and only Linux tells who asks",
    ),
]

SOMEBODY_ELSE = 12_345

# The interpreter may lie where its owner alone may look, so a program becomes somebody else once it runs.
ASK = """
import encodings.idna, http.client, os, sys
user, method, port, path, *headers = sys.argv[1:]
os.setuid(int(user))
connection = http.client.HTTPConnection("127.0.0.1", int(port), timeout=60)
for _ in range(2):  # twice on one connection
    connection.request(method, path, headers=dict(each.split(": ", 1) for each in headers))
    answer = connection.getresponse()
    answer.read()
print(answer.status)
"""


HANG_UP = """
import encodings.idna, os, socket, sys
user, port, name = sys.argv[1:]
os.setuid(int(user))
body = f"name={name}".encode()
with socket.create_connection(("127.0.0.1", int(port))) as connection:
    connection.sendall(
        b"POST /customers HTTP/1.1\\r\\nHost: 127.0.0.1\\r\\nConnection: close\\r\\n"
        b"Content-Type: application/x-www-form-urlencoded\\r\\n"
        b"Content-Length: %d\\r\\n\\r\\n%b" % (len(body), body)
    )
    if int(user) == 0:
        connection.recv(1)
"""


def ran(script: str, *words: object) -> str:
    """What a script prints."""
    command = (sys.executable, "-I", "-c", script, *map(str, words))
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True)
    return done.stdout


@dataclass(frozen=True)
class Served:
    """A shop that is served, and the token of its user."""

    program: Program
    token: str

    def asked(self, path: str, *headers: str, method: str = "GET", user: int = 0) -> int:
        """The status that a program of a user is answered with."""
        return int(ran(ASK, user, method, self.program.port, path, *headers))


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    data = tmp_path_factory.mktemp("served")
    with serving("--data", str(data)) as program:
        program.set_up()
        yield Served(program, keys_of(data / "bevelbook.sqlite3").own)


PATHS = ("/", "/orders", "/api/openapi.json", "/static/css/base.css")


@pytest.mark.parametrize("path", PATHS)
def test_its_own_user_is_let_in(served: Served, path: str) -> None:
    assert served.asked(path) == 200


@pytest.mark.parametrize("path", PATHS)
def test_another_user_is_not(served: Served, path: str) -> None:
    assert served.asked(path, user=SOMEBODY_ELSE) == 403
    assert served.asked(path, method="POST", user=SOMEBODY_ELSE) == 403


def test_another_user_with_the_token_is(served: Served) -> None:
    bearer = f"Authorization: Bearer {served.token}"
    assert served.asked("/orders", bearer, user=SOMEBODY_ELSE) == 200
    assert served.asked(f"/?enter={served.token}", user=SOMEBODY_ELSE) == 303
    assert (
        served.asked("/", f"Authorization: Bearer {served.token[:-1]}", user=SOMEBODY_ELSE) == 403
    )


@pytest.mark.parametrize("name", ["X-Forwarded-For", "Forwarded", "X-Real-IP"])
def test_what_a_request_says_of_where_it_is_from_counts_for_nothing(
    served: Served, name: str
) -> None:
    """Else another user could name a connection of ours that is open."""
    with socket.create_connection(("127.0.0.1", served.program.port)) as ours:
        for said in (f"127.0.0.1:{ours.getsockname()[1]}", "127.0.0.1", "::1"):
            assert served.asked("/orders", f"{name}: {said}", user=SOMEBODY_ELSE) == 403


def test_who_asks_and_hangs_up_is_nobody(served: Served) -> None:
    """A socket that its program has closed is listed under user 0, who would be root."""
    port = served.program.port
    ran(HANG_UP, 0, port, "Amber")
    for _ in range(10):
        ran(HANG_UP, SOMEBODY_ELSE, port, "Ghost")
    listed = served.program.get("/customers").text
    assert "Amber" in listed
    assert "Ghost" not in listed
