"""The child process that one cutting plan is made in: a question as JSON in, the plan as JSON out.

`python -m app.services.cutting_worker` reads one `Job` from its standard input and writes the plan. It imports the cutting half only, so that it starts at once, and it
ends by itself where whoever started it is gone.
"""

import os
import sys
import threading
from typing import TextIO

from app.cutting import Plan, StickProblem
from app.cutting.sheets.planner import plan_sheets
from app.cutting.sticks.planner import plan_sticks
from app.services.cutting_messages import ANSWER, JOB, Job

GRACE = 5
"""Seconds beyond its limit after which a solver is taken for lost. Source: ours."""


def answer(job: Job) -> Plan:
    """The plan that a job asks for."""
    _end_after(job.seconds + GRACE)
    if isinstance(job.asked, StickProblem):
        return plan_sticks(job.asked, job.seconds)
    return plan_sheets(job.asked, job.seconds)


def _end_after(seconds: int) -> None:
    """End this process then, whatever it is at, so that none outlives a parent that was killed."""
    timer = threading.Timer(seconds, os._exit, (3,))
    timer.daemon = True
    timer.start()


def _own_output() -> TextIO:
    """Standard output for the answer alone: what a library prints goes where errors go."""
    sys.stdout.flush()
    kept = os.dup(1)
    os.dup2(2, 1)
    return os.fdopen(kept, "w", encoding="utf-8")


def main() -> None:
    """Answer the one job on standard input."""
    with _own_output() as out:
        job = JOB.read(sys.stdin.buffer.read().decode())
        out.write(ANSWER.write(answer(job)))


if __name__ == "__main__":
    main()
