"""Children that are late, crash, babble or are stopped: none is left behind, and two never live at once."""

import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from app.services.cutting_child import ROOT, Child, NoAnswerError, StoppedError

NEVER = threading.Event()


def child(code: str, *, grace: float = 0) -> Child:
    return Child(command=(sys.executable, "-c", code), grace=grace)


def sleeper(told: Path) -> Child:
    """A child that says which process it is and then sleeps for longer than any test."""
    return child(
        f"import os, time; from pathlib import Path\n"
        f"new = Path({str(told)!r} + '.new'); new.write_text(str(os.getpid()))\n"
        f"new.rename({str(told)!r}); time.sleep(600)"
    )


def lives(told: Path) -> bool:
    try:
        os.kill(int(told.read_text()), 0)
    except ProcessLookupError:
        return False
    return not is_a_zombie(told.read_text())


def is_a_zombie(pid: str) -> bool:
    """Whether a process ended and only its parent's look at it is missing, where that can be seen."""
    stat = Path("/proc", pid, "stat")
    return stat.exists() and stat.read_text().rpartition(")")[2].split()[0] == "Z"


def once_there(told: Path, stop: threading.Event) -> None:
    """Stop as soon as the child has said who it is."""
    waiting = threading.Event()
    while not told.exists():
        waiting.wait(0.01)
    stop.set()


def test_what_a_child_writes_is_its_answer() -> None:
    echo = child("import sys; print(sys.stdin.read().upper(), end='')", grace=60)
    assert echo.answer("böards ¼", 60, NEVER) == "BÖARDS ¼"


def test_an_answer_longer_than_a_pipe_holds_comes_whole() -> None:
    echo = child("import sys; text = sys.stdin.read(); print(text * 2, end='')", grace=60)
    assert len(echo.answer("x" * 500_000, 60, NEVER)) == 1_000_000


def test_a_long_question_reaches_a_child_that_begins_to_read_late() -> None:
    """A pipe holds 64 KiB; the rest is not lost while a child still loads what it needs."""
    slow = child("import sys, time; time.sleep(0.5); print(len(sys.stdin.read()))", grace=5)
    assert slow.answer("x" * 500_000, 5, NEVER).strip() == "500000"


def test_a_late_child_is_killed(tmp_path: Path) -> None:
    told = tmp_path / "told"
    late = sleeper(told)
    with pytest.raises(NoAnswerError, match="late"):
        Child(command=late.command, grace=1).answer("", 0, NEVER)
    assert not told.exists() or not lives(told)


def test_a_child_that_crashes_is_told_with_its_last_word() -> None:
    with pytest.raises(NoAnswerError, match="ended with 7: no blade"):
        child("import sys; print('no blade', file=sys.stderr); sys.exit(7)", grace=60).answer(
            "x" * 500_000, 60, NEVER
        )


def test_a_child_that_is_killed_from_outside_is_no_answer() -> None:
    with pytest.raises(NoAnswerError, match="without a word"):
        child("import os; os.kill(os.getpid(), 9)", grace=60).answer("", 60, NEVER)


def test_a_child_that_cannot_be_started_is_no_answer(tmp_path: Path) -> None:
    with pytest.raises(NoAnswerError, match="cannot be started"):
        Child(command=(str(tmp_path / "nothing"),)).answer("", 1, NEVER)


def test_a_stopped_child_is_gone(tmp_path: Path) -> None:
    told, stop = tmp_path / "told", threading.Event()
    stopper = threading.Thread(target=once_there, args=(told, stop))
    stopper.start()
    with pytest.raises(StoppedError):
        sleeper(told).answer("", 600, stop)
    stopper.join()
    assert not lives(told)


def test_a_second_child_waits_for_its_turn_and_may_be_stopped_meanwhile(tmp_path: Path) -> None:
    told, stop_first, stop_second = tmp_path / "first", threading.Event(), threading.Event()
    first = threading.Thread(target=_stopped, args=(sleeper(told), stop_first))
    first.start()
    once_there(told, stop_second)
    second_told = tmp_path / "second"
    with pytest.raises(StoppedError):
        sleeper(second_told).answer("", 600, stop_second)
    assert lives(told)
    assert not second_told.exists()
    stop_first.set()
    first.join()
    assert not lives(told)


def _stopped(sleeping: Child, stop: threading.Event) -> None:
    with pytest.raises(StoppedError):
        sleeping.answer("", 600, stop)


def test_no_child_outlives_the_app(tmp_path: Path) -> None:
    """A run that goes on in its thread while the app ends."""
    told = tmp_path / "told"
    app = f"""
import threading
from pathlib import Path
from app.services.cutting_child import Child

child = Child(command={sleeper(told).command!r})
threading.Thread(target=child.answer, args=("", 600, threading.Event()), daemon=True).start()
while not Path({str(told)!r}).exists():
    threading.Event().wait(0.01)
"""
    subprocess.run([sys.executable, "-c", app], cwd=ROOT, check=True, timeout=60)
    waiting = threading.Event()
    while lives(told):  # killed, but perhaps not yet gone
        waiting.wait(0.01)


def test_the_solvers_process_starts_without_the_rest_of_the_app() -> None:
    """So that a plan is not kept waiting for pages, tables and documents to be imported."""
    named = "import sys, app.services.cutting_worker; print(*sys.modules)"
    loaded = subprocess.run(
        [sys.executable, "-c", named], cwd=ROOT, check=True, capture_output=True, text=True
    ).stdout.split()
    ours = {name.split(".")[1] for name in loaded if name.startswith("app.")}
    assert ours == {"codec", "cutting", "errors", "lengths", "services"}
    assert not {"fastapi", "sqlalchemy", "packingsolver"} & set(loaded)
