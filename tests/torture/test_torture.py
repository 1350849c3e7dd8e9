"""The tortures in short; `make torture` has them at length."""

import re
from pathlib import Path

import pytest

from tests.torture import faults, inputs, kills, writes

pytestmark = pytest.mark.slow

TOP = Path(__file__).resolve().parents[2]


def test_nothing_acknowledged_is_lost_when_the_program_is_killed(tmp_path: Path) -> None:
    found = kills.tried(tmp_path, rounds=3, seed=7)
    assert found.wrong == ()
    assert found.counted["writes acknowledged"] > 0


def test_eight_clients_at_once_write_all_they_were_told(tmp_path: Path) -> None:
    found = writes.tried(tmp_path, clients=8, each=6, seed=7)
    assert found.wrong == ()
    assert found.counted["writes acknowledged"] == 48
    assert found.counted["quotes among them"] == 8


def test_bad_input_breaks_nothing(tmp_path: Path) -> None:
    found = inputs.tried(tmp_path, sent=300, seed=7, orders=12)
    assert found.wrong == ()
    assert found.counted["forms"] > 60


@pytest.mark.parametrize("named", [name for names in faults.TABLE.values() for name in names])
def test_every_test_of_the_table_of_faults_is_there(named: str) -> None:
    path, _, test = named.partition("::")
    text = (TOP / path).read_text(encoding="utf-8")
    assert re.search(rf"(?m)^def {test or 'test_'}", text)
