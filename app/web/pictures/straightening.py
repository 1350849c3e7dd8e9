"""The page on which the four corners of an artwork are shown on its photo, and what its buttons do.

Without scripts a press on the photo moves the nearest corner there, and each corner can be typed; with them they are
drawn, and moved by the arrow keys.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from fastapi.responses import HTMLResponse

from app.documents.kit.pictures import on_pages
from app.errors import Fault, Invalid
from app.forms.reader import whole_number
from app.forms.table import Typed
from app.orders.photo_corners import AT, NAMES, Corners
from app.orders.photo_fit import proportion
from app.services import pictures
from app.services.pictures import Photo
from app.storage import PictureShape
from app.web.kit.context import RequestContext
from app.web.kit.templating import Page, render
from app.web.pictures.fitting import FitView, SizeTyped, corners_view

STRAIGHTEN = "straighten"
"""The action that shows the page; before a colon and what is done on it, of the others."""


class Action(StrEnum):
    """What a button of the page does. BACK: leaves the page, and the photo as it is. QUARTER: turns the photo at once, and shows no
    page. EXCHANGE: takes the size of the artwork the other way round, and shows the page again.
    """

    BACK = f"{STRAIGHTEN}:back"
    TURN = f"{STRAIGHTEN}:turn"
    WHOLE = f"{STRAIGHTEN}:whole"
    KEEP = f"{STRAIGHTEN}:keep"
    QUARTER = f"{STRAIGHTEN}:quarter"
    EXCHANGE = f"{STRAIGHTEN}:exchange"


PRESS = "press"
"""The name of the photo as a button: it sends where it was pressed."""

PRESSED_WIDTH = 272
"""Pixels of the page that the photo is wide as a button, on the narrowest phone too."""

_CORNER = "corner"


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerView:
    """A corner: its names in the form and for people, and where it lies."""

    name: str
    label: str
    x: int
    y: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightenPage(Page):
    """The page. address, width, height: of the photo as it was taken. kept: what else is posted along, by name.

    back: the value of the button that leads back unchanged, or its address. takes: what proportion the artwork gets. fit: what is
    said of it and the corners. pressed: what was pressed on the page before, which is begun at again; blank begins at a corner.
    """

    title: str = "Straighten the photo"
    wide: bool = True
    section: str = "Quotes"
    enter: str = Action.KEEP
    heading: str = ""
    action: str = ""
    kept: tuple[tuple[str, str], ...] = ()
    back: str = ""
    address: str
    width: int
    height: int
    pressed_width: int
    corners: tuple[CornerView, ...]
    takes: str
    fit: FitView | None = None
    pressed: str = ""

    @property
    def outline(self) -> str:
        """The points of the outline between the corners."""
        return " ".join(f"{corner.x},{corner.y}" for corner in self.corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class Straightened:
    """What came of it. id: of the picture as it is now; said: what became of it, in words."""

    id: str
    said: str


def show(here: RequestContext, page: StraightenPage) -> HTMLResponse:
    """Return the page, with 422 where corners were refused."""
    return render(here, "pages/pictures/straighten.html", page, 422 if page.faults else 200)


def answered(
    here: RequestContext, id: str, form: Typed, size: SizeTyped | None
) -> StraightenPage | Straightened:
    """Do what a button of the page says. id: of the photo now; size: of the artwork, where it is known.

    Raises: NotFound where the photo is gone.
    """
    wanted, action = proportion(size.size) if size else None, form.get("action")
    photo = pictures.get(here.store, id)
    taken = photo.taken
    if action == Action.BACK:
        return Straightened(id=id, said="The photo is as it was.")
    try:
        if action == Action.QUARTER:
            turned = pictures.turned(here.store, id, wanted, by=here.act)
            return Straightened(id=turned.id, said="The photo is turned.")
        corners = _moved(_typed(form) or photo.corners, form, photo)
        if action == Action.KEEP:
            made = pictures.straighten(here.store, taken.id, corners, wanted, by=here.act)
            return Straightened(id=made.id, said="The photo is straightened.")
    except Invalid as invalid:
        typed = _as_typed(form) if _is_typed(form) else photo.corners.points
        return _page(taken, typed, size, invalid.faults)
    page = _page(taken, corners.points, size)
    return replace(page, fit=corners_view(corners.proportion, size), pressed=_pressed(form))


def without(form: Typed) -> dict[str, str]:
    """Return a form without the fields of this page."""
    own = (f"{_CORNER}.", f"{PRESS}.")
    return {name: text for name, text in form.items() if not name.startswith(own)}


def _pressed(form: Typed) -> str:
    return PRESS if f"{PRESS}.x" in form else form.get("action", "")


def _moved(corners: Corners, form: Typed, photo: Photo) -> Corners:
    """Return the corners after a button was pressed, or the photo."""
    match form.get("action"):
        case Action.TURN:
            return corners.turned()
        case Action.WHOLE:
            return photo.whole
    x, y = _number(form.get(f"{PRESS}.x", "")), _number(form.get(f"{PRESS}.y", ""))
    if x is None or y is None:
        return corners
    larger = Fraction(photo.taken.width, PRESSED_WIDTH)
    return corners.with_nearest((round(x * larger), round(y * larger)))


def _name(number: int, axis: str) -> str:
    return f"{_CORNER}.{number}.{axis}"


def _is_typed(form: Typed) -> bool:
    return _name(0, "x") in form


def _typed(form: Typed) -> Corners | None:
    """Return the corners that were typed; None where the form has none. Raises: Invalid at "corners"."""
    if not _is_typed(form):
        return None
    points = []
    for number, name in enumerate(NAMES):
        x, y = (_number(form.get(_name(number, axis), "")) for axis in ("x", "y"))
        if x is None or y is None:
            raise Invalid.at(
                AT, f"Type two whole numbers for the {name} corner: pixels across and down."
            )
        points.append((x, y))
    first, second, third, fourth = points
    return Corners((first, second, third, fourth))


def _as_typed(form: Typed) -> tuple[tuple[int, int], ...]:
    return tuple(
        (
            _number(form.get(_name(number, "x"), "")) or 0,
            _number(form.get(_name(number, "y"), "")) or 0,
        )
        for number in range(len(NAMES))
    )


def _number(text: str) -> int | None:
    return whole_number(text.strip(), digits=5)


def _page(
    taken: PictureShape,
    points: tuple[tuple[int, int], ...],
    size: SizeTyped | None,
    faults: tuple[Fault, ...] = (),
) -> StraightenPage:
    return StraightenPage(
        faults=faults,
        address=on_pages(taken.id),
        width=taken.width,
        height=taken.height,
        pressed_width=PRESSED_WIDTH,
        corners=tuple(
            CornerView(name=f"{_CORNER}.{number}", label=name.capitalize(), x=x, y=y)
            for number, (name, (x, y)) in enumerate(zip(NAMES, points, strict=True))
        ),
        takes=(
            "The artwork gets the proportion of its size."
            if size
            else "No size of the artwork can be read yet, so it gets the proportion of the corners."
        ),
    )
