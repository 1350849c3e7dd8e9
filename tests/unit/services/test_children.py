"""Children that are late, crash, babble or are stopped: none is left behind, and few live at once."""

import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from app.services.children import (
    MOST_LIVING,
    ROOT,
    Children,
    CrashedError,
    NoAnswerError,
    StoppedError,
)

NEVER = threading.Event()


def children(code: str, *, grace: float = 0, most: int = MOST_LIVING) -> Children:
    return Children((sys.executable, "-c", code), grace=grace, most=most)


def answering(answer: str) -> Children:
    """Children that answer each line with what an expression makes of it."""
    return children(
        f"import os, sys, time\nfor line in sys.stdin: print({answer}, flush=True)", grace=60
    )


def sleeper(told: Path, *, grace: float = 0, most: int = MOST_LIVING) -> Children:
    """Children that each say which process they are and then sleep for longer than any test."""
    return children(
        f"import os, time; from pathlib import Path\n"
        f"new = Path({str(told)!r} + f'.{{os.getpid()}}.new'); new.write_text(str(os.getpid()))\n"
        f"new.rename({str(told)!r} + f'.{{os.getpid()}}'); time.sleep(600)",
        grace=grace,
        most=most,
    )


def those_of(told: Path) -> list[Path]:
    """What the children of a sleeper have said."""
    return [each for each in told.parent.glob(f"{told.name}.*") if each.suffix != ".new"]


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


def once_there(told: Path, stop: threading.Event, count: int = 1) -> None:
    """Stop as soon as so many children have said who they are."""
    waiting = threading.Event()
    while len(those_of(told)) < count:
        waiting.wait(0.01)
    stop.set()


def test_what_a_child_writes_is_its_answer() -> None:
    assert answering("line.strip().upper()").answer("böards ¼", 60, NEVER).strip() == "BÖARDS ¼"


def test_an_answer_longer_than_a_pipe_holds_comes_whole() -> None:
    assert len(answering("line.strip() * 2").answer("x" * 500_000, 60, NEVER).strip()) == 1_000_000


def test_a_long_question_reaches_a_child_that_begins_to_read_late() -> None:
    """A pipe holds 64 KiB; the rest is not lost while a child still loads what it needs."""
    slow = children("import sys, time; time.sleep(0.5); print(len(input()))", grace=5)
    assert slow.answer("x" * 500_000, 5, NEVER).strip() == "500000"


def test_one_child_answers_all_questions_while_it_is_kept() -> None:
    telling = answering("os.getpid()")
    with telling.kept():
        first, *others = [int(telling.answer(word, 60, NEVER)) for word in ("oak", "ash", "elm")]
        assert others == [first, first]
        os.kill(first, 0)
    with pytest.raises(ProcessLookupError):
        os.kill(first, 0)
    assert int(telling.answer("oak", 60, NEVER)) != first


def test_a_child_is_not_ended_while_another_run_keeps_it() -> None:
    telling = answering("os.getpid()")
    with telling.kept():
        first = telling.answer("oak", 60, NEVER)
        with telling.kept():
            pass
        assert telling.answer("ash", 60, NEVER) == first


@pytest.mark.parametrize("how", ["os.kill(os.getpid(), 9)", "sys.exit(1)"])
def test_after_a_crash_a_new_child_answers(how: str) -> None:
    crashing = answering(f"os.getpid() if line != 'crash\\n' else {how}")
    with crashing.kept():
        first = crashing.answer("oak", 60, NEVER)
        with pytest.raises(CrashedError):
            crashing.answer("crash", 60, NEVER)
        second = crashing.answer("ash", 60, NEVER)
        assert crashing.answer("elm", 60, NEVER) == second != first


def test_after_a_stop_a_new_child_answers() -> None:
    sleeping = answering("time.sleep(600) if line == 'sleep\\n' else os.getpid()")
    with sleeping.kept():
        first, stop = sleeping.answer("oak", 60, NEVER), threading.Event()
        threading.Timer(0.1, stop.set).start()
        with pytest.raises(StoppedError):
            sleeping.answer("sleep", 600, stop)
        assert sleeping.answer("ash", 60, NEVER) != first


