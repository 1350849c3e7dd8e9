"""`make setup` finds a Python that can run the app, and says so plainly where there is none."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

FINDER = Path(__file__).parents[2] / ".make" / "python"
TOOLS = ("sh", "ls", "sort")
SEARCHED = ("PYTHON", "PYENV_ROOT")


class Machine:
    """A made-up machine: its PATH, its home, and the interpreters on it."""

    def __init__(self, root: Path) -> None:
        self.path = root / "bin"
        self.home = root / "home"
        self.path.mkdir()
        self.home.mkdir()
        for tool in TOOLS:
            (self.path / tool).symlink_to(shutil.which(tool) or tool)

    def script(self, place: Path, body: str) -> Path:
        """A program of our own at a place."""
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(f"#!/bin/sh\n{body}\n")
        place.chmod(0o755)
        return place

    def good(self, place: Path, name: str = "") -> Path:
        """An interpreter that passes; it calls itself by its place."""
        return self.script(place, f'echo "{name or place}"')

    def old(self, place: Path) -> Path:
        """An interpreter that answers as one before 3.12 does."""
        return self.script(place, "exit 3")

    def stand_in(self, place: Path) -> Path:
        """What pyenv puts on the PATH for a version that is installed but not chosen."""
        return self.script(place, f'echo "pyenv: {place.name}: command not found" >&2; exit 127')

    def find(self, **environment: str) -> subprocess.CompletedProcess[str]:
        here = {name: value for name, value in os.environ.items() if name not in SEARCHED}
        environment = {**here, "PATH": str(self.path), "HOME": str(self.home), **environment}
        command = [str(self.path / "sh"), str(FINDER)]
        return subprocess.run(
            command, env=environment, capture_output=True, text=True, check=False, timeout=30
        )


@pytest.fixture
def machine(tmp_path):
    return Machine(tmp_path)


def test_this_very_python_passes_the_real_trial(machine):
    (machine.path / "python3").symlink_to(sys.executable)
    found = machine.find()
    assert found.returncode == 0, found.stderr
    assert Path(found.stdout.strip()).samefile(sys.executable)


def test_the_newest_name_on_the_path_wins(machine):
    for name in ("python3", "python3.12", "python3.13"):
        machine.good(machine.path / name)
    assert machine.find().stdout.strip() == str(machine.path / "python3.13")


def test_the_one_that_was_named_comes_first(machine, tmp_path):
    machine.good(machine.path / "python3.13")
    named = machine.good(tmp_path / "my own" / "python")
    assert machine.find(PYTHON=str(named)).stdout.strip() == str(named)


def test_a_named_one_that_will_not_do_is_said_and_the_search_goes_on(machine, tmp_path):
    usable = machine.good(machine.path / "python3.12")
    named = machine.old(tmp_path / "python-old")
    found = machine.find(PYTHON=str(named))
    assert found.stdout.strip() == str(usable)
    assert f"PYTHON={named} is not a whole Python 3.12 or newer" in found.stderr


def test_a_stand_in_that_prints_an_error_is_passed_over_for_pyenvs_own_versions(machine):
    machine.stand_in(machine.path / "python3.12")
    machine.old(machine.path / "python3")
    versions = machine.home / ".pyenv" / "versions"
    machine.old(versions / "3.9.18" / "bin" / "python")
    machine.good(versions / "3.12.1" / "bin" / "python")
    machine.good(versions / "3.13.0" / "bin" / "python")
    found = machine.find()
    assert found.stdout.strip() == str(versions / "3.13.0" / "bin" / "python")
    assert found.stderr == ""


def test_a_pyenv_kept_elsewhere_is_looked_into(machine, tmp_path):
    interpreter = machine.good(tmp_path / "py env" / "versions" / "3.12.9" / "bin" / "python")
    found = machine.find(PYENV_ROOT=str(tmp_path / "py env"))
    assert found.stdout.strip() == str(interpreter)


def test_with_none_it_says_what_is_needed_and_how_to_name_one(machine):
    machine.old(machine.path / "python3")
    found = machine.find()
    assert found.returncode == 1
    assert found.stdout == ""
    assert "needs Python 3.12 or newer, and none was found" in found.stderr
    assert "make setup PYTHON=" in found.stderr


def test_one_without_venv_is_passed_over_and_named_with_what_it_lacks(machine):
    body = """case "$*" in
*find_spec*) echo "/usr/bin/python3 has no ensurepip" ;;
*) exit 1 ;;
esac"""
    machine.script(machine.path / "python3", body)
    found = machine.find()
    assert found.returncode == 1
    assert "/usr/bin/python3 has no ensurepip. Debian's own Python gets that by:" in found.stderr


def test_the_scripts_are_plain_sh():
    scripts = [each for each in FINDER.parent.iterdir() if each.suffix != ".py"]
    assert len(scripts) == 5
    for script in scripts:
        checked = subprocess.run(["sh", "-n", str(script)], capture_output=True, check=False)
        assert checked.returncode == 0, checked.stderr
