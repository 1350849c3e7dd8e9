"""What holds for every test: the time zone, Hypothesis profiles, and what to do where a need is missing."""

import gc
import os
import time
from collections.abc import Iterator
from contextlib import nullcontext
from pathlib import Path

import pytest
from hypothesis import settings

from app.services.printing import PRINTS
from tests.builders.hasty import nothing_on_the_disk
from tests.needs import NEEDS, nothing_may_be_skipped, unmet

# The clock of this machine is the shop's; the hours and days that tests expect are those of UTC.
os.environ["TZ"] = "UTC"
if hasattr(time, "tzset"):
    time.tzset()

BROWSER_TESTS = Path(__file__).parent / "browser"
STORAGE_TESTS = Path(__file__).parent / "storage"

settings.register_profile("dev", deadline=None)
settings.register_profile("quick", deadline=None, max_examples=10)
settings.register_profile(
    "ci", deadline=None, derandomize=True, database=None, max_examples=200, print_blob=True
)
settings.load_profile(
    "ci" if nothing_may_be_skipped(os.environ) else os.environ.get("BEVELBOOK_EXAMPLES", "dev")
)


def pytest_itemcollected(item: pytest.Item) -> None:
    """Mark what lies under tests/browser, so that no test there can forget to."""
    if item.path.is_relative_to(BROWSER_TESTS):
        item.add_marker(pytest.mark.browser)


@pytest.hookimpl(trylast=True)  # after -m and -k have left out what was not asked for
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Skip tests whose needs are missing; with CI set, refuse to run instead."""
    refused: dict[str, int] = {}
    for item in items:
        for need in unmet(NEEDS, (marker.name for marker in item.iter_markers())):
            item.add_marker(pytest.mark.skip(reason=need.word))
            refused[need.word] = refused.get(need.word, 0) + 1
    if refused and nothing_may_be_skipped(os.environ):
        words = [f"{count} of the tests {word}" for word, count in refused.items()]
        raise pytest.UsageError("CI is set, so nothing is skipped:\n  " + "\n  ".join(words))


def pytest_collection_finish() -> None:
    """Leave out of every search for cycles what was imported and collected: it stays until the end."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session", autouse=True)
def every_paper_at_once() -> None:
    """A paper is given by the request that asks for it, however busy this machine is."""
    PRINTS.moment = 120


@pytest.fixture(scope="module", autouse=True)
def hasty(request: pytest.FixtureRequest) -> Iterator[None]:
    """What holds for stores outside tests/storage, where alone durability is looked at."""
    with nullcontext() if request.path.is_relative_to(STORAGE_TESTS) else nothing_on_the_disk():
        yield
