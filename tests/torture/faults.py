"""Each fault of the machine that a test brings about, and whether what must hold then does: a table.

The tests are those of every day; this names which of them speak of which fault, and runs them.
"""

import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

from tests.torture.figures import Figures

TOP = Path(__file__).resolve().parents[2]

TABLE: Mapping[str, tuple[str, ...]] = {
    "the disk is full": (
        "tests/web/test_refusing_machine.py::test_a_full_disk_is_said_and_nothing_is_lost",
        "tests/web/test_refusing_machine.py::test_while_the_disk_is_full_pages_are_still_given",
        "tests/storage/test_backup.py::test_a_backup_on_a_full_disk_says_so_and_leaves_nothing_half_written",
        "tests/storage/test_backup.py::test_a_restore_on_a_full_disk_leaves_the_database_as_it_was",
    ),
    "the file cannot be written": (
        "tests/web/test_refusing_machine.py::test_a_file_that_cannot_be_written_is_said_with_what_was_typed",
        "tests/storage/test_backup.py::test_a_backup_into_a_place_that_cannot_be_written_is_said_plainly",
    ),
    "the disk reports errors": (
        "tests/storage/test_backup.py::test_a_disk_that_fails_is_not_called_full",
    ),
    "the file is deleted, moved or replaced": ("tests/storage/test_place.py",),
    "a file is put back by hand": (
        "tests/storage/test_log.py::test_a_backup_that_is_put_back_by_hand_starts",
        "tests/storage/test_log.py::test_a_copy_of_the_one_file_that_is_put_back_by_hand_starts",
    ),
    "the program is stopped": ("tests/storage/test_stopping.py",),
    "a restoring is killed": (
        "tests/storage/test_backup.py::test_a_restoring_that_is_killed_leaves_the_old_shop_or_the_new_one",
    ),
    "a second program starts": (
        "tests/storage/test_backup.py::test_restoring_under_a_running_program_is_refused",
        "tests/storage/test_backup.py::test_a_claim_ends_with_its_program",
    ),
}
"""What goes wrong, and the tests that bring it about."""


def tried() -> Figures:
    """Run the tests of the table."""
    counted: dict[str, object] = {}
    wrong: list[str] = []
    for fault, tests in TABLE.items():
        ran = subprocess.run(
            (sys.executable, "-m", "pytest", "-q", "-n", "0", *tests),
            cwd=TOP,
            capture_output=True,
            text=True,
            check=False,
        )
        passed = re.search(r"(\d+) passed", ran.stdout)
        counted[f"{fault}: passed"] = int(passed[1]) if passed else 0
        wrong += re.findall(r"(?m)^(?:FAILED|ERROR) .*", ran.stdout)
        if ran.returncode and not wrong:
            wrong.append(f"{fault}: its tests could not be run")
    return Figures(counted=counted, wrong=tuple(wrong))
