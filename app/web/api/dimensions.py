"""`POST /api/dimensions`: a spec in, every dimension out; touches no database.

Lengths are strings in the unit that the request names, exact. The models here are the contract;
reading them into a `Spec` gathers every unreadable length before the rules are asked.
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema
from pydantic_core import PydanticCustomError

from app.errors import FaultCollector, Invalid
from app.framing import (
    DEFAULTS,
    Bevel,
    Dimensions,
    Edges,
    Frame,
    Mat,
    Notice,
    Panel,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
    in_steps,
    work_out,
)
from app.lengths import (
    ALLOWED_STEPS,
    DEFAULT_STEP,
    ZERO,
    Length,
    Size,
    Steps,
    Unit,
    exact_text,
    parse_length,
    show,
)
from app.web.api.refusal import INVALID


def _whole_numbers_are_text(value: Any) -> Any:
    """A JSON integer is exact and may stand for its text; a JSON decimal is not."""
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value)
    if not isinstance(value, str):
        raise PydanticCustomError(
            "length_text", 'A length is text, as "297.5" or "63/8"; a whole number may stand bare'
        )
    return value


LengthText = Annotated[
    str,
    BeforeValidator(_whole_numbers_are_text),
    Field(max_length=200, examples=["297", "63/8", "15 3/4"]),
    WithJsonSchema(
        {
            "anyOf": [{"type": "string", "maxLength": 200}, {"type": "integer"}],
            "examples": ["297", "63/8", "15 3/4"],
        }
    ),
]


class _Asked(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class ArtworkAsked(_Asked):
    """The artwork's size and thickness."""

    width: LengthText
    height: LengthText
    thickness: LengthText = "0"


class MatAsked(_Asked):
    """One layer; the reveal is how much of it shows inside the layer above (not for layer 1)."""

    thickness: LengthText
    reveal: LengthText | None = None
    bevel: int = Field(default=45, strict=True, description="degrees from the face of the board")
    reverse: bool = Field(
        default=False, strict=True, description="reverse bevel: the face hole is the smaller"
    )


class BordersAsked(_Asked):
    """The borders of layer 1."""

    left: LengthText
    right: LengthText
    top: LengthText
    bottom: LengthText


class SizeAsked(_Asked):
    """Width by height."""

    width: LengthText
    height: LengthText


class FrameAsked(_Asked):
    """A moulding's profile; allowance is in all, per dimension. Rebate depth 0: not known."""

    face: LengthText
    lip: LengthText = "0"
    rebate_depth: LengthText = "0"
    allowance: LengthText | None = None


class PanelAsked(_Asked):
    """Glazing, mount board or backing; the trim comes off each edge."""

    thickness: LengthText = "0"
    trim: LengthText = "0"


class DimensionsAsked(_Asked):
    """A piece. Layer 1 (top) first; inner frame first."""

    unit: Literal["mm", "in"]
    artwork: ArtworkAsked
    presentation: Literal["window", "float", "close", "canvas", "canvas-float"]
    overlap: LengthText | None = None
    gap: LengthText | None = None
    mats: tuple[MatAsked, ...] = ()
    borders: BordersAsked | None = None
    package: SizeAsked | None = None
    weighting: LengthText = "0"
    under_trim: LengthText = "0"
    under_way: Literal["attached", "own-edges"] | None = Field(
        default=None, description="by default attached where under_trim is 0, else own-edges"
    )
    frames: tuple[FrameAsked, ...] = ()
    glazing: PanelAsked | None = None
    spacer: LengthText = "0"
    spacer_width: LengthText | None = None
    mount_board: PanelAsked | None = None
    backing: PanelAsked | None = None
    step: LengthText | None = Field(
        default=None, description="the shop's cutting step: 0.5 or 1 mm, 1/16 or 1/32 in"
    )


class _Reader:
    """Reads the lengths of a request, gathering the faults of all that cannot be read."""

    def __init__(self, unit: Unit) -> None:
        self.unit = unit
        self.faults = FaultCollector()

    def length(self, path: str, text: str | None, default: Length = ZERO) -> Length:
        if text is None:
            return default
        try:
            return parse_length(text, unit=self.unit, path=path, zero_ok=True, negative_ok=True)
        except Invalid as invalid:
            self.faults.take(invalid)
            return default

    def size(self, path: str, asked: SizeAsked | ArtworkAsked) -> Size:
        return Size(
            width=self.length(f"{path}.width", asked.width),
            height=self.length(f"{path}.height", asked.height),
        )

    def panel(self, path: str, asked: PanelAsked | None) -> Panel | None:
        if asked is None:
            return None
        return Panel(
            thickness=self.length(f"{path}.thickness", asked.thickness),
            trim=self.length(f"{path}.trim", asked.trim),
        )

    def mats(self, asked: tuple[MatAsked, ...]) -> tuple[Mat, ...]:
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

    def borders(self, asked: BordersAsked | None) -> Edges | None:
        if asked is None:
            return None
        return Edges(
            left=self.length("borders.left", asked.left),
            right=self.length("borders.right", asked.right),
            top=self.length("borders.top", asked.top),
            bottom=self.length("borders.bottom", asked.bottom),
        )

    def steps(self, text: str | None) -> Steps:
        step = self.length("step", text, DEFAULT_STEP[self.unit])
        if step not in ALLOWED_STEPS[self.unit]:
            allowed = " or ".join(show(s, self.unit, mark=True) for s in ALLOWED_STEPS[self.unit])
            self.faults.add("step", f"The cutting step is {text}; it must be {allowed}.")
            step = DEFAULT_STEP[self.unit]
        return Steps(unit=self.unit, step=step)


