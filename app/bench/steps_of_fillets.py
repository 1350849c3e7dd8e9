"""The steps of a fillet: its rails, longest first, then glued behind the windows it lines.

Source: handbook G12, G19; common practice for the order, since a fillet is fitted to the cut window.
"""

from collections.abc import Iterator

from app.bench.step import Step, StepCode, StepJob, StepPart
from app.framing import FilletRails
from app.framing.notices.care import Work


def steps_of_fillets(job: StepJob) -> Iterator[Step]:
    """Yield everything between the mats and the glazing."""
    if not job.cut.fillets:
        return
    for rails in job.cut.fillet_rails:
        yield _rails(job, rails)
    yield _in(job)


def _rails(job: StepJob, rails: FilletRails) -> Step:
    """Return all rails of one length; equal ones of several windows are cut together."""
    length = job.say(rails.long).replace(" ", "-").replace("/", "-")
    names = f" for {', '.join(rails.names)}" if len(job.cut.fillets) > 1 else ""
    return Step(
        id=f"fillet-rails-{length}",
        code=StepCode.FILLET_RAILS,
        text=f"fillet: {rails.count} rails{names}, long point {job.say(rails.long)}, short point "
        f"{job.say_on_rule(rails.short)}, equal end to end",
        act=f"fillet: {rails.count} rails{names}, cut to the long point (short point {job.say_on_rule(rails.short)}), "
        "equal end to end",
        parts=(StepPart(name="fillet rail", lengths=(rails.long,), count=rails.count),),
        work=Work.RAILS,
    )


def _in(job: StepJob) -> Step:
    fillets, fillet = job.cut.fillets, job.cut.spec.fillet
    several = len(fillets) > 1
    tucked = f", {job.say_on_rule(fillet.tuck)} tucked all round" if fillet else ""
    return Step(
        id="fillet-in",
        code=StepCode.FILLET_IN,
        text=f"glue {'a fillet behind each window' if several else 'the fillet behind the window'}"
        f"{tucked}: mitres tight, pressed until it holds",
        parts=tuple(
            StepPart(
                name=f"fillet {one.name}".rstrip(), lengths=(one.outside.width, one.outside.height)
            )
            for one in fillets
        ),
        work=Work.JOIN,
    )
