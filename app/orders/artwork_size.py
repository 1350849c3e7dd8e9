"""How large the artwork of a piece is, in words: its size, or that nobody measured it."""

from app.framing import Presentation, Spec
from app.lengths import show_size, show_size_on_rule


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
