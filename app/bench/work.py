"""The order of work of one piece, for its ticket and its page at the bench (B6).

Owns which step bears which caution and which one offers the next stage. Ticks are kept elsewhere,
by the steps' ids.
"""

from collections.abc import Iterable
from dataclasses import replace

from app.bench.step import StageOffer, Step, StepJob
from app.bench.steps_of_fillets import steps_of_fillets
from app.bench.steps_of_mats import steps_of_mats
from app.bench.steps_of_package import steps_before_the_cut, steps_of_package
from app.framing.notices.care import Work, cautions_for


def order_of_work(job: StepJob) -> tuple[Step, ...]:
    """Return every step of a piece, in the order in which it is done.

    The last step that cuts a part offers the stage "cut" (the first step of a piece that has none
    to cut), the last of all "framed". A caution stands at the first step of its kind.
    """
    steps = (
        *steps_before_the_cut(job),
        *steps_of_mats(job),
        *steps_of_fillets(job),
        *steps_of_package(job),
    )
    return _offering(_warning(steps, job))


def step_after(steps: Iterable[Step], ticked: frozenset[str]) -> Step | None:
    """Return the first step that is not ticked; None when all are."""
    return next((step for step in steps if step.id not in ticked), None)


def _warning(steps: tuple[Step, ...], job: StepJob) -> tuple[Step, ...]:
    """Return each caution at its step; lifting is at the fitting, and none is ever lost."""
    at: dict[int, list[str]] = {}
    closing = Work.SCREW if job.facts.screwed else Work.FIT
    for work, caution in cautions_for(job.facts):
        wanted = closing if work is Work.LIFT else work
        place = next((n for n, step in enumerate(steps) if step.work is wanted), 0)
        at.setdefault(place, []).append(caution)
    return tuple(
        replace(step, cautions=tuple(at.get(number, ()))) for number, step in enumerate(steps)
    )


def _offering(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    last_cut = max((n for n, step in enumerate(steps) if step.code.cutting), default=0)
    offers = {last_cut: StageOffer.CUT, len(steps) - 1: StageOffer.FRAMED}
    return tuple(replace(step, offers=offers.get(number)) for number, step in enumerate(steps))
