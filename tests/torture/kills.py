"""The program is killed while clients write; whatever was acknowledged must be there when it starts again."""

import random
import threading
import time
from contextlib import suppress
from http.client import HTTPException
from pathlib import Path

from app.storage import DATABASE_NAME, Store, problems_of
from tests.storage.processes import Program, serving
from tests.torture.customers import name_of, names_in
from tests.torture.figures import Figures

CLIENTS = 4
LONGEST = 1.2
"""Seconds after which it is killed at the latest, from the first write on."""


def tried(folder: Path, *, rounds: int, seed: int) -> Figures:
    """Kill it so often, each time at another moment, and look each time for all that was acknowledged."""
    chance = random.Random(seed)
    acknowledged: set[str] = set()
    wrong: list[str] = []
    for turn in range(rounds):
        with serving("--data", str(folder)) as program:
            if turn == 0:
                program.set_up()
            _write_until_killed(program, turn, chance.uniform(0.02, LONGEST), acknowledged)
        wrong += _lost(folder / DATABASE_NAME, turn, acknowledged)
    return Figures(
        counted={
            "kills": rounds,
            "writes acknowledged": len(acknowledged),
            "clients": CLIENTS,
        },
        wrong=tuple(wrong),
    )


def _write_until_killed(
    program: Program, turn: int, seconds: float, acknowledged: set[str]
) -> None:
    def write(client: int) -> None:
        # What is refused or cut off by the end was not acknowledged.
        with suppress(OSError, HTTPException, AssertionError):
            for number in range(10_000):
                name = name_of(turn, client, number)
                program.add(name)
                acknowledged.add(name)

    writers = [threading.Thread(target=write, args=(client,)) for client in range(CLIENTS)]
    for each in writers:
        each.start()
    time.sleep(seconds)
    program.process.kill()
    for each in writers:
        each.join()


def _lost(database: Path, turn: int, acknowledged: set[str]) -> list[str]:
    """Look into the data as the next start finds them: opened, so that the log is read."""
    with Store.open(database) as store:
        there = names_in(store)
    found = [f"after kill {turn}: {name} was lost" for name in sorted(acknowledged - there)]
    return found + [f"after kill {turn}: {problem}" for problem in problems_of(database)]
