"""Reads fields that many forms have: the version that a form was made from, and days."""

from collections.abc import Mapping
from datetime import date

from app.errors import FaultCollector, quoted
from app.forms.reader import whole_number


def read_version(form: Mapping[str, str], name: str = "version") -> int:
    """Read the version that a form was made from; it is -1, which is never current, where it is unreadable."""
    version = whole_number(form.get(name, ""), digits=11)
    return -1 if version is None else version


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
