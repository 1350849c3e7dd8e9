"""What a fillet calls for saying: how it is held, and what of the artwork is seen inside it (G19)."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.framing.dimensions import Dimensions
from app.framing.fillets import FilletSizes, shown_of
from app.framing.notice import Concern, Notice
from app.framing.openings import floats, openings_of
from app.framing.spec import Fillet, Spec
from app.framing.usual import LEAST_COVER, LEAST_GAP, LEAST_TUCK, in_both
from app.lengths import Length, Size, mm, say_on_rule, show_size_on_rule


def remarks_on_fillets(dimensions: Dimensions) -> tuple[Notice, ...]:
    """Tell how the fillet is held by the mat, then what it leaves of each artwork."""
    spec = dimensions.spec
    if spec.fillet is None or not dimensions.fillets:
        return ()
    meets = [*_meetings(dimensions)]
    return (
        *_held(spec, spec.fillet),
        *_covers(spec, spec.fillet, [one for one in meets if not one.floats]),
        *_leaves_of_gaps(spec, [one for one in meets if one.floats]),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Meeting:
    """A fillet and the artwork behind it; None where only the window was given."""

    fillet: FilletSizes
    artwork: Size | None
    floats: bool

    @property
    def covered(self) -> tuple[Length, Length] | None:
        """How far it covers the artwork at each edge, in width and height; negative off it."""
        if self.artwork is None:
            return None
        sight = self.fillet.sight
        return (
            (self.artwork.width - sight.width) / 2,
            (self.artwork.height - sight.height) / 2,
        )


def _meetings(dimensions: Dimensions) -> Iterator[_Meeting]:
    spec = dimensions.spec
    for fillet, opening in zip(dimensions.fillets, openings_of(spec), strict=True):
        yield _Meeting(fillet=fillet, artwork=opening.artwork, floats=floats(spec, opening))


def _held(spec: Spec, fillet: Fillet) -> Iterator[Notice]:
    """Yield its lip against the mat: what is tucked is meant to be the lip, and enough to glue."""
    if fillet.tuck < LEAST_TUCK:
        yield Notice(
            code="fillet-barely-held",
            message=f"Only {say_on_rule(fillet.tuck, spec.unit)} of the fillet lies behind the mat, too "
            f"little to glue: tuck it {in_both(LEAST_TUCK, spec.unit)} or more.",
        )
    if fillet.tuck > fillet.lip:
        yield Notice(
            code="fillet-tucked-past-lip",
            message=f"The fillet is tucked {say_on_rule(fillet.tuck, spec.unit)}, but its lip is only "
            f"{say_on_rule(fillet.lip, spec.unit)} wide: the mat would lie on its raised part.",
        )
    elif fillet.tuck < fillet.lip:
        yield Notice(
            code="fillet-lip-shows",
            message=f"{say_on_rule(fillet.lip - fillet.tuck, spec.unit)} of the fillet's flat lip shows between "
            "the mat and its raised part.",
        )


def _together(
    meets: list[_Meeting],
) -> Iterator[tuple[tuple[Length, Length] | None, list[_Meeting]]]:
    """Yield the windows that cover the same, which are said together."""
    alike: dict[tuple[Length, Length] | None, list[_Meeting]] = {}
    for one in meets:
        alike.setdefault(one.covered, []).append(one)
    yield from alike.items()


def _in(meets: list[_Meeting]) -> str:
    """As "the window", "window B", "windows A, B"."""
    names = [one.fillet.name for one in meets if one.fillet.name]
    if not names:
        return "the window"
    return f"window{'s' if len(names) > 1 else ''} {', '.join(names)}"


def _each_edge(spec: Spec, both: tuple[Length, Length]) -> str:
    """As "11 mm", or where they differ "11 mm in width and 9 mm in height"."""
    across, down = both
    if across == down:
        return say_on_rule(across, spec.unit)
    return f"{say_on_rule(across, spec.unit)} in width and {say_on_rule(down, spec.unit)} in height"


def _covers(spec: Spec, fillet: Fillet, meets: list[_Meeting]) -> Iterator[Notice]:
    """G1 with a fillet: it covers face - tuck more of the artwork than the mat does."""
    shows = f"The fillet shows {say_on_rule(shown_of(fillet), spec.unit)} inside"
    for covered, alike in _together(meets):
        seen = ""
        if len(alike) == 1:
            seen = f"; {show_size_on_rule(alike[0].fillet.sight, spec.unit, mark=True)} is seen inside it"
        if covered is None:
            message, concern = f"{shows} {_in(alike)}{seen}.", Concern.NOTE
        elif min(covered) < mm(0):
            message = (
                f"{shows} {_in(alike)} and does not reach the artwork: "
                f"{say_on_rule(-min(covered), spec.unit)} beside it stays bare at each edge{seen}."
            )
            concern = Concern.RISK
        else:
            message = (
                f"{shows} {_in(alike)} and covers, with the mat, {_each_edge(spec, covered)} of the "
                f"artwork at each edge{seen}."
            )
            barely = min(covered) < LEAST_COVER
            concern = Concern.LOOK if barely else Concern.NOTE
        yield Notice(code=_code(covered), message=message, concern=concern)


def _code(covered: tuple[Length, Length] | None) -> str:
    bare = covered is not None and min(covered) < mm(0)
    return "artwork-bare" if bare else "fillet-covers-artwork"


def _leaves_of_gaps(spec: Spec, meets: list[_Meeting]) -> Iterator[Notice]:
    """G2 with a fillet: it stands in the gap around an artwork that floats."""
    for covered, alike in _together(meets):
        if covered is None:
            continue
        left = (-covered[0], -covered[1])
        near = min(left) < LEAST_GAP
        yield Notice(
            code="fillet-in-gap",
            message=f"The fillet leaves {_each_edge(spec, left)} of the gap around the artwork in "
            f"{_in(alike)}.",
            concern=Concern.LOOK if near else Concern.NOTE,
        )
