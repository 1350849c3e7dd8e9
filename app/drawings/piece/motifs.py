"""Quiet placeholders for artworks, one by each kind in the shop's words.

They are abstract on purpose: the customer's own work is on the counter, and a drawing that
pretended to show it would be wrong.
"""

from collections.abc import Callable, Iterator

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.relative import at, part
from app.drawings.canvas.svg import Markup, element, line, number, path, polygon
from app.drawings.piece.photographs import photograph

type Motif = Callable[[Box], Iterator[Markup]]


def motif_of(kind: str) -> Motif:
    """Return the placeholder for a kind in the shop's words; a plain tint where none is known."""
    said = kind.casefold()
    return next((motif for known, motif in _MOTIFS if any(w in said for w in known)), _plain)


def _blob(box: Box, x: float, y: float, across: float, down: float, **fill: str | float) -> Markup:
    """Return an ellipse by shares of the box."""
    cx, cy = at(box, x, y)
    return element("ellipse", cx=cx, cy=cy, rx=box.width * across, ry=box.height * down, **fill)


def _plain(box: Box) -> Iterator[Markup]:
    yield rectangle(box, fill="#dcd8ce")
    yield polygon((at(box, 0, 1), at(box, 1, 0), at(box, 1, 1)), fill="#d0cbbf")


def _watercolour(box: Box) -> Iterator[Markup]:
    yield rectangle(box, fill="#dde2dd")
    for x, y, across, down, fill in (
        (0.36, 0.42, 0.27, 0.31, "#8fb0b8"),
        (0.60, 0.55, 0.29, 0.28, "#c9a97a"),
        (0.48, 0.66, 0.33, 0.20, "#7f9383"),
        (0.66, 0.34, 0.13, 0.16, "#d8b9a4"),
    ):
        yield _blob(box, x, y, across, down, fill=fill, fill_opacity=0.38)
        yield _blob(box, x + 0.01, y + 0.01, across * 0.9, down * 0.88, fill=fill, fill_opacity=0.3)


def _painting(box: Box) -> Iterator[Markup]:
    yield rectangle(box, fill="#c4b49a")
    for top, bottom, fill in (
        (0.07, 0.40, "#b5785a"),
        (0.43, 0.68, "#d6b27c"),
        (0.71, 0.93, "#5f7480"),
    ):
        for grow, opacity in ((0.018, 0.35), (0.009, 0.5), (0.0, 0.9)):
            stripe = part(box, 0.08 - grow, top - grow, 0.92 + grow, bottom + grow)
            yield rectangle(stripe, fill=fill, fill_opacity=opacity)


def _print(box: Box) -> Iterator[Markup]:
    yield rectangle(box, fill="#e6dcc8")
    side = min(box.width, box.height)
    x, y = box.centre
    yield element("circle", cx=x - side * 0.13, cy=y - side * 0.08, r=side * 0.24, fill="#b9573f")
    half = Box(x - side * 0.08, y + side * 0.02, side * 0.44, side * 0.30)
    yield rectangle(half, fill="#35566b", fill_opacity=0.88)
    yield line(
        (x - side * 0.36, y + side * 0.32),
        (x + side * 0.36, y + side * 0.32),
        stroke="#2b2b28",
        stroke_width=side * 0.012,
    )


def _drawing(box: Box) -> Iterator[Markup]:
    """Paper with pencil strokes inside an upright oval."""
    yield rectangle(box, fill="#e4dfd3")
    side = min(box.width, box.height)
    x, y = box.centre
    strokes = []
    for step in range(-9, 10):
        half = (1 - (step / 10) ** 2) ** 0.5
        reach = side * (0.30 * half + 0.02 * (step % 3))
        middle = (x + side * 0.03 * step, y + side * 0.022 * step)
        strokes.append(
            (
                (middle[0] - reach * 0.5, middle[1] + reach * 0.8),
                (middle[0] + reach * 0.5, middle[1] - reach * 0.8),
            )
        )
    yield path(
        *strokes, stroke="#5b5a57", stroke_opacity=0.55, stroke_width=side * 0.006, fill="none"
    )


