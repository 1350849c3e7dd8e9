"""What makes the windows asked for impossible one by one, and what their arrangement contradicts.

How they lie to one another is for `checks_of_layout`. Rules G1, G2, G9, G20.
"""

from collections import Counter
from itertools import chain

from app.framing.arrangement import MOST_WINDOWS, Arrangement, Opening, Shape
from app.framing.checks.fault_list import FaultList, by_dimension
from app.framing.openings import (
    arrangement_of,
    floats,
    innermost_window,
    openings_of,
    overlap_of,
    package_asked,
    window_remains,
)
from app.lengths import ZERO, Length

LONGEST_NAME = 20
"""Characters of a window's name, so that it stands in its window on the ticket."""


def called(opening: Opening) -> str:
    """Tell how a sentence speaks of a window."""
    return f"window {opening.name}" if opening.name else "the window"


def check_openings(found: FaultList) -> None:
    """Every window by itself, then how many there are and how they are arranged."""
    spec = found.spec
    if not spec.openings:
        return
    if not spec.presentation.matted:
        found.add(
            "windows",
            f"Windows were given, but a piece shown as “{spec.presentation.value}” has no mat; "
            "they go with window or float.",
        )
    elif not spec.mats:
        found.add("mats", "Windows were given but no mat to cut them in; at least one is needed.")
    _check_names(found)
    for index, opening in enumerate(spec.openings):
        _check_opening(found, f"windows.{index}", opening)
    if len(spec.openings) > MOST_WINDOWS:
        found.add(
            "windows",
            f"{len(spec.openings)} windows were given; at most {MOST_WINDOWS} fit in a piece.",
        )


def _check_names(found: FaultList) -> None:
    openings = found.spec.openings
    names = chain.from_iterable((o.name, o.slot_name) if o.slot else (o.name,) for o in openings)
    often = Counter(names)
    for index, opening in enumerate(openings):
        path = f"windows.{index}.id"
        if not opening.name.strip():
            found.add(path, "A window has no name; each one needs its own.")
        elif len(opening.name) > LONGEST_NAME:
            found.add(
                path,
                f"The name of window {index + 1} is {len(opening.name)} characters long; "
                f"at most {LONGEST_NAME} are allowed.",
            )
        elif often[opening.name] > 1:
            found.add(
                path, f"{often[opening.name]} windows are called {opening.name}; no two may be."
            )


def _check_opening(found: FaultList, where: str, opening: Opening) -> None:
    _check_size(found, where, opening)
    if opening.overlap is not None:
        found.not_negative(f"{where}.overlap", f"The overlap of {called(opening)}", opening.overlap)
    if opening.gap is not None:
        found.not_negative(f"{where}.gap", f"The gap of {called(opening)}", opening.gap)
    if opening.slot is not None:
        what = f"of the title slot under {called(opening)}"
        for name, length in by_dimension(opening.slot.size):
            found.above_zero(f"{where}.slot.{name}", f"The {name} {what}", length)
        found.above_zero(
            f"{where}.slot.gap", f"The gap above the title slot of {opening.name}", opening.slot.gap
        )
    _check_rise(found, where, opening)


def _check_size(found: FaultList, where: str, opening: Opening) -> None:
    given = (opening.artwork, opening.window)
    if None not in given or given == (None, None):
        were = "both" if None not in given else "neither"
        found.add(
            where,
            f"The size of {called(opening)} was given by {were} of artwork and window; exactly one "
            "of them is needed.",
        )
        return
    if opening.window is not None:
        for name, length in by_dimension(opening.window):
            found.above_zero(f"{where}.{name}", f"The {name} of {called(opening)}", length)
    if opening.artwork is not None:
        for name, length in by_dimension(opening.artwork):
            found.above_zero(
                f"{where}.artwork.{name}", f"The {name} of the artwork in {called(opening)}", length
            )


