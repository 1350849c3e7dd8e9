"""The pages of the shop's mat cutters: the list, and the form of one."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from markupsafe import Markup

from app.bench import Cutter, Reads, Scale
from app.drawings import CUTTER_KEY, cutter_from_above
from app.forms.kinds import In
from app.lengths import Length, Unit, inches, mm, show
from app.orders import Shop
from app.web.kit.fields import FormView
from app.web.kit.listing import Chip
from app.web.kit.templating import Page


@dataclass(frozen=True, slots=True, kw_only=True)
class CutterCard:
    """A cutter in the list.

    number: from 1; tickets are made for the first one.
    """

    number: int
    name: str
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttersPage(Page):
    """The list of the shop's cutters.

    usual: the cutter that tickets are made for until one is described. full: that no more are kept.
    """

    title: str = "Cutters"
    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    version: int
    cutters: tuple[CutterCard, ...]
    usual: CutterCard
    full: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutterPage(Page):
    """The form of one cutter.

    number: None for a new one. bare: the unit of a number without a mark. second_word: that of one that is said
    of the second scale. full: that no more are kept. drawing, key: what is measured where on any cutter.
    """

    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    heading: str
    action: str
    version: str
    number: int | None
    was: str
    bare: str
    bare_word: str
    second_word: str
    full: str
    other_scale: str | None
    fields: FormView[In]
    drawing: Markup = field(default_factory=lambda: Markup(cutter_from_above()))
    key: tuple[str, ...] = CUTTER_KEY


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveCutterPage(Page):
    """The page that asks before a cutter is removed.

    then: which cutter tickets are made for afterwards.
    """

    title: str = "Delete a cutter"
    section: str = "Settings"
    number: int
    name: str
    version: int
    then: str


def cutter_card(number: int, cutter: Cutter) -> CutterCard:
    """Return a cutter with what it can do, in the unit of its scale."""
    say = cutter.say
    facts = [
        ("longest cut", _in_round(cutter, cutter.cut_length)),
        ("guide up to", _in_round(cutter, cutter.guide_reach)),
        ("boards up to", say(cutter.deepest_board)),
        *_of_scale(cutter.scale),
        *(fact for scale in cutter.scales[1:] for fact in _of_scale(scale, "second ")),
    ]
    if cutter.reads is Reads.FACE:
        facts.append(("its figure is", "the border at the face"))
    if stops := [name for name in ("near", "far") if getattr(cutter.stops, name)]:
        facts.append(("stops", " and ".join(stops)))
    if cutter.stops.guide_on_right:
        facts.append(("guide", "to the right of the bar"))
    if cutter.arm_reach is not None:
        facts.append(("squaring arm up to", _in_round(cutter, cutter.arm_reach)))
    facts += corrections_of(cutter)
    if cutter.cuts_ovals:
        facts.append(("ovals", "yes"))
    return CutterCard(number=number, name=cutter.name, facts=tuple(facts))


_ROUND = {Unit.MM: mm(1), Unit.IN: inches("1/8")}
"""A reach is round where it is whole steps of these. Source: ours."""


def _in_round(cutter: Cutter, length: Length) -> str:
    """Return a reach in the unit of the scale, and beside it as its maker says it, where only that is round: '1193.8 mm
    (47")'.
    """
    own, other = cutter.unit, cutter.unit.other

    def is_round(unit: Unit) -> bool:
        return (length / _ROUND[unit]).denominator == 1

    if is_round(own) or not is_round(other):
        return cutter.say(length)
    return f"{cutter.say(length)} ({show(length, other, mark=True)})"


def _of_scale(scale: Scale, which: str = "") -> Iterator[tuple[str, str]]:
    """Yield what a scale is, in its own unit. which: put before the names."""
    scale_word = "inches" if scale.unit is Unit.IN else "mm"
    yield f"{which}scale", f"{scale_word}, steps of {scale.say(scale.step)}"
    if pins := scale.pins:
        yield f"{which}pins", f"from {scale.say(pins.first)}, every {scale.say(pins.pitch)}"


def corrections_of(cutter: Cutter) -> list[tuple[str, str]]:
    """Return the corrections that differ from zero as (what, length) pairs."""
    named = (
        ("added to settings", cutter.guide_correction),
        ("cuts begin past the corner", cutter.start_offset),
        ("cuts end past the corner", cutter.end_offset),
        ("added to the near stop", cutter.stops.near_correction),
        ("added to the far stop", cutter.stops.far_correction),
    )
    return [(what, cutter.say(length)) for what, length in named if length]


def after_removal(shop: Shop, number: int) -> str:
    """Say which cutter tickets are made for once another is gone; empty where that does not change."""
    left = [cutter.name for at, cutter in enumerate(shop.cutters, start=1) if at != number]
    if not left:
        return "Tickets then take a usual cutter, until one is described."
    return f"Tickets then speak of {left[0]}." if number == 1 else ""
