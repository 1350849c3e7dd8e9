"""Names the materials of a piece as its pages list them."""

from app.pricing import Chosen, Material

type Listed = tuple[str, Material, int]
"""A part, its material, and of how many it is made; 0 where that is not counted."""


def in_order(chosen: Chosen) -> tuple[Listed, ...]:
    """Return the materials of a piece in the order of the work."""
    named = [
        *((f"mat {n}", mat) for n, mat in enumerate(chosen.mats, start=1)),
        ("fillet", chosen.fillet),
        *(
            ("moulding" if len(chosen.frames) == 1 else f"frame {n}", frame)
            for n, frame in enumerate(chosen.frames, start=1)
        ),
        ("ready-made frame", chosen.ready_made),
        ("glazing", chosen.glazing),
        ("mount board", chosen.mount_board),
        ("backing", chosen.backing),
        ("spacers", chosen.spacer),
    ]
    single = [(part, m, 0) for part, m in named if m]
    counted = [
        (what, taken.material, taken.count)
        for what, several in (("hardware", chosen.hardware), ("extra", chosen.extras))
        for taken in several
    ]
    return (*single, *counted)


def materials_of(chosen: Chosen) -> tuple[tuple[str, str], ...]:
    """Return (part, material) of a piece in the order of the work."""
    return tuple((part, named(material, count)) for part, material, count in in_order(chosen))


def named(material: Material, count: int = 0, copies: int = 1) -> str:
    """Name a material with its code; one that is counted with how many are taken for all that are alike."""
    text = f"{material.name} ({material.code})"
    if not count:
        return text
    each = f", {count} for each" if copies > 1 else ""
    return f"{count * copies} × {text}{each}"
