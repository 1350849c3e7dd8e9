"""A piece at the shop's own cutter: settings and marks, what it cannot cut, the order of work.

Unlike what was agreed, this follows the cutter as it is described today: a corrected scale or a new
cutter shows on the next ticket.
"""

from dataclasses import dataclass

from app.bench import (
    Cutter,
    GuidePlan,
    Job,
    MatToCut,
    Step,
    limit_notices,
    mats_to_cut,
    order_of_work,
    plan_settings,
)
from app.framing import Notice
from app.orders.findings import Findings, work_facts
from app.orders.order import Agreed
from app.orders.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Workbench:
    """plan: None for a piece without mats. limits: what the cutter cannot do, and what can be done."""

    cutter: Cutter
    mats: tuple[MatToCut, ...]
    plan: GuidePlan | None
    limits: tuple[Notice, ...]
    steps: tuple[Step, ...]


def workbench(agreed: Agreed, found: Findings, shop: Shop) -> Workbench:
    """Everything that bench page and ticket say about cutting and making a piece (B1 to B6)."""
    cutter = shop.cutter
    mats = mats_to_cut(found.cut)
    plan = plan_settings(mats, cutter, ticket=agreed.spec.unit) if mats else None
    job = Job(
        cut=found.cut,
        facts=work_facts(agreed, found),
        mats=mats,
        plan=plan,
        mat_word=shop.mat_word.value,
    )
    return Workbench(
        cutter=cutter,
        mats=mats,
        plan=plan,
        limits=cutting_limits(found, shop),
        steps=order_of_work(job),
    )


def cutting_limits(found: Findings, shop: Shop) -> tuple[Notice, ...]:
    """What the shop's cutter cannot do with a piece, said before it is promised (B4)."""
    return limit_notices(
        mats_to_cut(found.cut),
        shop.cutter,
        found.cut.spec.unit,
        others=shop.cutters[1:],
    )
