"""The page of one piece, for the workshop: what to cut, how it stands, what comes next.

It is where the ticket's QR leads, on a phone beside the cutter.
"""

from dataclasses import dataclass
from datetime import date
from typing import Any

from markupsafe import Markup

from app.documents.cutlist import CutGroup, Cutting, cut_list
from app.documents.printing import Figures
from app.framing import Notice
from app.lengths import show
from app.orders import MAY_FOLLOW, Order, Piece, Shop, Stage
from app.orders.findings import Findings, findings
from app.services.progress import last_change
from app.web.pages.order import NEXT_ACT, materials_of
from app.web.pages.piece import VIEW_LABELS, View, draw, facts_of
from app.web.templating import Page


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderRow:
    """The borders of one layer as they are set on the cutter."""

    name: str
    sides: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchPage(Page):
    """views: (value, label, address, current). acts: (stage, words) that may follow."""

    order_id: int
    order_number: str
    version: int
    number: int
    pieces: int
    heading: str
    artwork: str
    place: str
    condition: str
    customer_name: str
    stage: Stage
    due: date | None
    is_order: bool
    unit_name: str
    check_name: str
    drawing: Markup
    views: tuple[tuple[str, str, str, bool], ...]
    groups: tuple[CutGroup, ...]
    borders: tuple[BorderRow, ...]
    facts: tuple[tuple[str, str], ...]
    materials: tuple[tuple[str, str], ...]
    notices: tuple[Notice, ...]
    cautions: tuple[str, ...]
    acts: tuple[tuple[str, str], ...]
    may_take_back: bool


def bench_fields(order: Order, piece: Piece, shop: Shop, view: View) -> dict[str, Any]:
    """The page's own fields, from what was frozen with the piece."""
    found = findings(piece.artwork, piece.agreed)
    figures = Figures(steps=piece.agreed.steps)
    return {
        "order_id": order.id,
        "order_number": order.number,
        "version": order.version,
        "number": piece.number,
        "pieces": len(order.pieces),
        "heading": piece.artwork.title or "Untitled",
        "artwork": f"{piece.artwork.kind.value}, {figures.size(piece.agreed.spec.artwork)}",
        "place": piece.artwork.place,
        "condition": piece.artwork.condition,
        "customer_name": order.customer_name,
        "stage": piece.stage,
        "due": order.due,
        "is_order": order.order_number is not None,
        "unit_name": figures.unit_name,
        "check_name": figures.check_name,
        "drawing": draw(view, piece.artwork, piece.agreed, found),
        "views": _views(order.id, piece.number, view),
        "groups": cut_list(
            Cutting(
                agreed=piece.agreed,
                cut=found.cut,
                figures=figures,
                mat_word=shop.mat_word.value,
                saw_loss=shop.saw_loss,
            )
        ),
        "borders": _borders(found, shop.mat_word.value),
        "facts": facts_of(piece.agreed, found),
        "materials": materials_of(piece),
        "notices": found.notices,
        "cautions": tuple(text for _, text in found.cautions),
        "acts": tuple((s.value, NEXT_ACT[s]) for s in MAY_FOLLOW[piece.stage] if s in NEXT_ACT),
        "may_take_back": last_change(piece) is not None,
    }


def _views(order_id: int, number: int, current: View) -> tuple[tuple[str, str, str, bool], ...]:
    base = f"/orders/{order_id}/pieces/{number}"
    return tuple(
        (view.value, label, f"{base}?view={view.value}", view is current)
        for view, label in VIEW_LABELS.items()
    )


def _borders(found: Findings, mat_word: str) -> tuple[BorderRow, ...]:
    unit = found.cut.spec.unit
    return tuple(
        BorderRow(
            name=f"{mat_word.capitalize()} {layer.layer}",
            sides=tuple((side, show(length, unit)) for side, length in layer.borders.sides()),
        )
        for layer in found.cut.layers
    )
