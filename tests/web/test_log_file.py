"""The log of the data folder: what stands in it, and what of a person never does."""

import logging
import re
import stat
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import StatementError
from starlette.testclient import TestClient

from app.__main__ import main
from app.services import customers
from app.storage import Store
from app.web.app import create_app
from app.web.kit import log_file
from app.web.kit.log_file import LOG_NAME, WithoutWords, kept_at, kept_in, told
from tests.web.conftest import OWN_ADDRESS
from tests.web.shown import Counter

SECRET = "Amber Quill, 07700 900123"


@pytest.fixture
def unlucky(stocked: Store, monkeypatch: pytest.MonkeyPatch) -> Iterator[Counter]:
    """An app whose list of customers has a bug that quotes one."""

    def broken(*_: object, **__: object) -> None:
        customer = SECRET
        try:
            raise LookupError(f"no such customer: {customer}")
        except LookupError as error:
            raise ValueError(f"cannot list {customer}") from error

    monkeypatch.setattr(customers, "listed", broken)
    with TestClient(
        create_app(stocked),
        base_url=OWN_ADDRESS,
        raise_server_exceptions=False,
        headers={"sec-fetch-site": "same-origin"},
    ) as client:
        yield Counter(client)


def test_a_bug_is_found_by_its_reference_and_tells_of_nobody(
    unlucky: Counter, tmp_path: Path
) -> None:
    with kept_in(tmp_path):
        page = unlucky.get("/customers?q=Amber+Quill")
    kept = (tmp_path / LOG_NAME).read_text("utf-8")
    assert page.status == 500
    assert str(tmp_path / LOG_NAME) in page.main
    (reference,) = re.findall(r"Reference ([0-9a-f]{8}) is in its log", page.main)
    assert f"reference {reference}: GET /customers\n" in kept
    assert "builtins.ValueError" in kept
    assert "builtins.LookupError" in kept
    assert re.search(r"customers/routes\.py\", line \d+", kept)
    for word in ("Amber", "Quill", "900123", "q="):
        assert word not in kept


def test_without_a_file_the_page_names_the_reference_alone(unlucky: Counter) -> None:
    page = unlucky.get("/customers")
    assert re.search(r"Reference [0-9a-f]{8} is in its log\.", page.main)
    assert kept_at() is None


def test_what_sql_was_asked_with_is_not_told(stocked: Store) -> None:
    with stocked.reading() as work, pytest.raises(StatementError) as failed:
        work.session.execute(
            text("SELECT nothing FROM nowhere WHERE name = :name"), {"name": SECRET}
        )
    assert "Amber" not in str(failed.value)


def test_several_errors_at_once_are_told_without_their_words() -> None:
    lines = "\n".join(told(ExceptionGroup(SECRET, [ValueError(SECRET), KeyError(SECRET)])))
    assert "ExceptionGroup" in lines
    assert "  builtins.KeyError" in lines
    assert "Amber" not in lines


def test_what_another_formatter_made_of_an_error_is_not_taken_over() -> None:
    try:
        raise ValueError(SECRET)
    except ValueError:
        record = logging.LogRecord("x", logging.ERROR, "", 0, "a bug", (), sys.exc_info())
    assert "Amber" in logging.Formatter().format(record)
    assert "Amber" not in WithoutWords().format(record)


@pytest.mark.skipif(sys.platform == "win32", reason="no modes there")
def test_its_owner_alone_may_read_it_and_the_older_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(log_file, "LARGEST", 200)
    monkeypatch.setattr(log_file, "OLDER", 2)
    with kept_in(tmp_path):
        for number in range(30):
            logging.getLogger("bevelbook.web").error("line %s of a long day at the bench", number)
    files = sorted(tmp_path.iterdir())
    assert [file.name for file in files] == [LOG_NAME, f"{LOG_NAME}.1", f"{LOG_NAME}.2"]
    assert {stat.S_IMODE(file.stat().st_mode) for file in files} == {0o600}
    assert all(file.stat().st_size <= 200 for file in files)
    assert "line 29" in files[0].read_text("utf-8")


def test_it_is_a_megabyte_and_five_older_ones() -> None:
    assert (log_file.LARGEST, log_file.OLDER) == (1024 * 1024, 5)


def test_a_folder_that_takes_no_log_stops_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with kept_in(tmp_path / "gone"):
        logging.getLogger("bevelbook.web").error("nobody reads this")
    assert "Traceback" not in capsys.readouterr().err
    assert not (tmp_path / "gone").exists()


@pytest.mark.parametrize("command", ["check", "backup", "migrate"])
def test_what_only_looks_after_the_data_keeps_no_log(tmp_path: Path, command: str) -> None:
    assert main(["migrate", "--data", str(tmp_path)]) == 0
    assert main([command, "--data", str(tmp_path)]) == 0
    assert not (tmp_path / LOG_NAME).exists()
