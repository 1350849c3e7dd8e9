"""What is on the rack already for a piece: offcuts that fit, and what no new stick or sheet holds (C3).

Owns which offcut is named for which part, the smallest that does. No plan is made and nothing is
taken: it is said, so that it can be thought of at the counter and at the bench.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, groupby

from app.framing import Concern, Notice
from app.lengths import ZERO, Length, Size, Unit, say
from app.orders import Shop
from app.stock.items import Item
from app.stock.planning.as_set import say_stock
from app.stock.planning.parts import PartToCut
from app.stock.planning.problems import OnRack, is_usual

TOO_LARGE = "larger-than-new-stock"


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutFit:
    """Parts of a piece that one offcut holds, all of them together.

    of: how many belong together: the rails of a frame; 1 for a blank or a pane.
    """

    offcut: OnRack
    parts: tuple[PartToCut, ...]
    of: int

    @property
    def what(self) -> str:
        """The parts in words: "mat 2", "frame, all 4 rails", "frame, top and left"."""
        if self.of == 1:
            return self.parts[0].words
        name = self.parts[0].words.rpartition(", ")[0]
        if len(self.parts) == self.of:
            return f"{name}, all {self.of} {'rails' if self.parts[0].frame else 'strips'}"
        *sides, last = (part.words.rpartition(", ")[2] for part in self.parts)
        return f"{name}, {', '.join(sides)} and {last}" if sides else f"{name}, {last}"


def offcuts_that_fit(
    parts: Iterable[PartToCut], rack: Iterable[OnRack], shop: Shop
) -> tuple[OffcutFit, ...]:
    """For each part the smallest owned offcut that holds it; none is named twice over.

    The largest parts choose first. Rails of a frame look for an offcut that takes all of them, else
    for the one that takes the most, and so on. In the order of the parts.
    """
    offcuts = [each for each in rack if not each.kept.item.whole and each.available > 0]
    if not offcuts:
        return ()
    left = _Left(offcuts, _Room.of(shop))
    wanted = [tuple(group) for _, group in groupby(parts, key=_belongs_to)]
    chosen: list[tuple[int, OffcutFit]] = []
    for place, group in sorted(enumerate(wanted), key=lambda each: -_extent(each[1])):
        chosen += ((place, fit) for fit in left.fits(group))
    return tuple(fit for _, fit in sorted(chosen, key=lambda each: each[0]))


def _belongs_to(part: PartToCut) -> str:
    """Rails of one frame and strips around one package share the beginning of their key."""
    return part.key if part.size else part.key.rpartition(".")[0]


def _extent(parts: Sequence[PartToCut]) -> Length:
    """Tell how much there is of parts, for who chooses first: of like with like only."""
    return sum((part.length or (part.size.united if part.size else ZERO) for part in parts), ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """What a shop's cuts leave of a stick or a sheet. ends, edges: both trims together."""

    kerf: Length
    ends: Length
    edges: Length

    @classmethod
    def of(cls, shop: Shop) -> "_Room":
        habits = shop.cutting
        return cls(kerf=shop.saw_loss, ends=habits.end_trim * 2, edges=habits.sheet_trim * 2)

    def holds(self, item: Item, parts: Sequence[PartToCut]) -> bool:
        """Tell whether an item holds parts within its trims: rails side by side, of blanks one."""
        if item.length is not None:
            return self.for_rails(item.length, [part.length for part in parts if part.length])
        if item.size is None or len(parts) != 1 or parts[0].size is None:
            return False
        return self.for_blank(item.size, parts[0].size, turn=parts[0].turn)

    def for_rails(self, stick: Length, rails: Sequence[Length]) -> bool:
        taken = sum(rails, self.ends) + self.kerf * (len(rails) - 1)
        return bool(rails) and taken <= stick

    def for_blank(self, sheet: Size, blank: Size, *, turn: bool) -> bool:
        """A blank may lie turned where its material has no direction (C2)."""
        width, height = sheet.width - self.edges, sheet.height - self.edges
        ways = (blank, blank.turned()) if turn else (blank,)
        return any(each.width <= width and each.height <= height for each in ways)


