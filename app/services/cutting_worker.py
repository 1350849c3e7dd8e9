"""The child process that cutting plans are made in: a question as JSON in, the plan as JSON out.

`python -m app.services.cutting_worker` reads one `SolverJob` from each line of its standard input and writes
one line with the plan. It imports the cutting half only, so that it starts at once, and it ends by itself
where whoever started it is gone.
"""

import os
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from app.cutting import Plan, StickProblem
from app.cutting.sheets.planner import plan_sheets
from app.cutting.sticks.planner import plan_sticks
from app.services.children import answers
from app.services.cutting_messages import ANSWER, JOB, SolverJob

GRACE = 5
"""Seconds beyond its limit after which a solver is taken for lost. Source: ours."""


def answer(job: SolverJob) -> Plan:
    """Return the plan that a job asks for."""
    with _ended_after(job.seconds + GRACE):
        if isinstance(job.asked, StickProblem):
            return plan_sticks(job.asked, job.seconds)
        return plan_sheets(job.asked, job.seconds)


@contextmanager
def _ended_after(seconds: int) -> Iterator[None]:
    """End this process then, whatever it is at, so that none outlives a parent that was killed."""
    timer = threading.Timer(seconds, os._exit, (3,))
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()


def main() -> None:
    """Answer each job on standard input, until there are no more."""
    with answers() as out:
        for line in sys.stdin.buffer:
            print(ANSWER.write(answer(JOB.read(line.decode()))), file=out, flush=True)


if __name__ == "__main__":
    main()
