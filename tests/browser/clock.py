"""The moment at which the clocks of the browser tests stand still."""

from datetime import UTC, datetime

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
"""A Wednesday; the clock of the shop stands still, so that dates can be worked by hand."""
