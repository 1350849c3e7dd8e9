"""Quiet placeholders for artworks without a photo, one by each kind in the shop's words.

They are abstract on purpose: the customer's own work is on the counter, and a drawing that
pretended to show it would be wrong. Each is a few areas and discs of plain colour.
"""

from collections.abc import Callable

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.relative import at, part
from app.drawings.canvas.svg import Markup, Point, element, path, polygon

type Mark = Callable[[Box], Markup]
type Motif = tuple[Mark, ...]


def motif_of(kind: str) -> Motif:
    """Return the placeholder for a kind in the shop's words; a plain tint where none is known."""
    said = kind.casefold()
    return next((motif for known, motif in _MOTIFS if any(w in said for w in known)), _PLAIN)


def _ground(fill: str) -> Mark:
    return lambda box: rectangle(box, fill=fill)


def _area(fill: str, *corners: Point) -> Mark:
    """Return an area between corners, in shares of the box."""
    return lambda box: polygon((at(box, x, y) for x, y in corners), fill=fill)


def _bar(fill: str, left: float, top: float, right: float, bottom: float) -> Mark:
    """Return an area with level sides, in shares of the box."""
    return lambda box: rectangle(part(box, left, top, right, bottom), fill=fill)


def _oval(fill: str, x: float, y: float, across: float, down: float) -> Mark:
    """Return a wash of colour that others show through, in shares of the box."""

    def mark(box: Box) -> Markup:
        cx, cy = at(box, x, y)
        rx, ry = box.width * across, box.height * down
        return element("ellipse", cx=cx, cy=cy, rx=rx, ry=ry, fill=fill, fill_opacity=0.5)

    return mark


def _disc(fill: str, x: float, y: float, radius: float) -> Mark:
    """Return a disc that stays round, in shares of the shorter side from the middle."""

    def mark(box: Box) -> Markup:
        side, (cx, cy) = _middle(box)
        return element("circle", cx=cx + side * x, cy=cy + side * y, r=side * radius, fill=fill)

    return mark


def _shape(fill: str, *corners: Point, opacity: float | None = None) -> Mark:
    """Return a shape that keeps its proportions, in shares of the shorter side from the middle."""

    def mark(box: Box) -> Markup:
        side, (cx, cy) = _middle(box)
        placed = ((cx + side * x, cy + side * y) for x, y in corners)
        return polygon(placed, fill=fill, fill_opacity=opacity)

    return mark


def _middle(box: Box) -> tuple[float, Point]:
    """Return the shorter side and the middle."""
    return min(box.width, box.height), box.centre


def _lozenge(fill: str, reach: float) -> Mark:
    return _shape(fill, (0, -reach), (reach, 0), (0, reach), (-reach, 0))


def _strokes(box: Box) -> Markup:
    """Return pencil strokes that fill a disc."""
    side, (cx, cy) = _middle(box)
    lines = []
    for step in range(-8, 9):
        half = 0.2 * (1 - (step / 9) ** 2) ** 0.5 * side
        x, y = cx + side * 0.028 * step, cy + side * 0.02 * step
        lines.append(((x - half, y + half * 1.4), (x + half, y - half * 1.4)))
    return path(
        *lines, stroke="#5b5a57", stroke_opacity=0.55, stroke_width=side * 0.006, fill="none"
    )


_JAR = (
    *((-0.1, -0.34), (0.1, -0.34), (0.1, -0.25), (0.23, -0.1), (0.26, 0.06), (0.21, 0.24)),
    *((0.13, 0.34), (-0.13, 0.34), (-0.21, 0.24), (-0.26, 0.06), (-0.23, -0.1), (-0.1, -0.25)),
)

_PLAIN: Motif = (_ground("#dcd8ce"), _area("#d0cbbf", (0, 1), (1, 0), (1, 1)))
_MOTIFS: tuple[tuple[tuple[str, ...], Motif], ...] = (
    (
        ("watercolo", "gouache", "wash"),
        (
            _ground("#dde2dd"),
            _oval("#8fb0b8", 0.36, 0.42, 0.27, 0.31),
            _oval("#c9a97a", 0.60, 0.55, 0.29, 0.28),
            _oval("#7f9383", 0.48, 0.66, 0.33, 0.20),
            _oval("#d8b9a4", 0.66, 0.34, 0.13, 0.16),
        ),
    ),
    (
        ("photo",),
        (
            _ground("#a9aaa8"),
            _area("#c3c3c0", (0, 0), (1, 0), (0, 0.8)),
            _area("#7c7e7e", (0, 1), (1, 0.45), (1, 1)),
            _area("#626566", (0.35, 1), (1, 0.66), (1, 1)),
        ),
    ),
    (
        ("drawing", "pencil", "charcoal", "pastel", "sketch", "ink"),
        (_ground("#e4dfd3"), _strokes),
    ),
    (
        ("textile", "embroid", "needle", "cross-stitch", "cloth", "shirt"),
        (
            _ground("#e5dcc8"),
            _lozenge("#8d4a3c", 0.38),
            _lozenge("#d9b98a", 0.29),
            _lozenge("#51695f", 0.2),
        ),
    ),
    (
        ("object",),
        (
            _shape("#4d4a45", *((x + 0.05, y + 0.04) for x, y in _JAR), opacity=0.28),
            _shape("#a8705f", *_JAR),
            _shape("#8d5a4c", (-0.13, -0.36), (0.13, -0.36), (0.13, -0.31), (-0.13, -0.31)),
        ),
    ),
    (
        ("document", "certificate", "diploma", "letter", "map"),
        (
            _ground("#ebe3cf"),
            _bar("#8b8a84", 0.28, 0.16, 0.72, 0.22),
            *(
                _bar("#b2ada0", 0.16, 0.35 + 0.085 * row, 0.84, 0.36 + 0.085 * row)
                for row in range(4)
            ),
            _disc("#ae5a4e", 0.22, 0.3, 0.065),
        ),
    ),
    (
        ("print", "poster", "etching", "lino", "litho"),
        (
            _ground("#e6dcc8"),
            _disc("#b9573f", -0.13, -0.08, 0.24),
            _shape(
                "#35566b", (-0.08, 0.02), (0.36, 0.02), (0.36, 0.32), (-0.08, 0.32), opacity=0.88
            ),
        ),
    ),
    (
        ("painting", "oil", "acrylic", "canvas"),
        (
            _ground("#c4b49a"),
            _bar("#b5785a", 0.08, 0.07, 0.92, 0.4),
            _bar("#d6b27c", 0.08, 0.43, 0.92, 0.68),
            _bar("#5f7480", 0.08, 0.71, 0.92, 0.93),
        ),
    ),
)
