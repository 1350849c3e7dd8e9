"""What a customer is told beside the price: advice on the care of the artwork, and what they should agree to.

Advice is worded for whoever chooses (D6); what the workshop notices, of cutter, rebate or boards to cut, is never said here.
"""

from app.framing import Notice
from app.orders.piece_report import Findings

ADVICE = {
    "acrylic-over-loose-surface": "We recommend glass here: acrylic pulls pastel, charcoal and chalk off the paper.",
    "adhesive-on-original": "For an original we recommend hinges or corners: adhesive mounting cannot be undone.",
    "board-not-acid-free": "We recommend acid-free boards: others yellow the paper that lies against them.",
    "competent-person": "The piece is heavy: we recommend to have wall and fixings seen to by a competent "
    "person; local codes apply.",
    "glazing-touches-artwork": "We recommend a mat or spacers, which keep the glass off the artwork.",
    "no-uv-filter": "We recommend glass with a UV filter: behind other glass paper and colours fade in daylight.",
    "no-wire": "We recommend to hang it by two straps or a wooden cleat, on two wall fixings.",
    "paper-without-glazing": "We recommend glass: without it paper is open to dust, damp and touch.",
}
"""Advice by the code of a notice. Source: D4 and D6; the words are ours."""

FIXINGS = "Wall fixings are to suit the wall and the weight; local building rules decide."
"""Said of every piece that is hung, whatever it is."""

TO_AGREE = frozenset(
    {
        "artwork-bare",
        "artwork-covered-by-lip",
        "fillet-covers-artwork",
        "canvas-stands-proud",
    }
)
"""Notices of what will be seen of the artwork, which its owner agrees to; they are said as they are."""

_FOR_THE_SHOP = "; the customer should agree."


def advice_of(found: Findings) -> tuple[str, ...]:
    """Return what the customer is told: first what they agree to, then advice, each once."""
    agreed = (_as_is(each) for each in found.notices if each.code in TO_AGREE)
    advised = (ADVICE[each.code] for each in found.notices if each.code in ADVICE)
    return tuple(dict.fromkeys((*agreed, *advised)))


def _as_is(notice: Notice) -> str:
    return notice.message.replace(_FOR_THE_SHOP, ".")
