"""Standard sizes that a piece's package can be taken up to, as changes of what was typed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from app.forms.reader import size_text
from app.framing import Dimensions, Spec, snapped_up
from app.framing.notices.given_size import even_outsides
from app.lengths import Family, Length, Steps, Unit, exact_text, show, sizes_that_hold
from app.orders.quoting.choices import Sizing
from app.orders.quoting.window_fields import USUAL_GAP
from app.orders.shop import Shop

OFFERED = 3
_FAMILY = {Unit.MM: Family.FRAME_MM, Unit.IN: Family.FRAME_IN}


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOffer:
    """A size that can be taken: its text, and every field that is typed with it. words: what is said before it."""

    size: str
    fields: Mapping[str, str]
    words: str = ""


def standard_sizes(dimensions: Dimensions, shop: Shop) -> tuple[SizeOffer, ...]:
    """Return the next standard frame sizes that hold the package with its borders, the smallest first.

    Windows and gaps stay as they are; what the package gains goes to the borders. Sizes are those
    of the piece's unit. None without a mat, whose borders would give way; the size that the package
    was given is not offered again. Nor where a frame that is given, or the outside, gives the size.
    """
    spec, package = dimensions.spec, dimensions.package
    if not spec.mats or spec.given_frame is not None or spec.outside is not None:
        return ()
    holding = sizes_that_hold(package, _FAMILY[spec.unit], OFFERED + 1)
    given = spec.package is not None
    others = [one for one in holding if not (given and one.lying_as(package) == package)]
    offers = []
    for standard in others[:OFFERED]:
        snapped = snapped_up(spec, (standard,))
        if snapped is not None:
            size = standard.typed_as(package)
            offers.append(SizeOffer(size=size, fields=dict(_fields(snapped.spec, size, shop))))
    return tuple(offers)


def even_sizes(dimensions: Dimensions, steps: Steps) -> tuple[SizeOffer, ...]:
    """Return the nearest outsides that make uneven borders equal, the nearest first (G23)."""
    unit = dimensions.spec.unit
    return tuple(
        SizeOffer(
            size=(size := size_text(even.outside, unit)),
            fields={"outside.size": size},
            words=f"Equal borders of {show(even.border, unit, mark=True)}",
        )
        for even in even_outsides(dimensions, steps)
    )


def taking(size: str) -> SizeOffer:
    """Return a size of the package to be taken as it is, all else as typed."""
    return SizeOffer(size=size, fields={"package.size": size})


def _fields(spec: Spec, size: str, shop: Shop) -> Iterator[tuple[str, str]]:
    """Yield what is typed for a spec in its new package; what is as usual is left blank."""

    def said(length: Length, usual: Length) -> str:
        return "" if length == usual else exact_text(length, spec.unit)

    yield "sizing", Sizing.PACKAGE.value
    yield "package.size", size
    yield "weighting", said(spec.weighting, shop.allowances_in(spec.unit).weighting)
    if spec.arrangement is not None:
        usual = USUAL_GAP[spec.unit]
        yield "arrangement.across", said(spec.arrangement.across or usual, usual)
        yield "arrangement.down", said(spec.arrangement.down or usual, usual)
    for row, opening in enumerate(spec.openings):
        if opening.at is not None:
            yield f"windows.{row}.x", exact_text(opening.at.x, spec.unit)
            yield f"windows.{row}.y", exact_text(opening.at.y, spec.unit)
