"""What was typed of the size and the frame of a piece and is not used, since another field says otherwise.

One of borders, package, outside and a frame that is given is what the others follow from. Text in another of
their fields is kept, and told; it may be used instead.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.orders.quoting.form import MOST_FRAMES, FrameSource, PieceTyped, Sizing

BORDERS = tuple(f"borders.{side}" for side in ("left", "right", "top", "bottom"))
MEASURED = tuple(
    f"given_frame.{name}"
    for name in ("rebate", "depth", "opposite", "diagonals", "outside", "face", "lip")
)
_MOULDINGS = tuple(f"frames.{row}.material" for row in range(MOST_FRAMES))


@dataclass(frozen=True, slots=True, kw_only=True)
class Overruled:
    """A field with text that is not used. why: as a sentence. instead: (words, field, text) that would use it."""

    path: str
    why: str
    instead: tuple[str, str, str] | None = None


def overruled(known: PieceTyped) -> tuple[Overruled, ...]:
    """Return what is typed and not used, each with what would use it."""
    return (*_sizes(known), *_frames(known))


_SAYS = {
    Sizing.BORDERS: "the borders are given and the package follows from them",
    Sizing.PACKAGE: "the package is given and the borders follow from it",
    Sizing.BOTH: "borders and package are given",
    Sizing.OUTSIDE: "the outside is given, package and borders follow from it",
}


def _sizes(known: PieceTyped) -> Iterator[Overruled]:
    """Borders, package, outside and weighting, where another of them or the frame gives the size."""
    if known.canvas:
        yield from _not_used(
            known, ("package.size", "outside.size"), "a canvas sets the size of its frame"
        )
        return
    if known.source.given:
        why = "the package follows from the rebate of the frame"
        yield from _not_used(known, ("package.size", "outside.size"), why)
        if known.sizing is not Sizing.BOTH:
            both = ("Keep these borders, the window follows", "sizing", Sizing.BOTH.value)
            yield from _not_used(
                known, BORDERS, f"{why} and the borders from that", both if known.matted else None
            )
        return
    why = _SAYS[known.sizing]
    if known.sizing in (Sizing.BORDERS, Sizing.OUTSIDE):
        give = ("Give the package instead", "sizing", Sizing.PACKAGE.value)
        yield from _not_used(known, ("package.size",), why, give)
    if known.sizing is not Sizing.OUTSIDE:
        give = ("Give the outside instead", "sizing", Sizing.OUTSIDE.value)
        yield from _not_used(known, ("outside.size",), why, give)
    if known.sizing in (Sizing.PACKAGE, Sizing.OUTSIDE) and known.matted:
        give = ("Give the borders instead", "sizing", Sizing.BORDERS.value)
        yield from _not_used(known, BORDERS, why, give)
    if known.sizing in (Sizing.BORDERS, Sizing.BOTH) and known.given("borders.bottom"):
        yield from _not_used(known, ("weighting",), "the bottom border is given itself")


def _frames(known: PieceTyped) -> Iterator[Overruled]:
    """Mouldings, the ready-made frame and what was measured, where the frame comes from elsewhere."""
    said = {
        FrameSource.MADE: "the frame is made from moulding",
        FrameSource.READY_MADE: "the frame is a ready-made one",
        FrameSource.OWN: "the frame is the customer’s own",
        FrameSource.NONE: "the piece is handed over without a frame",
    }[known.source]
    if known.source is not FrameSource.MADE:
        yield from _not_used(
            known, _MOULDINGS, said, ("Make the frame from it", "frame.source", "")
        )
    if known.source is not FrameSource.READY_MADE:
        take = ("Take the ready-made frame", "frame.source", FrameSource.READY_MADE.value)
        yield from _not_used(known, ("given_frame.material",), said, take)
    if known.source is not FrameSource.OWN:
        take = ("It is the customer’s own", "frame.source", FrameSource.OWN.value)
        yield from _not_used(known, MEASURED, said, take)


def _not_used(
    known: PieceTyped,
    paths: tuple[str, ...],
    why: str,
    instead: tuple[str, str, str] | None = None,
) -> Iterator[Overruled]:
    """Said once for fields that stand together, at the first of them in which anything was typed; of borders at
    the left one, whichever were.
    """
    filled = next((path for path in paths if known.given(path)), None)
    if filled is None:
        return
    if paths == BORDERS:
        yield Overruled(path=BORDERS[0], why=f"These borders are not used: {why}.", instead=instead)
    else:
        yield Overruled(path=filled, why=f"Not used: {why}.", instead=instead)
