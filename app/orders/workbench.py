"""A piece at the shop's own cutter: settings and marks, what it cannot cut, the order of work.

Unlike what was agreed, this follows the cutter as it is described today: a corrected scale or a new
cutter shows on the next ticket. It is read on its scale of the piece's unit, where it has one (B8).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from app.bench import (
    Blank,
    Cutter,
    ExtraWork,
    GuidePlan,
    MatToCut,
    Sizing,
    Step,
    StepJob,
    limit_notices,
    mats_to_cut,
    order_of_work,
    plan_settings,
    sized_on_arm,
    sizing,
)
from app.errors import Invalid
from app.framing import Concern, Dimensions, Notice, Presentation
from app.framing.layer_names import numbered
from app.framing.notices.care import WorkFacts
from app.lengths import Unit
from app.orders.fallouts import KeptFallout, fallouts_to_keep
from app.orders.order import Agreed
from app.orders.piece_report import Findings
from app.orders.shop import Shop
from app.pricing import ChargeBy


@dataclass(frozen=True, slots=True, kw_only=True)
class Workbench:
    """cutter: as it is read for this piece. plan: None for a piece without mats.

    limits: what the cutter cannot do, and what can be done. kept: the fallouts that go back into stock.
    sizing: what is set on the squaring arm; None on a cutter that says nothing of one. mat_word: what the shop
    calls a mat.
    """

    cutter: Cutter
    mats: tuple[MatToCut, ...]
    plan: GuidePlan | None
    limits: tuple[Notice, ...]
    steps: tuple[Step, ...]
    kept: tuple[KeptFallout, ...]
    sizing: Sizing | None
    mat_word: str = "mat"


def workbench(agreed: Agreed, found: Findings, shop: Shop) -> Workbench:
    """Return everything that bench page and ticket say about cutting and making a piece (B1 to B6)."""
    cutter = shop.cutter_in(found.cut.spec.unit)
    mats, plan = mats_and_settings(found.cut, cutter, found.facts.ready_mats)
    job = StepJob(
        cut=found.cut,
        facts=found.facts,
        mats=mats,
        plan=plan,
        mat_word=shop.mat_word.value,
        hanging=found.hung,
        steps=agreed.steps,
        extras=extra_work(agreed),
    )
    return Workbench(
        cutter=cutter,
        mats=mats,
        plan=plan,
        limits=_limits(mats, found, shop),
        steps=order_of_work(job),
        kept=fallouts_to_keep(agreed, found, shop.keep),
        sizing=sizing(blanks_of(found.cut, shop.mat_word.value, agreed.copies, found.facts), cutter)
        if sized_on_arm(cutter)
        else None,
        mat_word=shop.mat_word.value,
    )


WORK_TAGS = frozenset({"adhesive", "canvas", "conservation", "float", "textile"})
"""Tags of extras that are work on the artwork before it is placed; others are things, or come once it is framed. Source: ours."""


def extra_work(agreed: Agreed) -> tuple[ExtraWork, ...]:
    """Return the chosen extras that are work on the artwork, by their tags; what is charged by length is a strip or tape."""
    on_canvas = agreed.spec.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)
    return tuple(
        ExtraWork(
            code=each.material.code,
            name=each.material.name,
            count=each.count,
            stretched=on_canvas and "canvas" in each.material.tags,
        )
        for each in agreed.chosen.extras
        if WORK_TAGS.intersection(each.material.tags)
        and each.material.charge.by is not ChargeBy.LENGTH
    )


def blanks_of(
    cut: Dimensions, word: str = "mat", copies: int = 1, facts: WorkFacts | None = None
) -> tuple[Blank, ...]:
    """Return every board of a piece that is cut from a sheet edge to edge at the mat cutter: mats, mount board, backing.

    Glass is not among them: it is cut at a table with a straight-edge of its own; nor is what is bought in its size, as
    far as facts of the piece are given. cut: in steps; word: for a mat; copies: how many are alike.
    Source: handbook B11.
    """
    mats, boards = (facts.ready_mats, facts.ready_boards) if facts else (frozenset(), frozenset())
    parts = (
        *(
            (numbered(word, layer.layer, len(cut.layers)), layer.layer, layer.blank)
            for layer in cut.layers
            if layer.layer not in mats
        ),
        ("mount board", None, cut.mount_board),
        ("backing", None, cut.backing),
    )
    return tuple(
        Blank(
            part=part,
            layer=layer,
            width=size.width,
            height=size.height,
            count=copies,
        )
        for part, layer, size in parts
        if size is not None and part not in boards
    )


def mats_and_settings(
    cut: Dimensions, cutter: Cutter, ready: frozenset[int] = frozenset()
) -> tuple[tuple[MatToCut, ...], GuidePlan | None]:
    """Return the mats of a piece and where the guide is set for them; no settings without mats. cut: in steps; ready: layers
    whose blanks are bought in their size.

    Raises: Invalid where nothing is left to cut in the shop's steps.
    """
    mats = tuple(replace(mat, ready_cut=mat.layer in ready) for mat in mats_to_cut(cut))
    return mats, _planned(mats, cutter, cut.spec.unit) if mats else None


@lru_cache(maxsize=128)
def _planned(mats: tuple[MatToCut, ...], cutter: Cutter, ticket: Unit) -> GuidePlan:
    """Return the settings for the mats of a piece; the last few are remembered, since many windows take a while."""
    return plan_settings(mats, cutter, ticket=ticket)


def cutting_limits(found: Findings, shop: Shop) -> tuple[Notice, ...]:
    """Return what the shop's cutter cannot do with a piece, said before it is promised (B4)."""
    try:
        mats = mats_to_cut(found.cut)
    except Invalid as invalid:
        message = f"{invalid.message} Nothing is left to cut in the shop's steps."
        return (Notice(code="nothing-to-cut", message=message, concern=Concern.RISK),)
    return _limits(mats, found, shop)


def _limits(mats: tuple[MatToCut, ...], found: Findings, shop: Shop) -> tuple[Notice, ...]:
    """Return what the shop's cutter cannot do with the mats of a piece and with its other parts."""
    unit = found.cut.spec.unit
    cutter, others = shop.cutter_in(unit), [other.read_in(unit) for other in shop.cutters[1:]]
    beyond_arm = sizing(
        blanks_of(found.cut, shop.mat_word.value, facts=found.facts), cutter
    ).notices
    return (
        *limit_notices(mats, cutter, unit, others=others, mat_word=shop.mat_word.value),
        *beyond_arm,
    )


_OF_ANY_CUTTER = {
    "needs-oval-cutter": "needs-cutter-for-ovals",
    "reverse-bevel-attached": "reverse-bevel-attached",
}
"""What a piece says of cutters at large, and what a limit of the shop's own says in its place."""


def notices_at_shop(
    found: Findings, shop: Shop, limits: Sequence[Notice] | None = None
) -> tuple[Notice, ...]:
    """Return the notices of a piece in a shop that has to cut it: with the limits of its own cutter.

    What they say of a cutter at large is left out where the own one can do it, or says it better. limits: of the piece's
    workbench, where that is known already.
    """
    limits = cutting_limits(found, shop) if limits is None else limits
    said = {limit.code for limit in limits}
    left_out = {at_large for at_large, own in _OF_ANY_CUTTER.items() if own in said}
    if shop.cutter.cuts_ovals:
        left_out.add("needs-oval-cutter")
    return (*(notice for notice in found.notices if notice.code not in left_out), *limits)
