"""The bench of a piece as JSON, for a cutter that a request describes."""

from collections.abc import Mapping
from typing import Any

from app.bench import Cutter, limit_notices, marks_of, mats_to_cut, plan_settings, sizing
from app.errors import Invalid
from app.framing import Concern, Dimensions, Notice
from app.orders.workbench import blanks_of
from app.web.api.responses_bench import Bench, BenchAnswered, NoticeAnswered


def bench_json(cut: Dimensions, cutter: Cutter) -> dict[str, Any]:
    """Return the answer's tree, in the unit of the cutter's scale.

    cut: in the shop's steps; what is left of it to cut may be nothing.
    """
    bench = _bench(cut, cutter)
    return BenchAnswered.of(bench, bench).plain()


def _bench(cut: Dimensions, cutter: Cutter) -> Bench:
    unit = cut.spec.unit
    try:
        mats = mats_to_cut(cut)
    except Invalid as invalid:
        nothing = Notice(code="nothing-to-cut", message=invalid.message, concern=Concern.RISK)
        return Bench(plan=plan_settings((), cutter), marks=(), limits=(nothing,), ticket=unit)
    return Bench(
        plan=plan_settings(mats, cutter, ticket=unit),
        marks=tuple(marks_of(mat, cutter) for mat in mats),
        limits=(*limit_notices(mats, cutter, unit), *sizing(blanks_of(cut), cutter).notices),
        ticket=unit,
    )


def notices_json(notices: tuple[Notice, ...]) -> list[Mapping[str, str]]:
    """Notices as the contract has them, with how each is meant."""
    return [NoticeAnswered.of(notice).plain() for notice in notices]
