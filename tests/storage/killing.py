"""A restoring that is killed before each of its steps: `python -m tests.storage.killing HOW MADE OUT`.

HOW: "restore" as the command does it, "restore_into" as within a shop that is open. MADE: a folder with the database and
"backup.sqlite3". OUT gets a copy of it for every step, as it was left there: "1" killed before
the first one and so on. The last one was left to end. A step is whatever changes a file or opens one.
"""

import os
import secrets
import subprocess
import sys
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from random import Random
from shutil import copytree

from app.storage import DATABASE_NAME, Store, restore, restore_into
from app.storage.integrity import _made_by_steps
from app.storage.migrating import SCHEMA

STEPS = frozenset(
    {"open", "os.rename", "os.remove", "os.truncate", "shutil.copyfile", "sqlite3.connect"}
)
"""Audit events. Source: docs.python.org/3/library/audit_events.html."""

KILLED = 9

AT = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
"""When each of them is said to be, so that two that left the same left it under the same names."""


def restore_until(step: int, how: str, folder: Path) -> None:
    """Restore the backup of a folder, and end without a word before a step."""
    done = 0
    _draw_the_same_lots()
    database, backup = folder / DATABASE_NAME, folder / "backup.sqlite3"
    store = Store.open(database) if how == "restore_into" else None

    def on_event(event: str, arguments: tuple[object, ...]) -> None:
        nonlocal done
        if event in STEPS and str(folder) in str(arguments[0]):
            done += 1
            if done == step:
                os._exit(KILLED)

    sys.addaudithook(on_event)
    if store is not None:
        restore_into(store, backup, now=AT)
    else:
        restore(backup, database, now=AT)


def _draw_the_same_lots() -> None:
    """So that two that were killed at different steps and left the same are seen to be alike."""
    lots = Random(1)
    secrets.randbelow = lots.randrange
    secrets.token_hex = lambda count: lots.randbytes(count).hex()


def _in_a_child(step: int, how: str, folder: Path) -> int:
    if not hasattr(os, "fork"):
        command = (sys.executable, "-m", "tests.storage.killing", str(step), how, str(folder))
        return subprocess.run(command, check=False).returncode
    child = os.fork()
    if not child:
        restore_until(step, how, folder)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def main() -> None:
    """Kill before every step, or do so once."""
    _made_by_steps(SCHEMA)  # which is worked out elsewhere, and once for all that are killed
    first, *others = sys.argv[1:]
    if first.isdigit():
        restore_until(int(first), others[0], Path(others[1]))
        return
    made, out = others
    for step in count(1):
        case = Path(out) / str(step)
        copytree(made, case)
        if (code := _in_a_child(step, first, case)) != KILLED:
            sys.exit(code)


if __name__ == "__main__":
    main()
