"""What was typed of a piece and is not used, since another field says otherwise or what it is of was not chosen.

One of borders, package, outside and a frame that is given is what the others follow from. Text in another of
their fields is kept, and told; it may be used instead. Before a piece is kept it is asked which of the two is meant,
unless a choice that nobody makes by accident has left the text behind, as borders beside a package.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from app.errors import Fault, quoted
from app.orders.quoting.choices import FrameSource, Sizing
from app.orders.quoting.form import MOST_MATS, MOST_ROWS
from app.orders.quoting.frame_fields import MOST_FRAMES
from app.orders.quoting.piece_typed import PieceTyped

BORDERS = tuple(f"borders.{side}" for side in ("left", "right", "top", "bottom"))
MEASURED = tuple(
    f"given_frame.{name}"
    for name in ("rebate", "depth", "opposite", "diagonals", "outside", "face", "lip")
)
_ROWS = (
    ("mats", MOST_MATS, "reveal", "{mat}"),
    ("mats", MOST_MATS, "core", "{mat}"),
    ("hardware", MOST_ROWS, "count", "hardware"),
    ("extras", MOST_ROWS, "count", "extra"),
)
"""Rows of a material and what is said of it: their name, how many, the field, what is chosen."""

_MOULDINGS = tuple(f"frames.{row}.material" for row in range(MOST_FRAMES))


@dataclass(frozen=True, slots=True, kw_only=True)
class Overruled:
    """A field with text that is not used. why: as a sentence. instead: (words, field, text) that would use it.

    paths: all fields of which this is said. asks: whether a piece is kept only once it is said what is meant.
    """

    path: str
    why: str
    instead: tuple[str, str, str] | None = None
    paths: tuple[str, ...] = ()
    asks: bool = True


def overruled(known: PieceTyped) -> tuple[Overruled, ...]:
    """Return what is typed and not used, each with what would use it."""
    return (*_sizes(known), *_frames(known), *_without_material(known))


LEAVE_OUT = "Leave it out"
"""What the button says by which a text that is not used goes."""


def unsettled(
    known: PieceTyped, before: Mapping[str, str], habit: Collection[str]
) -> tuple[Fault, ...]:
    """Return a question for each text that would be kept without being used, so that nothing typed is lost in silence.

    before: what was typed of the piece when it was agreed, and so was told then. habit: fields that nobody typed.
    """
    return tuple(
        Fault(path=each.path, message=_question(each, known), code="not-used")
        for each in overruled(known)
        if each.asks
        and any(path not in habit and known.typed[path] != before.get(path) for path in each.paths)
    )


def _question(each: Overruled, known: PieceTyped) -> str:
    use = f"choose “{each.instead[0]}” to use it, or" if each.instead else "choose"
    return f"{quoted(known.typed[each.path].strip())} is typed here. {each.why} To save, {use} “{LEAVE_OUT}”."


_SAYS = {
    Sizing.BORDERS: "the borders are fixed and the glass size follows from them",
    Sizing.PACKAGE: "the glass size is fixed and the borders follow from it",
    Sizing.BOTH: "borders and glass size are fixed",
    Sizing.OUTSIDE: "the outside is fixed, glass size and borders follow from it",
}


def _sizes(known: PieceTyped) -> Iterator[Overruled]:
    """Borders, package, outside and weighting, where another of them or the frame gives the size."""
    if known.canvas:
        yield from _not_used(
            known, ("package.size", "outside.size"), "a canvas sets the size of its frame"
        )
        return
    if known.source.given:
        why = "the glass size follows from the rebate of the frame"
        yield from _not_used(known, ("package.size", "outside.size"), why)
        if known.sizing is not Sizing.BOTH:
            both = ("Keep these borders, the opening follows", "sizing", Sizing.BOTH.value)
            yield from _left_behind(
                known, BORDERS, f"{why} and the borders from that", both if known.matted else None
            )
        return
    why = _SAYS[known.sizing]
    if known.sizing in (Sizing.BORDERS, Sizing.OUTSIDE):
        give = ("Fix the glass size instead", "sizing", Sizing.PACKAGE.value)
        yield from _not_used(known, ("package.size",), why, give)
    if known.sizing is not Sizing.OUTSIDE:
        give = ("Fix the outside instead", "sizing", Sizing.OUTSIDE.value)
        yield from _not_used(known, ("outside.size",), why, give)
    if known.sizing in (Sizing.PACKAGE, Sizing.OUTSIDE) and known.matted:
        give = ("Fix the borders instead", "sizing", Sizing.BORDERS.value)
        yield from _left_behind(known, BORDERS, why, give)
    if known.sizing in (Sizing.BORDERS, Sizing.BOTH) and known.given("borders.bottom"):
        yield from _left_behind(known, ("weighting",), "the bottom border is typed itself")


def _frames(known: PieceTyped) -> Iterator[Overruled]:
    """Mouldings, the ready-made frame and what was measured, where the frame comes from elsewhere."""
    said = {
        FrameSource.MADE: "the frame is made from moulding",
        FrameSource.READY_MADE: "the frame is a ready-made one",
        FrameSource.OWN: "the frame is the customer’s own",
        FrameSource.NONE: "the piece is handed over without a frame",
    }[known.source]
    if known.source is not FrameSource.MADE:
        yield from _left_behind(
            known, _MOULDINGS, said, ("Make the frame from it", "frame.source", "")
        )
    if known.source is not FrameSource.READY_MADE:
        take = ("Take the ready-made frame", "frame.source", FrameSource.READY_MADE.value)
        yield from _not_used(known, ("given_frame.material",), said, take)
    if known.source is not FrameSource.OWN:
        take = ("It is the customer’s own", "frame.source", FrameSource.OWN.value)
        yield from _not_used(known, MEASURED, said, take)


def _without_material(known: PieceTyped) -> Iterator[Overruled]:
    """Reveals, cores and counts of rows in which nothing is chosen."""
    for name, most, of_it, what in _ROWS:
        for row in range(most):
            chosen = known.given(f"{name}.{row}.material")
            if not chosen and (known.matted or name != "mats"):
                why = f"no {what.format(mat=known.shop.mat_word.value)} is chosen beside it"
                yield from _not_used(known, (f"{name}.{row}.{of_it}",), why)


def _left_behind(
    known: PieceTyped,
    paths: tuple[str, ...],
    why: str,
    instead: tuple[str, str, str] | None = None,
) -> Iterator[Overruled]:
    """As `_not_used`, of what a choice made on purpose has left behind: told, and not asked about."""
    for each in _not_used(known, paths, why, instead):
        yield replace(each, asks=False)


def _not_used(
    known: PieceTyped,
    paths: tuple[str, ...],
    why: str,
    instead: tuple[str, str, str] | None = None,
) -> Iterator[Overruled]:
    """Said once for fields that stand together, at the first of them in which anything was typed; of borders at
    the left one, whichever were.
    """
    filled = tuple(path for path in paths if known.given(path))
    if not filled:
        return
    if paths == BORDERS:
        said, at = f"These borders are not used: {why}.", BORDERS[0]
    else:
        said, at = f"Not used: {why}.", filled[0]
    yield Overruled(path=at, why=said, instead=instead, paths=filled)
