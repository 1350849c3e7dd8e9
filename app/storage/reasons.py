"""Says in words why something in a file cannot be read: nothing of its SQL, and nothing of what stands there."""

import sqlite3

from sqlalchemy.exc import DBAPIError, SQLAlchemyError

from app.errors import AppError

_REASONS = {
    sqlite3.SQLITE_CORRUPT: "The file is damaged where it stands",
    sqlite3.SQLITE_NOTADB: "The file is no database any more, or its beginning is damaged",
    sqlite3.SQLITE_IOERR: "The disk does not give it",
    sqlite3.SQLITE_CANTOPEN: "The file cannot be opened",
    sqlite3.SQLITE_PERM: "The file may not be read",
    sqlite3.SQLITE_FULL: "There is no room on the disk",
}
"""By the first byte of SQLite's code. Source: sqlite.org/rescode.html."""

_DAMAGED_TEXT = "Its text is damaged, or no text"


def reason_of(error: Exception) -> str:
    """Return a sentence that says why a record, or the file, cannot be read."""
    if isinstance(error, AppError):
        return error.message
    if isinstance(error, DBAPIError) and isinstance(error.orig, Exception):
        return reason_of(error.orig)
    if isinstance(error, sqlite3.Error):
        code = getattr(error, "sqlite_errorcode", 0) & 0xFF
        usual = _DAMAGED_TEXT if "UTF-8" in str(error) else "The database does not give it"
        return f"{_REASONS.get(code, usual)}."
    if isinstance(error, UnicodeError):
        return f"{_DAMAGED_TEXT}."
    if isinstance(error, SQLAlchemyError) or not str(error):
        return "What stands there does not hold together."
    return f"What stands there does not hold together: {error}."
