"""The form of a wall: which pieces hang, how, on which wall, and beside what. All of it stands in the address."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, islice, repeat

from app.colours import Colour
from app.drawings.wall.colours import USUAL_WALL, WALL_COLOURS, WallColour
from app.drawings.wall.hanging import (
    MOST_HUNG,
    USUAL_ABOVE,
    USUAL_GAP,
    USUAL_MIDDLE,
    Alignment,
    Hanging,
    ToHang,
    even_rows,
    hang,
)
from app.drawings.wall.things import THINGS, Thing
from app.errors import Invalid, NotFound, quoted
from app.forms.kinds import (
    LENGTH,
    FieldKind,
    Options,
    choice,
    optional,
    otherwise,
    size_from,
    text_of,
)
from app.forms.reader import Reader
from app.forms.table import Field, Form, Typed
from app.lengths import (
    Example,
    Length,
    Size,
    Steps,
    Unit,
    inches,
    mm,
    say_on_rule,
)
from app.orders import Order, Piece, design_letter
from app.orders.dimensions_memo import worked_out
from app.web.kit.fields import OfShop

OWN = "own"
"""The choice of a wall whose colour is picked."""


COLOURS: Options = (
    *((name.value, called) for name, (called, _) in WALL_COLOURS.items()),
    (OWN, "Another colour"),
)
THINGS_BESIDE: Options = (
    (Thing.SOFA.value, "Sofa"),
    (Thing.TABLE.value, "Table"),
    (Thing.CHAIR.value, "Chair"),
    (Thing.DOOR.value, "Door"),
    (Thing.NONE.value, "Nothing"),
)
LEVELS: Options = (
    (Alignment.CENTRES.value, "Middles"),
    (Alignment.TOPS.value, "Top edges"),
    (Alignment.BOTTOMS.value, "Lower edges"),
)


@dataclass(frozen=True, slots=True)
class OfWall(OfShop):
    """The order whose pieces hang there."""

    order: Order

    @property
    def chooses(self) -> bool:
        """Whether there is more than one thing to hang."""
        pieces = to_hang(self.order)
        return sum(piece.copies for piece in pieces) > 1 or any(piece.several for piece in pieces)


def _read_named(read: Reader, path: str, usual: str) -> str:
    text = read.raw(path)
    if not text or text in dict(COLOURS):
        return text or usual
    read.faults.add(path, f"{quoted(text)} is no wall here; choose one of those that are named.")
    return usual


def _read_colour(read: Reader, path: str, usual: Colour) -> Colour:
    text = read.text(path, 40)
    return (read.take(lambda: Colour.parse(text, path)) or usual) if text else usual


BEGINS = {
    "colour": USUAL_WALL.value,
    "own": WALL_COLOURS[USUAL_WALL][1].hex,
    "thing": Thing.SOFA.value,
    "level": Alignment.CENTRES.value,
}
"""What is chosen where nothing is."""

LEAST_WALL = {Unit.MM: mm(300), Unit.IN: inches(12)}
"""The least that a wall is wide or high. Source: ours."""

WALL = Form[OfWall](
    Field(
        "colour",
        "Colour of the wall",
        otherwise(
            FieldKind[str](
                control="radios",
                read=_read_named,
                text=lambda value, _known: value,
                options=COLOURS,
            ),
            USUAL_WALL.value,
        ),
    ),
    Field(
        "own",
        "Its colour",
        otherwise(
            FieldKind[Colour](
                control="color", read=_read_colour, text=lambda value, _known: value.hex
            ),
            WALL_COLOURS[USUAL_WALL][1],
        ),
    ),
    Field(
        "thing",
        "Beside it, to scale",
        otherwise(choice(Thing, THINGS_BESIDE, "across"), Thing.SOFA),
    ),
    Field("piece", "Pieces, from the left", text_of(200), part="pieces"),
    Field("rows", "Rows", text_of(60), part="pieces"),
    Field(
        "gap",
        "Gap between frames",
        LENGTH,
        usual=lambda known: USUAL_GAP[known.unit],
        like=Example(mm(50), inches(2)),
        beside=True,
        part="pieces",
    ),
    Field(
        "level",
        "On one level",
        otherwise(choice(Alignment, LEVELS, "across"), Alignment.CENTRES),
        part="pieces",
    ),
    Field(
        "height",
        "Middle above the floor",
        optional(LENGTH),
        like=Example(mm(1500), inches(58)),
        part="height",
    ),
    Field(
        "above",
        "Above sofa or table",
        optional(LENGTH),
        like=Example(mm(200), inches(8)),
        beside=True,
        part="height",
    ),
    Field(
        "wall",
        "Wall, width × height",
        optional(size_from(LEAST_WALL)),
        "Blank for a wall that goes on.",
        like=Example(Size(mm(3600), mm(2500)), Size(inches(144), inches(96))),
        part="height",
    ),
    Field(
        "hook",
        "Hook below the top edge",
        optional(LENGTH),
        "Of a hanger or a taut wire, measured on the frame.",
        like=Example(mm(60), inches("2.5")),
        part="height",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WallAsked:
    """What is to be drawn. pieces: in their order, each with the design that is shown; left_off: how many more there are.

    hook: how far below its top edge each hangs from its hook, None where nobody said.
    """

    pieces: tuple[Piece, ...]
    left_off: int
    hanging: Hanging
    colour: Colour
    hook: Length | None


def to_hang(order: Order) -> tuple[Piece, ...]:
    """Return the pieces of an order that may hang: those that count, or all where none does."""
    return order.counting or order.pieces


def read_wall(typed: Typed, known: OfWall) -> WallAsked:
    """Read the form. Raises: Invalid with every fault, at its field."""
    read = WALL.reader(typed, known)
    values = WALL.values(read, known)
    everything = tuple(_each(to_hang(known.order)))
    named = read.take(lambda: _named(values["piece"], known.order)) if values["piece"] else None
    pieces = named or everything[:MOST_HUNG]
    rows = read.take(lambda: _rows(values["rows"], len(pieces))) if values["rows"] else ()
    _check_hook(read, values["hook"], pieces, known)
    read.faults.finish()
    wanted = ToHang(
        sizes=tuple(size_of(piece) for piece in pieces),
        unit=known.unit,
        gap=values["gap"],
        rows=rows or (),
        alignment=values["level"],
        thing=values["thing"],
        middle=values["height"],
        above=values["above"],
        wall=values["wall"],
    )
    return WallAsked(
        pieces=pieces,
        left_off=0 if named else len(everything) - len(pieces),
        hanging=hang(wanted),
        colour=values["own"]
        if values["colour"] == OWN
        else WALL_COLOURS[WallColour(values["colour"])][1],
        hook=values["hook"],
    )


def size_of(piece: Piece) -> Size:
    """Return what a piece takes on the wall."""
    return worked_out(piece.agreed.spec).drawn_outside


def called(piece: Piece) -> str:
    """Return how the form names a piece as it is shown: "2", "2B" where it has several designs."""
    letter = piece.counted.letter if piece.several else ""
    return f"{piece.number}{letter}"


AT_A_WALL = {
    Unit.MM: Steps(unit=Unit.MM, step=mm(1)),
    Unit.IN: Steps(unit=Unit.IN, step=inches("1/16")),
}
"""As fine as anybody marks a wall. Source: ours."""


def to_mark(length: Length, unit: Unit) -> str:
    """Return a length as it is marked on a wall, with its unit."""
    return say_on_rule(AT_A_WALL[unit].nearest(length), unit)


def came_out(asked: WallAsked, known: OfWall) -> dict[str, str]:
    """Return what fields that are left blank come to, for their hints."""
    hanging, unit = asked.hanging, known.unit
    thing = THINGS.get(hanging.thing)
    said = {
        "piece": " ".join(map(called, asked.pieces)),
        "rows": "+".join(map(str, hanging.rows)) if len(hanging.rows) > 1 else "1",
        "height": to_mark(hanging.middle, unit),
    }
    if thing and thing.beneath:
        said["above"] = to_mark(hanging.foot - thing.height, unit)
    return said


def before_it_is_read(known: OfWall) -> dict[str, str]:
    """Return what is usual in blank fields, while the form cannot be read."""
    return {
        "piece": "all",
        "rows": "as fit",
        "height": say_on_rule(USUAL_MIDDLE[known.unit], known.unit),
        "above": say_on_rule(USUAL_ABOVE[known.unit], known.unit),
    }


def _each(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Yield each piece as often as there are that are alike."""
    return chain.from_iterable(repeat(piece, piece.copies) for piece in pieces)


