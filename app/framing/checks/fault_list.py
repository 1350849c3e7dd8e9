"""The faults of one spec while it is being checked, and the sentences that every check shares."""

from collections.abc import Iterable

from app.errors import Fault, FaultCollector
from app.framing.layout import lay_out
from app.framing.spec import Spec
from app.lengths import ZERO, Length, Size, show, show_size


class FaultList:
    """Gathers the faults of a spec; lengths are said in the piece's unit.

    layout: of the windows, None where they cannot be laid out. package: zero in that case, which
    the checks that ask for it take as not known.
    """

    __slots__ = ("_faults", "layout", "package", "spec")

    def __init__(self, spec: Spec) -> None:
        self.spec = spec
        self.layout = lay_out(spec)
        self.package = self.layout.package if self.layout else Size(ZERO, ZERO)
        self._faults = FaultCollector()

    @property
    def faults(self) -> tuple[Fault, ...]:
        """The faults so far, in the order in which they were found."""
        return self._faults.faults

    def add(
        self, path: str, message: str, code: str = "invalid", offers: tuple[str, ...] = ()
    ) -> None:
        """Note one fault."""
        self._faults.add(path, message, code, offers)

    def say(self, length: Length) -> str:
        """Return a length for a sentence."""
        return show(length, self.spec.unit, mark=True)

    def say_size(self, size: Size) -> str:
        """Return a size for a sentence."""
        return show_size(size, self.spec.unit, mark=True)

    def above_zero(self, path: str, what: str, length: Length) -> bool:
        """Tell whether a length is above zero; a fault where it is not."""
        if length <= ZERO:
            self.add(path, f"{what} is {self.say(length)}; it must be above zero.")
        return length > ZERO

    def not_negative(self, path: str, what: str, length: Length) -> bool:
        """Tell whether a length is zero or more; a fault where it is not."""
        if length < ZERO:
            self.add(path, f"{what} is {self.say(length)}; it cannot be below zero.")
        return length >= ZERO

    def none_negative(self, lengths: Iterable[tuple[str, str, Length]]) -> None:
        """The same for several (path, what, length)."""
        for path, what, length in lengths:
            self.not_negative(path, what, length)


def by_dimension(size: Size) -> tuple[tuple[str, Length], ...]:
    """(name, length) of width and height."""
    return (("width", size.width), ("height", size.height))
