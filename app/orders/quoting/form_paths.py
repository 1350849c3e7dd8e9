"""Which field of the quote page speaks for what is wrong with a spec.

Owns the way from the paths of the JSON contract to those of the form. Where both name a field alike
nothing is listed.
"""

from collections.abc import Iterable
from dataclasses import replace

from app.errors import Fault

MOST_AT_A_FIELD = 3
"""Sentences of one kind at a field; what else is like them is counted. Our own choice."""

_SPOKEN_FOR = {
    "artwork.width": "artwork.size",
    "artwork.height": "artwork.size",
    "package": "package.size",
    "package.width": "package.size",
    "package.height": "package.size",
    "borders": "borders.left",
    "mats": "mats.0.material",
    "spacer": "spacer.depth",
    "spacer_width": "spacer.depth",
    "under_trim": "mats.1.material",
    "fillet": "fillet.material",
    "fillet.face": "fillet.material",
    "fillet.lip": "fillet.material",
    "fillet.thickness": "fillet.depth",
    "glazing.thickness": "glazing.material",
    "glazing.trim": "glazing.material",
    "mount_board.thickness": "mount_board.material",
    "mount_board.trim": "mount_board.material",
    "backing.thickness": "backing.material",
    "backing.trim": "backing.material",
    "windows": "windows.count",
    "arrangement": "layout.placing",
    "arrangement.rows": "layout.rows",
    "arrangement.across": "layout.across",
    "arrangement.down": "layout.down",
}

_OF_A_WINDOW = {
    "overlap": "edge",
    "gap": "edge",
    "rise": "rise",
    "slot": "slot",
    "slot.width": "slot",
    "slot.height": "slot",
    "slot.gap": "slot_gap",
    "x": "x",
    "y": "y",
}


def form_path(path: str) -> str:
    """The quote page's field that speaks for a path of the JSON contract."""
    if path in _SPOKEN_FOR:
        return _SPOKEN_FOR[path]
    match path.split("."):
        case ["frames", _, "allowance"]:
            return "allowance"
        case ["frames", row, _]:
            return f"frames.{row}.material"
        case ["mats", row, "thickness" | "bevel"]:
            return f"mats.{row}.material"
        case ["windows", row, *field]:
            return f"windows.{row}.{_OF_A_WINDOW.get('.'.join(field), 'size')}"
    return path


def on_the_form(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults of a spec moved to the fields of the quote page, each sentence once per field.

    One overlap can be too large for each of two dozen windows: the first few are said, then how
    many more there are.
    """
    moved = dict.fromkeys(replace(fault, path=form_path(fault.path)) for fault in faults)
    by_field: dict[tuple[str, str], list[Fault]] = {}
    for fault in moved:
        by_field.setdefault((fault.path, fault.code), []).append(fault)
    return tuple(fault for alike in by_field.values() for fault in _in_short(alike))


def _in_short(alike: list[Fault]) -> list[Fault]:
    left = len(alike) - MOST_AT_A_FIELD
    if left < 2:
        return alike
    more = Fault(path=alike[0].path, message=f"And {left} more like it.", code=alike[0].code)
    return [*alike[:MOST_AT_A_FIELD], more]
