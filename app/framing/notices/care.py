"""Care of the artwork and of the person at work: notices and cautions (D5, D6).

Owns the advice as sentences. It advises and never blocks; where building rules or licensed trades decide, it
says so and decides nothing.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from app.framing.notice import Concern, Notice


@dataclass(frozen=True, slots=True, kw_only=True)
class CareFacts:
    """What care asks about a piece.

    on_paper: any work on paper or a photograph. loose_surface: pastel, charcoal and the like.
    kept_clear: a mat or spacer holds the glazing off. boards: (name, acid-free) of every board
    that touches or surrounds the artwork. fillet: whether one lies on it.
    """

    on_paper: bool
    loose_surface: bool = False
    glazed: bool = True
    acrylic: bool = False
    uv_filter: bool = False
    kept_clear: bool = True
    boards: tuple[tuple[str, bool], ...] = ()
    adhesive: bool = False
    fillet: bool = False


def harms(*, on_paper: bool, acid_free: bool) -> bool:
    """Tell whether a board harms the artwork that it touches or surrounds: acid goes over into paper (D6)."""
    return on_paper and not acid_free


NOT_ACID_FREE = "Not acid-free beside a work on paper"
"""Said of such a board."""


def care_notices(facts: CareFacts) -> tuple[Notice, ...]:
    """Conservation notices of a piece (D6).

    Source: Library of Congress guide to preservation matting; State Library Victoria and Western
    Australian Museum on framing; Canadian Conservation Institute Notes 11/5.
    """
    return tuple(_care(facts))


def _care(facts: CareFacts) -> Iterator[Notice]:
    if facts.glazed and not facts.kept_clear:
        yield Notice(
            code="glazing-touches-artwork",
            message="Nothing keeps the glazing off the artwork: add a mat or spacers.",
            concern=Concern.RISK,
        )
    if facts.loose_surface and facts.acrylic:
        yield Notice(
            code="acrylic-over-loose-surface",
            message="Acrylic pulls pastel, charcoal and chalk off the paper: choose glass.",
            concern=Concern.RISK,
        )
    if not facts.on_paper:
        return
    if not facts.glazed:
        yield Notice(
            code="paper-without-glazing",
            message="Without glazing a work on paper is open to dust, damp and touch: choose glazing.",
        )
    elif not facts.uv_filter:
        yield Notice(
            code="no-uv-filter",
            message="The glazing has no UV filter; paper and colours fade behind it in daylight.",
        )
    poor = [name for name, acid_free in facts.boards if harms(on_paper=True, acid_free=acid_free)]
    if poor:
        yield Notice(
            code="board-not-acid-free",
            message=f"{NOT_ACID_FREE}: {', '.join(poor)}.",
        )
    if facts.fillet:
        yield Notice(
            code="fillet-on-paper",
            message="The fillet lies on a work on paper: line its back with an acid-free strip.",
        )
    if facts.adhesive:
        yield Notice(
            code="adhesive-on-original",
            message="Adhesive mounting cannot be undone: hinge an original, or hold it by corners.",
        )


class Work(StrEnum):
    """Steps of the work at which someone can be hurt."""

    APART = "apart"
    MATS = "mats"
    GLASS = "glass"
    ACRYLIC = "acrylic"
    RAILS = "rails"
    JOIN = "join"
    OBJECT = "object"
    FIT = "fit"
    SCREW = "screw"
    LIFT = "lift"
    HANG = "hang"


CAUTIONS: dict[Work, str] = {
    Work.APART: "Old frames: gloves and eye protection for glass and points; old glass may be thin or cracked. "
    "Old paint and gilding may hold lead: no dry sanding, wash hands; where in doubt ask who is trained for it.",
    Work.MATS: "Fresh blade, cut away from the hand, blade in or covered between cuts.",
    Work.GLASS: "Glass edges cut: gloves and eye protection, carry upright, dull the edges.",
    Work.ACRYLIC: "Score and snap away from you; eye protection against splinters.",
    Work.RAILS: "Saw or chopper: guard on, hands clear, eye and ear protection; dust extracted and a "
    "mask for fine wood dust.",
    Work.JOIN: "Adhesives and solvents: air the room, read the label, no flames.",
    Work.OBJECT: "Needles, pins and wire ends: eye protection, points away from the hand. Stand the board "
    "up over something soft to see that all holds before the glazing goes over it.",
    Work.FIT: "Points and staples fly: eye protection, drive away from the glass and the hand.",
    Work.SCREW: "Drivers slip and long screws come through: eye protection, bore first, screws shorter than "
    "what they go into, no hand behind it.",
    Work.LIFT: "Heavy: two people to lift and turn it.",
    Work.HANG: "Over a bed or a seat, in a child's room or by a door ask for safety glazing and "
    "fixings that cannot slip; local building rules decide.",
}
"""Short cautions by step (D5). Source: common practice; HSE on wood dust and on handling glass.
They do not replace the maker's instructions, local codes or licensed practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkFacts:
    """Which steps a piece has. boxed: an object is mounted in a box.

    frame: one that is made; fitted: one that is given is; apart: that is taken apart first. hinged: whether
    the artwork is on paper and not glued down; noted: whether something was written down of its condition.
    screwed: whether it is held in its frame by screws and not by points. panel: whether the artwork is a board, which
    has no keys and no stretcher. ready_mats, ready_boards: layers, and names of boards, that are bought in their size.
    """

    mats: bool
    glass: bool
    acrylic: bool
    frame: bool
    heavy: bool
    fillet: bool = False
    boxed: bool = False
    apart: bool = False
    fitted: bool = False
    hinged: bool = False
    noted: bool = False
    screwed: bool = False
    panel: bool = False
    ready_mats: frozenset[int] = frozenset()
    ready_boards: frozenset[str] = frozenset()


def cautions_for(facts: WorkFacts) -> tuple[tuple[Work, str], ...]:
    """Return the cautions of the steps that a piece has, in the order of the work."""
    in_a_frame = facts.frame or facts.fitted
    steps = (
        (Work.APART, facts.apart),
        (Work.MATS, facts.mats),
        (Work.GLASS, facts.glass),
        (Work.ACRYLIC, facts.acrylic),
        (Work.RAILS, facts.frame or facts.fillet),
        (Work.JOIN, facts.frame or facts.fillet),
        (Work.OBJECT, facts.boxed),
        (Work.FIT, in_a_frame and not facts.screwed),
        (Work.SCREW, in_a_frame and facts.screwed),
        (Work.LIFT, facts.heavy),
        (Work.HANG, in_a_frame),
    )
    return tuple((step, CAUTIONS[step]) for step, present in steps if present)
