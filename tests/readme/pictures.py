"""Which pictures the README shows, of which page or paper of the app each is, and how large."""

from dataclasses import dataclass
from pathlib import Path

from tests.readme.scene import Scene

HERE = Path(__file__).parent
"""The folder of the pictures; nothing of it is served or goes into the package."""

LAPTOP = (1366, 768)
PHONE = (390, 844)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """A page in a browser. path: with the names of a scene's orders in it; size: of its window.

    upper: the element that is put `above` pixels below the window's upper edge.
    """

    path: str
    size: tuple[int, int] = LAPTOP
    upper: str = ""
    above: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The first page of a paper. path: as of a shot; dpi: how finely it is drawn."""

    path: str
    dpi: int = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """A picture that the app itself gives as PNG. path: as of a shot; width: to which it is made smaller."""

    path: str
    width: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture of the README: its file, what is in it from the left and its size in pixels."""

    name: str
    of: tuple[Shot | Sheet | Given, ...]
    size: tuple[int, int]

    @property
    def file(self) -> Path:
        """Where it stands."""
        return HERE / f"{self.name}.png"

    def at(self, scene: Scene) -> tuple[str, ...]:
        """The addresses of what is in it."""
        return tuple(each.path.format_map(scene.named()) for each in self.of)


A4_AT_100 = (829, 1172)
"""Source: ISO 216, 210 × 297 mm: 826.8 × 1169.3 dots at 100 an inch, which pdftoppm rounds up, and a line round it."""

PICTURES = (
    Picture(
        name="quote-page",
        of=(Shot(path="/orders/{quote}/pieces/1/change", size=(1366, 980)),),
        size=(1366, 980),
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
        of=(Given(path="/orders/{order}/wall.png?piece=1+2&colour=grey-blue", width=900),),
        size=(900, 699),
    ),
    Picture(
        name="ticket",
        of=(Sheet(path="/orders/{order}/pieces/2/ticket.pdf"),),
        size=A4_AT_100,
    ),
    Picture(
        name="bench",
        of=(
            Shot(path="/orders/{order}/pieces/2", size=PHONE, upper="#steps", above=60),
            Shot(path="/orders/{order}/pieces/2", size=PHONE, upper="#marks-1", above=60),
            Shot(path="/orders/{order}/pieces/2", size=PHONE, upper="#drawing", above=20),
        ),
        size=(1210, 844),
    ),
    Picture(
        name="cutting-plan",
        of=(Sheet(path="/plans/{plan}/plan.pdf"),),
        size=A4_AT_100,
    ),
)