class _Left:
    """The offcuts that are not named yet."""

    def __init__(self, offcuts: Sequence[OnRack], room: _Room) -> None:
        self._offcuts, self._room = offcuts, room
        self._copies = {each.kept.id: each.available for each in offcuts}

    def fits(self, group: Sequence[PartToCut]) -> Iterator[OffcutFit]:
        """Offcuts for parts that belong together, until no more holds any."""
        of, missing = len(group), list(group)
        while missing:
            fit = self._best(missing)
            if fit is None:
                return
            offcut, parts = fit
            self._copies[offcut.kept.id] -= 1
            missing = [part for part in missing if part not in parts]
            yield OffcutFit(offcut=offcut, parts=parts, of=of)

    def _best(self, parts: Sequence[PartToCut]) -> tuple[OnRack, tuple[PartToCut, ...]] | None:
        """Return the most parts, then the longest; of offcuts that hold these, the smallest, the oldest."""
        offcuts = [
            each
            for each in self._offcuts
            if self._copies[each.kept.id] and each.kept.item.material == parts[0].material.code
        ]
        smallest = sorted(offcuts, key=lambda each: (_size_of(each.kept.item), each.kept.id))
        alone = [
            part
            for part in parts
            if any(self._room.holds(each.kept.item, [part]) for each in reversed(smallest))
        ]
        for together in _together(alone):
            for offcut in smallest:
                if self._room.holds(offcut.kept.item, together):
                    return offcut, together
        return None


def _together(parts: Sequence[PartToCut]) -> Iterator[tuple[PartToCut, ...]]:
    """Yield every choice of parts, the most first, of as many the longest first."""
    for count in range(len(parts), 0, -1):
        yield from sorted(combinations(parts, count), key=lambda each: -_extent(each))


def _size_of(item: Item) -> Fraction:
    """Tell how large an item is, for comparing like with like: length of a stick, area of a sheet."""
    if item.length is not None:
        return item.length.mm
    return item.size.area_m2 if item.size else Fraction(0)


def too_large(
    parts: Iterable[PartToCut], rack: Iterable[OnRack], shop: Shop, unit: Unit
) -> tuple[Notice, ...]:
    """Return what no new stick or sheet holds: a risk where nothing on the rack does either, else which does.

    unit: of the sentences. Like rails of one frame are spoken of once.
    """
    rack, room = tuple(rack), _Room.of(shop)
    found = {
        (_belongs_to(part), part.what): _notice(part, rack, room, unit)
        for part in parts
        if not _new_holds(part, room)
    }
    return tuple(found.values())


def _new_holds(part: PartToCut, room: _Room) -> bool:
    material = part.material
    if part.length is not None:
        return material.profile is None or room.for_rails(material.profile.stick, [part.length])
    if part.size is None or material.sheet is None:
        return True
    return room.for_blank(material.sheet.size, part.size, turn=part.turn)


def _notice(part: PartToCut, rack: Sequence[OnRack], room: _Room, unit: Unit) -> Notice:
    beyond = _beyond(part, room, unit)
    owned = [
        each
        for each in rack
        if each.available > 0
        and each.kept.item.material == part.material.code
        and not is_usual(each.kept.item, part.material)
        and room.holds(each.kept.item, [part])
    ]
    if not owned:
        message = f"{beyond}; nothing on the rack holds it either."
        return Notice(code=TOO_LARGE, message=message, concern=Concern.RISK)
    smallest = min(owned, key=lambda each: (_size_of(each.kept.item), each.kept.id))
    message = f"{beyond}; on the rack {_named(smallest.kept.item, unit)} holds it."
    return Notice(code=TOO_LARGE, message=message, concern=Concern.LOOK)


def _beyond(part: PartToCut, room: _Room, unit: Unit) -> str:
    """ "The backing is 1300 × 900 mm, and no new sheet of B-3, 1200 × 1000 mm, holds it"."""
    material = part.material
    if part.size is not None and material.sheet is not None:
        is_so = f"The {part.words} is {say(part.size, unit)}"
        stock = f"sheet of {material.code}, {say_stock(material.sheet.size, unit)}"
        trimmed = bool(room.edges)
        turned = "" if part.turn else " without being turned"
    else:
        assert part.length is not None, "a part has a length or a size"
        assert material.profile is not None, "what comes in sticks has its stick"
        name = part.words.rpartition(", ")[0]
        is_so = f"A rail of the {name} is {say(part.length, unit)} long"
        stock = f"stick of {material.code}, {say_stock(material.profile.stick, unit)}"
        trimmed, turned = bool(room.ends), ""
    within = " within its trims" if trimmed else ""
    return f"{is_so}, and no new {stock}, holds it{within}{turned}"


def _named(item: Item, unit: Unit) -> str:
    """ "K-12 (1400 × 1000 mm, Bay 3)", or "a whole one (1400 × 1000 mm, Bay 3)"."""
    extent = extent_text(item, unit)
    return f"{item.label or 'a whole one'} ({extent}{', ' if item.place else ''}{item.place})"


def extent_text(item: Item, unit: Unit) -> str:
    """Tell how long a stick or how large a sheet is: "740 mm", "700 × 550 mm"; "" for what is counted."""
    extent = item.length if item.length is not None else item.size
    return "" if extent is None else say_stock(extent, unit)
