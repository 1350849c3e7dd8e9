"""Parts of a piece that are spoiled at the bench, without a cutting plan at hand: the form, and what is told of them."""

from dataclasses import dataclass

from app.errors import Fault, quoted
from app.forms.kinds import FieldKind, Options, text_of
from app.forms.reader import Reader
from app.forms.table import Field, Form, Typed
from app.orders import Shop
from app.services.spoiling import PartAtBench
from app.stock.planning.part_changes import LONGEST_NOTE
from app.web.kit.fields import Fields, FormView, OfShop


@dataclass(frozen=True, slots=True)
class OfParts(OfShop):
    """The parts that a form is about, and its shop."""

    parts: tuple[PartAtBench, ...]


def _part(read: Reader, path: str, _usual: object) -> str:
    """Read the key of a part; whether the piece has it is known where it is spoiled."""
    key = read.text(path, longest=80)
    if read.given(path) and not key:
        read.faults.add(path, f"{quoted(read.raw(path), limit=24)} is no part of this piece.")
    return key


def _options(known: OfParts) -> Options:
    """Offer no part by itself: a choice has to be made."""
    parts = tuple((each.key, each.words) for each in known.parts if not each.by_hand)
    return (("", "Choose the part"), *parts)


SPOILED = Form[OfParts](
    Field(
        "part",
        "Which part",
        FieldKind(control="select", read=_part, text=lambda key, _known: key),
        needed=True,
        options=_options,
        wish="Choose the part that is spoiled.",
    ),
    Field("note", "How it came about", text_of(LONGEST_NOTE), beside=True),
).under("spoiled")


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoilingView:
    """The form, None where nothing can be spoiled, and the parts that are spoiled by hand."""

    form: FormView[OfParts] | None
    parts: tuple[PartAtBench, ...]
    unfolded: bool


def spoiling_view(
    shop: Shop, parts: tuple[PartAtBench, ...], typed: Typed, faults: tuple[Fault, ...]
) -> SpoilingView:
    """Return the part of the bench page that is about spoiled parts."""
    known, spoiled = OfParts(shop, parts), tuple(each for each in parts if each.by_hand)
    left = len(spoiled) < len(parts)
    return SpoilingView(
        form=FormView(SPOILED, known, Fields(typed, faults)) if left else None,
        parts=spoiled,
        unfolded=bool(faults),
    )
