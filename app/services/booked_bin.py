"""One stick or sheet of a plan on its way from the rack to parts and offcuts: what is taken, and what of it is kept."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from app.cutting import OpenedStick
from app.errors import Invalid, NotFound
from app.framing import Concern, Notice
from app.lengths import ZERO, Length, Size, Steps
from app.money import Money
from app.pricing import Material
from app.services.open_work import pieces_in_work
from app.services.plan_fallouts import OfferedFallout, fallouts_of
from app.services.stock import put_offcut_on_rack
from app.stock.cost_allocation import SoundFallout, cost_shares
from app.stock.costs import cost_by_book, usual_length, usual_size
from app.stock.items import Item, StockItem
from app.stock.movements import MovementKind, NewMovement
from app.stock.offcuts import Offcut
from app.stock.planning.parts import PieceRef
from app.stock.planning.plans import BinAt, CuttingPlan, Moved, Opened, PlanSection
from app.stock.planning.problems import is_usual
from app.storage import Stamp, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class ToKeep:
    """What is kept of a stick or sheet, and where it is put.

    offcuts: the place of each in their order, None for one that is not kept; all are kept, nowhere in
    particular, where this is None. fallouts: places by the ids of those that are kept.
    """

    offcuts: tuple[str | None, ...] | None = None
    fallouts: Mapping[str, str] = field(default_factory=dict)


KEEP_ALL = ToKeep()

BELOW_ZERO = "below-zero"
"""The code of the notice that more was cut than the stock knows of."""


def usual_stock(work: UnitOfWork, material: Material) -> tuple[StockItem, ...]:
    """Return the whole stock of a material as the price book has it, what is used up too."""
    return tuple(
        kept
        for kept in work.stock.of_material(material.code, gone=True)
        if is_usual(kept.item, material)
    )


def below_zero(materials: Iterable[str]) -> str:
    """Say that more of some materials was cut than the stock knows of."""
    named = ", ".join(materials)
    return f"More of {named} was cut than was ever bought. Count what is there."


@dataclass(frozen=True, slots=True, kw_only=True)
class Booked:
    """What a booking did. taken: the stick or sheet as it stands now; None where its material left
    the price book. kept: offcuts and fallouts under their new labels. all_cut: pieces of which every
    part is cut now. done: whether the plan is.
    """

    id: int
    taken: StockItem | None
    kept: tuple[StockItem, ...]
    notices: tuple[Notice, ...]
    all_cut: tuple[PieceRef, ...]
    done: bool


@dataclass(slots=True, kw_only=True)
class BinBooking:
    """One stick or sheet on its way from the rack to parts and offcuts."""

    work: UnitOfWork
    plan: CuttingPlan
    at: BinAt
    act: Stamp
    source: StockItem | None = None
    moved: list[Moved] = field(default_factory=list)
    notices: list[Notice] = field(default_factory=list)

    @property
    def section(self) -> PlanSection:
        return self.plan.section(self.at.section)

    def take(self) -> None:
        """One less of the item that it is cut from."""
        entry = NewMovement(
            kind=MovementKind.CUT,
            change=-1,
            at=self.act.now,
            by=self.act.who,
            plan_id=self.plan.id,
        )
        try:
            item_id = self._item_id()
            if item_id is None:
                item_id = self.work.stock.add(self._unknown(), entry)
                movement_id = self.work.stock.movements(item_id)[-1].id
            else:
                movement_id = self.work.stock.move(item_id, entry)
        except NotFound:
            self._say(
                "left-the-book",
                f"{self.section.material.code} is no longer in the price book, so nothing was "
                "booked from its stock, and nothing that is left over is kept.",
            )
            return
        self.source = self.work.stock.get(item_id)
        self.moved.append(Moved(item_id=item_id, movement_id=movement_id))
        if self.source.on_hand < 0:
            self._say(BELOW_ZERO, below_zero([self.source.item.material]))

    def _item_id(self) -> int | None:
        """Return the item that it is taken from; None where the rack knows of none. Raises: NotFound."""
        source = self.plan.source(self.at)
        if source is not None:
            return source
        self.work.materials.get(self.section.material.code)
        reserved = self.work.plans.reserved()
        whole = sorted(
            usual_stock(self.work, self.section.material),
            key=lambda kept: (kept.on_hand - reserved[kept.id] < 1, kept.on_hand < 1, kept.id),
        )
        return whole[0].id if whole else None

    def _unknown(self) -> Item:
        """Whole stock that nobody noted, at what the price book says. Raises: NotFound."""
        material = self.section.material
        length, size = usual_length(material), usual_size(material)
        return Item(
            material=material.code,
            form=self.section.form,
            unit_cost=cost_by_book(material, length=length, size=size),
            length=length,
            size=size,
            place=self.work.stock.levels(material.code).value.place,
        )

    def keep(self, keep: ToKeep) -> None:
        """Offcuts and fallouts go to the rack, each at its share of the cost. Raises: Invalid."""
        opened, shop = self.plan.opened(self.at), self.work.shop.get()
        parts = self.plan.parts_in(self.at)
        offered = {each.id: each for each in fallouts_of(self.work, parts, shop)}
        places = _places(keep, len(_rests(opened)))
        chosen = _chosen(keep, offered)
        if self.source is None:
            return
        item = self.source.item
        whole = item.length if item.length is not None else item.size
        assert whole is not None, "a stick or sheet has its length or size"
        shares = cost_shares(
            item.unit_cost,
            opened,
            whole,
            [place is not None for place in places],
            [SoundFallout(part=each.part.id, size=each.sound) for each, _ in chosen],
        )
        rests = (
            (rest, place)
            for rest, place in zip(_rests(opened), places, strict=True)
            if place is not None
        )
        for (rest, place), cost in zip(rests, shares.kept, strict=True):
            self._put(rest, place, cost, shop.steps)
        for (fallout, place), cost in zip(chosen, shares.fallouts, strict=True):
            self._put(fallout.sound, place, cost, shop.steps, fallout.part.piece.piece_id)

    def _put(
        self,
        rest: Length | Size,
        place: str,
        cost: Money,
        steps: Steps,
        piece_id: int | None = None,
    ) -> None:
        """A rest under the next label, measured as the shop measures: down to its steps."""
        assert self.source is not None, "what is kept is kept of something"
        size = (
            Size(steps.down(rest.width), steps.down(rest.height))
            if isinstance(rest, Size)
            else None
        )
        length = steps.down(rest) if isinstance(rest, Length) else None
        if min((size.width, size.height) if size else (length or ZERO,)) <= ZERO:
            return
        offcut = Offcut(
            material=self.source.item.material,
            unit_cost=cost,
            length=length,
            size=size,
            batch=self.source.item.batch,
            place=place.strip(),
            note=f"Of {self.plan.number}.",
        )
        item_id = put_offcut_on_rack(
            self.work, offcut, self.act, plan_id=self.plan.id, piece_id=piece_id
        )
        movement_id = self.work.stock.movements(item_id)[-1].id
        self.moved.append(Moved(item_id=item_id, movement_id=movement_id))

    def booked(self, booking_id: int, *, done: bool) -> Booked:
        """Return what was done."""
        ids = {part.piece.piece_id for part in self.plan.parts_in(self.at)}
        pieces, _ = pieces_in_work(self.work, self.work.open_pieces.get(ids))
        kept = self.moved[1:]
        return Booked(
            id=booking_id,
            taken=self.source,
            kept=tuple(self.work.stock.get(each.item_id) for each in kept),
            notices=tuple(self.notices),
            all_cut=tuple(piece.ref for piece in pieces if piece.all_cut),
            done=done,
        )

    def _say(self, code: str, message: str) -> None:
        self.notices.append(Notice(code=code, message=message, concern=Concern.RISK))


def _rests(opened: Opened) -> tuple[Length | Size, ...]:
    """Return what is left over of a stick or sheet and worth keeping."""
    if isinstance(opened, OpenedStick):
        return () if opened.offcut is None else (opened.offcut.length,)
    return tuple(rest.size for rest in opened.offcuts)


def _places(keep: ToKeep, count: int) -> tuple[str | None, ...]:
    if keep.offcuts is None:
        return ("",) * count
    if len(keep.offcuts) != count:
        raise Invalid.at(
            "offcuts", f"{count} offcuts are left over; for {len(keep.offcuts)} it was said what "
            "becomes of them.",
        )  # fmt: skip
    return keep.offcuts


def _chosen(
    keep: ToKeep, offered: Mapping[str, OfferedFallout]
) -> list[tuple[OfferedFallout, str]]:
    missing = set(keep.fallouts) - set(offered)
    if missing:
        raise Invalid.at("fallouts", "A fallout that was chosen is not one of this sheet.")
    return [(offered[id], place) for id, place in keep.fallouts.items()]
