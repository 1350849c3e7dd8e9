"""Designs to choose from: which one of a piece counts, and from what to what a piece comes (P10)."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from app.lengths import show_size
from app.orders.order import Design, DesignAct, DesignChange, Order, Piece

MOST_DESIGNS = 12
"""Designs of one piece beside each other. Source: ours; more cannot be compared."""

_CHOOSING = (DesignAct.TAKEN, DesignAct.LEFT_OPEN)


def standing_designs(numbers: Iterable[int], changes: Iterable[DesignChange]) -> tuple[int, ...]:
    """Return the numbers of the designs that were not removed, in order."""
    removed = {change.design for change in changes if change.act is DesignAct.REMOVED}
    return tuple(sorted(set(numbers) - removed))


def taken_of(numbers: Sequence[int], changes: Sequence[DesignChange]) -> int | None:
    """Return the number of the design that was taken last and stands; of one alone it is that one.

    numbers: of the designs that stand. changes: the oldest first.
    """
    chosen = [change for change in changes if change.act in _CHOOSING]
    last = chosen[-1] if chosen else None
    if last is not None and last.act is DesignAct.TAKEN and last.design in numbers:
        return last.design
    return numbers[0] if len(numbers) == 1 else None


def with_taken(order: Order, taken: Mapping[int, int]) -> Order:
    """Return the order as it would stand with some designs taken. taken: design by the number of its piece.

    Raises: NotFound for a design that its piece has not.
    """
    return replace(
        order, pieces=tuple(piece.by_design(taken.get(piece.number)) for piece in order.pieces)
    )


def at_least(order: Order) -> Order:
    """Return the order with the design of the least price of each piece of which none is taken (P10)."""
    return with_taken(order, {p.number: open_designs(p)[0].number for p in undecided(order)})


def at_most(order: Order) -> Order:
    """Return the order with the design of the highest price of each piece of which none is taken (P10)."""
    return with_taken(order, {p.number: open_designs(p)[-1].number for p in undecided(order)})


def undecided(order: Order) -> tuple[Piece, ...]:
    """Return the pieces that count of which one of several designs is still to be chosen."""
    return tuple(piece for piece in order.counting if piece.undecided)


def open_designs(piece: Piece) -> tuple[Design, ...]:
    """Return the designs by which a piece may come to be made, that of the least price first: all while none is taken, else the one
    that counts.
    """
    return by_price(piece) if piece.undecided else (piece.counted,)


def by_price(piece: Piece) -> tuple[Design, ...]:
    """Return the designs of a piece, that of the least price first."""
    return tuple(sorted(piece.designs, key=lambda each: each.agreed.price.to_pay.minor))


def at_odds(piece: Piece) -> Iterator[str]:
    """Yield what the designs of a piece say otherwise of its one artwork, a sentence each with the way to mend it."""
    ours = piece.counted
    for other in piece.others:
        theirs, own = other.agreed.spec, ours.agreed.spec
        if theirs.artwork != own.artwork:
            yield (
                f"Design {other.letter} is for an artwork of "
                f"{show_size(theirs.artwork, theirs.unit, mark=True)}, design {ours.letter} for one of "
                f"{show_size(own.artwork, own.unit, mark=True)}. A piece has one artwork: "
                "change the design whose size is wrong."
            )
        if (theirs.boxed is None) is not (own.boxed is None):
            flat, boxed = (other, ours) if theirs.boxed is None else (ours, other)
            yield (
                f"Design {flat.letter} is for an artwork that lies flat, design {boxed.letter} for an object "
                "in a box. Open the one that is wrong under Change and save it."
            )