_PIECE = re.compile(r"([0-9]{1,4})([A-Za-z]{0,2})", re.ASCII)


def _named(text: str, order: Order) -> tuple[Piece, ...]:
    """Return the pieces that a text names, as "1 3 2B". Raises: Invalid at "piece"."""
    words = re.split(r"[\s,;+]+", text.strip(" ,;+"))
    if len(words) > MOST_HUNG:
        raise Invalid.at(
            "piece",
            f"{len(words)} pieces are named; at most {MOST_HUNG} hang on one wall, since more are too small to be seen.",
        )
    return tuple(_one_named(word, order) for word in words)


def _names(pieces: Iterable[Piece]) -> Iterator[str]:
    """Yield what names each piece, and each of its designs where it has several."""
    for piece in pieces:
        yield str(piece.number)
        if piece.several:
            yield from (f"{piece.number}{each.letter}" for each in piece.designs)


def _one_named(word: str, order: Order) -> Piece:
    found = _PIECE.fullmatch(word)
    piece = next((each for each in order.pieces if found and each.number == int(found[1])), None)
    if found is None or piece is None:
        numbers = ", ".join(islice(_names(to_hang(order)), 12))
        raise Invalid.at(
            "piece", f"{quoted(word)} is no piece of {order.number}; it has {numbers}."
        )
    if not found[2]:
        return piece
    letter = found[2].upper()
    number = next((d.number for d in piece.designs if design_letter(d.number) == letter), None)
    try:
        return piece.by_design(number if number is not None else 0)
    except NotFound:
        letters = ", ".join(each.letter for each in piece.designs)
        raise Invalid.at(
            "piece", f"Piece {piece.number} has no design {letter}; it has {letters}."
        ) from None


