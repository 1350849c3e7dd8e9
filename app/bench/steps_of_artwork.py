"""The steps that place what is framed: an artwork behind its window or in its frame, an object on its board.

Source: handbook B6, G22, G25, D9; common practice where no rule is named.
"""

from collections.abc import Iterator

from app.bench.step import Step, StepCode, StepDetail, StepJob
from app.framing import Presentation
from app.framing.notices.care import Work
from app.framing.placing import (
    alike_by,
    carrying_board,
    hinges_alike,
    placed_artworks,
)
from app.framing.window_names import in_short
from app.lengths import Size


def artwork_in(job: StepJob) -> Iterator[Step]:
    """Yield the step that places what is framed and is no object in a box."""
    yield Step(
        id="artwork-place",
        code=StepCode.PLACE,
        text=f"{_placing(job)}{_placed_at(job)}",
        details=(*_place(job), *_hinges(job)),
    )


def object_in(job: StepJob) -> Iterator[Step]:
    """Yield the step of an object, which is mounted and never hinged (G22).

    Source: common practice; held so that it can be taken off again, as D6 has it of originals.
    """
    boards = (("mount board", job.cut.mount_board), ("backing", job.cut.backing))
    board = next((name for name, size in boards if size is not None), "board")
    yield Step(
        id="object-mount",
        code=StepCode.PLACE,
        text=f"object: {_noted(job)}mount the object on the {board}, held so that it can be "
        "taken off again, nothing loose",
        work=Work.OBJECT,
        details=tuple(_place(job)),
    )


def _noted(job: StepJob) -> str:
    return "condition as noted; " if job.facts.noted else ""


def _placing(job: StepJob) -> str:
    return f"artwork: {_noted(job)}{_how_it_is_placed(job)}"


def _how_it_is_placed(job: StepJob) -> str:
    several = len(job.cut.artworks) > 1
    match job.cut.spec.presentation:
        case Presentation.WINDOW:
            lies = "each behind its window" if several else "it behind the window"
            if job.cut.behind_all is not None:
                lies = "it behind all windows"
            return f"place {lies}, held without strain"
        case Presentation.FLOAT:
            return _floated(job)
        case Presentation.CLOSE:
            return "place it, free to move"
        case Presentation.CANVAS:
            return "edges and corners sound" if job.facts.panel else "keys and corners sound"
        case Presentation.CANVAS_FLOAT:
            return f"centre it in the tray, {job.say_on_rule(job.cut.spec.gap)} all round"
        case Presentation.AS_IT_CAME:
            return "lay what was in the frame back as it lay"


def _floated(job: StepJob) -> str:
    """Say how artworks are raised, in the middle of what, and how far from its edges (G2).

    The middle is that of the window; a board with a wider border at the bottom has its own elsewhere.
    """
    placed = placed_artworks(job.cut)
    last = job.cut.windows_of(len(job.cut.layers)) if job.cut.layers else ()
    around = {each.name: each.size for each in last}
    gaps = {_gaps(job, around.get(name, job.cut.package), size) for name, size in job.cut.artworks}
    board = _called(carrying_board(job.cut)[0])
    if len(job.cut.artworks) > 1:
        middle = "raise each and float it in the middle of its window"
    else:
        middle = f"raise it and float it in the middle of the {'window' if around else board}"
    return f"{middle}, {gaps.pop()}" if placed and len(gaps) == 1 else middle


def _gaps(job: StepJob, around: Size, size: Size) -> str:
    """As "10 all round", or "10 left and right, 12 above and below"."""
    beside = job.say_nearest((around.width - size.width) / 2)
    above = job.say_nearest((around.height - size.height) / 2)
    if beside == above:
        return f"{beside} all round"
    return f"{beside} left and right, {above} above and below"


def _placed_at(job: StepJob) -> str:
    """Say behind the step of one float where it lies on its board, which no window hides (G25); "" of all else."""
    return f"; {place}" if _is_one_float(job) and (place := _on_board(job)) else ""


def _is_one_float(job: StepJob) -> bool:
    spec = job.cut.spec
    return spec.presentation is Presentation.FLOAT and not spec.boxed and len(job.cut.artworks) == 1


def _place(job: StepJob) -> Iterator[StepDetail]:
    """Yield where artworks lie on their board, but for the one float, whose step says it; of one behind several windows,
    where it lies on the back too.
    """
    if not _is_one_float(job) and (place := _on_board(job)):
        yield StepDetail(name="Place" if job.cut.spec.boxed else "Artwork", text=place)
    one = job.cut.behind_all
    if one is not None:
        back = job.say_nearest(one.back_x)
        yield StepDetail(
            name="On the back",
            text=f"left {back}, top {job.say_nearest(one.y)} from the edges of the {job.mat_word}, seen from the back",
        )


def _on_board(job: StepJob) -> str:
    """Say where artworks lie on their board, by its edges (G25); of several, equal places together; "" where none does."""
    placed = placed_artworks(job.cut)
    if not placed:
        return ""
    board, _ = carrying_board(job.cut)
    lefts = alike_by(placed, [job.say_nearest(each.left) for each in placed])
    tops = alike_by(placed, [job.say_nearest(each.top) for each in placed])
    if len(placed) == 1:
        edges = f"left {lefts[0][0]}, top {tops[0][0]}"
    else:
        edges = f"left {_of_each(lefts)}; top {_of_each(tops)}"
    return f"{edges} from the {_called(board)}’s edges, face up"


def _called(board: str) -> str:
    """Return what a board is called at the bench: a package without mats and boards has the edges of its glass."""
    return "glass" if board == "package" else board


def _of_each(alike: tuple[tuple[str, tuple[str, ...]], ...]) -> str:
    """As "A, E 55 · B, F 185"; without names where all are alike."""
    if len(alike) == 1:
        return f"all {alike[0][0]}"
    return " · ".join(f"{in_short(names)} {length}" for length, names in alike)


def _hinges(job: StepJob) -> Iterator[StepDetail]:
    """Yield by how many hinges a work on paper hangs and where (D9), and of what they are; nothing of all else.

    T-hinges reach above the artwork, where a mat hides them; of a float they are folded behind it.
    """
    placed, shown = placed_artworks(job.cut), job.cut.spec.presentation
    if not placed or not job.facts.hinged or shown is Presentation.CLOSE:
        return
    kind = "T-hinges" if shown is Presentation.WINDOW else "hinges folded behind"
    alike = hinges_alike(placed, job.cut.spec.unit)
    said = [
        f"{hinges.count} {kind}{_for_which(names, len(placed))}, "
        f"{'the outer ones ' if hinges.count > 2 else ''}{job.say_nearest(hinges.inset)} from the top corners"
        for hinges, names in alike
    ]
    yield StepDetail(
        name="Hinges",
        text=f"{'; '.join(said)}: paper and paste, no self-adhesive tape",
    )


def _for_which(names: tuple[str, ...], of: int) -> str:
    """Say which of several artworks take the same hinges; nothing where there is only one."""
    if of == 1:
        return ""
    return " each" if len(names) == of else f" for {in_short(names)}"
