"""A piece described for its customer, in the words of the trade and without a code or a cost."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.documents.kit.printing import Figures
from app.framing import Presentation, Shape
from app.framing.arrangement import Opening
from app.framing.openings import openings_of
from app.framing.window_names import in_short
from app.lengths import ZERO, Length, Unit, show_size, show_size_on_rule
from app.money import show_money
from app.orders import Agreed, ArtworkKind, Piece
from app.orders.artwork_size import artwork_as_said
from app.orders.piece_report import Findings
from app.pricing import Chosen, Trait


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """One thing said about a piece."""

    name: str
    text: str


def details_of(piece: Piece, found: Findings, mat_word: str) -> tuple[Detail, ...]:
    """Say what is between wall and customer, from the frame to what was noted; see `in_a_line` for the rest."""
    said = (
        *_mounted(piece.agreed, found),
        *_around(piece.agreed),
        *_in_front(piece.agreed, mat_word),
        *_behind(piece.agreed),
        *_noted(piece),
    )
    return tuple(Detail(name=name, text=text) for name, text in said if text)


def artwork_of(piece: Piece) -> Detail:
    """Name the artwork with its size."""
    return Detail(name="Artwork", text=_what_it_is(piece))


def outside_of(piece: Piece, found: Findings) -> tuple[Detail, ...]:
    """Say how large the piece comes out and what it weighs, where designs may differ in it."""
    return tuple(Detail(name=name, text=text) for name, text in _outside(piece.agreed, found))


def in_a_line(piece: Piece, found: Findings) -> str:
    """Say in one line what is framed and how large it comes out.

    As "Your watercolour, 420 × 297 mm, framed to 603 × 490 mm, about 3.2 kg".
    """
    agreed = piece.agreed
    whose = f"{agreed.copies} alike: " if agreed.copies > 1 else "Your "
    outside = ""
    if _is_measured(agreed):
        figures = Figures(agreed.steps)
        done = "framed to" if found.exact.surrounds else "finished to"
        outside = f", {done} {show_size(found.cut.outside, figures.unit, mark=True)}"
    each = " each" if agreed.copies > 1 else ""
    return f"{whose}{_what_it_is(piece)}{outside}, {_weighs(agreed, found)}{each}"


def borders_of(agreed: Agreed, found: Findings) -> tuple[Detail, ...]:
    """Say how wide the borders of the top mat are, as they are cut; nothing of a piece without one.

    It is said where designs differ in it, and not by itself: who sees one design sees its borders.
    """
    if not found.cut.layers:
        return ()
    figures = Figures(agreed.steps)
    sides = found.cut.layers[0].borders.sides()
    by_length: dict[Length, list[str]] = {}
    for side, length in sides:
        by_length.setdefault(length, []).append(side)
    if len(by_length) == 1:
        text = f"{figures.marked(sides[0][1])} all round"
    else:
        text = ", ".join(
            f"{figures.marked(length)} {' and '.join(names)}" for length, names in by_length.items()
        )
    return (Detail(name="Borders", text=text),)


_CALLED = {ArtworkKind.OIL: "oil painting", ArtworkKind.OTHER: "artwork"}
"""Kinds of artwork that need more than their own word in a sentence."""


def _what_it_is(piece: Piece) -> str:
    kind = piece.artwork.kind
    size = artwork_as_said(piece.agreed.spec, piece.agreed.typed)
    return f"{_CALLED.get(kind, kind.value)}, {size}"


def _mounted(agreed: Agreed, found: Findings) -> Iterator[tuple[str, str]]:
    """Say how the artwork is shown."""
    spec = agreed.spec
    openings = openings_of(spec) if found.exact.layers else ()
    windows = _windows(openings, spec.unit)
    if found.exact.reaches_behind_all:
        windows += "; one artwork behind all"
    yield "Windows" if len(openings) > 1 else "Window", windows
    yield "Mounted", _SHOWN[spec.presentation] if spec.boxed is None else _BOXED[spec.presentation]


def _windows(openings: Sequence[Opening], unit: Unit) -> str:
    """Say what windows a mat has: "6, each for 140 × 90 mm", "A, C oval, for 90 × 90 mm; B for 140 × 90 mm"; nothing of one
    plain window.
    """
    alike: dict[tuple[str, str], list[str]] = {}
    for each in openings:
        size = f"for {show_size(each.artwork, unit, mark=True)}" if each.artwork else ""
        alike.setdefault((_SHAPED[each.shape], size), []).append(each.name)
    if len(openings) == 1:
        return _SHAPED[openings[0].shape]
    if len(alike) == 1:
        ((shape, size),) = alike
        each_for = f"each {size}" if size else ""
        return ", ".join(filter(None, (f"{len(openings)} {shape}".rstrip(), each_for)))
    return "; ".join(
        f"{in_short(names)} {', '.join(filter(None, (shape, size)))}".rstrip()
        for (shape, size), names in alike.items()
    )


_SHAPED = {Shape.RECTANGLE: "", Shape.OVAL: "oval", Shape.ARCH: "with a round top"}


def _in_front(agreed: Agreed, mat_word: str) -> Iterator[tuple[str, str]]:
    """Describe mats, fillet and glazing."""
    figures, chosen, spec = Figures(agreed.steps), agreed.chosen, agreed.spec
    reveals = [mat.reveal or ZERO for mat in spec.mats]
    mats = [
        _mat(mat.name, reveal, figures) for mat, reveal in zip(chosen.mats, reveals, strict=True)
    ]
    yield f"{mat_word.capitalize()}{'s' if len(mats) > 1 else ''}", "; under it ".join(mats)
    yield "Fillet", _fillet(agreed, figures)
    yield glazing_word(chosen), chosen.glazing.name if chosen.glazing else ""
    yield "Spacers", chosen.spacer.name if chosen.spacer else ""


def glazing_word(chosen: Chosen) -> str:
    """Return the customer's word for what is in front: "Glass" where it is glass."""
    sheet = chosen.glazing.sheet if chosen.glazing else None
    return "Glass" if sheet is not None and Trait.GLASS in sheet.traits else "Glazing"


