"""What is set on the squaring arm to size blanks, as the cutter's scale reads (B11)."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from operator import attrgetter

from app.bench import ArmSetting, Scale
from app.documents.kit.printing import Figures
from app.lengths import Unit, show


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmRow:
    """One setting of the stop on the squaring arm.

    at: as the scale reads. check: in the other unit and never to be set, where that stands apart. what: what is cut at it.
    """

    at: str
    what: str
    check: str = ""


def arm_rows(
    settings: Iterable[ArmSetting],
    scale: Scale,
    in_words: Callable[[ArmSetting], str] = attrgetter("in_words"),
) -> tuple[ArmRow, ...]:
    """Return settings in their order, each with its check value. in_words: says what is cut at one."""
    return tuple(
        ArmRow(at=show(one.at, scale.unit), check=_check(one, scale), what=in_words(one))
        for one in settings
    )


def arm_rows_for(settings: Iterable[ArmSetting], scale: Scale, ticket: Unit) -> tuple[ArmRow, ...]:
    """Return the same for a paper in a unit: only where that is the other one a figure has its check value, behind it."""
    return tuple(
        ArmRow(
            at=show(one.at, scale.unit)
            + ("" if ticket is scale.unit else f" ({_check(one, scale)})"),
            what=one.in_words,
        )
        for one in settings
    )


def _check(one: ArmSetting, scale: Scale) -> str:
    """Write the exact length of what is set in the other unit, bare, as the ticket of its piece has it (L3)."""
    return Figures(steps=scale.steps).check(one.exact)
