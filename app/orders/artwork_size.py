"""How large the artwork of a piece is, in words: its size, or that nobody measured it."""

from app.framing import Presentation, Spec
from app.lengths import show_size


def artwork_size(spec: Spec, *, mark: bool = True) -> str:
    """As "297 × 420 mm"; "as it came" of what is in a frame that is given, unless it was measured (G24)."""
    given = spec.given_frame
    unmeasured = given is not None and spec.artwork == given.package
    if spec.presentation is Presentation.AS_IT_CAME and unmeasured:
        return "as it came"
    return show_size(spec.artwork, spec.unit, mark=mark)
