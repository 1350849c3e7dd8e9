"""Names the materials of a piece as its pages list them."""

from app.pricing import Chosen


def materials_of(chosen: Chosen) -> tuple[tuple[str, str], ...]:
    """Return (part, material) of a piece in the order of the work."""
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
    single = [(part, f"{m.name} ({m.code})") for part, m in named if m]
    counted = [
        (what, f"{taken.count} × {taken.material.name} ({taken.material.code})")
        for what, several in (("hardware", chosen.hardware), ("extra", chosen.extras))
        for taken in several
    ]
    return (*single, *counted)
