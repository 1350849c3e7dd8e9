"""What of the price book suits an object in a box: mouldings deep enough, spacers that hold the glazing off."""

import re
from collections.abc import Iterable, Iterator

from app.errors import Invalid
from app.framing import Concern, Dimensions, Notice
from app.framing.notices.objects import least_rebate
from app.framing.objects import least_spacer, room_over_object
from app.lengths import ZERO, Length, Unit, parse_length, show
from app.pricing import Material
from app.pricing.chosen import BY_LENGTH

_AT_THE_END = re.compile(r",\s*(?P<depth>[0-9][0-9 ./]{0,8}\s?(?:mm|cm|in|\"))$", re.ASCII)
"""A measure with its unit, after the last comma of a name."""

MOST_NAMED = 6
"""Materials named in a sentence; how many more there are is counted. Our own choice."""


def suited_to_box(
    dimensions: Dimensions, mouldings: Iterable[Material], extras: Iterable[Material]
) -> tuple[Notice, ...]:
    """Notices that name what holds an object; none of an artwork that lies flat.

    Spacers are extras charged by length; how deep one is, is its profile's rebate depth, and one without a
    profile is not spoken of. Source: handbook G22, D7.
    """
    spec = dimensions.spec
    if spec.boxed is None:
        return ()
    lipped = [each for each in mouldings if each.profile and each.profile.lip]
    strips = [each for each in extras if each.profile and each.charge.by in BY_LENGTH]
    return (
        *_spacers(dimensions, strips),
        _named(
            ("moulding-deep-enough", "moulding"),
            lipped,
            (least_rebate(dimensions), "a rebate of at least"),
            spec.unit,
        ),
    )


def _spacers(dimensions: Dimensions, strips: list[Material]) -> Iterator[Notice]:
    """Yield where the glazing comes too close to the object, and the price book knows how deep spacers are."""
    spec = dimensions.spec
    close = spec.boxed is not None and room_over_object(spec) < spec.boxed.clearance
    if strips and close and spec.glazing and spec.artwork_thickness:
        wanted = (least_spacer(spec), "a depth of at least")
        yield _named(("spacer-deep-enough", "spacer"), strips, wanted, spec.unit)


def _named(
    said: tuple[str, str],
    known: list[Material],
    wanted: tuple[Length, str],
    unit: Unit,
) -> Notice:
    """Return those that are deep enough, the shallowest first; where none is, the deepest."""
    (code, word), (least, at_least) = said, wanted
    ranked = sorted(known, key=lambda each: (_depth(each), each.code))
    enough = [each for each in ranked if _depth(each) >= least]
    needs = f"{at_least} {show(least, unit, mark=True)}"
    if not enough:
        deepest = f"; the deepest is {_called(ranked[-1], unit)}" if ranked else ""
        message = f"No {word} of the price book is deep enough: it takes {needs}{deepest}."
        return Notice(code=code, message=message)
    named = ", ".join(_called(each, unit) for each in enough[:MOST_NAMED])
    more = len(enough) - MOST_NAMED
    rest = f" and {more} more" if more > 0 else ""
    message = f"Deep enough in the price book, with {needs}: {named}{rest}."
    return Notice(code=code, message=message, concern=Concern.NOTE)


def _depth(material: Material) -> Length:
    return material.profile.rebate_depth if material.profile else ZERO


def depth_of_spacer(material: Material) -> Length | None:
    """Return how deep a spacer is: its section's rebate depth; without a section what its name ends with, as in
    "Spacer strip, white, 12 mm". None where neither says it. Our own choice.
    """
    if material.profile is not None:
        return material.profile.rebate_depth
    named = _AT_THE_END.search(material.name)
    if named is None:
        return None
    try:
        return parse_length(named["depth"], unit=Unit.MM)
    except Invalid:
        return None


def _called(material: Material, unit: Unit) -> str:
    return f"{material.code} ({show(_depth(material), unit, mark=True)})"
