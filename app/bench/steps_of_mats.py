"""The steps of the mats: blanks, marks, settings with their cuts, dropping out, the next layer.

Source: handbook B6, B3, G7; common practice where no rule is named.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from app.bench.cuts import Cut
from app.bench.edge import Edge
from app.bench.mats import MatToCut
from app.bench.settings import BY_STRAIGHT_EDGE, GuidePlan, Setting, edges_as_they_lie
from app.bench.step import Step, StepCode, StepJob, StepPart
from app.framing.notices.care import Work
from app.framing.window_names import in_short
from app.lengths import Length


def steps_of_mats(job: StepJob) -> Iterator[Step]:
    """Yield every step until the mats lie ready, in the order of the settings."""
    if not job.mats:
        return
    yield _size(job)
    marked = [mat for mat in job.mats if not mat.attached]
    yield Step(
        id="mats-mark",
        code=StepCode.MARK,
        text=_marking(job, marked),
        layers=tuple(mat.layer for mat in marked),
    )
    yield from _by_straight_edge(job) if job.plan is None else _by_plan(job, job.plan)
    if len(job.mats) > 1 and not any(mat.attached for mat in job.mats):
        yield Step(
            id="mats-together",
            code=StepCode.MATS_TOGETHER,
            text=_together(job),
        )


def _size(job: StepJob) -> Step:
    parts = tuple(
        StepPart(name=job.mat(mat.layer), lengths=(mat.blank.width, mat.blank.height))
        for mat in job.mats
    )
    acts, texts = [], []
    for ready, act in ((False, "cut the {} to size"), (True, "check the ready-cut {} with a rule")):
        mats = [mat for mat in job.mats if mat.ready_cut is ready]
        if mats:
            sizes = (job.named_size(job.mat(mat.layer), mat.blank) for mat in mats)
            acts.append(act.format("blanks" if len(mats) > 1 else "blank"))
            texts.append(f"{acts[-1]}, {', '.join(sizes)}")
    return Step(
        id="mats-size",
        code=StepCode.SIZE_BLANKS,
        text="; ".join(texts),
        act="; ".join(acts),
        parts=parts,
        work=Work.MATS,
    )


def _marking(job: StepJob, mats: Iterable[MatToCut]) -> str:
    """Say what is marked; a mat whose cuts are all bound by stops is only laid right (B9)."""
    mats = tuple(mats)
    stopped = [mat for mat in mats if not _has_marks(job, mat)]
    backs = [job.mat(mat.layer) for mat in mats if mat.back_up and mat not in stopped]
    faces = [job.mat(mat.layer) for mat in mats if not mat.back_up and mat not in stopped]
    texts = []
    if backs:
        texts.append(
            f"mark the back of {' and '.join(backs)}, face down; edges are named as it lies"
        )
    if faces:
        texts.append(
            f"{' and '.join(faces)} face up for the reverse bevel: marks only where it drops out"
        )
    for side, back_up in (("back up", True), ("face up for the reverse bevel", False)):
        lying = [job.mat(mat.layer) for mat in stopped if mat.back_up is back_up]
        if lying:
            texts.append(
                f"lay {' and '.join(lying)} {side}, with nothing to mark: stops begin and end "
                "every cut; edges are named as it lies"
            )
    return "; ".join(texts)


def _has_marks(job: StepJob, mat: MatToCut) -> bool:
    """Tell whether anything is marked on a mat: an end without a stop, a window that is no rectangle."""
    if job.plan is None or not job.plan.cutter.stops.fitted:
        return True
    ends = any(cut.start_to_mark or cut.end_to_mark for cut in job.plan.cuts_of(mat))
    return ends or not all(window.straight for window in mat.windows)


def _together(job: StepJob) -> str:
    """Say which mat is fixed to which, and what shows of it on all sides; mats that are cut on their own edges (G7)."""
    shown = [
        (above.windows[0].width - below.windows[0].width) / 2 for above, below in pairwise(job.mats)
    ]
    onto = "; ".join(
        f"{job.mat(below.layer)} to the back of {job.mat(above.layer)}"
        f"{f', {job.say_on_rule(reveal)} of it showing on all sides' if reveal else ''}"
        for (above, below), reveal in zip(pairwise(job.mats), shown, strict=True)
    )
    return f"turn the {job.mat_word}s face down and fix {onto}"


def _by_straight_edge(job: StepJob) -> Iterator[Step]:
    for mat in job.mats:
        yield from _begin(job, mat)
        yield _cut_step(job, mat, 1, f"cut {job.mat(mat.layer)} by straight-edge on a slip sheet")
        yield _drop_out(job, mat)


def _by_plan(job: StepJob, plan: GuidePlan) -> Iterator[Step]:
    """Setting by setting; a mat without straight cuts comes where its layer stands."""
    own = plan.of_piece(job.piece)
    made = Counter(cut.mat.key for _, cuts in own for cut in cuts)
    left = {mat.key: made[mat.key] for mat in job.mats}
    curved = [mat for mat in job.mats if not left[mat.key]]
    settings_of: dict[tuple[str, int], int] = {}
    stands_at = 0
    for setting, cuts in own:
        for mat, its_cuts in _by_mat(cuts):
            number = settings_of[mat.key] = settings_of.get(mat.key, 0) + 1
            if number == 1:
                yield from _curved(job, [one for one in curved if one.layer < mat.layer])
                curved = [one for one in curved if one.layer > mat.layer]
                yield from _begin(job, mat)
            stays = stands_at == setting.number
            text = _cut_text(job, plan, setting, its_cuts, stays=stays)
            step = _cut_step(job, mat, number, text)
            guide = "the guide stays" if stays else "set the guide"
            act = f"{guide}: {_on_slip(job, its_cuts, edges_as_they_lie(its_cuts))}"
            yield replace(step, act=act, setting=setting, cuts=its_cuts)
            stands_at, left[mat.key] = setting.number, left[mat.key] - len(its_cuts)
            if not left[mat.key]:
                yield from _finish(job, mat)
    yield from _curved(job, curved)


def _by_mat(cuts: tuple[Cut, ...]) -> Iterator[tuple[MatToCut, tuple[Cut, ...]]]:
    by_key: dict[tuple[str, int], list[Cut]] = {}
    for cut in cuts:
        by_key.setdefault(cut.mat.key, []).append(cut)
    for own in by_key.values():
        yield own[0].mat, tuple(own)


def _begin(job: StepJob, mat: MatToCut) -> Iterator[Step]:
    if mat.attached:
        above = job.mat(mat.layer - 1)
        then = "mark" if _has_marks(job, mat) else "cut"
        yield Step(
            id=f"mat-{mat.layer}-fix",
            code=StepCode.FIX_BEHIND,
            text=f"{above} face down, fallout in: fix {job.mat(mat.layer)} face down behind it, "
            f"{then} from {job.mat(1)}’s edges",
            layers=(mat.layer,),
        )


def _cut_step(job: StepJob, mat: MatToCut, number: int, text: str) -> Step:
    return Step(
        id=f"mat-{mat.layer}-cut-{number}",
        code=StepCode.CUT_WINDOW,
        text=text,
        parts=(StepPart(name=job.mat(mat.layer)),),
        layers=(mat.layer,),
    )


def _cut_text(
    job: StepJob, plan: GuidePlan, setting: Setting, cuts: tuple[Cut, ...], *, stays: bool
) -> str:
    """As "set the guide to 76 (pin 70 + 6): mat 2 left, top, right, on a slip sheet"."""
    at = plan.set_text(setting, job.cut.spec.unit)
    guide = f"guide stays at {at.partition(' (')[0]}" if stays else f"set the guide to {at}"
    return f"{guide}: {_on_slip(job, cuts, plan.edges_text(cuts))}"


def _on_slip(job: StepJob, cuts: tuple[Cut, ...], edges: str) -> str:
    """Say what is cut, as "mat 2 left, top, right, on a slip sheet"."""
    return f"{job.mat(cuts[0].mat.layer)} {edges}, on a slip sheet"


def _curved(job: StepJob, mats: Iterable[MatToCut]) -> Iterator[Step]:
    for mat in mats:
        yield from _begin(job, mat)
        yield from _finish(job, mat)


def _of_windows(edge: Edge, cuts: Sequence[Cut]) -> str:
    """As "top"; of several windows "top of A–D"."""
    if len(cuts[0].mat.windows) == 1:
        return edge.value
    return f"{edge} of {in_short(sorted(cut.window.name for cut in cuts))}"


def _by_hand(job: StepJob, mat: MatToCut) -> Iterator[Step]:
    """Yield the cuts that the cutter cannot make: their lines are drawn and cut by straight-edge (B4)."""
    cuts = () if job.plan is None else job.plan.by_hand_of(mat)
    if job.plan is None or not cuts:
        return
    scale = job.plan.marked_on(job.cut.spec.unit)
    say = scale.text if scale.unit is job.cut.spec.unit else scale.say
    lines: dict[tuple[Edge, Length], list[Cut]] = {}
    for cut in cuts:
        lines.setdefault((cut.edge_as_it_lies, cut.distance), []).append(cut)
    said = ", ".join(
        f"{_of_windows(edge, on_it)} at {say(distance)} from the {edge} edge"
        for (edge, distance), on_it in lines.items()
    )
    draw = "draw this line and cut it" if len(lines) == 1 else "draw these lines and cut them"
    name = job.mat(mat.layer)
    yield Step(
        id=f"mat-{mat.layer}-straight-edge",
        code=StepCode.CUT_WINDOW,
        text=f"{name} by straight-edge ({BY_STRAIGHT_EDGE}), beyond the cutter: {draw}, {said}, on a slip sheet",
        parts=(StepPart(name=name),),
        layers=(mat.layer,),
    )


def _finish(job: StepJob, mat: MatToCut) -> Iterator[Step]:
    yield from _by_hand(job, mat)
    curves = [window for window in mat.windows if not window.straight]
    if curves:
        names = ", ".join(
            f"{window.name} ({window.shape} {job.say_size(window.size)})" for window in curves
        )
        yield Step(
            id=f"mat-{mat.layer}-curves",
            code=StepCode.CUT_CURVES,
            text=f"{job.mat(mat.layer)} on the cutter for ovals: {names}",
            parts=(StepPart(name=job.mat(mat.layer)),),
        )
    yield _drop_out(job, mat)


def _drop_out(job: StepJob, mat: MatToCut) -> Step:
    """Lift a mat off as it was cut: the hole is larger on the side that lies down, so that what was cut out stays lying.

    Source: geometry of the slanting cut (G8), which enters at the smaller hole; a reverse bevel is cut from the face.
    """
    what = "the windows drop" if len(mat.windows) > 1 else "the window drops"
    side = "down" if mat.back_up else "up"
    return Step(
        id=f"mat-{mat.layer}-drop",
        code=StepCode.DROP_OUT,
        text=f"lift {job.mat(mat.layer)} off face {side}, {what} out",
        parts=tuple(
            StepPart(name=f"fallout {window.name}", lengths=(window.width, window.height))
            for window in mat.windows
        ),
    )