def _textile(box: Box) -> Iterator[Markup]:
    """Even cloth with a lozenge worked into it."""
    yield rectangle(box, fill="#e5dcc8")
    side = min(box.width, box.height)
    x, y = box.centre
    for reach, fill in ((0.38, "#8d4a3c"), (0.29, "#d9b98a"), (0.20, "#51695f"), (0.1, "#e5dcc8")):
        r = side * reach
        yield polygon(((x, y - r), (x + r, y), (x, y + r), (x - r, y)), fill=fill)
    threads = 28
    yield path(
        *((at(box, 0, n / threads), at(box, 1, n / threads)) for n in range(1, threads)),
        *((at(box, n / threads, 0), at(box, n / threads, 1)) for n in range(1, threads)),
        stroke="#fffaf0",
        stroke_opacity=0.28,
        stroke_width=side * 0.006,
        fill="none",
    )


def _document(box: Box) -> Iterator[Markup]:
    """Lines of writing, a heading and a seal."""
    yield rectangle(box, fill="#ebe3cf")
    side = min(box.width, box.height)
    yield rectangle(part(box, 0.28, 0.16, 0.72, 0.22), fill="#6b6a66", fill_opacity=0.75)
    lines = ((0.16, 0.84), (0.16, 0.84), (0.16, 0.84), (0.24, 0.76))
    yield path(
        *(
            (at(box, left, 0.36 + 0.085 * n), at(box, right, 0.36 + 0.085 * n))
            for n, (left, right) in enumerate(lines)
        ),
        stroke="#6b6a66",
        stroke_opacity=0.45,
        stroke_width=side * 0.012,
        fill="none",
    )
    x, y = at(box, 0.74, 0.8)
    yield element("circle", cx=x, cy=y, r=side * 0.065, fill="#a4473a", fill_opacity=0.85)
    x, y = at(box, 0.18, 0.82)
    d = f"M{number(x)},{number(y)}q{number(side * 0.05)},{number(-side * 0.07)},"
    d += f"{number(side * 0.09)},0t{number(side * 0.09)},{number(-side * 0.01)}"
    yield element("path", d=d, fill="none", stroke="#35566b", stroke_width=side * 0.008)


def _object(box: Box) -> Iterator[Markup]:
    """Yield a small jar on the mount board, which shows around it, with its shadow to the right."""
    side = min(box.width, box.height)
    x, y = box.centre
    outline = f"M{number(x - side * 0.1)},{number(y - side * 0.34)}"
    outline += f"h{number(side * 0.2)}v{number(side * 0.1)}"
    outline += (
        f"c{number(side * 0.26)},{number(side * 0.12)} {number(side * 0.2)},{number(side * 0.5)} "
    )
    outline += f"{number(side * 0.04)},{number(side * 0.58)}h{number(side * -0.28)}"
    outline += f"c{number(side * -0.16)},{number(side * -0.08)} {number(side * -0.22)},"
    outline += f"{number(side * -0.46)} {number(side * 0.04)},{number(side * -0.58)}z"
    shift = f"translate({number(side * 0.05)} {number(side * 0.04)})"
    yield element("path", d=outline, fill="#4d4a45", fill_opacity=0.28, transform=shift)
    yield element("path", d=outline, fill="#a8705f")
    yield rectangle(Box(x - side * 0.13, y - side * 0.36, side * 0.26, side * 0.05), fill="#8d5a4c")
    yield element(
        "ellipse",
        cx=x - side * 0.1,
        cy=y,
        rx=side * 0.035,
        ry=side * 0.16,
        fill="#fffaf0",
        fill_opacity=0.35,
    )


_MOTIFS: tuple[tuple[tuple[str, ...], Motif], ...] = (
    (("watercolo", "gouache", "wash"), _watercolour),
    (("photo",), photograph),
    (("drawing", "pencil", "charcoal", "pastel", "sketch", "ink"), _drawing),
    (("textile", "embroid", "needle", "cross-stitch", "cloth", "shirt"), _textile),
    (("object",), _object),
    (("document", "certificate", "diploma", "letter", "map"), _document),
    (("print", "poster", "etching", "lino", "litho"), _print),
    (("painting", "oil", "acrylic", "canvas"), _painting),
)
