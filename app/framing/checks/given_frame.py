"""What makes a frame that is given impossible: sides, diagonals and outside that no frame has (G24)."""

from app.framing.checks.fault_list import FaultList, by_dimension
from app.framing.given_frame import TAPE, GivenFrame
from app.framing.spec import Presentation
from app.lengths import ZERO, Length, Size

AT = "given_frame"
NO_SUCH_DIAGONALS = "no-such-diagonals"


def check_given_frame(found: FaultList) -> None:
    """One frame and not two, measures that go together, and something to put into it."""
    spec, given = found.spec, found.spec.given_frame
    if given is None:
        if spec.presentation is Presentation.AS_IT_CAME:
            found.add(
                "presentation",
                "What is in a frame goes back as it came only where the frame is given; say where the frame "
                "comes from, and measure its rebate.",
            )
        return
    if spec.frames:
        found.add(
            AT,
            "A frame is given and mouldings for one are too; the piece has one or the other, so leave one out.",
        )
    if _is_measured(found, given):
        _check_diagonals(found, given)
        _check_outside(found, given)
    _check_section(found, given)


def _is_measured(found: FaultList, given: GivenFrame) -> bool:
    """Tell whether all that was measured of the rebate is above zero, and the allowance leaves some of it."""
    real = [
        found.above_zero(f"{AT}.rebate.{name}", f"The rebate's {name}", length)
        for name, length in by_dimension(given.rebate)
    ]
    if given.opposite is not None:
        real += [
            found.above_zero(f"{AT}.opposite.{name}", f"The opposite {name} of the rebate", length)
            for name, length in by_dimension(given.opposite)
        ]
    found.not_negative(f"{AT}.depth", "The rebate depth", given.depth)
    if not all(real) or not found.not_negative(f"{AT}.allowance", "The play", given.allowance):
        return False
    shorter = min(given.counted.width, given.counted.height)
    if given.allowance >= shorter:
        found.add(
            f"{AT}.allowance",
            f"A play of {found.say(given.allowance)} leaves nothing of a rebate of {found.say(shorter)}; "
            "it must be smaller.",
        )
    return True


def _check_diagonals(found: FaultList, given: GivenFrame) -> None:
    """Diagonals that four such sides can have: one of them leaves the other, within what a tape misses."""
    if given.diagonals is None:
        return
    falling, rising = given.diagonals.falling, given.diagonals.rising
    real = [found.above_zero(f"{AT}.diagonals", "A diagonal", each) for each in (falling, rising)]
    if not all(real):
        return
    follows = given.rising_by_sides()
    sides = _sides(found, given)
    if follows is None:
        found.add(
            f"{AT}.diagonals",
            f"No frame with {sides} has a diagonal of {found.say(falling)}: the sides do not meet over it. "
            "Measure it again, from inside corner to inside corner.",
            NO_SUCH_DIAGONALS,
        )
    elif abs(follows - rising) > TAPE:
        found.add(
            f"{AT}.diagonals",
            f"With {sides} and one diagonal of {found.say(falling)} the other one is "
            f"{found.say(_rounded(follows))}, but {found.say(rising)} was given. Measure sides and diagonals "
            "again, from inside corner to inside corner.",
            NO_SUCH_DIAGONALS,
        )


def _rounded(length: Length) -> Length:
    """To a tenth of a millimetre, for a sentence."""
    return Length(round(length.mm, 1))


def _sides(found: FaultList, given: GivenFrame) -> str:
    if given.opposite is None or given.opposite == given.rebate:
        return f"a rebate of {found.say_size(given.rebate)}"
    return f"sides of {found.say_size(given.rebate)} and opposite ones of {found.say_size(given.opposite)}"


def _check_outside(found: FaultList, given: GivenFrame) -> None:
    if given.outside is None:
        return
    rebate = dict(by_dimension(_largest(given)))
    for name, length in by_dimension(given.outside):
        if length <= rebate[name]:
            found.add(
                f"{AT}.outside.{name}",
                f"The outside is {found.say(length)} in {name}, but the rebate within it is "
                f"{found.say(rebate[name])}; it must be larger.",
            )


def _largest(given: GivenFrame) -> Size:
    other = given.opposite or given.rebate
    return Size(
        width=max(given.rebate.width, other.width), height=max(given.rebate.height, other.height)
    )


def _check_section(found: FaultList, given: GivenFrame) -> None:
    """Face and lip, where they were measured."""
    if given.face is not None and not found.above_zero(f"{AT}.face", "The face", given.face):
        return
    lip = given.lip
    if lip is None or not found.not_negative(f"{AT}.lip", "The lip", lip):
        return
    if given.face is not None and lip >= given.face:
        found.add(
            f"{AT}.lip",
            f"The lip is {found.say(lip)}, but the whole face is {found.say(given.face)}; the lip must be "
            "narrower.",
        )
    shorter = min(given.counted.width, given.counted.height)
    if ZERO < shorter <= lip * 2:
        found.add(
            f"{AT}.lip",
            f"A lip of {found.say(lip)} on both sides covers the whole {found.say(shorter)} of the rebate, so "
            f"nothing would be seen; it must be under {found.say(shorter / 2)}.",
        )
