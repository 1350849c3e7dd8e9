"""The fillet of a piece as it was typed on the quote page: material, tuck and the thickness of its lip (G19)."""

from app.framing import Fillet
from app.lengths import ZERO
from app.orders.quoting.reader import NEEDED, PieceReader
from app.pricing import Material
from app.pricing.chosen import BY_LENGTH


def fillet_material(read: PieceReader) -> Material | None:
    """Return the moulding that the fillet is cut from; with a fault where it is charged by size band."""
    material: Material | None = read.at("fillet.material")
    if material is not None and material.charge.by not in BY_LENGTH:
        read.faults.add(
            "fillet.material",
            f"{material.code} is charged by {material.charge.by}; a fillet is a moulding charged "
            "by length.",
        )
        return None
    return material


def read_fillet(read: PieceReader, material: Material | None) -> Fillet | None:
    """Return the fillet as it is used; a blank tuck is the moulding's own lip.

    The price book knows the room behind a lip and not how thick it is, so its thickness is always asked.
    """
    if material is None or material.profile is None:
        _no_material(read)
        return None
    profile = material.profile
    if not read.given("fillet.depth"):
        read.faults.add(
            "fillet.depth",
            "The thickness of the fillet's lip is empty; type it, as "
            f"{read.such_as('fillet.depth')}.",
            NEEDED,
        )
    if not profile.lip and not read.given("fillet.tuck"):
        read.faults.add(
            "fillet.tuck",
            f"{material.code} has no lip to tuck; type how far the fillet goes behind the window.",
            NEEDED,
        )
    tuck = read.length("fillet.tuck", profile.lip)
    thickness = read.length("fillet.depth", ZERO)
    return Fillet(face=profile.face, lip=profile.lip, tuck=tuck, thickness=thickness)


def _no_material(read: PieceReader) -> None:
    """What is typed of a fillet that was not chosen."""
    typed = (path for path in ("fillet.tuck", "fillet.depth") if read.given(path))
    if next(typed, None) and not read.given("fillet.material"):
        read.faults.add(
            "fillet.material",
            "What of a fillet lies behind the mat is given; choose what it is cut from.",
        )
