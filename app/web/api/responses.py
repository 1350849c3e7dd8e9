"""The answer of `POST /api/dimensions`, for the description at /docs. `dimensions_json` writes it.

Lengths are exact text in the unit of the request: a decimal, or a fraction where it does not end.
"""

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from app.framing.notices.artwork_weight import Support
from app.web.api.responses_bench import BenchAnswered, NoticeAnswered


class _Answered(BaseModel):
    model_config = ConfigDict(extra="forbid")


class SizeAnswered(_Answered):
    """Width by height."""

    width: str
    height: str


class WindowAnswered(_Answered):
    """A hole in a mat, at the back of the board; its face hole is the one at the front."""

    layer: int
    id: str = Field(description="the window's name; a title slot's ends in \" slot\"")
    width: str
    height: str
    face_width: str
    face_height: str
    x: str = Field(
        description="left edge, seen from the front, from the edges that this layer's borders are "
        "measured from"
    )
    y: str = Field(description="top edge, from the same edges")
    shape: Literal["rectangle", "oval", "arch"]
    rise: str | None = Field(description="of an arch's round top")


class BordersAnswered(_Answered):
    """From each edge to the nearest window."""

    left: str
    right: str
    top: str
    bottom: str


class LayerAnswered(_Answered):
    """A mat's blank and its borders as they are set on the cutter."""

    layer: int
    blank: SizeAnswered
    borders: BordersAnswered


class GapsAnswered(_Answered):
    """Between neighbouring windows of the top mat; null where no two are neighbours."""

    across: str | None
    down: str | None


class FalloutAnswered(_Answered):
    """What drops out of a window, by its larger side; sound is whole through the board."""

    layer: int
    id: str
    width: str
    height: str
    sound: SizeAnswered
    shape: Literal["rectangle", "oval", "arch"]


class GrooveAnswered(_Answered):
    """A decorative line in the face of the top mat around a window, in place as that is."""

    id: str
    x: str
    y: str
    width: str
    height: str
    shape: Literal["rectangle", "oval", "arch"]
    rise: str | None


class FrameAnswered(_Answered):
    """One frame; points are those of the rails along the width and along the height.

    In the shop's steps the outside is rounded; the rest is what rails of those long points make.
    """

    rebate: SizeAnswered
    sight: SizeAnswered
    outside: SizeAnswered
    long_points: tuple[str, str]
    short_points: tuple[str, str]


class FilletAnswered(_Answered):
    """The fillet of one window: outside behind the mat, sight inside it; points as those of a frame,
    two rails of each."""

    id: str = Field(description="the window's name")
    outside: SizeAnswered
    sight: SizeAnswered
    long_points: tuple[str, str]
    short_points: tuple[str, str]


class SpacerAnswered(_Answered):
    """Strips of one length."""

    length: str
    count: int


class PartsAnswered(_Answered):
    """Every part. Layer 1 (top) first, within a layer in the order asked for; inner frame first."""

    windows: list[WindowAnswered]
    layers: list[LayerAnswered]
    gaps: GapsAnswered | None = Field(
        description="null where places were given, and in the shop's steps, where they may differ "
        "by a step"
    )
    fallouts: list[FalloutAnswered]
    grooves: list[GrooveAnswered]
    fillets: list[FilletAnswered]
    package: SizeAnswered
    frames: list[FrameAnswered]
    glazing: SizeAnswered | None
    mount_board: SizeAnswered | None
    backing: SizeAnswered | None
    spacers: list[SpacerAnswered]
    stack: str


class ArtworkWeightAnswered(_Answered):
    """What the artwork weighs, by the handbook's figures where it was not typed."""

    kg: str | None = Field(description="exact; null where it is missing")
    known: Literal["typed", "estimated", "least", "missing"]
    support: Support | None


class DimensionsAnswered(PartsAnswered):
    """Exact parts, the same in the shop's cutting steps, what is worth saying, and how it is cut.

    More members may come; those named here stay.
    """

    model_config = ConfigDict(extra="allow")

    unit: Literal["mm", "in"]
    artwork_weight: ArtworkWeightAnswered | None = Field(
        default=None, description="only where the request says its weight or what it is made of"
    )
    shop: PartsAnswered
    notices: list[NoticeAnswered]
    bench: BenchAnswered
