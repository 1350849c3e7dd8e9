"""Where something stands that is made in a thread of its own while a page watches it: cutting plans, papers."""

from enum import StrEnum


class RunState(StrEnum):
    """Where it stands."""

    RUNNING = "running"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"
