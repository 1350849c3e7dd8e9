"""Faults of a spec at the fields of the quote page, each sentence once and many alike in short."""

from collections.abc import Iterable
from dataclasses import replace

from app.errors import Fault
from app.orders.quoting.form import form_path

MOST_AT_A_FIELD = 3
"""Sentences of one kind at a field; what else is like them is counted. Our own choice."""


def on_the_form(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults of a spec moved to the fields of the quote page, each sentence once per field.

    One overlap can be too large for each of two dozen windows: the first few are said, then how
    many more there are.
    """
    moved = dict.fromkeys(replace(fault, path=form_path(fault.path)) for fault in faults)
    by_field: dict[tuple[str, str], list[Fault]] = {}
    for fault in moved:
        by_field.setdefault((fault.path, fault.code), []).append(fault)
    return tuple(fault for alike in by_field.values() for fault in _in_short(alike))


def _in_short(alike: list[Fault]) -> list[Fault]:
    left = len(alike) - MOST_AT_A_FIELD
    if left < 2:
        return alike
    more = Fault(path=alike[0].path, message=f"And {left} more like it.", code=alike[0].code)
    return [*alike[:MOST_AT_A_FIELD], more]
