"""What a window that came out otherwise does to the piece: cover, reveals, lip, bridges, fillet (B12).

Owns the sentences. The geometry is that of framing: overlap and gap by G1 and G2, reveals by G3, bevels
by G8, bridges by G9, what is seen inside the lip by G13, the tuck of a fillet by G19.
"""

from collections.abc import Iterator, Mapping, Sequence

from app.bench.edge import Edge
from app.bench.mats import MatToCut
from app.bench.measured_window import Placed, SlipJob
from app.framing import Concern, Notice
from app.framing.notices.frames import lip_is_known, seen_inside_lip
from app.framing.openings import floats, openings_of
from app.framing.pairs import close_pairs
from app.framing.usual import LEAST_BRIDGE, LEAST_COVER, LEAST_GAP, LEAST_TUCK
from app.lengths import ZERO, Length, Size

LARGEST_SHARE = "tenth"
"""A border that is narrower by more than this of the narrowest one looks like another piece. Source: B12; ours."""

FROM_BACK = (Edge.RIGHT, Edge.LEFT, Edge.TOP, Edge.BOTTOM)
"""Left, right, top, bottom as they are named on the back (G10)."""


def effects_of(job: SlipJob, placed: Placed) -> tuple[Notice, ...]:
    """Return what still holds and what does not, from the artwork out to the frame.

    The artwork is taken to be laid behind the window anew, in its middle.
    """
    return (
        *_far_off(job, placed),
        *_cover(job, placed),
        *_fillet(job, placed),
        *_reveals(job, placed),
        *_bridges(job, placed),
        *_lip(job, placed),
    )


def shows(job: SlipJob, placed: Placed) -> Iterator[str]:
    """Yield what a window would make of overlap or gap and of reveals: "the overlap would still be 3 mm"."""
    margins = margins_of(job, placed)
    if margins:
        what = "gap would be" if _floats(job, placed) else "overlap would still be"
        yield f"the {what} {_each(job, margins)}"
    for layer, reveals in reveals_of(job, placed):
        yield f"{_sides(job, reveals)} of {job.mat(layer)} would be seen"


def margins_of(job: SlipJob, placed: Placed) -> tuple[Length, ...]:
    """Return overlap or gap at each edge, in width and in height; none where no artwork is known behind it.

    overlap = (artwork − window) / 2 (G1), gap = (window − artwork) / 2 (G2).
    """
    artwork = _artwork(job, placed)
    if artwork is None:
        return ()
    margins = (
        (artwork.width - placed.width) / 2,
        (artwork.height - placed.height) / 2,
    )
    return tuple(-each for each in margins) if _floats(job, placed) else margins


def reveals_of(job: SlipJob, placed: Placed) -> Iterator[tuple[int, Mapping[Edge, Length]]]:
    """Yield (layer, by edge what is seen of it) for the mat itself and the one under it (G3).

    Mats that are worked on their own edges and have one window are laid with even reveals.
    """
    layer = placed.mat.layer
    by_layer = {mat.layer: mat for mat in job.mats}
    for seen in (layer, layer + 1):
        if seen == 1 or seen not in by_layer:
            continue
        upper, lower = by_layer[seen - 1], by_layer[seen]
        sign = 1 if seen == layer else -1
        edges = {
            edge: _asked_reveal(upper, lower, placed.index, edge) + placed.off[edge] * sign
            for edge in Edge
        }
        laid = not lower.attached and len(lower.windows) == 1
        yield seen, _evened(edges) if laid else edges


def _asked_reveal(upper: MatToCut, lower: MatToCut, index: int, edge: Edge) -> Length:
    above, below = upper.windows[index], lower.windows[index]
    if edge.upright:
        return (above.width - below.width) / 2
    return (above.height - below.height) / 2


def _evened(edges: Mapping[Edge, Length]) -> Mapping[Edge, Length]:
    return {edge: (length + edges[edge.opposite]) / 2 for edge, length in edges.items()}


def _last(job: SlipJob, placed: Placed) -> bool:
    return placed.mat.layer == len(job.mats)


def _name(job: SlipJob, placed: Placed) -> str:
    """Return the name of the window as framing has it, "" for the one of a piece that names none."""
    return job.cut.windows_of(placed.mat.layer)[placed.index].name


def _artwork(job: SlipJob, placed: Placed) -> Size | None:
    """Return what lies behind the window next to the artwork, where it is the mat that meets it."""
    if not _last(job, placed) or job.cut.fillets:
        return None
    return dict(job.cut.artworks).get(_name(job, placed))


