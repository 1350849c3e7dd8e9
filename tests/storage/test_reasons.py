"""Why something cannot be read is said in words: no SQL, no address of a library, nothing of what stands there."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy.exc import DatabaseError

from app.errors import Invalid
from app.storage.reasons import reason_of
from app.storage.tables.shop import Series


def test_a_damaged_file_is_said_without_the_statement_that_met_it(tmp_path: Path) -> None:
    file = tmp_path / "none.sqlite3"
    file.write_bytes(b"no database at all" * 100)
    with closing(sqlite3.connect(file)) as there, pytest.raises(sqlite3.Error) as met:
        there.execute("SELECT secret FROM customers")
    told = DatabaseError("SELECT secret FROM customers", {}, met.value)
    assert "sqlalche.me" in str(told)
    assert "SELECT secret" in str(told)
    said = "The file is no database any more, or its beginning is damaged."
    assert reason_of(told) == said


def test_what_a_damaged_text_says_is_not_repeated() -> None:
    there = sqlite3.connect(":memory:")
    with closing(there), pytest.raises(sqlite3.Error, match="Amber") as met:
        there.execute("SELECT CAST(x'416d62657220ff' AS TEXT)").fetchone()
    assert reason_of(met.value) == "Its text is damaged, or no text."


def test_a_reason_of_ours_stays_and_any_other_is_a_sentence() -> None:
    assert reason_of(Invalid.at("a", "The size is missing.")) == "The size is missing."
    assert reason_of(ValueError()) == "What stands there does not hold together."
    assert (
        reason_of(ValueError("no stage")) == "What stands there does not hold together: no stage."
    )


def test_what_bears_a_number_has_its_article() -> None:
    assert [series.with_article for series in Series] == [
        "a quote",
        "an order",
        "an invoice",
        "an offcut",
        "a plan",
        "a supplier order",
    ]
