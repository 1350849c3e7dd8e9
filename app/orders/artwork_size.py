"""How large the artwork of a piece is, in words: its size, or that nobody measured it."""

from collections.abc import Mapping

from app.framing import Presentation, Spec
from app.lengths import said_in_other, say, show_size, show_size_on_rule


def artwork_size(spec: Spec, *, mark: bool = True, on_rule: bool = False) -> str:
    """As "297 × 420 mm"; "as it came" of what is in a frame that is given, unless it was measured (G24).

    on_rule: as a rule reads it, in inches always a fraction.
    """
    given = spec.given_frame
    unmeasured = given is not None and spec.artwork == given.package
    if spec.presentation is Presentation.AS_IT_CAME and unmeasured:
        return "as it came"
    show = show_size_on_rule if on_rule else show_size
    return show(spec.artwork, spec.unit, mark=mark)


def artwork_as_said(spec: Spec, typed: Mapping[str, str]) -> str:
    """Return the same; where it was said in the other unit, with that beside it: "406.4 × 508 mm (16 × 20 in)". typed: the piece's fields."""
    size = artwork_size(spec)
    if not said_in_other(typed.get("artwork.size", ""), spec.unit):
        return size
    return f"{size} ({say(spec.artwork, spec.unit.other)})"
