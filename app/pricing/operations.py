"""The labour table: the shop's operations and how long each takes (P5).

Owns operations as values and the table that ships. What a piece asks of the table is worked out in
`labour`. Minutes are for one practised person at the bench.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from app.errors import FaultCollector
from app.lengths import Unit
from app.pricing.codes import check_code

LONGEST_MINUTES = 24 * 60
"""A guard against seconds typed as minutes. Source: ours."""


class When(StrEnum):
    """Which pieces an operation belongs to.

    A frame operation is done once for each frame that is made, one for a given frame once for one that is bought
    ready-made or brought, one for the customer's own once for that alone (G24), one behind a mat once for each artwork there, a
    float once for each artwork that floats, a fillet once for each window that it lines. An object in a
    box is mounted, so nothing is hinged or floated for it.
    """

    ALWAYS = "always"
    FRAME = "frame"
    GIVEN_FRAME = "given-frame"
    OWN_FRAME = "own-frame"
    MAT = "mat"
    BEHIND_MAT = "behind-mat"
    FLOAT = "float"
    OBJECT = "object"
    FILLET = "fillet"
    GLAZING = "glazing"
    SPACER = "spacer"
    MOUNT_BOARD = "mount-board"
    BACKING = "backing"
    CANVAS = "canvas"
    TRAY = "tray"
    HANGING = "hanging"


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One operation at the bench; all times in minutes, exact.

    fixed: each time it is done. per_metre: of frame, along the outside. per_layer: of mat.
    per_window: cut in a mat. per_m2: of the package. once: whether the fixed time is that of setting up, which
    is done once for all pieces that are alike (P11); the rest is done for each.
    Raises: Invalid with every fault, at "code", "name", "fixed", "per_metre" and so on.
    """

    code: str
    name: str
    when: When
    fixed: Fraction = Fraction(0)
    per_metre: Fraction = Fraction(0)
    per_layer: Fraction = Fraction(0)
    per_window: Fraction = Fraction(0)
    per_m2: Fraction = Fraction(0)
    once: bool = False

    def __post_init__(self) -> None:
        faults = FaultCollector()
        check_code(faults, self.code)
        if not self.name.strip():
            faults.add("name", "The name is empty; say what is done.")
        for field, minutes in self.times():
            if not 0 <= minutes <= LONGEST_MINUTES:
                faults.add(
                    field,
                    f"The time is {float(minutes):g} minutes; 0 to {LONGEST_MINUTES} are allowed.",
                )
        faults.finish()

    def times(self) -> tuple[tuple[str, Fraction], ...]:
        """(field, minutes) of the five times."""
        return (
            ("fixed", self.fixed),
            ("per_metre", self.per_metre),
            ("per_layer", self.per_layer),
            ("per_window", self.per_window),
            ("per_m2", self.per_m2),
        )


DEFAULT_OPERATIONS: tuple[Operation, ...] = (
    Operation(
        code="take-in",
        name="Measure and check the artwork",
        when=When.ALWAYS,
        fixed=Fraction(4),
    ),
    Operation(
        code="size-mats",
        name="Size the mat blanks",
        when=When.MAT,
        per_layer=Fraction(2),
    ),
    Operation(
        code="cut-windows",
        name="Set the guide and cut the windows",
        when=When.MAT,
        fixed=Fraction(2),
        per_window=Fraction(4),
        once=True,
    ),
    Operation(
        code="fillet",
        name="Mitre the fillet and glue it into the window",
        when=When.FILLET,
        fixed=Fraction(8),
    ),
    Operation(
        code="hinge",
        name="Hinge the artwork behind the window",
        when=When.BEHIND_MAT,
        fixed=Fraction(5),
    ),
    Operation(
        code="float",
        name="Raise and float the artwork",
        when=When.FLOAT,
        fixed=Fraction(8),
    ),
    Operation(
        code="object",
        name="Mount the object on its board",
        when=When.OBJECT,
        fixed=Fraction(12),
    ),
    Operation(
        code="mount-board",
        name="Cut the mount board",
        when=When.MOUNT_BOARD,
        fixed=Fraction(2),
    ),
    Operation(
        code="backing",
        name="Cut the backing",
        when=When.BACKING,
        fixed=Fraction(2),
    ),
    Operation(
        code="glazing",
        name="Cut and clean the glazing",
        when=When.GLAZING,
        fixed=Fraction(4),
        per_m2=Fraction(8),
    ),
    Operation(
        code="spacers",
        name="Cut and fix the spacers",
        when=When.SPACER,
        fixed=Fraction(3),
        per_metre=Fraction(1),
    ),
    Operation(
        code="mitre",
        name="Mitre the rails",
        when=When.FRAME,
        fixed=Fraction(4),
        per_metre=Fraction(3, 2),
        once=True,
    ),
    Operation(
        code="join",
        name="Join and touch up the corners",
        when=When.FRAME,
        fixed=Fraction(7),
        per_metre=Fraction(1, 2),
    ),
    Operation(
        code="fit",
        name="Fit into the frame and fix the points",
        when=When.FRAME,
        fixed=Fraction(3),
        per_metre=Fraction(1, 2),
    ),
    Operation(
        code="take-apart",
        name="Take the customer’s frame apart",
        when=When.OWN_FRAME,
        fixed=Fraction(8),
        per_metre=Fraction(2),
    ),
    Operation(
        code="clean-frame",
        name="Clean the frame and its rebate",
        when=When.OWN_FRAME,
        fixed=Fraction(4),
        per_metre=Fraction(2),
    ),
    Operation(
        code="refit",
        name="Fit into the ready-made or the customer’s frame",
        when=When.GIVEN_FRAME,
        fixed=Fraction(3),
        per_metre=Fraction(1, 2),
    ),
    Operation(
        code="canvas",
        name="Seat and clip the canvas",
        when=When.CANVAS,
        fixed=Fraction(5),
    ),
    Operation(
        code="tray",
        name="Centre the canvas in the tray and screw it from behind",
        when=When.TRAY,
        fixed=Fraction(9),
    ),
    Operation(
        code="seal",
        name="Seal the back",
        when=When.BACKING,
        fixed=Fraction(2),
        per_metre=Fraction(1),
    ),
    Operation(
        code="hang",
        name="Fix the hanging parts",
        when=When.HANGING,
        fixed=Fraction(3),
    ),
    Operation(
        code="finish",
        name="Clean, check, label and wrap",
        when=When.ALWAYS,
        fixed=Fraction(4),
    ),
)
"""A table to start from. Source: common practice, no source; a shop times itself and corrects it. Once for all that
are alike: the guide and its stops, and the stop of the saw."""


_TWENTIETHS = 20
_FOOT_M, _SQUARE_FOOT_M2 = Fraction("0.3048"), Fraction("0.09290304")


def usual_operations(unit: Unit) -> tuple[Operation, ...]:
    """Return the table that ships as round figures of a unit: in inches to a twentieth of a minute a foot or a sq ft.

    Source: ours; 1 ft = 0.3048 m exactly (yard and pound agreement of 1959).
    """
    if unit is Unit.MM:
        return DEFAULT_OPERATIONS

    def rounded(minutes: Fraction, foot: Fraction) -> Fraction:
        return Fraction(int(minutes * foot * _TWENTIETHS + Fraction(1, 2)), _TWENTIETHS) / foot

    return tuple(
        replace(
            each,
            per_metre=rounded(each.per_metre, _FOOT_M),
            per_m2=rounded(each.per_m2, _SQUARE_FOOT_M2),
        )
        for each in DEFAULT_OPERATIONS
    )
