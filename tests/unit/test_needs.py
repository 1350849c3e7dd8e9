"""The guard that skips a test here must fail it in CI: a skipped test proves nothing."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.needs import NEEDS, Need, nothing_may_be_skipped, unmet

ROOT = Path(__file__).parents[2]
ANSWERS = ("CI", "BEVELBOOK_CHROMIUM")

PRESENT = Need(marker="present", what="a pencil", remedy="buy one", is_met=lambda: True)
MISSING = Need(marker="missing", what="a ruler", remedy="buy one", is_met=lambda: False)


def test_a_test_without_a_marker_needs_nothing():
    assert unmet((PRESENT, MISSING), ["parametrize"]) == ()


def test_only_the_needs_that_are_missing_count():
    assert unmet((PRESENT, MISSING), ["present", "missing"]) == (MISSING,)


def test_the_word_says_what_is_missing_and_what_to_do():
    assert MISSING.word == "needs a ruler, which is not here (buy one)"


@pytest.mark.parametrize("value", ["true", "1", "yes", "TRUE"])
def test_with_ci_set_nothing_may_be_skipped(value):
    assert nothing_may_be_skipped({"CI": value})


@pytest.mark.parametrize("environment", [{}, {"CI": ""}, {"CI": "false"}, {"CI": "0"}])
def test_without_ci_tests_may_be_skipped(environment):
    assert not nothing_may_be_skipped(environment)


def test_every_need_has_a_registered_marker(pytestconfig):
    registered = {line.split(":")[0] for line in pytestconfig.getini("markers")}
    assert {need.marker for need in NEEDS} <= registered


@pytest.fixture
def run_a_browser_test(tmp_path):
    """Runs one browser test in a pytest of its own, on a machine that has no Chromium."""
    test = tmp_path / "test_one.py"
    test.write_text("import pytest\n\n@pytest.mark.browser\ndef test_one(): assert True\n")

    here = {name: value for name, value in os.environ.items() if name not in ANSWERS}

    def run(*options: str, **environment: str) -> subprocess.CompletedProcess[str]:
        command = [sys.executable, "-m", "pytest", "-p", "tests.conftest", "-c", "pyproject.toml"]
        return subprocess.run(
            [*command, *options, str(test)],
            cwd=ROOT,
            env={**here, "PATH": str(tmp_path), **environment},
            capture_output=True,
            text=True,
            check=False,
        )

    return run


def test_a_missing_need_skips_its_test_with_a_word(run_a_browser_test):
    run = run_a_browser_test()
    assert run.returncode == 0, run.stdout + run.stderr
    assert "1 skipped" in run.stdout
    assert "needs Chromium, which is not here (Debian: apt-get install chromium)" in run.stdout


def test_in_ci_a_missing_need_is_a_failure(run_a_browser_test):
    run = run_a_browser_test(CI="true")
    assert run.returncode == pytest.ExitCode.USAGE_ERROR
    assert "1 of the tests needs Chromium, which is not here" in run.stdout + run.stderr


def test_what_was_not_asked_for_needs_nothing_even_in_ci(run_a_browser_test):
    run = run_a_browser_test("-m", "not browser", CI="true")
    assert run.returncode == pytest.ExitCode.NO_TESTS_COLLECTED
