"""What some tests need of the machine beyond Python packages.

A test says it by a marker. Where a need is missing its tests are skipped with a word about what to
install; where CI is set a missing need is a failure, so that a green run has left nothing out.
"""

import os
import shutil
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from app.documents.kit.png import can_make_png
from app.web.door.addresses import own_addresses


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """One thing a marked test cannot do without."""

    marker: str
    what: str
    remedy: str
    is_met: Callable[[], bool]

    @property
    def word(self) -> str:
        """What is missing and what to do about it."""
        return f"needs {self.what}, which is not here ({self.remedy})"


def chromium() -> str | None:
    """The path of a Chromium to drive, or None. BEVELBOOK_CHROMIUM names another one."""
    return shutil.which(os.environ.get("BEVELBOOK_CHROMIUM") or "chromium")


@cache
def pango_loads() -> bool:
    """Whether WeasyPrint finds the shared libraries it draws with."""
    try:
        import weasyprint  # noqa: F401, PLC0415 - importing it is the question
    except OSError:
        return False
    return True


NEEDS = (
    Need(
        marker="browser",
        what="Chromium",
        remedy="Debian: apt-get install chromium",
        is_met=lambda: chromium() is not None,
    ),
    Need(
        marker="documents",
        what="Pango",
        remedy="Debian: apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-dejavu-core",
        is_met=pango_loads,
    ),
    Need(
        marker="poppler",
        what="pdftotext and pdftoppm",
        remedy="Debian: apt-get install poppler-utils",
        is_met=lambda: all(shutil.which(tool) for tool in ("pdftotext", "pdftoppm")),
    ),
    Need(
        marker="png",
        what="resvg",
        remedy="make setup-test, where there is a wheel of it",
        is_met=can_make_png,
    ),
    Need(
        marker="network",
        what="an address that phones reach",
        remedy="connect this computer to a network",
        is_met=lambda: bool(own_addresses()),
    ),
)


def nothing_may_be_skipped(environment: Mapping[str, str]) -> bool:
    """Whether this run is one that must not leave tests out: CI is set to anything but a no."""
    return environment.get("CI", "").strip().lower() not in {"", "0", "false", "no"}


def unmet(needs: Iterable[Need], markers: Iterable[str]) -> tuple[Need, ...]:
    """The needs of a test with these markers that this machine does not meet."""
    wanted = set(markers)
    return tuple(need for need in needs if need.marker in wanted and not need.is_met())
