"""A plug-in of pytest that lets coverage.py keep which test ran a line, for `make mutants`.

coverage.py's own way takes the first function whose name begins with "test", which for a test of
Hypothesis is one of Hypothesis's own.
"""

import coverage
import pytest


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_logstart(nodeid: str) -> None:
    """What runs from here on is run by that test; with any values it is one."""
    if (running := coverage.Coverage.current()) is not None:
        running.switch_context(nodeid.partition("[")[0])
