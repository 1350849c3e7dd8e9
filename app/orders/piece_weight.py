"""What the chosen materials of a piece weigh by area and by length, and of which nobody said it (D2)."""

from fractions import Fraction

from app.framing.notices.weight import Masses
from app.pricing import Chosen, Material


def masses_of(chosen: Chosen, artwork_kg: Fraction, fixings_grams: int) -> Masses:
    """Return the weights by area and by length of the chosen materials, of the artwork and the fixings."""
    return Masses(
        mats=tuple(_per_m2(mat) for mat in chosen.mats),
        frames=tuple(_per_metre(moulding) for moulding in chosen.frames),
        glazing=_per_m2(chosen.glazing),
        mount_board=_per_m2(chosen.mount_board),
        backing=_per_m2(chosen.backing),
        artwork_kg=artwork_kg,
        given_frame_kg=Fraction(_grams_of_frame(chosen.ready_made), 1000),
        fixed_grams=fixings_grams,
        fillet=_per_metre(chosen.fillet),
    )


def _per_m2(material: Material | None) -> int:
    return material.sheet.grams_per_m2 if material and material.sheet else 0


def _per_metre(material: Material | None) -> int:
    return material.profile.grams_per_metre if material and material.profile else 0


def _grams_of_frame(material: Material | None) -> int:
    return material.frame.grams if material and material.frame else 0


def unweighed(chosen: Chosen) -> list[str]:
    """Return the names of what weighs nothing only because the price book does not say what it weighs (D2)."""
    sheets = (*chosen.mats, chosen.glazing, chosen.mount_board, chosen.backing)
    names = [sheet.name for sheet in sheets if sheet and not _per_m2(sheet)]
    mouldings = (*chosen.frames, chosen.fillet)
    names += [m.name for m in mouldings if m and not _per_metre(m)]
    ready_made = chosen.ready_made
    return [*names, ready_made.name] if ready_made and not _grams_of_frame(ready_made) else names
