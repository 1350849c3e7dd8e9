"""What was chosen from the price book for one piece.

Owns the choice as a value and whether it fits the piece. Fault paths: "frames.0", "mats.1",
"fillet", "glazing", "mount_board", "backing", "spacer", "hardware.0", "extras.0".
"""

from dataclasses import dataclass

from app.counting import counted
from app.errors import Fault, FaultCollector, Invalid
from app.framing import Dimensions
from app.pricing.book import COLOUR_NOT_SAID, ChargeBy, Kind, Material

BY_LENGTH = (ChargeBy.LENGTH, ChargeBy.OPENED)
"""How strips are charged: by their own length, or by that of the sticks opened for them."""

MOST_OF_ONE = 1000
"""A guard against a count typed twice. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenCount:
    """A counted material: hardware, extras. Raises: Invalid at "count"."""

    material: Material
    count: int = 1

    def __post_init__(self) -> None:
        if not 1 <= self.count <= MOST_OF_ONE:
            raise Invalid.at("count", f"The count is {self.count}; 1 to {MOST_OF_ONE} is allowed.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The materials of a piece. frames: the inner one first. mats: the top one first.

    ready_made: a frame that is bought as it is, in the place of frames that are made (G24).

    Sequences run as in the piece's spec. Raises: Invalid where a material is of the wrong kind.
    """

    frames: tuple[Material, ...] = ()
    mats: tuple[Material, ...] = ()
    glazing: Material | None = None
    mount_board: Material | None = None
    backing: Material | None = None
    spacer: Material | None = None
    hardware: tuple[ChosenCount, ...] = ()
    extras: tuple[ChosenCount, ...] = ()
    fillet: Material | None = None
    ready_made: Material | None = None

    @property
    def without_colour(self) -> tuple[Material, ...]:
        """What is seen from the front and has no colour of its own in the price book, the frames first, each once."""
        seen = (*self.frames, self.ready_made, *self.mats, self.fillet)
        grey = (each for each in seen if each is not None and each.colour == COLOUR_NOT_SAID)
        return tuple({each.code: each for each in grey}.values())

    def __post_init__(self) -> None:
        faults = FaultCollector()
        for path, material, kind in self._kinds_wanted():
            if material.kind is not kind:
                faults.add(
                    path,
                    f"{material.code} is {material.kind.with_article}; here {kind.with_article} "
                    "is wanted.",
                )
        if self.spacer is not None:
            self._check_spacer(self.spacer, faults)
        if self.fillet is not None:
            self._check_fillet(self.fillet, faults)
        faults.finish()

    def _kinds_wanted(self) -> list[tuple[str, Material, Kind]]:
        """(path, material, kind that belongs there) of everything but spacer and fillet."""
        boards = (("mount_board", self.mount_board), ("backing", self.backing))
        return [
            *((f"frames.{i}", each, Kind.MOULDING) for i, each in enumerate(self.frames)),
            *((f"mats.{i}", each, Kind.MAT) for i, each in enumerate(self.mats)),
            *([("given_frame", self.ready_made, Kind.READY_MADE)] if self.ready_made else []),
            *([("glazing", self.glazing, Kind.GLAZING)] if self.glazing else []),
            *((path, each, Kind.BOARD) for path, each in boards if each),
            *((f"hardware.{i}", x.material, Kind.HARDWARE) for i, x in enumerate(self.hardware)),
            *((f"extras.{i}", x.material, Kind.EXTRA) for i, x in enumerate(self.extras)),
        ]

    @staticmethod
    def _check_spacer(spacer: Material, faults: FaultCollector) -> None:
        strip = spacer.kind in (Kind.EXTRA, Kind.MOULDING) and spacer.charge.by in BY_LENGTH
        if not strip:
            faults.add(
                "spacer",
                f"{spacer.code} is {spacer.kind.with_article} charged by {spacer.charge.by}; a "
                "spacer is an extra or a moulding charged by length.",
            )

    @staticmethod
    def _check_fillet(fillet: Material, faults: FaultCollector) -> None:
        """Size bands are those of a package, which says nothing of the windows in it."""
        strip = fillet.kind is Kind.MOULDING and fillet.charge.by in BY_LENGTH
        if not strip:
            faults.add(
                "fillet",
                f"{fillet.code} is {fillet.kind.with_article} charged by {fillet.charge.by}; a "
                "fillet is a moulding charged by length.",
            )

    def materials(self) -> tuple[tuple[str, Material], ...]:
        """(path, material) of everything chosen."""
        strips = (("spacer", self.spacer), ("fillet", self.fillet))
        return (
            *((path, each) for path, each, _ in self._kinds_wanted()),
            *((path, each) for path, each in strips if each),
        )


def misfits(chosen: Chosen, dimensions: Dimensions) -> tuple[Fault, ...]:
    """Tell where the choice and the piece do not go together; empty when they do.

    A part that the piece has needs its material, and a material needs its part.
    """
    faults = FaultCollector()
    _compare_counts(faults, "frames", "frame", (len(chosen.frames), len(dimensions.frames)))
    _compare_counts(faults, "mats", "mat", (len(chosen.mats), len(dimensions.layers)))
    given = dimensions.spec.given_frame
    pairs = (
        (
            "given_frame",
            "a ready-made frame",
            chosen.ready_made,
            given is not None and not given.own,
        ),
        ("glazing", "glazing", chosen.glazing, dimensions.glazing is not None),
        ("mount_board", "mount board", chosen.mount_board, dimensions.mount_board is not None),
        ("backing", "backing", chosen.backing, dimensions.backing is not None),
        ("spacer", "spacer", chosen.spacer, bool(dimensions.spacers)),
        ("fillet", "fillets", chosen.fillet, bool(dimensions.fillets)),
    )
    for path, name, material, wanted in pairs:
        if wanted and material is None:
            faults.add(
                path, f"The piece has {name}, but none is chosen; choose one from the price book."
            )
        if material is not None and not wanted:
            faults.add(path, f"{material.code} is chosen, but the piece has no {name}.")
    return faults.faults


def _compare_counts(faults: FaultCollector, path: str, name: str, counts: tuple[int, int]) -> None:
    chosen, wanted = counts
    if chosen != wanted:
        faults.add(path, f"The piece has {counted(wanted, name)}, but {chosen or 'none'} chosen.")
