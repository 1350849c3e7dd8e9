"""A shop whose file cannot be read is not written to, and the newest whole copy is offered."""

import re
import signal
import socket
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from shutil import copyfile, copytree

import pytest

from app.orders import Customer
from app.services import customers
from app.services import shop as shops
from app.storage import DATABASE_NAME, Store, back_up
from tests.builders.kept import ACT, NOW, SHOP
from tests.storage.processes import TOO_LONG, ran, serving, started
from tests.storage.test_stopping import customers_in_a_copy, until

pytestmark = pytest.mark.slow


def spoil_pages(database: Path) -> bytes:
    whole = bytearray(database.read_bytes())
    whole[4096 * 2 : 4096 * 60] = b"\xff" * 4096 * 58
    database.write_bytes(whole)
    return bytes(whole)


def spoil_head(database: Path) -> bytes:
    database.write_bytes(b"\0" * 4096 + database.read_bytes()[4096:])
    return database.read_bytes()


def cut_short(database: Path) -> bytes:
    database.write_bytes(database.read_bytes()[:30000])
    return database.read_bytes()


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a shop with a copy."""
    data = tmp_path_factory.mktemp("made")
    with Store.open(data / DATABASE_NAME) as store:
        shops.set_up(store, SHOP, ACT)
        customers.add(store, Customer(name="Amber Quill"), ACT)
        back_up(store, data / "backups", now=NOW)
    return data


@pytest.fixture
def data(made: Path, tmp_path: Path) -> Path:
    return Path(copytree(made, tmp_path / "data"))


@pytest.mark.parametrize("spoil", [spoil_pages, spoil_head, cut_short])
def test_a_damaged_file_is_left_alone_and_its_copy_is_put_back_by_one_button(
    data: Path, tmp_path: Path, spoil: Callable[[Path], bytes]
) -> None:
    (copy,) = (data / "backups").iterdir()
    spoiled = spoil(data / DATABASE_NAME)
    with serving("--data", str(data)) as program:
        shown = program.get("/orders")
        assert shown.status == 503
        assert "The data cannot be read" in shown.text
        plain, technical = re.findall(
            r'<p class="(?:oops-message|small soft)">([^<]+)', shown.text
        )[:2]
        assert (
            plain
            == "The file with the shop&#39;s data is damaged, so the shop is not opened from it."
        )
        assert str(data / DATABASE_NAME) in technical
        assert f"bevelbook --data {data} restore {copy}" in shown.text
        assert program.post("/customers", name="X").status == 503
        assert (data / DATABASE_NAME).read_bytes() == spoiled
        assert "The shop is restored" in program.post("/restore").text
        assert program.process.stdout is not None
        line = program.process.stdout.readline()
        while "Bevelbook is open" not in line:
            assert line
            line = program.process.stdout.readline()
        opened = re.search(r":(\d+)/", line)
        assert opened
        shop = replace(program, port=int(opened[1]))
        assert "Amber Quill" in shop.get("/customers").text
        shop.process.send_signal(signal.SIGTERM)
        assert shop.ended() == 0
    assert customers_in_a_copy(data, tmp_path / "copy.sqlite3") == ["Amber Quill"]
    (aside,) = data.glob("*.before-restore-*")
    assert aside.read_bytes() == spoiled


def test_a_browser_that_kept_its_connections_is_not_left_waiting(data: Path) -> None:
    """It would send its next request into one that nobody reads any more."""
    spoil_pages(data / DATABASE_NAME)
    with serving("--data", str(data)) as program, ExitStack() as open_:
        kept = [
            open_.enter_context(socket.create_connection(("127.0.0.1", program.port), TOO_LONG))
            for _ in range(3)
        ]
        asked = b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"
        kept[0].sendall(asked)
        assert kept[0].recv(65536).startswith(b"HTTP/1.1 503")
        kept[1].sendall(asked[:20])
        assert "The shop is restored" in program.post("/restore").text
        for connection in kept:
            while connection.recv(65536):
                pass


def test_the_terminal_says_what_to_restore_and_the_command_does_it(
    data: Path, tmp_path: Path
) -> None:
    spoiled = spoil_pages(data / DATABASE_NAME)
    said = []
    with started("--data", str(data)) as process:
        assert process.stdout is not None
        while "restore it at" not in (said[-1] if said else ""):
            said.append(process.stdout.readline())
        process.send_signal(signal.SIGINT)
        until(lambda: process.poll() is not None)
        assert process.returncode in (2, 130)  # as Ctrl+C ends it before and while it answers
    assert (data / DATABASE_NAME).read_bytes() == spoiled
    found = re.search(r"restore this copy: bevelbook --data (\S+) restore (\S+)", "".join(said))
    assert found
    assert ran("--data", found[1], "restore", found[2]).returncode == 0
    assert customers_in_a_copy(data, tmp_path / "copy.sqlite3") == ["Amber Quill"]


def test_without_a_whole_copy_the_start_ends_with_a_sentence(data: Path) -> None:
    (copy,) = (data / "backups").iterdir()
    cut_short(copy)
    spoiled = spoil_pages(data / DATABASE_NAME)
    done = ran("--data", str(data))
    assert done.returncode == 2
    assert "is damaged" in done.stderr
    assert "There is no whole copy" in done.stderr
    assert "Traceback" not in done.stderr
    assert (data / DATABASE_NAME).read_bytes() == spoiled


def test_at_the_next_start_a_shop_is_copied_where_it_changed(data: Path, tmp_path: Path) -> None:
    with serving("--data", str(data)) as program:
        until(lambda: len(list((data / "backups").glob("*-start.sqlite3"))) == 1)
        program.process.send_signal(signal.SIGTERM)
        assert program.ended() == 0
    (copy,) = (data / "backups").glob("*-start.sqlite3")
    copyfile(copy, tmp_path / DATABASE_NAME)
    assert customers_in_a_copy(tmp_path, tmp_path / "copy.sqlite3") == ["Amber Quill"]
