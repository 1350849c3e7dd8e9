"""What makes the mats of a spec impossible: boards, reveals, bevels and the trim of under mats."""

from app.framing.checks.fault_list import FaultList
from app.framing.dimensions import layer_borders
from app.framing.spec import Mat, UnderWay
from app.framing.windows import Window, windows_in
from app.lengths import ZERO

MOST_LAYERS = 3


def check_mats(found: FaultList) -> None:
    """At most three layers, real boards, a reveal for each under layer, a window at the face."""
    mats = found.spec.mats
    if len(mats) > MOST_LAYERS:
        found.add("mats", f"{len(mats)} mats were given; at most {MOST_LAYERS} fit.")
    for index, mat in enumerate(mats):
        _check_mat(found, index, mat)
    _check_faces(found)


def _check_mat(found: FaultList, index: int, mat: Mat) -> None:
    where, layer = f"mats.{index}", index + 1
    if mat.thickness <= ZERO:
        found.add(
            f"{where}.thickness",
            f"The board of mat {layer} is {found.say(mat.thickness)} thick; it must be above zero.",
        )
    if index == 0 and mat.reveal:
        found.add(
            f"{where}.reveal",
            f"Mat 1 was given a reveal of {found.say(mat.reveal)}; nothing lies above it, "
            "so only the mats under it have one.",
        )
    if index > 0 and (mat.reveal is None or mat.reveal <= ZERO):
        given = "none" if mat.reveal is None else found.say(mat.reveal)
        found.add(
            f"{where}.reveal",
            f"The reveal of mat {layer} is {given}; it must be above zero to show.",
        )


def _check_faces(found: FaultList) -> None:
    """G8: a reverse bevel may not run together at the face."""
    if found.layout is None:
        return
    said: set[int] = set()
    for window in windows_in(found.layout, found.spec):
        if window.layer not in said and _runs_together(window, found.spec.mats[window.layer - 1]):
            said.add(window.layer)
            _add_closed_face(found, window)


def _runs_together(window: Window, mat: Mat) -> bool:
    opening = min(window.size.width, window.size.height)
    shut = min(window.face.width, window.face.height) <= ZERO
    return mat.thickness > ZERO and opening > ZERO and shut


def _add_closed_face(found: FaultList, window: Window) -> None:
    mat = found.spec.mats[window.layer - 1]
    opening = min(window.size.width, window.size.height)
    found.add(
        f"mats.{window.layer - 1}.bevel",
        f"The reverse bevel of mat {window.layer}, through a board of "
        f"{found.say(mat.thickness)}, takes {found.say(mat.bevel.run(mat.thickness) * 2)} "
        f"and leaves nothing at the face of a window of {found.say(opening)}; the window "
        "must be larger or the board thinner.",
    )


def check_under_mats(found: FaultList) -> None:
    """G7: a trim that leaves every under layer a border on each side."""
    spec = found.spec
    trim = spec.under.trim
    if not found.not_negative("under_trim", "The trim of the under mats", trim):
        return
    if len(spec.mats) < 2 or found.layout is None:
        return
    taken = trim if spec.under.way is UnderWay.OWN_EDGES else ZERO
    for layer, borders in enumerate(layer_borders(found.layout, spec)[1:], start=2):
        untrimmed = min(length for _, length in borders.sides()) + taken
        if ZERO < untrimmed <= trim:
            found.add(
                "under_trim",
                f"A trim of {found.say(trim)} leaves mat {layer} no border; it must be under "
                f"{found.say(untrimmed)}.",
            )
            return