def check_overlaps_leave_windows(found: FaultList) -> None:
    """G1, where a window follows from the overlap. A piece without openings has one window."""
    spec = found.spec
    if not spec.openings and not spec.presentation.matted:
        return
    for index, opening in enumerate(openings_of(spec)):
        artwork, overlap = opening.artwork, overlap_of(spec, opening)
        if artwork is None or opening.window or floats(spec, opening) or window_remains(spec):
            continue
        shorter = min(artwork.width, artwork.height)
        if ZERO < shorter <= overlap * 2:
            found.add(
                "overlap" if opening.overlap is None else f"windows.{index}.overlap",
                f"An overlap of {found.say(overlap)} at each edge leaves no "
                f"{f'window {opening.name}'.rstrip()} in an artwork of "
                f"{found.say_size(artwork)}; it must be under {found.say(shorter / 2)}.",
            )


def _check_rise(found: FaultList, where: str, opening: Opening) -> None:
    """G20: an arch has a round top and straight sides under it."""
    if opening.shape is not Shape.ARCH:
        if opening.rise is not None:
            found.add(
                f"{where}.rise",
                f"A rise of {found.say(opening.rise)} was given for {called(opening)}, but only an "
                "arch has one.",
            )
        return
    if (opening.artwork is None) == (opening.window is None):
        return
    size = innermost_window(found.spec, opening)
    if min(size.width, size.height) <= ZERO:
        return
    if opening.rise is None:
        if size.width / 2 >= size.height:
            found.add(
                f"{where}.rise",
                f"The half circle on {called(opening)}, {found.say(size.width)} wide, rises "
                f"{found.say(size.width / 2)} and leaves no straight sides in a height of "
                f"{found.say(size.height)}; give it a rise under that.",
            )
    elif found.above_zero(f"{where}.rise", f"The rise of {called(opening)}", opening.rise) and (
        opening.rise >= size.height
    ):
        found.add(
            f"{where}.rise",
            f"The rise of {called(opening)} is {found.say(opening.rise)} and leaves no straight "
            f"sides in a height of {found.say(size.height)}; it must be under that.",
        )


def check_arrangement(found: FaultList) -> None:
    """G9: rows or places, rows that add up, gaps that are given or can follow."""
    spec = found.spec
    placed = [opening for opening in spec.openings if opening.at is not None]
    if placed and len(placed) < len(spec.openings):
        without = next(o for o in spec.openings if o.at is None)
        found.add(
            "windows",
            f"Window {placed[0].name} was given a place and window {without.name} none; "
            "give all of them a place, or none and let rows place them.",
        )
    elif placed and spec.arrangement is not None:
        found.add(
            "arrangement",
            "Every window was given its place and rows were given as well; only one of them can "
            "place the windows.",
        )
    elif not placed and (spec.arrangement is not None or spec.openings):
        _check_rows(found, arrangement_of(spec))


def _check_rows(found: FaultList, asked: Arrangement) -> None:
    for way, gap in (("across", asked.across), ("down", asked.down)):
        if gap is not None:
            found.above_zero(f"arrangement.{way}", f"The gap {way} between windows", gap)
    count = len(openings_of(found.spec))
    rows = " + ".join(str(row) for row in asked.rows).replace("-", "\N{MINUS SIGN}")
    if min(asked.rows, default=0) < 1:
        found.add(
            "arrangement.rows", f"The rows hold {rows or 'nothing'}; each needs a window or more."
        )
    elif sum(asked.rows) != count:
        in_all = f" = {sum(asked.rows)}" if len(asked.rows) > 1 else ""
        found.add(
            "arrangement.rows", f"The rows hold {rows}{in_all} windows, but {count} were given."
        )
    elif package_asked(found.spec) is None:
        _check_gap_given(found, "across", asked.across, max(asked.rows))
        _check_gap_given(found, "down", asked.down, len(asked.rows))


def _check_gap_given(found: FaultList, way: str, gap: Length | None, neighbours: int) -> None:
    if gap is None and neighbours > 1:
        found.add(
            f"arrangement.{way}",
            f"No gap {way} was given and no glass size that it could follow from; one of them is "
            "needed.",
        )
