"""Requests for cutting plans to the domain's questions, every unreadable value gathered first."""

from collections.abc import Iterable
from fractions import Fraction
from math import lcm

from app.cutting import (
    Sheet,
    SheetPart,
    SheetProblem,
    Stick,
    StickPart,
    StickProblem,
    Together,
)
from app.errors import quoted
from app.lengths import Length, Size, Unit
from app.web.api.reading import RequestReader
from app.web.api.requests_cutting import (
    SheetOffered,
    SheetPartAsked,
    SheetsRequested,
    StickOffered,
    SticksRequested,
)

FINEST = 10**15
"""The most parts of a millimetre, or of a unit of cost, that all values of a request may share.

A guard: sums of many odd fractions would grow without end. Thousandths of a millimetre and 64ths of an
inch share 8000. Source: ours.
"""


def read_sticks(asked: SticksRequested) -> StickProblem:
    """The question of a request. Raises: Invalid with every fault, at the request's paths."""
    read = RequestReader(Unit(asked.unit))
    stock = tuple(_stick(read, f"stock.{i}", each) for i, each in enumerate(asked.stock))
    parts = tuple(
        StickPart(
            id=each.id,
            length=read.length(f"parts.{i}.length", each.length),
            copies=each.copies,
            group=each.group,
        )
        for i, each in enumerate(asked.parts)
    )
    kerf = read.length("kerf", asked.kerf)
    end_trim = read.length("end_trim", asked.end_trim)
    keep = read.length("keep", asked.keep)
    lengths = [*(each.length for each in stock), *(each.length for each in parts)]
    _check_fineness(read, [*lengths, kerf, end_trim, keep], [each.cost for each in stock])
    return StickProblem(
        unit=read.unit,
        stock=stock,
        parts=parts,
        kerf=kerf,
        end_trim=end_trim,
        keep=keep,
        together=Together(asked.together),
    )


def read_sheets(asked: SheetsRequested) -> SheetProblem:
    """The question of a request. Raises: Invalid with every fault, at the request's paths."""
    read = RequestReader(Unit(asked.unit))
    stock = tuple(_sheet(read, f"stock.{i}", each) for i, each in enumerate(asked.stock))
    parts = tuple(
        SheetPart(
            id=each.id,
            size=_size(read, f"parts.{i}", each),
            copies=each.copies,
            turn=each.turn,
            group=each.group,
        )
        for i, each in enumerate(asked.parts)
    )
    kerf, trim = read.length("kerf", asked.kerf), read.length("trim", asked.trim)
    keep = None if asked.keep is None else read.size("keep", asked.keep)
    sizes = [*(each.size for each in stock), *(each.size for each in parts)]
    sizes += [] if keep is None else [keep]
    lengths = [side for size in sizes for side in (size.width, size.height)]
    _check_fineness(read, [*lengths, kerf, trim], [each.cost for each in stock])
    return SheetProblem(
        unit=read.unit,
        stock=stock,
        parts=parts,
        kerf=kerf,
        trim=trim,
        stages=asked.stages,
        keep=keep,
    )


def _stick(read: RequestReader, path: str, asked: StickOffered) -> Stick:
    return Stick(
        id=asked.id,
        length=read.length(f"{path}.length", asked.length),
        copies=asked.copies,
        cost=_cost(read, f"{path}.cost", asked.cost),
    )


def _sheet(read: RequestReader, path: str, asked: SheetOffered) -> Sheet:
    return Sheet(
        id=asked.id,
        size=_size(read, path, asked),
        copies=asked.copies,
        cost=_cost(read, f"{path}.cost", asked.cost),
    )


def _size(read: RequestReader, path: str, asked: SheetOffered | SheetPartAsked) -> Size:
    return Size(
        read.length(f"{path}.width", asked.width), read.length(f"{path}.height", asked.height)
    )


def _cost(read: RequestReader, path: str, text: str) -> Fraction:
    """A cost, which is an exact number as exact lengths are written, without any unit."""
    try:
        return Length.of(text.strip(), Unit.MM).mm
    except ValueError:
        read.faults.add(
            path, f'{quoted(text)} is no cost; it is a plain number such as "48.50", zero or more.'
        )
        return Fraction(0)


def _check_fineness(
    read: RequestReader, lengths: Iterable[Length], costs: Iterable[Fraction]
) -> None:
    """Finish reading: what cannot be read is told first, then what is too fine to be added up."""
    read.faults.finish()
    if lcm(*(length.mm.denominator for length in lengths)) > FINEST:
        read.faults.add(
            "",
            "The lengths together are too fine to be added up exactly; give them in steps of "
            "1/1000 mm or 1/64 in.",
            "too-fine",
        )
    if lcm(*(cost.denominator for cost in costs)) > FINEST:
        read.faults.add("", "The costs together are too fine to be added up exactly.", "too-fine")
    read.faults.finish()
