"""The pages of the shop's mat cutters: the list, and the form of one."""

from dataclasses import dataclass

from app.bench import Cutter, Reads
from app.forms.table import In
from app.lengths import Unit
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

    usual: the cutter that tickets are made for until one is described.
    """

    title: str = "Cutters"
    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    version: int
    cutters: tuple[CutterCard, ...]
    usual: CutterCard


@dataclass(frozen=True, slots=True, kw_only=True)
class CutterPage(Page):
    """The form of one cutter.

    number: None for a new one. bare: the unit of a number without a mark.
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
    other_scale: str | None
    fields: FormView[In]


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveCutterPage(Page):
    """The page that asks before a cutter is removed.

    then: which cutter tickets are made for afterwards.
    """

    title: str = "Remove a cutter"
    section: str = "Settings"
    number: int
    name: str
    version: int
    then: str


def cutter_card(number: int, cutter: Cutter) -> CutterCard:
    """Return a cutter with what it can do, in the unit of its scale."""
    say = cutter.say
    scale = "inches" if cutter.unit is Unit.IN else "mm"
    facts = [
        ("longest cut", say(cutter.cut_length)),
        ("guide up to", say(cutter.guide_reach)),
        ("scale", f"{scale}, steps of {say(cutter.step)}"),
        ("boards up to", say(cutter.deepest_board)),
    ]
    if cutter.reads is Reads.FACE:
        facts.append(("its figure is", "the border at the face"))
    if pins := cutter.scale.pins:
        facts.append(("pins", f"from {say(pins.first)}, every {say(pins.pitch)}"))
    facts += corrections_of(cutter)
    if cutter.cuts_ovals:
        facts.append(("ovals", "yes"))
    return CutterCard(number=number, name=cutter.name, facts=tuple(facts))


def corrections_of(cutter: Cutter) -> list[tuple[str, str]]:
    """Return the corrections that differ from zero as (what, length) pairs."""
    named = (
        ("added to settings", cutter.guide_correction),
        ("cuts begin past the corner", cutter.start_offset),
        ("cuts end past the corner", cutter.end_offset),
    )
    return [(what, cutter.say(length)) for what, length in named if length]


def word_of(unit: Unit) -> str:
    """Return the word for a unit."""
    return "millimetres" if unit is Unit.MM else "inches"


def after_removal(shop: Shop, number: int) -> str:
    """Say which cutter tickets are made for once another is gone; empty where that does not change."""
    left = [cutter.name for at, cutter in enumerate(shop.cutters, start=1) if at != number]
    if not left:
        return "Tickets then take a usual cutter, until one is described."
    return f"Tickets then speak of {left[0]}." if number == 1 else ""
