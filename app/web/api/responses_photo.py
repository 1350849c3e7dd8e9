"""The answer about the photo of a piece."""

from pydantic import Field

from app.web.api.answer import JsonAnswer
from app.web.api.responses_bench import NoticeAnswered


class PictureAnswered(JsonAnswer):
    """A picture as it is kept: our own encoding of what was sent. It never changes under its id."""

    id: str
    width: int = Field(description="in pixels")
    height: int = Field(description="in pixels")
    straightened: bool = Field(
        description="whether it was made straight, or turned, since it was taken"
    )
    address: str = Field(description="where the picture is read")
    small: str = Field(description="where it is read as lists show it")


class PhotoAnswered(JsonAnswer):
    """Which photo a piece shows; null for none."""

    order: str = Field(description="its number, of the quote as long as it is one")
    piece: int
    version: str = Field(
        description="how the order stands; it goes along with what changes its photo"
    )
    photo: PictureAnswered | None
    notices: list[NoticeAnswered] = Field(description="how the photo fits the size of the artwork")
