"""The child process that one cutting plan is made in: a question as JSON in, the plan as JSON out.

`python -m app.services.cutting_worker` reads {"asked": record, "seconds": n} from its standard input
and writes one record of a plan. It imports the cutting half only, so that it starts at once, and it
ends by itself where whoever started it is gone.
"""

import json
import os
import sys
import threading
from typing import Any, TextIO

from app.cutting import StickProblem
from app.cutting.records import Plan, plan_record, read_asked
from app.cutting.sheets.planner import plan_sheets
from app.cutting.sticks.planner import plan_sticks

GRACE = 5
"""Seconds beyond its limit after which a solver is taken for lost. Source: ours."""


def answer(job: dict[str, Any]) -> dict[str, Any]:
    """The record of the plan that a job asks for. Raises: Invalid for a question that is none."""
    asked, seconds = read_asked(job["asked"]), int(job["seconds"])
    _end_after(seconds + GRACE)
    plan: Plan
    if isinstance(asked, StickProblem):
        plan = plan_sticks(asked, seconds)
    else:
        plan = plan_sheets(asked, seconds)
    return plan_record(plan)


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
        job = json.loads(sys.stdin.buffer.read())
        json.dump(answer(job), out)


if __name__ == "__main__":
    main()