def _floats(job: SlipJob, placed: Placed) -> bool:
    name = _name(job, placed)
    return any(
        floats(job.cut.spec, each) for each in openings_of(job.cut.spec) if each.name == name
    )


def _each(job: SlipJob, pair: tuple[Length, ...]) -> str:
    """Return a figure of width and height, as one where they are equal."""
    across, down = pair
    if across == down:
        return job.say(across)
    return f"{job.say(across)} in width and {job.say(down)} in height"


def _sides(job: SlipJob, edges: Mapping[Edge, Length]) -> str:
    """Return a figure for each edge as seen from the back, as one where all are equal."""
    if len(set(edges.values())) == 1:
        return job.say(edges[Edge.LEFT])
    return ", ".join(f"{edge.mirrored} {job.say(edges[edge])}" for edge in FROM_BACK)


def at_edges(edges: Sequence[Edge]) -> str:
    """Say at which edges as seen from the back: "At the left, top and bottom", "At every edge"."""
    if len(edges) == len(Edge):
        return "At every edge"
    *most, last = [edge.mirrored for edge in edges]
    return f"At the {', '.join(most)} and {last}" if most else f"At the {last}"


def _far_off(job: SlipJob, placed: Placed) -> Iterator[Notice]:
    """Yield borders that came out so much narrower than asked for that nothing but a new mat mends it."""
    most = most_larger(placed)
    far = [edge for edge in FROM_BACK if -placed.off[edge] > most]
    if far:
        said = "; ".join(
            f"the {edge.mirrored} border is {job.say(placed.borders[edge])} where "
            f"{job.say(placed.mat.border(placed.asked, edge))} was asked for"
            for edge in far
        )
        yield Notice(
            code="border-far-off",
            message=f"{said[:1].upper()}{said[1:]}. That is off by more than {job.say(most)}, a {LARGEST_SHARE} of the narrowest "
            "border, and is seen at once.",
            concern=Concern.RISK,
        )


def most_larger(placed: Placed) -> Length:
    """Return by how much a window may be cut larger at each edge: a tenth of its narrowest border as asked for."""
    return min(placed.mat.border(placed.asked, edge) for edge in Edge) / 10


def _cover(job: SlipJob, placed: Placed) -> Iterator[Notice]:
    margins = margins_of(job, placed)
    if margins:
        yield (_gap if _floats(job, placed) else _overlap)(job, placed, margins)


def _overlap(job: SlipJob, placed: Placed, covered: tuple[Length, ...]) -> Notice:
    wanted = margins_of(job, placed.larger(ZERO))
    asked = _each(job, wanted)
    said = _each(job, covered)
    if min(covered) < ZERO:
        return Notice(
            code="artwork-bare",
            message=f"The window no longer covers the artwork: with the artwork in its middle {job.say(-min(covered))} "
            f"stays bare at each edge. An overlap of {asked} was asked for.",
            concern=Concern.LOOK if min(wanted) < ZERO else Concern.RISK,
        )
    if min(covered) < LEAST_COVER:
        return Notice(
            code="artwork-barely-covered",
            message=f"With the artwork in its middle the window covers only {said} of it at each edge; {asked} was asked for.",
        )
    return Notice(
        code="artwork-covered",
        message=f"The window still covers the artwork, by {said} at each edge with the artwork in its middle; {asked} was "
        "asked for.",
        concern=Concern.NOTE,
    )


def _gap(job: SlipJob, placed: Placed, gaps: tuple[Length, ...]) -> Notice:
    asked = _each(job, margins_of(job, placed.larger(ZERO)))
    said = _each(job, gaps)
    if min(gaps) < ZERO:
        return Notice(
            code="float-covered",
            message=f"The window covers {job.say(-min(gaps))} of the artwork at each edge, so it no longer floats; "
            f"a gap of {asked} was asked for.",
            concern=Concern.RISK,
        )
    concern = Concern.LOOK if min(gaps) < LEAST_GAP else Concern.NOTE
    little = "only " if concern is Concern.LOOK else ""
    return Notice(
        code="float-gap",
        message=f"The artwork floats with a gap of {little}{said} at each edge, laid in the middle; {asked} was asked for.",
        concern=concern,
    )


