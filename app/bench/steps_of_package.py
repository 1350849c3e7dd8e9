"""The steps from the glazing on: boards, spacers, rails, joining, fitting, hanging, label.

Source: handbook B6, G12, G14; common practice where no rule is named.
"""

from collections.abc import Iterator

from app.bench.step import Step, StepCode, StepJob, StepPart
from app.framing import FrameSizes, Presentation
from app.framing.notices.care import Work


def steps_of_package(job: StepJob) -> Iterator[Step]:
    """Yield everything after the mats, in the order of the work."""
    yield from _glazing(job)
    yield from _boards(job)
    yield from _spacers(job)
    for number, frame in enumerate(job.cut.frames, start=1):
        yield from _rails(job, number, frame)
    for number, frame in enumerate(job.cut.frames, start=1):
        yield _join(job, number, frame)
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
            yield Step(
                id=id,
                code=StepCode.BOARD,
                text=f"cut the {name} {job.say_size(size)}",
                act=f"cut the {name}",
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


def _closing(job: StepJob) -> Iterator[Step]:
    yield from _object_in(job) if job.cut.spec.boxed else _artwork_in(job)
    yield Step(id="fit", code=StepCode.FIT, text=_fitting(job), work=Work.FIT)
    if len(job.cut.frames) > 1:
        yield Step(
            id="frames-together",
            code=StepCode.FRAMES_TOGETHER,
            text="fix the frames into each other, from the inner one out",
        )
    if job.cut.surrounds:
        yield Step(
            id="hang",
            code=StepCode.HANG,
            text="fix the hanging parts level, both sides alike",
            work=Work.HANG,
        )
    yield Step(id="label", code=StepCode.LABEL, text="label with number and name")


def _artwork_in(job: StepJob) -> Iterator[Step]:
    yield Step(id="artwork-place", code=StepCode.PLACE, text=_placing(job))


def _object_in(job: StepJob) -> Iterator[Step]:
    """Yield the steps of an object, which is mounted and never hinged; its spacers hold mats and glazing off it (G22).

    Source: common practice; held so that it can be taken off again, as D6 has it of originals.
    """
    boards = (("mount board", job.cut.mount_board), ("backing", job.cut.backing))
    board = next((name for name, size in boards if size is not None), "board")
    yield Step(
        id="object-mount",
        code=StepCode.PLACE,
        text=f"object: condition as noted; mount the object on the {board}, held so that it can be "
        "taken off again, nothing loose",
        work=Work.OBJECT,
    )
    if job.cut.spacers:
        above = [
            name
            for name, there in (("the glazing", job.cut.glazing), ("the mats", job.cut.layers))
            if there
        ]
        clean = f"{_CLEAN}; " if job.cut.glazing else ""
        lay = f"{clean}lay {' and '.join(above)} in, then " if above else ""
        walls = "walls of the rebate" if job.cut.surrounds else "edges of the package"
        yield Step(
            id="spacers-fix",
            code=StepCode.SPACERS_IN,
            text=f"{lay}fix the spacers along the {walls}",
            work=Work.FIT if job.cut.surrounds else None,
        )


def _placing(job: StepJob) -> str:
    return f"artwork: condition as noted; {_how_it_is_placed(job)}"


def _how_it_is_placed(job: StepJob) -> str:
    match job.cut.spec.presentation:
        case Presentation.WINDOW:
            return "place it behind the window, held without strain"
        case Presentation.FLOAT:
            return "raise it and float it in the middle"
        case Presentation.CLOSE:
            return "place it, free to move"
        case Presentation.CANVAS:
            return "keys and corners sound"
        case Presentation.CANVAS_FLOAT:
            return f"centre it in the tray, {job.say(job.cut.spec.gap)} all round"
        case Presentation.AS_IT_CAME:
            return "lay what was in the frame back as it lay"


_CLEAN = "clean both faces of the glazing"


def _closing_box(job: StepJob) -> str:
    """Return the step of the board with its object, which goes in last, behind mats and spacers that are in already."""
    dust = "no dust on glazing and object; " if job.cut.glazing else ""
    points = ", points in" if job.cut.surrounds else ""
    seal = ", seal the back" if job.cut.backing is not None and job.cut.surrounds else ""
    return f"{dust}lay the board with the object in behind the spacers{points}{seal}"


def _fitting(job: StepJob) -> str:
    if job.cut.spec.boxed and job.cut.spacers:
        return _closing_box(job)
    clean = f"{_CLEAN}, no dust behind it; " if job.cut.glazing else ""
    seal = ", seal the back" if job.cut.backing is not None and job.cut.surrounds else ""
    if not job.cut.surrounds:
        return f"{clean}close the package"
    match job.cut.spec.presentation:
        case Presentation.CANVAS_FLOAT:
            return f"{clean}screw the canvas from behind{seal}"
        case Presentation.CANVAS:
            return f"{clean}seat the canvas, clips in{seal}"
        case _:
            return f"{clean}lay the package in, points in{seal}"
