"""Pictures that the shop keeps, each under a digest of itself, so that the same one is kept once."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, delete, select, text
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.colours import Colour
from app.errors import NotFound
from app.orders.photo_corners import Corners
from app.storage.mapping import STRICT, Row
from app.storage.tables.order_pieces import PieceRow


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
class TrayPicture:
    """A picture that is used nowhere yet, without what it shows."""

    id: str
    at: datetime
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureShape:
    """What is known of a picture without what it shows: how large that is, in pixels; its few colours; the picture that it was
    straightened from, by which corners.
    """

    id: str
    width: int
    height: int
    colours: tuple[Colour, ...] = ()
    made_from: str | None = None
    corners: Corners | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture that is kept: what is known of it, who brought it when, and what it shows, as it is looked at and as it is listed."""

    shape: PictureShape
    at: datetime
    by: str
    small: bytes
    content: bytes


GONE = "This picture is not kept here any more."

_UNUSED = (
    "NOT EXISTS (SELECT 1 FROM pieces WHERE pieces.photo = pictures.id) "
    "AND NOT EXISTS (SELECT 1 FROM pictures AS made WHERE made.made_from = pictures.id) "
    "AND NOT EXISTS (SELECT 1 FROM shop WHERE instr(shop.settings, pictures.id) > 0)"
)
"""A picture is used by a piece, by one that was straightened from it, or by the shop's settings, as its logo."""


def picture_id(content: bytes) -> str:
    """Return the id of a picture: 128 bits of a digest of it, in hexadecimal."""
    return hashlib.sha256(content).hexdigest()[:32]


class Pictures:
    """Keeps pictures."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def shape(self, id: str) -> PictureShape:
        """Return what is known of a picture. Raises: NotFound."""
        found = self.shapes((id,))
        if id not in found:
            raise NotFound(GONE)
        return found[id]

    def shapes(self, ids: Iterable[str]) -> dict[str, PictureShape]:
        """Return what is known of those that are kept, by their ids."""
        asked = select(*_OF_SHAPE).where(PictureRow.id.in_(tuple(ids)))
        return {row.id: _shape(row) for row in self._session.execute(asked)}

    def content_of(self, id: str, *, small: bool = False) -> bytes:
        """Return what a picture shows, as it is listed where small. Raises: NotFound."""
        found = self.contents_of((id,), small=small)
        if id not in found:
            raise NotFound(GONE)
        return found[id]

    def contents_of(self, ids: Iterable[str], *, small: bool = False) -> dict[str, bytes]:
        """Return what those that are kept show, by their ids, as they are listed where small."""
        column = PictureRow.small if small else PictureRow.content
        asked = select(PictureRow.id, column).where(PictureRow.id.in_(tuple(ids)))
        return dict(self._session.execute(asked).all())

    def has(self, id: str) -> bool:
        """Tell whether a picture is kept."""
        return self._session.scalar(select(1).where(PictureRow.id == id)) is not None

    def unused(self, *, before: datetime | None = None, most: int) -> tuple[TrayPicture, ...]:
        """Return pictures that no piece, shop or straightened picture uses, the newest first."""
        asked = (
            select(PictureRow.id, PictureRow.at, PictureRow.by)
            .where(text(_UNUSED))
            .order_by(text("pictures.rowid DESC"))
            .limit(most)
        )
        if before is not None:
            asked = asked.where(PictureRow.at < before)
        return tuple(
            TrayPicture(id=id, at=at, by=by) for id, at, by in self._session.execute(asked)
        )

    def of_pieces(self, ids: Iterable[int]) -> dict[int, str]:
        """Return the ids of the photos of some pieces, by the ids of those that have one."""
        asked = select(PieceRow.id, PieceRow.photo).where(
            PieceRow.id.in_(tuple(ids)), PieceRow.photo != ""
        )
        return dict(self._session.execute(asked).all())

    def of_orders(self, ids: Iterable[int]) -> dict[int, str]:
        """Return the id of the first photo of some orders, by the ids of those that have one."""
        asked = (
            select(PieceRow.order_id, PieceRow.photo)
            .where(
                PieceRow.order_id.in_(tuple(ids)),
                PieceRow.photo != "",
                PieceRow.removed_at.is_(None),
            )
            .order_by(PieceRow.number.desc())
        )
        return dict(self._session.execute(asked).all())

    def drop(self, ids: Iterable[str]) -> None:
        """Let pictures go. Expects that nothing uses them."""
        for id in ids:
            self._session.execute(delete(PictureRow).where(PictureRow.id == id))

    def keep(self, picture: Picture) -> None:
        """Keep a picture; one that is kept already stays as it is."""
        shape = picture.shape
        if self.has(shape.id):
            return
        self._session.add(
            PictureRow(
                id=shape.id,
                at=picture.at,
                by=picture.by,
                width=shape.width,
                height=shape.height,
                colours=" ".join(colour.hex for colour in shape.colours),
                made_from=shape.made_from,
                corners=shape.corners.text if shape.corners else "",
                small=picture.small,
                content=picture.content,
            )
        )
        self._session.flush()


_OF_SHAPE = (
    PictureRow.id,
    PictureRow.width,
    PictureRow.height,
    PictureRow.colours,
    PictureRow.made_from,
    PictureRow.corners,
)


def _shape(row: Any) -> PictureShape:
    return PictureShape(
        id=row.id,
        width=row.width,
        height=row.height,
        colours=tuple(map(Colour.parse, row.colours.split())),
        made_from=row.made_from,
        corners=Corners.read(row.corners) if row.corners else None,
    )
