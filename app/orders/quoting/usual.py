"""What the form of a piece is filled with by the shop's habit, and what of it a person has made their own.

A field that is filled stays as is usual for the piece while it is typed, until somebody changes or empties it; from
then on it is theirs. So the form carries along what it was filled with last: a field that still holds that is filled
anew, any other is left alone. Hanging parts are one field in this: whoever changes a row of them has all of them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from app.forms.table import Typed
from app.framing import Presentation
from app.framing.notices.weight import weigh
from app.lengths import Length
from app.orders.artwork_weight import weigh_artwork
from app.orders.dimensions_memo import worked_out
from app.orders.piece_weight import masses_of, unweighed
from app.orders.quoting.form import MOST_ROWS
from app.orders.quoting.piece_typed import PieceTyped
from app.orders.quoting.reader import FindMaterial
from app.orders.quoting.request import PieceRequest
from app.orders.shop import Shop
from app.pricing import Kind, Material

type Filled = Mapping[str, str]
"""What fields were filled with by habit, by their paths; a blank one is still to be filled."""

HANGING = tuple(
    f"hardware.{row}.{name}" for row in range(MOST_ROWS) for name in ("material", "count")
)
_SINGLE = ("mats.0.material", "glazing.material", "mount_board.material", "backing.material")
_GROUPS = (*((path,) for path in _SINGLE), HANGING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """A piece as far as its usual hanging follows from it. kg: None where it hangs by nothing or its weight is not known."""

    kg: Fraction | None
    width: Length


def weighed(asked: PieceRequest, shop: Shop) -> Weighed:
    """Return the weight and outside width of a piece as far as they choose its hanging.

    A weight that is only "at least" chooses no parts, since they might be too weak: so it is with a frame that the
    customer brings, which nobody weighed. What has no frame does not hang. Raises: Invalid where the piece cannot be made.
    """
    exact = worked_out(asked.spec)
    given = exact.spec.given_frame
    if not exact.surrounds or (given is not None and given.own):
        return Weighed(kg=None, width=exact.outside.width)
    its_own = weigh_artwork(asked.artwork, exact, shop.weights)
    masses = masses_of(asked.chosen, its_own.kg, shop.weights.fixings_grams)
    at_least = its_own.at_least or bool(unweighed(asked.chosen))
    weight = weigh(exact, masses, at_least=at_least)
    return Weighed(kg=None if at_least else weight.kg, width=exact.outside.width)


def filled_first(shop: Shop, typed: Typed, find: FindMaterial) -> dict[str, str]:
    """Return what the form of a new piece is filled with, each usual field of the shop once; hanging parts are still blank."""
    usual = _usual(shop, typed, find)
    filled = {path: usual[path] for path in _SINGLE if _named(shop)[path]}
    if shop.usual_choices.hanging:
        filled[HANGING[0]] = ""
    return filled


def filled_anew(
    typed: Typed, before: Filled, shop: Shop, find: FindMaterial, piece: Weighed | None
) -> dict[str, str]:
    """Return what of the fields that still hold what they were filled with is usual for the piece as it is typed now.

    piece: None while it cannot be weighed; its hanging parts then stay as they are.
    """
    usual = _usual(shop, typed, find)
    filled: dict[str, str] = {}
    for group in _GROUPS:
        if not _still_ours(group, typed, before):
            continue
        if group is HANGING:
            kept = {path: before[path] for path in group if path in before}
            filled |= kept if piece is None else _hung(shop, piece, find)
        else:
            filled[group[0]] = usual[group[0]]
    return filled


def filled_in(typed: Typed, before: Filled, filled: Filled) -> dict[str, str]:
    """Return the form with what is usual now in the place of what was before."""
    gone = dict.fromkeys(before.keys() - filled.keys() & set(HANGING), "")
    ours = gone if any(path in filled for path in HANGING) else {}
    return {**typed, **ours, **filled}


def let_go(typed: Typed, before: Filled) -> dict[str, str]:
    """Return what is emptied of usual hanging parts where somebody emptied one of them: its count goes with it.

    With the first, by which the piece hangs, what was filled beside it goes too, as a wire does. What was changed stays.
    """
    rows = [row for row in range(MOST_ROWS) if before.get(f"hardware.{row}.material")]
    emptied = [row for row in rows if not typed.get(f"hardware.{row}.material", "").strip()]
    going = rows if rows[:1] == emptied[:1] else emptied
    paths = (f"hardware.{row}.{name}" for row in going for name in ("material", "count"))
    return {
        path: "" for path in paths if typed.get(path) and typed[path].strip() == before.get(path)
    }


def usual_there(typed: Typed, filled: Filled) -> frozenset[str]:
    """Return the fields of materials that stand as they were filled by habit."""
    return frozenset(
        path
        for group in _GROUPS
        if _still_ours(group, typed, filled)
        for path in group
        if filled.get(path) and path.endswith(".material")
    )


def _still_ours(group: tuple[str, ...], typed: Typed, before: Filled) -> bool:
    return any(path in before for path in group) and all(
        typed.get(path, "").strip() == before.get(path, "") for path in group
    )


def _usual(shop: Shop, typed: Typed, find: FindMaterial) -> dict[str, str]:
    """Return the usual text of each single field for the way that the artwork is shown. A canvas is not put behind
    glass nor on a board [common practice].
    """
    known = PieceTyped(shop, typed)
    canvas = known.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)
    kinds = (Kind.MAT, Kind.GLAZING, Kind.BOARD, Kind.BOARD)
    named = _named(shop)
    wanted = (known.matted, not canvas, not canvas, not canvas)
    return {
        path: _offered(named[path], kind, find) if asked else ""
        for path, kind, asked in zip(_SINGLE, kinds, wanted, strict=True)
    }


def _named(shop: Shop) -> dict[str, str]:
    usual = shop.usual_choices
    return dict(
        zip(_SINGLE, (usual.mat, usual.glazing, usual.mount_board, usual.backing), strict=True)
    )


def _offered(code: str, kind: Kind, find: FindMaterial) -> str:
    """Return the code of a material as the price book has it today; "" where it does not offer it."""
    found = find(code, kind) if code else None
    return found.code if isinstance(found, Material) and found.active else ""


def _hung(shop: Shop, piece: Weighed, find: FindMaterial) -> dict[str, str]:
    parts = () if piece.kg is None else shop.usual_choices.hanging_for(piece.kg, piece.width)
    filled = {HANGING[0]: ""}
    offered = [(_offered(part.material, Kind.HARDWARE, find), part.count) for part in parts]
    for row, (code, count) in enumerate((code, count) for code, count in offered if code):
        filled |= {f"hardware.{row}.material": code, f"hardware.{row}.count": str(count)}
    return filled
