"""What a worked example is worked with: a shop's unit and allowances, and how its figures are printed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from app.framing import Dimensions, Edges, Frame, Mat, Presentation, Spec, work_out
from app.lengths import Length, Size, Unit, parse_length, show, show_size
from app.orders import Allowances, Shop

type Figures = Mapping[str, str]
"""The figures of an example by their names, as they are printed."""


@dataclass(frozen=True, slots=True)
class Given:
    """A shop, and round figures of its unit to work with."""

    shop: Shop

    @property
    def unit(self) -> Unit:
        """The unit of every figure in the examples."""
        return self.shop.unit

    @property
    def allowances(self) -> Allowances:
        """The allowances of the shop."""
        return self.shop.allowances

    def length(self, metric: str, imperial: str) -> Length:
        """Return a round length: millimetres for a metric shop, inches for the other."""
        return parse_length(metric if self.unit is Unit.MM else imperial, unit=self.unit, path="")

    def size(self, metric: tuple[str, str], imperial: tuple[str, str]) -> Size:
        """Return a round size likewise."""
        wide, high = zip(metric, imperial, strict=True)
        return Size(self.length(*wide), self.length(*high))

    @property
    def artwork(self) -> Size:
        """The size of the artwork in the examples: A3, or 11 × 17 in, upright."""
        return self.size(("297", "420"), ("11", "17"))

    @property
    def package(self) -> Size:
        """The size of the package in the examples, which is round."""
        return self.size(("400", "500"), ("16", "20"))

    @property
    def board(self) -> Length:
        """The thickness of the mat board in the examples, which has four plies."""
        return self.length("1.4", "1/16")

    @property
    def profile(self) -> Frame:
        """The moulding of the examples: round figures, with the shop's allowance."""
        return Frame(
            face=self.length("25", "1"),
            lip=self.length("6", "1/4"),
            rebate_depth=self.length("14", "9/16"),
            allowance=self.allowances.allowance,
        )

    def spec(self, **changes: object) -> Spec:
        """Return the artwork in a window of one mat with the shop's allowances, changed."""
        usual = self.allowances
        spec = Spec(
            unit=self.unit,
            artwork=self.artwork,
            presentation=Presentation.WINDOW,
            overlap=usual.overlap,
            gap=usual.gap,
            mats=(Mat(thickness=self.board),),
            borders=Edges.equal(usual.border),
        )
        return replace(spec, **changes)  # type: ignore[arg-type]

    def worked(self, **changes: object) -> Dimensions:
        """The same, worked out."""
        return work_out(self.spec(**changes))

    def say(self, value: Length | Size) -> str:
        """Return a length or a size with its unit."""
        if isinstance(value, Size):
            return show_size(value, self.unit, mark=True)
        return show(value, self.unit, mark=True)
