"""Numbers of the sample, given in the order of the days, so that they run without gaps (M4)."""

from collections import Counter
from typing import Any

from app.storage import Series


class Numbering:
    """Counts every series of every year from 1."""

    def __init__(self) -> None:
        self._last: Counter[tuple[Series, int]] = Counter()

    def take(self, series: Series, year: int) -> str:
        """The next number."""
        self._last[series, year] += 1
        return series.number(year, self._last[series, year])

    def counters(self) -> list[dict[str, Any]]:
        """The columns of the counters as they are left standing."""
        return [
            {"series": series.value, "year": year, "last": last}
            for (series, year), last in self._last.items()
        ]