def test_a_child_that_ended_between_two_questions_is_replaced() -> None:
    telling = answering("os.getpid()")
    with telling.kept():
        first = int(telling.answer("oak", 60, NEVER))
        os.kill(first, 9)
        waiting = threading.Event()
        while Path("/proc", str(first)).exists() and not is_a_zombie(str(first)):
            waiting.wait(0.01)
        assert int(telling.answer("ash", 60, NEVER)) != first


def test_a_late_child_is_killed(tmp_path: Path) -> None:
    told = tmp_path / "told"
    with pytest.raises(NoAnswerError, match="late"):
        sleeper(told, grace=1).answer("", 0, NEVER)
    assert not any(map(lives, those_of(told)))


def test_a_child_that_crashes_is_told_with_its_last_word() -> None:
    with pytest.raises(NoAnswerError, match="ended with 7: no blade"):
        children("import sys; print('no blade', file=sys.stderr); sys.exit(7)", grace=60).answer(
            "x" * 500_000, 60, NEVER
        )


def test_a_child_that_is_killed_from_outside_is_no_answer() -> None:
    with pytest.raises(NoAnswerError, match="without a word"):
        children("import os; os.kill(os.getpid(), 9)", grace=60).answer("", 60, NEVER)


def test_a_child_that_cannot_be_started_is_no_answer(tmp_path: Path) -> None:
    with pytest.raises(NoAnswerError, match="cannot be started"):
        Children((str(tmp_path / "nothing"),)).answer("", 1, NEVER)


def test_a_stopped_child_is_gone(tmp_path: Path) -> None:
    told, stop = tmp_path / "told", threading.Event()
    stopper = threading.Thread(target=once_there, args=(told, stop))
    stopper.start()
    with pytest.raises(StoppedError):
        sleeper(told).answer("", 600, stop)
    stopper.join()
    assert not any(map(lives, those_of(told)))


@pytest.mark.parametrize("most", [1, 2])
def test_one_child_more_waits_for_its_turn_and_may_be_stopped_meanwhile(
    tmp_path: Path, most: int
) -> None:
    told, stop_first, stop_more = tmp_path / "told", threading.Event(), threading.Event()
    sleeping = sleeper(told, most=most)
    first = [threading.Thread(target=_stopped, args=(sleeping, stop_first)) for _ in range(most)]
    for each in first:
        each.start()
    once_there(told, stop_more, most)
    with pytest.raises(StoppedError):
        sleeping.answer("", 600, stop_more)
    assert len(those_of(told)) == most
    assert all(map(lives, those_of(told)))
    stop_first.set()
    for each in first:
        each.join()
    assert len(those_of(told)) == most
    assert not any(map(lives, those_of(told)))


def _stopped(sleeping: Children, stop: threading.Event) -> None:
    with pytest.raises(StoppedError):
        sleeping.answer("", 600, stop)


def test_no_child_outlives_the_app(tmp_path: Path) -> None:
    """A run that goes on in its thread while the app ends, with one child at work and one kept."""
    told, kept = tmp_path / "told", tmp_path / "kept"
    telling = "import os\nwhile True: input(); print(os.getpid(), flush=True)"
    app = f"""
import sys, threading
from pathlib import Path
from app.services.children import Children

kept = Children((sys.executable, "-c", {telling!r}), grace=60)
kept.kept().__enter__()
Path({str(kept)!r}).write_text(kept.answer("", 60, threading.Event()))
asleep = Children({sleeper(told).command!r})
threading.Thread(target=asleep.answer, args=("", 600, threading.Event()), daemon=True).start()
while not [*Path({str(tmp_path)!r}).glob("told.*[0-9]")]:
    threading.Event().wait(0.01)
"""
    subprocess.run([sys.executable, "-c", app], cwd=ROOT, check=True, timeout=60)
    waiting = threading.Event()
    while lives(kept) or any(map(lives, those_of(told))):  # killed, but perhaps not yet gone
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


@pytest.mark.skipif(sys.platform != "linux", reason="needs a bound on address space")
def test_a_child_that_is_held_to_its_memory_gets_no_more() -> None:
    eating = children(
        "import sys; from app.services.children import hold_to; hold_to(256 * 2**20)\n"
        "for line in sys.stdin:\n"
        "    try: print(len(bytes(int(line))), flush=True)\n"
        "    except MemoryError: print('no more', flush=True)",
        grace=60,
    )
    with eating.kept():
        assert eating.answer(str(2**20), 60, NEVER) == "1048576\n"
        assert eating.answer(str(2**30), 60, NEVER) == "no more\n"