def _rows(text: str, count: int) -> tuple[int, ...]:
    """Return how many hang in each row: "2" is two even rows, "1+3" one above three. Raises: Invalid at "rows"."""
    words = re.split(r"\s*[+,;/]\s*|\s+", text.strip())
    if not all(re.fullmatch(r"[1-9][0-9]?", word, re.ASCII) for word in words):
        raise Invalid.at(
            "rows",
            f"{quoted(text)} is not understood; type how many rows, as 2, or how many hang in each from the top, as 1+3.",
        )
    numbers = tuple(map(int, words))
    if len(numbers) > 1:
        return numbers
    if numbers[0] > count:
        raise Invalid.at("rows", f"{numbers[0]} rows are more than there are pieces: {count}.")
    return even_rows(count, numbers[0])


def _check_hook(read: Reader, hook: Length | None, pieces: Sequence[Piece], known: OfWall) -> None:
    """Note where a hook would be below a piece that it holds."""
    if hook is None:
        return
    lowest = min(pieces, key=lambda piece: size_of(piece).height)
    height = size_of(lowest).height
    if hook > height:
        read.faults.add(
            "hook",
            f"{say_on_rule(hook, known.unit)} is below piece {lowest.number}, which is "
            f"{say_on_rule(height, known.unit)} high.",
        )
