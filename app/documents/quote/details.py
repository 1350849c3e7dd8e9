"""A piece described for its customer, in the words of the trade and without a code or a cost."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.documents.kit.printing import Figures
from app.framing import Presentation
from app.framing.notices.weight import HangingWay
from app.lengths import ZERO, Length, show_size, show_size_on_rule
from app.money import show_money
from app.orders import Agreed, Piece
from app.orders.artwork_size import artwork_as_said
from app.orders.piece_report import Findings

GOOD_TO_KNOW = frozenset(
    {
        "artwork-bare",
        "artwork-covered-by-lip",
        "fillet-covers-artwork",
        "glazing-touches-artwork",
        "acrylic-over-loose-surface",
        "paper-without-glazing",
        "no-uv-filter",
        "board-not-acid-free",
        "adhesive-on-original",
        "canvas-stands-proud",
        "no-wire",
        "competent-person",
    }
)
"""Notices that a customer should hear of before agreeing; the others are the bench's own."""


_FOR_THE_SHOP = "; the customer should agree."


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """One thing said about a piece."""

    name: str
    text: str


def details_of(piece: Piece, found: Findings, mat_word: str) -> tuple[Detail, ...]:
    """Describe what the customer gets, from the artwork outwards."""
    said = (
        *_artwork(piece, found),
        *_in_front(piece.agreed, mat_word),
        *_around(piece.agreed),
        *_whole(piece.agreed, found),
    )
    return tuple(Detail(name=name, text=text) for name, text in said if text)


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


def good_to_know(found: Findings) -> tuple[str, ...]:
    """Return the notices for the customer, without the words that are for the shop."""
    return tuple(
        notice.message.replace(_FOR_THE_SHOP, ".")
        for notice in found.notices
        if notice.code in GOOD_TO_KNOW
    )


def _artwork(piece: Piece, found: Findings) -> Iterator[tuple[str, str]]:
    spec, artwork = piece.agreed.spec, piece.artwork
    yield "Artwork", f"{artwork.kind.value}, {artwork_as_said(spec, piece.agreed.typed)}"
    several = [
        f"{name} {show_size(size, spec.unit, mark=True)}" for name, size in found.exact.artworks
    ]
    yield "Windows for", "; ".join(several) if len(several) > 1 else ""
    yield "Condition", artwork.condition
    if artwork.declared_value is not None:
        yield "Declared value", show_money(artwork.declared_value, code=True)


def _in_front(agreed: Agreed, mat_word: str) -> Iterator[tuple[str, str]]:
    """Describe how the artwork is shown, its mats and its glazing."""
    figures, chosen, spec = Figures(agreed.steps), agreed.chosen, agreed.spec
    yield "Mounted", _SHOWN[spec.presentation] if spec.boxed is None else _BOXED[spec.presentation]
    reveals = [mat.reveal or ZERO for mat in spec.mats]
    mats = [
        _mat(mat.name, reveal, figures) for mat, reveal in zip(chosen.mats, reveals, strict=True)
    ]
    yield f"{mat_word.capitalize()}{'s' if len(mats) > 1 else ''}", "; under it ".join(mats)
    yield "Fillet", _fillet(agreed, figures)
    yield "Glazing", chosen.glazing.name if chosen.glazing else ""
    yield "Spacers", chosen.spacer.name if chosen.spacer else ""


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
    """Describe frames, boards, and what the piece hangs by."""
    chosen = agreed.chosen
    frames = [each.name for each in chosen.frames]
    yield "Frames" if len(frames) > 1 else "Frame", ", inside ".join(frames) or _given(agreed)
    boards = [board.name for board in (chosen.mount_board, chosen.backing) if board]
    yield "Backing", ", ".join(boards)
    yield "Hanging hardware", ", ".join(_counted(t.count, t.material.name) for t in chosen.hardware)
    yield "Extras", ", ".join(_counted(t.count, t.material.name) for t in chosen.extras)


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


def _whole(agreed: Agreed, found: Findings) -> Iterator[tuple[str, str]]:
    figures = Figures(agreed.steps)
    given = agreed.spec.given_frame
    weighs = f"{found.weight.how} {figures.weight(found.weight.kg)}"
    if given is None or given.outside is not None:
        yield "Outside", f"{show_size(found.cut.outside, figures.unit, mark=True)}, {weighs}"
    else:
        yield "Weight", weighs
    if found.hanging is not None and found.hanging.way is HangingWay.STRAPS:
        yield "Hangs by", "two straps or a wooden cleat, on two wall fixings"
