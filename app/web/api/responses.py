"""The answer of `POST /api/dimensions`. Lengths are exact text in the unit of the request."""

from typing import Annotated, Literal

from pydantic import AliasPath, BeforeValidator, ConfigDict, Field

from app.framing.notices.artwork_weight import Support
from app.web.api.answer import Exact, JsonAnswer, SizeAnswered, read_from
from app.web.api.responses_bench import BenchAnswered, NoticeAnswered


class WindowAnswered(JsonAnswer):
    """A hole in a mat, at the back of the board; its face hole is the one at the front."""

    layer: int
    id: str = read_from("name", description="the window's name; a title slot's ends in \" slot\"")
    width: Exact = read_from("size", "width")
    height: Exact = read_from("size", "height")
    face_width: Exact = read_from("face", "width")
    face_height: Exact = read_from("face", "height")
    x: Exact = Field(
        description="left edge, seen from the front, from the edges that this layer's borders are "
        "measured from"
    )
    y: Exact = Field(description="top edge, from the same edges")
    shape: Literal["rectangle", "oval", "arch"]
    rise: Exact | None = Field(description="of an arch's round top")


class BordersAnswered(JsonAnswer):
    """From each edge to the nearest window."""

    left: Exact
    right: Exact
    top: Exact
    bottom: Exact


class LayerAnswered(JsonAnswer):
    """A mat's blank and its borders as they are set on the cutter."""

    layer: int
    blank: SizeAnswered
    borders: BordersAnswered


class GapsAnswered(JsonAnswer):
    """Between neighbouring windows of the top mat; null where no two are neighbours."""

    across: Exact | None
    down: Exact | None


class FalloutAnswered(JsonAnswer):
    """What drops out of a window, by its larger side; sound is whole through the board."""

    layer: int
    id: str = read_from("name")
    width: Exact = read_from("size", "width")
    height: Exact = read_from("size", "height")
    sound: SizeAnswered
    shape: Literal["rectangle", "oval", "arch"]


class GrooveAnswered(JsonAnswer):
    """A decorative line in the face of the top mat around a window, in place as that is."""

    id: str = read_from("name")
    x: Exact
    y: Exact
    width: Exact = read_from("size", "width")
    height: Exact = read_from("size", "height")
    shape: Literal["rectangle", "oval", "arch"]
    rise: Exact | None


class FrameAnswered(JsonAnswer):
    """One frame; points are those of the rails along the width and along the height.

    In the shop's steps the outside is rounded; the rest is what rails of those long points make.
    """

    rebate: SizeAnswered
    sight: SizeAnswered
    outside: SizeAnswered
    long_points: tuple[Exact, Exact]
    short_points: tuple[Exact, Exact]


class GivenFrameAnswered(JsonAnswer):
    """A frame that is given. rebate: what counts, of opposite sides the smaller; lip: as measured, or as
    outside and face have it. lean: what a package with square corners needs of allowance."""

    rebate: SizeAnswered = read_from("counted")
    outside: SizeAnswered | None
    lip: Exact | None = read_from("known_lip")
    lean: Exact


class FilletAnswered(JsonAnswer):
    """The fillet of one window: outside behind the mat, sight inside it; points as those of a frame,
    two rails of each."""

    id: str = read_from("name", description="the window's name")
    outside: SizeAnswered
    sight: SizeAnswered
    long_points: tuple[Exact, Exact]
    short_points: tuple[Exact, Exact]


def _strips(pair: object) -> object:
    return {"length": pair[0], "count": pair[1]} if isinstance(pair, tuple) else pair


class SpacerAnswered(JsonAnswer):
    """Strips of one length."""

    length: Exact
    count: int


class BehindAllAnswered(JsonAnswer):
    """The one artwork behind all windows, by the left and the top edge of the package."""

    width: Exact = read_from("size", "width")
    height: Exact = read_from("size", "height")
    x: Exact = Field(description="left edge, seen from the front")
    y: Exact = Field(description="top edge")
    back_x: Exact = Field(description="left edge, seen from the back")


class PartsAnswered(JsonAnswer):
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
    given_frame: GivenFrameAnswered | None = Field(
        default=None,
        validation_alias=AliasPath("spec", "given_frame"),
        description="in the place of frames, and only where one is given",
    )
    behind_all: BehindAllAnswered | None = Field(
        default=None,
        description="only where windows are given as openings and the piece's artwork reaches behind all of them",
    )
    glazing: SizeAnswered | None
    mount_board: SizeAnswered | None
    backing: SizeAnswered | None
    spacers: list[Annotated[SpacerAnswered, BeforeValidator(_strips)]]
    stack: Exact


class ArtworkWeightAnswered(JsonAnswer):
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