def _fillet(agreed: Agreed, figures: Figures) -> str:
    """Describe the fillet: "Gilt bead, 6 mm showing inside the window"; of several windows "… each window"."""
    material, fillet = agreed.chosen.fillet, agreed.spec.fillet
    if material is None or fillet is None:
        return ""
    where = "each window" if len(agreed.spec.openings) > 1 else "the window"
    return f"{material.name}, {figures.marked(fillet.face - fillet.tuck)} showing inside {where}"


_SHOWN = {
    Presentation.WINDOW: "behind a window that covers its edges",
    Presentation.FLOAT: "floating, with all of its edges seen",
    Presentation.CLOSE: "close in the frame",
    Presentation.CANVAS: "stretched canvas in the frame",
    Presentation.CANVAS_FLOAT: "canvas floating in a tray frame",
    Presentation.AS_IT_CAME: "goes back into the frame as it came",
}


_BOXED = {
    Presentation.WINDOW: "in a box, behind a window that covers its edges",
    Presentation.FLOAT: "in a box, with all of its edges seen",
    Presentation.CLOSE: "in a box, close in the frame",
}
"""Of an object, which is no canvas (G22)."""


def _mat(name: str, reveal: Length, figures: Figures) -> str:
    return f"{name}, {figures.marked(reveal)} showing" if reveal else name


def _around(agreed: Agreed) -> Iterator[tuple[str, str]]:
    """Name the frames."""
    frames = [each.name for each in agreed.chosen.frames]
    yield "Frames" if len(frames) > 1 else "Frame", ", inside ".join(frames) or _given(agreed)


def _behind(agreed: Agreed) -> Iterator[tuple[str, str]]:
    """Describe boards, what the piece hangs by, and what else is done or given with it."""
    chosen = agreed.chosen
    boards = [board.name for board in (chosen.mount_board, chosen.backing) if board]
    yield "Behind it", "; ".join(boards)
    yield "Hanging", "; ".join(_counted(t.count, t.material.name) for t in chosen.hardware)
    yield "Extras", "; ".join(_counted(t.count, t.material.name) for t in chosen.extras)


def _noted(piece: Piece) -> Iterator[tuple[str, str]]:
    """Say in what condition the artwork was taken in, and what its owner says it is worth."""
    artwork = piece.artwork
    yield "Noted", artwork.condition
    if artwork.declared_value is not None:
        yield "Declared value", show_money(artwork.declared_value, code=True)


def _given(agreed: Agreed) -> str:
    """Return a frame that is given, by its rebate as measured (G24); empty without one."""
    given, ready_made = agreed.spec.given_frame, agreed.chosen.ready_made
    if given is None:
        return ""
    name = ready_made.name if ready_made else "your own frame"
    rebate = show_size_on_rule(given.counted, agreed.spec.unit, mark=True)
    return f"{name}, rebate {rebate}"


def _counted(count: int, name: str) -> str:
    return f"{count} × {name}" if count > 1 else name


def _is_measured(agreed: Agreed) -> bool:
    """Tell whether it is known how large the piece comes out: a frame that is given may not be measured (G24)."""
    given = agreed.spec.given_frame
    return given is None or given.outside is not None


def _weighs(agreed: Agreed, found: Findings) -> str:
    return f"{found.weight.how} {Figures(agreed.steps).weight(found.weight.kg)}"


def _outside(agreed: Agreed, found: Findings) -> Iterator[tuple[str, str]]:
    weighs = _weighs(agreed, found)
    if _is_measured(agreed):
        size = show_size(found.cut.outside, agreed.steps.unit, mark=True)
        yield "Outside", f"{size}, {weighs}"
    else:
        yield "Weight", weighs
