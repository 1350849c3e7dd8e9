"""What an object in a box calls for saying: its room, what it stands on, how deep all is (G22, D7)."""

from collections.abc import Iterator

from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.framing.objects import behind_mats, least_spacer, room_over_object, walls_of
from app.framing.openings import grown
from app.framing.spec import ObjectInBox, Spec
from app.framing.usual import FIXING_ROOM
from app.lengths import ZERO, Length, Size, say


def remarks_on_objects(dimensions: Dimensions) -> tuple[Notice, ...]:
    """Return the room over it, what it stands on and between, and the depth of the box."""
    spec = dimensions.spec
    if spec.boxed is None:
        return ()
    return (
        *_over_it(spec, spec.boxed),
        *_under_it(spec),
        *_under_mat(dimensions),
        *_between_spacers(dimensions),
        _depth(dimensions),
    )


def _over_it(spec: Spec, boxed: ObjectInBox) -> Iterator[Notice]:
    """Source of the clearance: handbook G22, common practice."""
    height, room = spec.artwork_thickness, room_over_object(spec)
    if height <= ZERO:
        yield Notice(
            code="object-height-missing",
            message="The height of the object is not given, so it may touch the glazing: "
            "measure it from the mount board.",
        )
    elif spec.glazing is None:
        if room < ZERO:
            yield Notice(
                code="object-stands-out",
                message=f"The object is {say(-room, spec.unit)} higher than mats and spacers; without "
                "glazing it stands out in front of them, and all of its height counts as depth.",
                concern=Concern.NOTE,
            )
    elif room < boxed.clearance:
        yield Notice(
            code="object-close-to-glazing",
            message=f"The object is {say(height, spec.unit)} high, and only {say(room, spec.unit)} stays clear "
            f"between it and the glazing; {say(boxed.clearance, spec.unit)} is wanted. Use spacers of at least "
            f"{say(least_spacer(spec), spec.unit)}.",
        )


def _under_it(spec: Spec) -> Iterator[Notice]:
    if spec.mount_board is None:
        yield Notice(
            code="object-without-mount-board",
            message="An object is fixed to a mount board, and none is chosen: choose one that carries it.",
        )


def _under_mat(dimensions: Dimensions) -> Iterator[Notice]:
    """G22: what a mat covers of an object has only the room behind the mat."""
    spec = dimensions.spec
    windows = {window.name: window.size for window in dimensions.windows_of(len(dimensions.layers))}
    covered = [
        artwork
        for name, artwork in dimensions.artworks
        if (window := windows.get(name)) and _covers(window, artwork)
    ]
    room = behind_mats(spec)
    if covered and spec.artwork_thickness > room:
        yield Notice(
            code="object-under-mat",
            message=f"The mat covers the edges of the object, which is "
            f"{say(spec.artwork_thickness, spec.unit)} high, and there is only {say(room, spec.unit)} behind the "
            "mat: float the object in its window, or make sure that its edges are low enough.",
        )


def _covers(window: Size, artwork: Size) -> bool:
    return window.width < artwork.width or window.height < artwork.height


def _between_spacers(dimensions: Dimensions) -> Iterator[Notice]:
    """G22, G14: spacers stand at the edges of the package and take their width on each side."""
    spec = dimensions.spec
    if spec.spacer is None or len(dimensions.artworks) != 1:
        return
    ((_, artwork),) = dimensions.artworks
    between = grown(dimensions.package, spec.spacer.width * -2)
    if _covers(between, artwork):
        needed = grown(artwork, spec.spacer.width * 2)
        yield Notice(
            code="object-wider-than-box",
            message=f"The object is {say(artwork, spec.unit)} and the spacers leave "
            f"{say(between, spec.unit)} between them: it needs a glass size of at least "
            f"{say(needed, spec.unit)}.",
            concern=Concern.RISK,
        )


def _depth(dimensions: Dimensions) -> Notice:
    """D7: the depth of the box, whether it is asked for or not, and the rebate that holds all (D1)."""
    spec = dimensions.spec
    front = "glass" if spec.glazing else "the front of the box"
    height, room = spec.artwork_thickness, room_over_object(spec)
    filled = f"; the object is {say(height, spec.unit)} high" if height else ""
    clear = f" and {say(room, spec.unit)} stays clear" if height and room >= ZERO else ""
    return Notice(
        code="object-depth",
        message=f"From {front} to mount board: {say(walls_of(spec), spec.unit)}{filled}{clear}. A rebate of "
        f"at least {say(least_rebate(dimensions), spec.unit)} holds all of it.",
        concern=Concern.NOTE,
    )


def least_rebate(dimensions: Dimensions) -> Length:
    """Return the least depth of a rebate that holds the stack with room for the fixing points (D1)."""
    return dimensions.stack + FIXING_ROOM