def read_spec(asked: DimensionsAsked) -> tuple[Spec, Steps]:
    """The spec and the shop's steps of a request. Raises: Invalid with every unreadable field."""
    unit = Unit(asked.unit)
    usual = DEFAULTS[unit]
    read = _Reader(unit)
    presentation = Presentation(asked.presentation)
    usual_gap = usual.canvas_gap if presentation is Presentation.CANVAS_FLOAT else usual.gap
    trim = read.length("under_trim", asked.under_trim)
    way = asked.under_way or ("own-edges" if trim else "attached")
    spacer = read.length("spacer", asked.spacer)
    spacer_width = read.length("spacer_width", asked.spacer_width, usual.spacer_width)
    spec = Spec(
        unit=unit,
        artwork=read.size("artwork", asked.artwork),
        artwork_thickness=read.length("artwork.thickness", asked.artwork.thickness),
        presentation=presentation,
        overlap=read.length("overlap", asked.overlap, usual.overlap),
        gap=read.length("gap", asked.gap, usual_gap),
        mats=read.mats(asked.mats),
        borders=read.borders(asked.borders),
        package=read.size("package", asked.package) if asked.package else None,
        weighting=read.length("weighting", asked.weighting),
        under=UnderMats(way=UnderWay(way), trim=trim),
        frames=read.frames(asked.frames),
        glazing=read.panel("glazing", asked.glazing),
        spacer=Spacer(depth=spacer, width=spacer_width) if spacer else None,
        mount_board=read.panel("mount_board", asked.mount_board),
        backing=read.panel("backing", asked.backing),
    )
    steps = read.steps(asked.step)
    read.faults.finish()
    return spec, steps


def dimensions_json(dimensions: Dimensions) -> dict[str, Any]:
    """The answer's tree of one set of dimensions, lengths as exact text."""
    unit = dimensions.spec.unit

    def text(length: Length) -> str:
        return exact_text(length, unit)

    def size(value: Size | None) -> dict[str, str] | None:
        return None if value is None else {"width": text(value.width), "height": text(value.height)}

    return {
        "windows": [
            {
                "layer": window.layer,
                "width": text(window.size.width),
                "height": text(window.size.height),
                "face_width": text(window.face.width),
                "face_height": text(window.face.height),
            }
            for window in dimensions.windows
        ],
        "layers": [
            {
                "layer": layer.layer,
                "blank": size(layer.blank),
                "borders": {side: text(length) for side, length in layer.borders.sides()},
            }
            for layer in dimensions.layers
        ],
        "package": size(dimensions.package),
        "frames": [
            {
                "rebate": size(frame.rebate),
                "sight": size(frame.sight),
                "outside": size(frame.outside),
                "long_points": [text(length) for length in frame.long_points],
                "short_points": [text(length) for length in frame.short_points],
            }
            for frame in dimensions.frames
        ],
        "glazing": size(dimensions.glazing),
        "mount_board": size(dimensions.mount_board),
        "backing": size(dimensions.backing),
        "spacers": [
            {"length": text(length), "count": count} for length, count in dimensions.spacers
        ],
        "stack": text(dimensions.stack),
    }


def notices_json(notices: tuple[Notice, ...]) -> list[Mapping[str, str]]:
    """Notices as the contract has them, with how each is meant."""
    return [{"code": n.code, "message": n.message, "concern": n.concern.value} for n in notices]


router = APIRouter(prefix="/api", tags=["dimensions"])


@router.post("/dimensions", responses=INVALID)
def dimensions(asked: DimensionsAsked) -> dict[str, Any]:
    """Every cut dimension of a piece, exact and in the shop's cutting steps."""
    spec, steps = read_spec(asked)
    exact = work_out(spec)
    shop = in_steps(exact, steps)
    return {
        "unit": asked.unit,
        **dimensions_json(exact),
        "shop": dimensions_json(shop),
        "notices": notices_json(shop.notices),
    }
