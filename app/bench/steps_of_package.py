"""The steps from the glazing on: boards, spacers, rails, joining, fitting, hanging, label.

Source: handbook B6, G12, G14; common practice where no rule is named.
"""

from collections.abc import Iterator

from app.bench.step import Step, StepCode, StepDetail, StepJob, StepPart
from app.bench.steps_of_artwork import artwork_in, object_in
from app.framing import FrameSizes, Presentation
from app.framing.notices.care import Work
from app.framing.notices.weight import fixings_known, wire_text


def steps_of_package(job: StepJob) -> Iterator[Step]:
    """Yield everything after the mats, in the order of the work."""
    yield from _glazing(job)
    yield from _boards(job)
    yield from _spacers(job)
    for number, frame in enumerate(job.cut.frames, start=1):
        yield from _rails(job, number, frame)
    for number, frame in enumerate(job.cut.frames, start=1):
        yield _join(job, number, frame)
    if len(job.cut.frames) > 1:
        yield Step(
            id="frames-together",
            code=StepCode.FRAMES_TOGETHER,
            text="fix the empty frames into each other, from the inner one out",
        )
    yield from _closing(job)


def _frame_name(job: StepJob, number: int) -> str:
    if number == 1 and job.cut.spec.presentation is Presentation.CANVAS_FLOAT:
        return "tray"
    return f"frame {number}" if len(job.cut.frames) > 1 else "frame"


def steps_before_the_cut(job: StepJob) -> Iterator[Step]:
    """Yield the steps of the customer's own frame, which is taken apart before anything is cut for it (G24).

    Source: common practice; what is measured again then is worth more than what was measured closed.
    """
    given = job.cut.spec.given_frame
    if given is None or not given.own:
        return
    back = "; what is in it put by flat, as it lay" if _as_it_came(job) else ""
    yield Step(
        id="frame-apart",
        code=StepCode.TAKE_APART,
        text="before anything is cut take the customer's frame apart: old points and tape out, glass out on its edge"
        f"{back}; measure the rebate again: {job.say_size(given.counted)}",
        work=Work.APART,
    )
    yield Step(
        id="frame-clean",
        code=StepCode.CLEAN,
        text="clean frame and rebate, look at the corners, fix what is loose; dents and losses noted",
    )


def _as_it_came(job: StepJob) -> bool:
    return job.cut.spec.presentation is Presentation.AS_IT_CAME


def _glazing(job: StepJob) -> Iterator[Step]:
    size = job.cut.glazing
    if size is None:
        return
    then, work = ("film on", Work.ACRYLIC) if job.facts.acrylic else ("dull the edges", Work.GLASS)
    yield Step(
        id="glazing-cut",
        code=StepCode.GLAZING,
        text=f"cut the glazing {job.say_size(size)}, {then}",
        act=f"cut the glazing, {then}",
        parts=(StepPart(name="glazing", lengths=(size.width, size.height)),),
        work=work,
    )


def _boards(job: StepJob) -> Iterator[Step]:
    for id, name, size in (
        ("mount-board-cut", "mount board", job.cut.mount_board),
        ("backing-cut", "backing", job.cut.backing),
    ):
        if size is not None:
            ready = name in job.facts.ready_boards
            act = f"check the ready-cut {name} with a rule" if ready else f"cut the {name}"
            yield Step(
                id=id,
                code=StepCode.BOARD,
                text=f"{act}, {job.say_size(size)}" if ready else f"{act} {job.say_size(size)}",
                act=act,
                parts=(StepPart(name=name, lengths=(size.width, size.height)),),
            )


def _spacers(job: StepJob) -> Iterator[Step]:
    if job.cut.spacers:
        strips = ", ".join(f"{count} of {job.say(length)}" for length, count in job.cut.spacers)
        yield Step(
            id="spacers-cut",
            code=StepCode.SPACERS,
            text=f"cut the spacers: {strips}",
            act="cut the spacers",
            parts=tuple(
                StepPart(name="spacer", lengths=(length,), count=count)
                for length, count in job.cut.spacers
            ),
        )


def _rails(job: StepJob, number: int, frame: FrameSizes) -> Iterator[Step]:
    """Two rails of each length, the longer ones first."""
    name = _frame_name(job, number)
    pairs = zip(("top-bottom", "left-right"), frame.long_points, frame.short_points, strict=True)
    for sides, long, short in sorted(pairs, key=lambda pair: pair[1], reverse=True):
        yield Step(
            id=f"frame-{number}-rails-{sides}",
            code=StepCode.RAILS,
            text=f"{name}: 2 rails {sides.replace('-', ' and ')}, long point {job.say(long)}, "
            f"short point {job.say_on_rule(short)}, equal end to end",
            act=f"{name}: 2 rails {sides.replace('-', ' and ')}, cut to the long point (short point "
            f"{job.say_on_rule(short)}), equal end to end",
            parts=(StepPart(name=f"{name} rail", lengths=(long,), count=2),),
            work=Work.RAILS,
        )


def _join(job: StepJob, number: int, frame: FrameSizes) -> Step:
    name = _frame_name(job, number)
    return Step(
        id=f"frame-{number}-join",
        code=StepCode.JOIN,
        text=f"join the {name}: outside {job.say_size(frame.outside)}, diagonals equal; touch up "
        "the corners",
        act=f"join the {name} to its outside size, diagonals equal; touch up the corners",
        parts=(StepPart(name=name, lengths=(frame.outside.width, frame.outside.height)),),
        work=Work.JOIN,
    )


