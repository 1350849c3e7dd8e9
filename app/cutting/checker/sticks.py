"""The proof of a plan for sticks (C1, C4): where each part begins follows from those before it."""

from collections.abc import Iterator

from app.cutting.checker.counts import (
    faults_of_bound,
    faults_of_left_out,
    faults_of_parts,
    faults_of_stock,
    named,
    named_bin,
    unopened_stock,
)
from app.cutting.plan import OpenedStick, StickPlan
from app.cutting.problem import Stick, StickPart, StickProblem
from app.lengths import ZERO, Length, say


def faults_of_stick_plan(plan: StickPlan) -> tuple[str, ...]:
    """Return what is wrong with a plan, in sentences; empty where it is proven.

    Proven: every wanted copy is placed once or left out for a reason, with no stock unopened that
    would hold it; stock exists and is opened once; parts have their lengths and follow one another
    a kerf apart from the left trim on, and end before the right one; the offcut is all that is left
    a kerf further, and is given exactly where it is worth keeping; the bound is not above the cost.
    """
    return tuple(_faults(plan))


def _faults(plan: StickPlan) -> Iterator[str]:
    yield from faults_of_parts(plan)
    yield from faults_of_stock(plan)
    parts = {part.id: part for part in plan.asked.parts}
    sticks = {stick.id: stick for stick in plan.asked.stock}
    for opened in plan.bins:
        yield from _faults_of_lengths(opened, parts, plan.asked)
        if opened.stock in sticks:
            yield from _faults_of_stick(opened, sticks[opened.stock], plan.asked)
    yield from faults_of_left_out(
        plan.unplaced,
        parts,
        _longest(unopened_stock(plan.asked.stock, plan.opened)),
        lambda stick, part: part.length <= plan.asked.usable(stick),
    )
    yield from faults_of_bound(plan)


def _longest(sticks: Iterator[Stick]) -> tuple[Stick, ...]:
    """It holds what any of them holds; none where there are none."""
    longest = max(sticks, key=lambda stick: stick.length, default=None)
    return () if longest is None else (longest,)


def _faults_of_lengths(
    opened: OpenedStick, parts: dict[str, StickPart], asked: StickProblem
) -> Iterator[str]:
    for laid in opened.parts:
        part = parts.get(laid.id)
        if part is not None and laid.length != part.length:
            yield (
                f"{named(laid)} is {say(laid.length, asked.unit)} long in the plan; "
                f"{say(part.length, asked.unit)} is wanted."
            )


def _faults_of_stick(opened: OpenedStick, stick: Stick, asked: StickProblem) -> Iterator[str]:
    begin, end = asked.end_trim, asked.end_trim
    for laid in opened.parts:
        if laid.at != begin:
            yield (
                f"{named(laid)} on {named_bin(opened)} begins at {say(laid.at, asked.unit)}; trim, "
                f"parts and kerf before it come to {say(begin, asked.unit)}."
            )
        end = laid.at + laid.length
        begin = end + asked.kerf
    last = stick.length - asked.end_trim
    if end > last:
        yield (
            f"The parts on {named_bin(opened)} end at {say(end, asked.unit)}; it can be used up to "
            f"{say(last, asked.unit)}."
        )
    yield from _faults_of_offcut(opened, begin, last - begin, asked)


def _faults_of_offcut(
    opened: OpenedStick, begin: Length, left: Length, asked: StickProblem
) -> Iterator[str]:
    """begin: a kerf after the last part. left: from there to the right trim, or less than zero."""
    kept = left > ZERO and left >= asked.keep
    offcut = opened.offcut
    if offcut is None:
        if kept and opened.parts:
            yield f"The offcut of {say(left, asked.unit)} on {named_bin(opened)} is not in the plan."
        return
    if (offcut.at, offcut.length) != (begin, left):
        yield (
            f"The offcut of {say(offcut.length, asked.unit)} at {say(offcut.at, asked.unit)} on "
            f"{named_bin(opened)} is not what is left, {say(left, asked.unit)} at "
            f"{say(begin, asked.unit)}."
        )
    elif not kept:
        yield (
            f"The offcut of {say(left, asked.unit)} on {named_bin(opened)} is not worth keeping; "
            f"{say(asked.keep, asked.unit)} is."
        )
