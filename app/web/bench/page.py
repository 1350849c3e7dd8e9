"""The page of one piece for the workshop: the steps to tick, what to set and cut, what comes next.

The QR code of a ticket leads here once phones reach the app: it is made for a phone beside the cutter.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Any

from markupsafe import Markup

from app.bench import Edge, MatToCut, marks_of
from app.documents.kit.printing import Figures
from app.documents.ticket.cut_list import CutGroup, CutListBasis, cut_list
from app.drawings import NotedDrawing, back_marks, mat_plan, measured_for_a_phone
from app.framing import Edges, Notice
from app.framing.layer_names import numbered
from app.lengths import Unit, show
from app.orders import Piece, Shop, Stage
from app.orders.artwork_size import artwork_size
from app.orders.copies import in_words
from app.orders.piece_report import Findings
from app.orders.workbench import notices_at_shop
from app.services.bench import AtBench
from app.services.orders import is_changeable
from app.stock.planning.problems import OnRack
from app.web.bench.materials import ToPull, to_pull
from app.web.bench.slip import SlipView
from app.web.bench.spoiling import SpoilingView
from app.web.bench.steps import StepList, steps_of
from app.web.kit.templating import Page
from app.web.kit.visitor import OWNER, Visitor
from app.web.orders.acts import Act, acts_of, may_move, undo_of
from app.web.pieces.cutter_panel import (
    ArmPanel,
    GuidePanel,
    MatMarks,
    Naming,
    arm_panel,
    guide_panel,
    mat_marks,
)
from app.web.pieces.material_states import MaterialStand
from app.web.pieces.piece import VIEW_LABELS, DrawingView, draw, facts_of
from app.web.pieces.planned import PlannedView
from app.web.pieces.printed import PrintedView
from app.web.pieces.readable import readable
from app.web.pieces.spoiled import SpoiledView
from app.web.pieces.stock import NOTHING_FROM_RACK, OffcutView, from_rack


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderRow:
    """The borders of one layer, each to the nearest window at the back of the board. sides: by edge as it lies on the cutter."""

    name: str
    sides: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchPage(Page):
    """The bench page of a piece.

    views: (value, label, address, current). acts: what may follow beside what a ticked step offers. undo: the
    words to take the last change back. copies: how many are alike; spread: how these stand, where they do not
    all stand at the stage.

    to_choose: why this is not settled yet, where a design is still to be chosen.
    pull: what is fetched first. uncut: whether it is still to be cut, so that it is to be fetched now.
    tickable: whether its steps can be ticked now. printed: None where no ticket was printed; spoiled: None where
    no part is to be cut anew.
    arm: what is set on the squaring arm, None on a cutter that says nothing of one. panel: None for a piece without mats.
    slip: None where nothing is to be measured. asks: why marking it cut asks first.
    """

    section: str = "Orders"
    wide: bool = True
    order_id: int
    order_number: str
    version: int
    number: int
    called: str
    heading: str
    artwork: str
    condition: str
    note: str
    customer_name: str
    stage: Stage
    copies: int
    spread: str
    due: date | None
    is_order: bool
    to_choose: str
    unit: str
    unit_name: str
    check_name: str
    check_unit: str
    tickable: bool
    work: StepList
    arm: ArmPanel | None
    panel: GuidePanel | None
    marks: tuple[MatMarks, ...]
    drawing: Markup
    drawing_notes: tuple[str, ...]
    views: tuple[tuple[str, str, str, bool], ...]
    groups: tuple[CutGroup, ...]
    borders: tuple[BorderRow, ...]
    facts: tuple[tuple[str, str], ...]
    pull: tuple[ToPull, ...]
    uncut: bool
    stands: tuple[MaterialStand, ...]
    notices: tuple[Notice, ...]
    offcuts: tuple[OffcutView, ...]
    planned: PlannedView | None
    printed: PrintedView | None
    spoiled: SpoiledView | None
    asks: tuple[str, ...]
    spoiling: SpoilingView
    slip: SlipView | None
    acts: tuple[Act, ...]
    undo: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fetched:
    """What is known of the materials of a piece: what lies free of them, and where they usually lie, by their codes."""

    rack: Sequence[OnRack] = ()
    usual: Mapping[str, str] = MappingProxyType({})


def bench_fields(
    at: AtBench,
    shop: Shop,
    view: DrawingView,
    fetched: Fetched = Fetched(),
    visitor: Visitor = OWNER,
) -> dict[str, Any]:
    """Return the page's own fields, which follow from the frozen piece and from today's cutter and stock."""
    order, piece, found = at.order, at.piece, at.found
    figures = Figures(steps=piece.agreed.steps)
    uncut = is_changeable(piece)
    stock = from_rack(piece.agreed, shop, fetched.rack) if uncut else NOTHING_FROM_RACK
    work = _work(at, figures, _naming(shop.mat_word.value, len(at.bench.mats)))
    drawn = _drawn(view, piece, found)
    return {
        "order_id": order.id,
        "order_number": order.number,
        "version": order.version,
        "number": piece.number,
        "called": order.called(piece),
        "heading": piece.artwork.title or "Untitled",
        "artwork": f"{piece.artwork.kind.value}, {artwork_size(piece.agreed.spec, mark=False)}",
        "condition": piece.artwork.condition,
        "note": piece.agreed.note,
        "customer_name": order.customer_name,
        "stage": piece.stage,
        "copies": piece.copies,
        "spread": in_words(piece.stands),
        "due": order.due,
        "is_order": order.order_number is not None,
        "to_choose": _to_choose(piece),
        "unit": figures.unit.value,
        "unit_name": figures.unit_name,
        "check_name": figures.check_name,
        "check_unit": (Unit.IN if figures.unit is Unit.MM else Unit.MM).value,
        **work,
        "drawing": readable(drawn.svg),
        "drawing_notes": drawn.notes,
        "views": _views(order.id, piece.number, view),
        "groups": cut_list(
            CutListBasis(
                agreed=piece.agreed,
                found=found,
                figures=figures,
                mat_word=shop.mat_word.value,
                saw_loss=shop.saw_loss,
            )
        ),
        "borders": _borders(at, shop.mat_word.value),
        "facts": facts_of(piece.agreed, found, shop),
        "pull": to_pull(piece, fetched.rack, fetched.usual),
        "uncut": uncut,
        "notices": (*stock.notices, *notices_at_shop(found, shop)) if uncut else found.notices,
        "offcuts": stock.offcuts,
        "acts": _acts(piece, work["work"], visitor),
        "undo": undo_of(piece, visitor),
    }


def _drawn(view: DrawingView, piece: Piece, found: Findings) -> NotedDrawing:
    """Draw one view of the piece; the measured one so that a phone shows all of it."""
    agreed = piece.agreed
    if view is DrawingView.MEASURED:
        return measured_for_a_phone(found.exact, agreed.spec.unit, agreed.steps)
    return NotedDrawing(svg=draw(view, piece.artwork, agreed, found), notes=())


def _to_choose(piece: Piece) -> str:
    """Say that a design is still to be chosen; empty where none is."""
    if not piece.undecided:
        return ""
    return (
        f"This piece has {len(piece.designs)} designs and none of them is chosen yet; "
        f"what stands here is design {piece.counted.letter}."
    )


def _acts(piece: Piece, work: StepList, visitor: Visitor) -> tuple[Act, ...]:
    """Return what may follow by the visitor, without what a ticked step offers already."""
    offered = {step.offer.stage for step in work.steps if step.offer}
    return tuple(
        act for act in acts_of(piece) if act[0] not in offered and may_move(visitor, act[0])
    )


def _naming(mat_word: str, count: int) -> Naming:
    return lambda layer: numbered(mat_word, layer, count)


def _work(at: AtBench, figures: Figures, name: Naming) -> dict[str, Any]:
    """Return the fields for the steps, the settings and the marks."""
    plan = at.bench.plan
    return {
        "tickable": at.tickable,
        "work": steps_of(at, figures, name),
        "arm": arm_panel(at.bench.sizing, at.bench.cutter),
        "panel": guide_panel(plan, name)
        if plan and (plan.settings or plan.by_straight_edge)
        else None,
        "marks": tuple(
            mat_marks(
                mat,
                at.bench.cutter,
                figures.unit,
                name=name(mat.layer),
                drawing=_marks(at, mat, figures.unit),
            )
            for mat in at.bench.mats
        ),
    }


def _marks(at: AtBench, mat: MatToCut, unit: Unit) -> NotedDrawing:
    """Draw the mat as it lies on the cutter; where nothing can be set there, draw its plan alone."""
    plan = at.bench.plan
    if plan is None:
        return NotedDrawing(mat_plan(at.found.cut, mat.layer, unit, from_back=mat.back_up), ())
    return back_marks(marks_of(mat, at.bench.cutter), plan, unit)


VIEWS = (DrawingView.SEEN, DrawingView.MEASURED, DrawingView.SECTION)
"""What is looked at while a piece is made."""


def _views(
    order_id: int, number: int, current: DrawingView
) -> tuple[tuple[str, str, str, bool], ...]:
    base = f"/orders/{order_id}/pieces/{number}"
    return tuple(
        (view.value, label, f"{base}?view={view.value}", view is current)
        for view, label in VIEW_LABELS.items()
        if view in VIEWS
    )


def _borders(at: AtBench, mat_word: str) -> tuple[BorderRow, ...]:
    """Return the borders of each layer by edge as its mat lies on the cutter, like all else that is cut (G10)."""
    return tuple(
        BorderRow(
            name=f"{mat_word.capitalize()} {layer.layer}",
            sides=_as_it_lies(mat, layer.borders, at.found.cut.spec.unit),
        )
        for layer, mat in zip(at.found.cut.layers, at.bench.mats, strict=True)
    )


def _as_it_lies(mat: MatToCut, borders: Edges, unit: Unit) -> tuple[tuple[str, str], ...]:
    seen = dict(borders.sides())
    return tuple((side, show(seen[mat.as_it_lies(Edge(side))], unit)) for side in seen)
