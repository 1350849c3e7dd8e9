"""Requests for cutting plans to the domain's questions, every unreadable value gathered first."""

from math import lcm

from app.cutting import SheetProblem, StickProblem
from app.lengths import Unit
from app.web.api.reading import RequestReader
from app.web.api.requests_cutting import SheetsRequested, SticksRequested

FINEST = 10**15
"""The most parts of a millimetre, or of a unit of cost, that all values of a request may share.

A guard: sums of many odd fractions would grow without end. Thousandths of a millimetre and 64ths of an
inch share 8000. Source: ours.
"""


def read_sticks(asked: SticksRequested) -> StickProblem:
    """Return the question of a request. Raises: Invalid with every fault, at the request's paths."""
    return _problem(StickProblem, asked)


def read_sheets(asked: SheetsRequested) -> SheetProblem:
    """Return the question of a request. Raises: Invalid with every fault, at the request's paths."""
    return _problem(SheetProblem, asked)


def _problem[T](made: type[T], asked: SticksRequested | SheetsRequested) -> T:
    read = RequestReader(Unit(asked.unit))
    fields = read.fields(made, asked)
    _check_fineness(read)
    return made(**fields)


def _check_fineness(read: RequestReader) -> None:
    """Finish reading: what cannot be read is told first, then what is too fine to be added up."""
    read.faults.finish()
    if lcm(*(length.mm.denominator for length in read.lengths)) > FINEST:
        read.faults.add(
            "",
            "The lengths together are too fine to be added up exactly; give them in steps of "
            "1/1000 mm or 1/64 in.",
            "too-fine",
        )
    if lcm(*(cost.denominator for cost in read.costs)) > FINEST:
        read.faults.add("", "The costs together are too fine to be added up exactly.", "too-fine")
    read.faults.finish()
