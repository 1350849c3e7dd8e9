"""Alters a file as somebody with a tool for databases could: past the triggers, which are there again afterwards."""

import sqlite3
from contextlib import closing
from pathlib import Path


def alter(path: Path, *statements: str) -> None:
    """Run statements upon a file that nobody has open, with no trigger and no key to refuse them."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        triggers = connection.execute(
            "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall()
        connection.execute("BEGIN")
        for name, _ in triggers:
            connection.execute(f'DROP TRIGGER "{name}"')
        for statement in statements:
            connection.execute(statement)
        for _, sql in triggers:
            connection.execute(sql)
        connection.execute("COMMIT")


def asked(path: Path, question: str) -> list[tuple[object, ...]]:
    """Return what a file answers, read without our own code."""
    with closing(sqlite3.connect(path)) as connection:
        return connection.execute(question).fetchall()
