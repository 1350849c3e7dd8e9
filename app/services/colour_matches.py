"""The mats and mouldings that come nearest to a colour, what lies on the rack first; and which colours a picture has."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from io import BytesIO

from PIL import Image

from app.colours import Colour
from app.framing import Dimensions
from app.framing.notices.care import harms
from app.lengths import ZERO, Length, Size
from app.orders.piece_report import is_acid_free
from app.pricing import Kind, Material
from app.pricing.nearest import NearMaterial, best, near
from app.services.picture_colours import colour_at
from app.stock.planning.problems import OnRack
from app.storage import Store, UnitOfWork

MOST = 5
"""Materials that are offered for a colour, of each kind. Source: ours."""

_LOOKED_AT = 60
"""Materials near a colour of which it is looked up what lies on the rack. Source: ours."""

_ASKED = 50
"""Colours that are remembered while a quote is made. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """What a piece takes of a sheet and of sticks, where that is known: the size of its mats, the rails of its frame. on_paper: whether
    its artwork is a work on paper, which some boards harm.
    """

    sheet: Size | None = None
    rails: Length = ZERO
    on_paper: bool = False

    @classmethod
    def by(cls, dimensions: Dimensions | None) -> "Needed":
        """Return what a piece takes. The rails are those of the frame as it is chosen, nothing where none is."""
        if dimensions is None:
            return cls()
        frames = (sum(frame.long_points, ZERO) * 2 for frame in dimensions.frames[:1])
        return cls(sheet=dimensions.package, rails=next(frames, ZERO))

    def fits(self, sheet: Size | None) -> bool:
        """Tell whether a sheet holds the mats of the piece, turned where it must be."""
        if sheet is None or self.sheet is None:
            return True
        return all(
            have >= wanted for have, wanted in zip(_sides(sheet), _sides(self.sheet), strict=True)
        )


def picked(store: Store, id: str, across: float, down: float) -> Colour:
    """Return the colour at a place of a kept picture, in shares of its width and height. Raises: NotFound."""
    with store.reading() as work:
        content = work.pictures.content_of(id)
    with Image.open(BytesIO(content)) as image:
        return colour_at(image, across, down)


def nearest(
    store: Store, colour: Colour, kind: Kind, needed: Needed, *, rack_first: bool = True
) -> tuple[NearMaterial, ...]:
    """Return the mats or mouldings that come nearest to a colour, what lies on the rack first or by how near they are alone.

    Mats of which no sheet is large enough for the piece are left out, and those that harm the artwork come last.
    """

    def read() -> tuple[NearMaterial, ...]:
        with store.reading() as work:
            found = _near(work, colour, kind)
            rack = work.rack.free({each.material.code for each in found})
        return best(_beside(found, rack, needed), MOST, rack_first=rack_first)

    asked = (colour, kind, needed, rack_first)
    return store.remembered("near a colour", read, asked=asked, most=_ASKED)


def _near(work: UnitOfWork, colour: Colour, kind: Kind) -> tuple[NearMaterial, ...]:
    """Return those near a colour; the materials are read once for as long as the price book stands as it does."""
    book = work.materials.of_book

    def read() -> tuple[NearMaterial, ...]:
        all_of_it = book.of("of a kind", kind, lambda: work.materials.all(kind), most=len(Kind))
        return near(colour, all_of_it)[:_LOOKED_AT]

    return book.of("near a colour", (colour, kind), read, most=_ASKED)


def _beside(
    found: Iterable[NearMaterial], rack: Iterable[OnRack], needed: Needed
) -> Iterable[NearMaterial]:
    """Say of each material whether enough of it lies free and whether it harms the artwork, and leave out sheets that are too small."""
    lying = tuple(rack)
    for each in found:
        sheet = each.material.sheet
        if needed.fits(sheet.size if sheet else None):
            yield replace(
                each,
                on_rack=_is_enough(each.material, lying, needed),
                harms=each.material.kind is Kind.MAT
                and harms(on_paper=needed.on_paper, acid_free=is_acid_free(each.material)),
            )


def _is_enough(material: Material, rack: Iterable[OnRack], needed: Needed) -> bool:
    free = [each for each in rack if each.kept.item.material == material.code]
    if material.kind is Kind.MOULDING:
        length = sum(((each.kept.item.length or ZERO) * each.available for each in free), ZERO)
        return length > ZERO and length >= needed.rails
    return any(needed.fits(each.kept.item.size) for each in free)


def _sides(size: Size) -> tuple[Length, Length]:
    """Return the shorter side and the longer one."""
    return min(size.width, size.height), max(size.width, size.height)