def _extras(job: StepJob) -> Iterator[Step]:
    """Yield work on the artwork that is ordered beside the parts, before it is placed; a stretched canvas with its size."""
    for number, extra in enumerate(job.extras, start=1):
        times = f", {extra.count} times" if extra.count > 1 else ""
        size = f": stretcher {job.say_size(job.cut.spec.artwork)}" if extra.stretched else ""
        yield Step(
            id=f"extra-{number}",
            code=StepCode.TREAT,
            text=f"{extra.name} ({extra.code}){times}{size}",
        )


def _closing(job: StepJob) -> Iterator[Step]:
    yield from _extras(job)
    yield from object_in(job) if job.cut.spec.boxed else artwork_in(job)
    yield from _spacers_in(job)
    closing = Work.SCREW if job.facts.screwed else Work.FIT
    yield Step(id="fit", code=StepCode.FIT, text=_fitting(job), work=closing)
    if job.cut.surrounds:
        yield Step(
            id="hang",
            code=StepCode.HANG,
            text=f"fix {_hung_by(job)} level, both sides alike",
            work=Work.HANG,
            details=tuple(_fixings(job)),
        )
    yield Step(id="label", code=StepCode.LABEL, text="label with number and name")


def _spacers_in(job: StepJob) -> Iterator[Step]:
    """Yield the spacers going in, which hold off the glazing what lies behind them.

    They stand between glazing and mats; of an object in a box behind the mats, as the walls of the box.
    Source: handbook D1, G22.
    """
    if not job.cut.spacers:
        return
    before = [
        name
        for name, there in (
            ("the glazing", job.cut.glazing),
            (f"the {_mats(job)}", job.cut.layers and job.cut.spec.boxed),
        )
        if there
    ]
    clean = f"{_CLEAN}; " if job.cut.glazing else ""
    lay = f"{clean}lay {' and '.join(before)} in, then " if before else ""
    yield Step(
        id="spacers-fix",
        code=StepCode.SPACERS_IN,
        text=f"{lay}fix the spacers along the {_walls(job)}",
        work=Work.FIT if job.cut.surrounds else None,
    )


def _walls(job: StepJob) -> str:
    """Return what spacers stand along."""
    if job.cut.surrounds:
        return "walls of the rebate"
    return f"edges of the {'glass' if job.cut.glazing else 'package'}"


def _hung_by(job: StepJob) -> str:
    if job.hanging is None or job.hanging.unchosen or job.hanging.wireless:
        return "the hanging parts"
    return "two straps or a cleat" if job.hanging.wire is None else "the rings"


def _fixings(job: StepJob) -> Iterator[StepDetail]:
    """Yield where hanging parts go, from where that is measured, and how long the wire is cut (D3, D10).

    Nothing of a frame that is given and was not measured outside.
    """
    hanging = job.hanging
    if hanging is None or not fixings_known(job.cut):
        return
    wire = ""
    if not hanging.unchosen:
        wire = (
            "; no wire"
            if hanging.wire is None
            else f"; wire {wire_text(hanging.wire, job.cut.spec.unit)}"
        )
    yield StepDetail(
        name="Fixings",
        text=f"{job.say_nearest(hanging.fixings_down)} below the frame’s top edge, "
        f"{job.say_nearest(hanging.fixings_apart)} between centres{wire}",
    )


_CLEAN = "clean both faces of the glazing"


def _closing_box(job: StepJob) -> str:
    """Return the step of the board with its object, which goes in last, behind mats and spacers that are in already."""
    dust = "no dust on glazing and object; " if job.cut.glazing else ""
    points = ", drive the points" if job.cut.surrounds else ""
    seal = ", seal the back" if job.cut.backing is not None and job.cut.surrounds else ""
    return f"{dust}lay the board with the object in behind the spacers{points}{seal}"


def _fitting(job: StepJob) -> str:
    if job.cut.spec.boxed and job.cut.spacers:
        return _closing_box(job)
    clean = f"{_no_dust(job)}; " if job.cut.glazing else ""
    seal = ", seal the back" if job.cut.backing is not None and job.cut.surrounds else ""
    if not job.cut.surrounds:
        return f"{clean}bind {_what_goes_in(job, bound=True)} together with tape"
    what = "panel" if job.facts.panel else "canvas"
    match job.cut.spec.presentation:
        case Presentation.CANVAS_FLOAT:
            return f"{clean}screw the {what} from behind{seal}"
        case Presentation.CANVAS:
            return f"{clean}seat the {what}, clips in{seal}"
        case _:
            behind = " in behind the spacers" if job.cut.spacers else ""
            return f"{clean}fit {_what_goes_in(job)}{behind}, drive the points{seal}"


def _no_dust(job: StepJob) -> str:
    """Say that the glazing is clean when the piece is closed; with spacers it was cleaned before they went in."""
    return "no dust behind the glazing" if job.cut.spacers else f"{_CLEAN}, no dust behind it"


def _mats(job: StepJob) -> str:
    """Return what the shop calls the mats of the piece, one or several."""
    return f"{job.mat_word}s" if len(job.cut.layers) > 1 else job.mat_word


def _what_goes_in(job: StepJob, *, bound: bool = False) -> str:
    """Name what is fitted behind the glazing: "mats, artwork and back". bound: with glazing and spacers themselves."""
    parts = [
        name
        for name, there in (
            ("glazing", bound and job.cut.glazing),
            ("spacers", bound and job.cut.spacers),
            (_mats(job), job.cut.layers),
            ("what was in it" if _as_it_came(job) else "artwork", True),
            ("back", job.cut.backing or job.cut.mount_board),
        )
        if there
    ]
    return f"{', '.join(parts[:-1])} and {parts[-1]}" if len(parts) > 1 else parts[0]
