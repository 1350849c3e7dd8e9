"""Parts of a section through the rebate, and widths that are drawn shorter than they are."""

from dataclasses import dataclass

from app.drawings.canvas.boxes import coordinate
from app.drawings.canvas.hatch import HatchMaterial
from app.drawings.canvas.svg import Point
from app.framing import Dimensions
from app.lengths import ZERO, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One part of the package, cut through.

    top, bottom: its true depths. front, back: where it begins and ends at its front and its back;
    the two differ on a bevel. mat: which mat it is, 0 for the top one; None for anything else.
    """

    name: str
    material: HatchMaterial
    thickness: Length
    top: float
    bottom: float
    front: tuple[float, float]
    back: tuple[float, float]
    mat: int | None = None

    @property
    def middle(self) -> float:
        """The depth of its middle."""
        return (self.top + self.bottom) / 2

    @property
    def end(self) -> float:
        """Where it ends at half its depth."""
        return (self.front[1] + self.back[1]) / 2

    def outline(self, least: float) -> tuple[Point, ...]:
        """Return its corners, drawn at least so thick about the same middle."""
        half = max(self.bottom - self.top, least) / 2
        top, bottom = self.middle - half, self.middle + half
        return (
            (self.front[0], top),
            (self.front[1], top),
            (self.back[1], bottom),
            (self.back[0], bottom),
        )


@dataclass(frozen=True, slots=True)
class Rebate:
    """The room for the package. package: where it begins, past half the allowance."""

    front: float
    back: float
    wall: float
    lip: float
    package: float


class Widths:
    """Draws widths true as far as a limit, and remembers whether one was shortened."""

    def __init__(self, dimensions: Dimensions) -> None:
        frames = dimensions.spec.profiles
        deepest = max(dimensions.stack, frames[0].rebate_depth if frames else ZERO)
        self.depth, self.shortened = max(coordinate(deepest), 10.0), False

    def of(self, length: Length, limit: float) -> float:
        """Return a width, at most `limit` times the depth of the section."""
        true, most = coordinate(length), self.depth * limit
        if true > most:
            self.shortened = True
        return max(min(true, most), 0.0)