def _fillet(job: SlipJob, placed: Placed) -> Iterator[Notice]:
    """Yield how far a fillet that is made as listed still lies behind the mat: (outside − window) / 2 (G19)."""
    if not _last(job, placed):
        return
    name = _name(job, placed)
    for fillet in (each for each in job.cut.fillets if each.name == name):
        tucks = (
            (fillet.outside.width - placed.width) / 2,
            (fillet.outside.height - placed.height) / 2,
        )
        least = min(tucks)
        concern = Concern.NOTE
        if least < LEAST_TUCK:
            concern = Concern.RISK if least <= ZERO else Concern.LOOK
        yield Notice(
            code="fillet-tuck",
            message=(
                "The fillet as listed falls through the window; cut its rails longer."
                if concern is Concern.RISK
                else f"The fillet as listed lies {_each(job, tucks)} behind the window’s edge."
            ),
            concern=concern,
        )


def _reveals(job: SlipJob, placed: Placed) -> Iterator[Notice]:
    for layer, reveals in reveals_of(job, placed):
        least, asked = min(reveals.values()), _asked_reveals(job, placed, layer)
        shown = f"What shows of {job.mat(layer)}"
        said = f"{_sides(job, reveals)}; {job.say(asked)} was asked for."
        bevel = _bevel(job, layer)
        if least <= ZERO:
            hidden = [e for e in FROM_BACK if reveals[e] <= ZERO]
            yield Notice(
                code="reveal-gone",
                message=f"{at_edges(hidden)} nothing of {job.mat(layer)} is seen any more; {job.say(asked)} was asked for.",
                concern=Concern.RISK,
            )
        elif least <= bevel < asked:
            yield Notice(
                code="reveal-only-bevel",
                message=f"{shown}: {said} The bevel alone takes {job.say(bevel)} of it.",
            )
        elif max(reveals.values()) - least > job.step / 2:
            yield Notice(code="reveal-uneven", message=f"{shown} is not even: {said}")
        else:
            yield Notice(
                code="reveal-even",
                message=f"{shown} is even: {said}",
                concern=Concern.NOTE,
            )


def _asked_reveals(job: SlipJob, placed: Placed, layer: int) -> Length:
    upper, lower = job.mats[layer - 2], job.mats[layer - 1]
    return _asked_reveal(upper, lower, placed.index, Edge.LEFT)


def _bevel(job: SlipJob, layer: int) -> Length:
    """Return what the bevel of an under mat takes of its reveal, which is measured at the backs (G8)."""
    mat = job.mats[layer - 1]
    return ZERO if mat.reverse else mat.run


def _bridges(job: SlipJob, placed: Placed) -> Iterator[Notice]:
    """Yield little board between this window and another, where it is less than was asked for (G9)."""
    least, said = LEAST_BRIDGE.or_own(job.cut.spec.least_bridge, job.unit)
    asked = {
        frozenset((pair.one.name, pair.other.name)): pair.bridge
        for pair in close_pairs(placed.mat.windows, least)
    }
    for pair in close_pairs(placed.windows, least):
        names = {pair.one.name, pair.other.name}
        before = asked.get(frozenset(names), least)
        if placed.asked.name in names and not pair.cornerwise and pair.bridge < before:
            yield Notice(
                code="bridge-below-least",
                message=f"Between {pair.one.name} and {pair.other.name} {job.say(pair.bridge)} of board is left; the least "
                f"usual bridge is {said}.",
            )


def _lip(job: SlipJob, placed: Placed) -> Iterator[Notice]:
    """Yield what is seen of the borders inside the lip: border + allowance / 2 − lip (G13)."""
    spec = job.cut.spec
    if placed.mat.layer > 1 or not lip_is_known(spec):
        return
    off = [edge for edge in FROM_BACK if placed.off[edge]]
    seen = {edge: seen_inside_lip(placed.borders[edge], spec.profiles[0]) for edge in off}
    hidden = [edge for edge, length in seen.items() if length <= ZERO]
    if hidden:
        yield Notice(
            code="window-behind-lip",
            message=f"{at_edges(hidden)} the lip of the frame, {job.say(spec.profiles[0].lip)}, reaches over the edge of the "
            "window: the border does not fill the frame there.",
            concern=Concern.RISK,
        )
    elif seen:
        which = ", ".join(f"{e.mirrored} {job.say(length)}" for e, length in seen.items())
        yield Notice(
            code="border-seen",
            message=f"The lip of the frame still lies on the border; seen inside it: {which}.",
            concern=Concern.NOTE,
        )
