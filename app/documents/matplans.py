"""The mats from the back with the settings of the cutter's guide."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.documents.backplan import back_plan, edges_of
from app.documents.cutlist import numbered
from app.documents.look import data_uri
from app.documents.printing import Figures
from app.framing import Dimensions, Layer
from app.framing.windows import mirrored
from app.lengths import Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A setting of the cutter's guide and the sides cut with it, as they lie with the back up."""

    figure: str
    check: str
    sides: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MatPlan:
    """One mat from the back. image: its address; width, height: on paper, mm."""

    name: str
    image: str
    words: str
    width: str
    height: str
    settings: tuple[Setting, ...]


def mat_plans(
    cut: Dimensions, figures: Figures, word: str, *, room: tuple[float, float]
) -> tuple[MatPlan, ...]:
    """The plan of every mat, the top one first. word: as the shop calls a mat; room: of each, mm."""
    return tuple(_plans(cut, figures, word, room))


def _plans(
    cut: Dimensions, figures: Figures, word: str, room: tuple[float, float]
) -> Iterator[MatPlan]:
    for layer in cut.layers:
        name = numbered(word.capitalize(), layer.layer, len(cut.layers))
        picture = back_plan(cut, layer.layer, figures, caption=f"back of {name.lower()}", room=room)
        yield MatPlan(
            name=name,
            image=data_uri(picture.svg),
            words=picture.words,
            width=f"{picture.width:.2f}",
            height=f"{picture.height:.2f}",
            settings=settings_of(cut, layer, figures),
        )


def settings_of(cut: Dimensions, layer: Layer, figures: Figures) -> tuple[Setting, ...]:
    """The settings of one mat, equal sides together, as they lie with the back up (B3, G10).

    Settings come with the most sides first, so that the odd one is the last move of the guide. A
    side of one of several windows is named with its window.
    """
    together: dict[str, list[str]] = {}
    checks: dict[str, str] = {}
    for side, distance in _lying(cut, layer):
        text = figures.length(distance)
        together.setdefault(text, []).append(side)
        checks[text] = figures.check(distance)
    ordered = sorted(together.items(), key=lambda item: -len(item[1]))
    return tuple(
        Setting(
            figure=text,
            check=checks[text],
            sides="all four sides" if sides == list(_SIDES) else ", ".join(sides),
        )
        for text, sides in ordered
    )


_SIDES = ("left", "top", "right", "bottom")


def _lying(cut: Dimensions, layer: Layer) -> Iterator[tuple[str, Length]]:
    """(side, distance from its edge to the window) with the back up, window by window (G9)."""
    windows, whole = cut.windows_of(layer.layer), edges_of(cut, layer)
    for window in windows:
        lying = mirrored(window, whole)
        distances = (
            lying.x,
            lying.y,
            whole.width - lying.x - window.size.width,
            whole.height - lying.y - window.size.height,
        )
        for side, distance in zip(_SIDES, distances, strict=True):
            yield (f"{side} of {window.name}" if len(windows) > 1 else side), distance
