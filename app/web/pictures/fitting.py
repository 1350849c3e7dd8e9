"""What is said at a photo that does not lie as its size does, or that is cut off, and the buttons that mend it."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from app.errors import Invalid
from app.framing import Dimensions, Notice
from app.lengths import Size, Unit, parse_size, say
from app.orders import Agreed, Piece
from app.orders.dimensions_memo import worked_out
from app.orders.photo_fit import Fit, Proportions, fit_of, in_words, photo_notices
from app.services import pictures
from app.storage import Store

SIZE = "artwork.size"
"""The path of the artwork's size in a form."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeTyped:
    """The size of an artwork, read and as it was typed."""

    size: Size
    unit: Unit
    text: str = ""

    @property
    def exchanged(self) -> str:
        """Width and height the other way round: in the same words where they are read so."""
        found = _TWO.fullmatch(self.text.strip())
        if found:
            words = f"{found[3]}{found[2]}{found[1]}{found[4] or ''}"
            try:
                if parse_size(words, unit=self.unit) == self.size.turned():
                    return words
            except Invalid:
                pass
        return say(self.size.turned(), self.unit)


_TWO = re.compile(r"(\S.*?)(\s*[x×]\s*)(\S.*?)(\s*[a-z]+)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class FitView:
    """sentence: how the photo fits. turned: whether it or the size is the wrong way round. exchange: the size the other way
    round, for the button that types it; blank where it is not typed here.
    """

    sentence: str
    turned: bool
    exchange: str = ""
    size_path: str = SIZE


def fit_view(photo: Proportions | None, typed: SizeTyped | None) -> FitView | None:
    """Return what is said of a photo and the size of the artwork; None where they fit or one of them is not known."""
    if photo is None or typed is None:
        return None
    fit = fit_of(photo, typed.size)
    if fit is Fit.WELL:
        return None
    exchange = typed.exchanged if fit.turned and typed.text else ""
    return FitView(sentence=in_words(fit), turned=fit.turned, exchange=exchange)


def corners_view(taken: Fraction, typed: SizeTyped | None) -> FitView | None:
    """Return the same of what lies between corners that are still moved, of which nothing will be cut off."""
    view = fit_view(Proportions(taken=taken, shown=taken), typed)
    return view if view and view.turned else None


def notices_of(photo: Proportions | None, typed: SizeTyped | None) -> tuple[Notice, ...]:
    """Return what of that is to be looked at, as a notice of the piece."""
    if photo is None or typed is None:
        return ()
    return photo_notices(fit_of(photo, typed.size), typed.size, typed.unit)


def photo_size(agreed: Agreed) -> SizeTyped | None:
    """Return the size that the photo of a piece is drawn in; None where it shows none, since its windows have artworks of their own."""
    spec = agreed.spec
    return SizeTyped(size=spec.artwork, unit=spec.unit) if shows_photo(worked_out(spec)) else None


def shows_photo(dimensions: Dimensions) -> bool:
    """Tell whether a drawing of a piece shows a photo: of the one artwork, behind one window or all of them."""
    return len(dimensions.spec.openings) < 2 or dimensions.behind_all is not None


def notices_of_pieces(store: Store, pieces: Iterable[Piece]) -> dict[int, tuple[Notice, ...]]:
    """Return what is to be looked at of the photos of some pieces, by their numbers."""
    shown = [piece for piece in pieces if piece.artwork.photo]
    found = pictures.proportions_of(store, (piece.artwork.photo for piece in shown))
    return {
        piece.number: notices_of(found.get(piece.artwork.photo), photo_size(piece.agreed))
        for piece in shown
    }
