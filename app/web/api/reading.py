"""Reading a request's lengths: every unreadable one is gathered before the rules are asked."""

from app.errors import FaultCollector, Invalid
from app.framing import DEFAULTS, Bevel, Edges, Fillet, Frame, Mat, Panel
from app.lengths import (
    ALLOWED_STEPS,
    DEFAULT_STEP,
    ZERO,
    Length,
    Size,
    Steps,
    Unit,
    parse_length,
    show,
)
from app.web.api.requests import (
    ArtworkAsked,
    BordersAsked,
    FilletAsked,
    FrameAsked,
    MatAsked,
    PanelAsked,
)
from app.web.api.requests_lengths import SizeAsked


class RequestReader:
    """Reads the lengths of a request, gathering the faults of all that cannot be read."""

    def __init__(self, unit: Unit) -> None:
        self.unit = unit
        self.faults = FaultCollector()

    def length(self, path: str, text: str | None, default: Length = ZERO) -> Length:
        """A length; the default where nothing was given or nothing can be read."""
        if text is None:
            return default
        try:
            return parse_length(text, unit=self.unit, path=path, zero_ok=True, negative_ok=True)
        except Invalid as invalid:
            self.faults.take(invalid)
            return default

    def optional(self, path: str, text: str | None) -> Length | None:
        """A length, or None where nothing was given."""
        return None if text is None else self.length(path, text)

    def size(self, path: str, asked: SizeAsked | ArtworkAsked) -> Size:
        """Width by height."""
        return Size(
            width=self.length(f"{path}.width", asked.width),
            height=self.length(f"{path}.height", asked.height),
        )

    def panel(self, path: str, asked: PanelAsked | None) -> Panel | None:
        """Glazing, mount board or backing."""
        if asked is None:
            return None
        return Panel(
            thickness=self.length(f"{path}.thickness", asked.thickness),
            trim=self.length(f"{path}.trim", asked.trim),
        )

    def mats(self, asked: tuple[MatAsked, ...]) -> tuple[Mat, ...]:
        """Every mat, with the usual reveal for under mats that name none."""
        usual = DEFAULTS[self.unit].reveal
        return tuple(
            Mat(
                thickness=self.length(f"mats.{index}.thickness", mat.thickness),
                reveal=self._reveal(index, mat.reveal, usual),
                bevel=self._bevel(index, mat),
            )
            for index, mat in enumerate(asked)
        )

    def _reveal(self, index: int, text: str | None, usual: Length) -> Length | None:
        if text is None:
            return None if index == 0 else usual
        return self.length(f"mats.{index}.reveal", text)

    def _bevel(self, index: int, mat: MatAsked) -> Bevel:
        try:
            return Bevel(degrees=mat.bevel, reverse=mat.reverse)
        except Invalid as invalid:
            self.faults.take(invalid.under(f"mats.{index}"))
            return Bevel()

    def frames(self, asked: tuple[FrameAsked, ...]) -> tuple[Frame, ...]:
        """Every frame, with the usual allowance."""
        usual = DEFAULTS[self.unit].allowance
        return tuple(
            Frame(
                face=self.length(f"frames.{index}.face", frame.face),
                lip=self.length(f"frames.{index}.lip", frame.lip),
                rebate_depth=self.length(f"frames.{index}.rebate_depth", frame.rebate_depth),
                allowance=self.length(f"frames.{index}.allowance", frame.allowance, usual),
            )
            for index, frame in enumerate(asked)
        )

    def fillet(self, asked: FilletAsked | None) -> Fillet | None:
        """A fillet; one that names no tuck is tucked by its lip."""
        if asked is None:
            return None
        lip = self.length("fillet.lip", asked.lip)
        return Fillet(
            face=self.length("fillet.face", asked.face),
            lip=lip,
            tuck=self.length("fillet.tuck", asked.tuck, lip),
            thickness=self.length("fillet.thickness", asked.thickness),
        )

    def borders(self, asked: BordersAsked | None) -> Edges | None:
        """The borders of the top mat."""
        if asked is None:
            return None
        return Edges(
            left=self.length("borders.left", asked.left),
            right=self.length("borders.right", asked.right),
            top=self.length("borders.top", asked.top),
            bottom=self.length("borders.bottom", asked.bottom),
        )

    def steps(self, text: str | None) -> Steps:
        """The shop's cutting steps."""
        step = self.length("step", text, DEFAULT_STEP[self.unit])
        if step not in ALLOWED_STEPS[self.unit]:
            allowed = " or ".join(show(s, self.unit, mark=True) for s in ALLOWED_STEPS[self.unit])
            self.faults.add("step", f"The cutting step is {text}; it must be {allowed}.")
            step = DEFAULT_STEP[self.unit]
        return Steps(unit=self.unit, step=step)
