"""Pictures of a piece for paper: what it looks like, as an image that a document carries itself."""

from base64 import b64encode
from collections.abc import Callable
from dataclasses import dataclass

from app.documents.kit.pdf import OUR_SCHEME, picture_type
from app.drawings import Colour, FrameLook, FrontView, Look, front, view_of
from app.drawings.piece.appearance import reflects_little, woven
from app.drawings.piece.wording import outside_in_words, piece_in_words
from app.framing import Dimensions
from app.orders import ArtworkRecord
from app.pricing import Chosen, Material

type PictureAddress = Callable[[str], str]
"""Where a picture is had by its id."""


def on_pages(picture: str) -> str:
    """Return the address of a picture for a page."""
    return f"/pictures/{picture}"


def in_lists(picture: str) -> str:
    """Return the address of a picture for a list, where it is small."""
    return f"{on_pages(picture)}?small=1"


def on_papers(picture: str) -> str:
    """Return the address of a picture for a paper, which is made with the pictures that it shows."""
    return f"{OUR_SCHEME}:pictures/{picture}"


def look_of(artwork: ArtworkRecord, chosen: Chosen, address: PictureAddress = on_pages) -> Look:
    """Return the colours and finishes of a piece, from its materials, and the photo of the artwork if there is one."""
    board = chosen.mount_board or chosen.backing
    usual = Look()
    return Look(
        frames=tuple(map(_moulding, chosen.frames or filter(None, (chosen.ready_made,)))),
        mats=tuple(Colour.parse(mat.colour) for mat in chosen.mats),
        mount_board=Colour.parse(board.colour) if board else usual.mount_board,
        kind=artwork.kind.value,
        image=address(artwork.photo) if artwork.photo else None,
        fillet=_moulding(chosen.fillet) if chosen.fillet else None,
        backing=Colour.parse(chosen.backing.colour) if chosen.backing else usual.backing,
        woven=tuple(woven(f"{mat.name} {mat.finish}") for mat in chosen.mats),
        low_reflection=chosen.glazing is not None
        and reflects_little(f"{chosen.glazing.name} {chosen.glazing.finish}"),
    )


def _moulding(material: Material) -> FrameLook:
    return FrameLook.described(
        Colour.parse(material.colour), material.finish, material.name, material.shape
    )


def front_image(
    artwork: ArtworkRecord,
    chosen: Chosen,
    dimensions: Dimensions,
    view: FrontView = FrontView.ALONE,
) -> str:
    """Draw the piece from the front, and return the picture as an address for an image."""
    return data_uri(front(dimensions, look_of(artwork, chosen, on_papers), view=view))


@dataclass(frozen=True, slots=True)
class FrontPicture:
    """A picture of a piece as it hangs. address: for an image; wide, high: how it lies, in millimetres of the piece."""

    address: str
    wide: float
    high: float


def hung_picture(artwork: ArtworkRecord, chosen: Chosen, dimensions: Dimensions) -> FrontPicture:
    """Draw the piece as it hangs on a wall, with its shadow."""
    svg = front(dimensions, look_of(artwork, chosen, on_papers), view=FrontView.SEEN)
    view = view_of(svg)
    return FrontPicture(data_uri(svg), view.width, view.height)


def in_words(dimensions: Dimensions) -> str:
    """Say what the front shows, for whoever cannot see it."""
    unit = dimensions.spec.unit
    return f"{outside_in_words(dimensions, unit)}. {piece_in_words(dimensions, unit)}"


def data_uri(svg: str) -> str:
    """Return an SVG as an address for an image, so that the document needs no other file."""
    return _within("image/svg+xml", svg.encode())


def picture_uri(content: bytes) -> str:
    """Return a picture that is kept as an address for an image: it is the picture itself."""
    return _within(picture_type(content), content)


def _within(media_type: str, content: bytes) -> str:
    return f"data:{media_type};base64,{b64encode(content).decode()}"
