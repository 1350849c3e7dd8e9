"""Which pictures the README shows, of which page or paper of the app each is, and how large."""

from dataclasses import dataclass, field
from pathlib import Path

from tests.readme.scene import Scene

HERE = Path(__file__).parent
"""The folder of the pictures; nothing of it is served or goes into the package."""

LAPTOP = (1366, 768)
PHONE = (390, 844)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """A page in a browser. path: with the names of a scene's orders in it; size: of its window.

    upper: the element that the window's upper edge is put at, below the head of `above` pixels; part: the element that alone is taken.
    """

    path: str
    size: tuple[int, int] = LAPTOP
    upper: str = ""
    above: int = 0
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The first page of a paper. path: as of a shot; dpi: how finely it is drawn."""

    path: str
    dpi: int = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture of the README: its file, what is in it from the left, its size in pixels, and how many colours it has."""

    name: str
    of: tuple[Shot | Sheet, ...]
    size: tuple[int, int]
    colours: int = field(default=256)

    @property
    def file(self) -> Path:
        """Where it stands."""
        return HERE / f"{self.name}.png"

    def at(self, scene: Scene) -> tuple[str, ...]:
        """The addresses of what is in it."""
        return tuple(each.path.format_map(scene.named()) for each in self.of)


A4_AT_100 = (827, 1170)
"""Source: ISO 216, 210 × 297 mm at 100 dots per inch, as pdftoppm rounds it (upwards)."""

PICTURES = (
    Picture(
        name="quote-page",
        of=(Shot(path="/orders/{quote}/pieces/1/change", size=(1366, 940)),),
        size=(1366, 940),
    ),
    Picture(
        name="designs",
        of=(Shot(path="/orders/{designs}/pieces/1/show"),),
        size=LAPTOP,
    ),
    Picture(
        name="quote-paper",
        of=(Sheet(path="/orders/{quote}/quote.pdf"),),
        size=A4_AT_100,
    ),
    Picture(
        name="on-the-wall",
        of=(Shot(path="/orders/{order}/wall?piece=1+2&colour=grey-blue", part="#drawing .easel svg"),),
        size=(790, 612),
    ),
    Picture(
        name="ticket",
        of=(Sheet(path="/orders/{order}/pieces/2/ticket.pdf"),),
        size=A4_AT_100,
    ),
    Picture(
        name="bench",
        of=(
            Shot(path="/orders/{order}/pieces/2", size=PHONE),
            Shot(path="/orders/{order}/pieces/2", size=PHONE, upper="#steps", above=60),
            Shot(path="/orders/{order}/pieces/2", size=PHONE, upper="#marks-1", above=60),
        ),
        size=(1210, 844),
    ),
    Picture(
        name="cutting-plan",
        of=(Sheet(path="/plans/{plan}/plan.pdf"),),
        size=A4_AT_100,
        colours=16,
    ),
)
