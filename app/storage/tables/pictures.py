"""Pictures that the shop keeps, each under a digest of itself, so that the same one is kept once."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import NotFound
from app.storage.mapping import STRICT, Row, value_of


class PictureRow(Row):
    """A picture, written once.

    content, small: JPEG or PNG without metadata, as it is looked at and as it is listed. width, height: of `content`, in
    pixels. colours: the few that carry it, as "#rrggbb" with blanks between. made_from: the picture that this one was
    straightened from, by these corners.
    """

    __tablename__ = "pictures"
    __table_args__ = (STRICT,)
    id: Mapped[str] = mapped_column(primary_key=True)
    at: Mapped[datetime]
    by: Mapped[str]
    width: Mapped[int]
    height: Mapped[int]
    colours: Mapped[str]
    made_from: Mapped[str | None] = mapped_column(ForeignKey("pictures.id"))
    corners: Mapped[str]
    small: Mapped[bytes]
    content: Mapped[bytes]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture as it is kept; see `PictureRow`."""

    id: str
    at: datetime
    by: str
    width: int
    height: int
    colours: str
    made_from: str | None
    corners: str
    small: bytes
    content: bytes


class Pictures:
    """Keeps pictures."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def get(self, id: str) -> Picture:
        """Return a picture. Raises: NotFound."""
        row = self._session.get(PictureRow, id)
        if row is None:
            raise NotFound("This picture is not kept here any more.")
        return value_of(Picture, row)

    def keep(self, picture: Picture) -> None:
        """Keep a picture; one that is kept already stays as it is."""
        if self._session.get(PictureRow, picture.id) is None:
            self._session.add(
                PictureRow(**{name: getattr(picture, name) for name in Picture.__slots__})
            )
