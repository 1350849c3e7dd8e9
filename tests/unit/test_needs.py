"""The guard that skips a test here must fail it in CI: a skipped test proves nothing."""

import pytest

from tests.needs import NEEDS, Need, nothing_may_be_skipped, unmet

PRESENT = Need(marker="present", what="a pencil", debian="pencil", is_met=lambda: True)
MISSING = Need(marker="missing", what="a ruler", debian="ruler", is_met=lambda: False)


def test_a_test_without_a_marker_needs_nothing():
    assert unmet((PRESENT, MISSING), ["parametrize"]) == ()


def test_only_the_needs_that_are_missing_count():
    assert unmet((PRESENT, MISSING), ["present", "missing"]) == (MISSING,)


def test_the_word_says_what_is_missing_and_what_to_install():
    assert MISSING.word == "needs a ruler, which is not here (Debian: apt-get install ruler)"


@pytest.mark.parametrize("value", ["true", "1", "yes", "TRUE"])
def test_with_ci_set_nothing_may_be_skipped(value):
    assert nothing_may_be_skipped({"CI": value})


@pytest.mark.parametrize("environment", [{}, {"CI": ""}, {"CI": "false"}, {"CI": "0"}])
def test_without_ci_tests_may_be_skipped(environment):
    assert not nothing_may_be_skipped(environment)


def test_every_need_has_a_registered_marker(pytestconfig):
    registered = {line.split(":")[0] for line in pytestconfig.getini("markers")}
    assert {need.marker for need in NEEDS} <= registered
