"""Sizes that were said without a unit, and the answers to what is asked about them (L4).

An answer is the size as typed with its mark, so it is kept with the piece like anything typed, and a size
that has one is never asked about again. It says in which unit a size was said, not what the piece is worked in.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from app.errors import Fault, Invalid
from app.lengths import Length, with_mark
from app.orders.order import Agreed
from app.orders.quoting.reader import WHICH_UNIT, FindMaterial
from app.orders.quoting.request import read_piece
from app.orders.shop import Shop


def open_questions(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Return what is asked about sizes, of all that is wrong with a typed piece."""
    return tuple(fault for fault in faults if fault.code == WHICH_UNIT)


def as_likely(typed: Mapping[str, str], questions: Iterable[Fault]) -> dict[str, str]:
    """Return a typed piece as it is taken until the questions about it are answered."""
    return {**typed, **{fault.path: fault.offers[0] for fault in questions}}


def as_agreed(agreed: Agreed, shop: Shop, find: FindMaterial, longest: Length) -> Agreed:
    """Return what was agreed, with a mark on each size that would be asked about today: it was answered then.

    So it is with pieces that were agreed before anything was asked, and with a price book that has lost its
    longest sheet since.
    """
    try:
        read_piece(agreed.typed, shop, find, longest=longest)
    except Invalid as invalid:
        unit = agreed.spec.unit
        answers = {
            fault.path: with_mark(agreed.typed[fault.path], unit)
            for fault in open_questions(invalid.faults)
        }
        return replace(agreed, typed={**agreed.typed, **answers})
    return agreed
