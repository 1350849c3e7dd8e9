"""Reads the fields that many forms have: its version, and days."""

from collections.abc import Mapping
from datetime import date

from app.errors import FaultCollector, quoted


def read_version(form: Mapping[str, str], name: str = "version") -> int:
    """Read the version that a form was made from; -1, which is never current, where it is unreadable."""
    text = form.get(name, "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 12 else -1


def read_day(form: Mapping[str, str], path: str, faults: FaultCollector) -> date | None:
    """Read a date as browsers post it; None where it is empty or, with a fault, unreadable."""
    text = form.get(path, "").strip()
    if not text:
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        faults.add(path, f"{quoted(text)} is not a date; type it as 2026-12-10.")
        return None
    if not 2000 <= day.year <= 2200:
        faults.add(path, f"{quoted(text)} lies too far away; years from 2000 to 2200 are kept.")
        return None
    return day
