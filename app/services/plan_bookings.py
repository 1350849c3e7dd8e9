"""What was cut by a plan, booked: material out, what is left over in, each under a label of its own.

A booking is taken back by contrary movements. Nothing is refused for going below zero; it is said.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from app.cutting import OpenedStick
from app.errors import Conflict, Invalid, NotFound
from app.framing import Concern, Notice
from app.journal import taken_back
from app.lengths import ZERO, Length, Size, Steps
from app.money import Money
from app.pricing import Material
from app.services.open_work import pieces_in_work
from app.services.plan_fallouts import OfferedFallout, fallouts_of
from app.services.plans import BinAtPlan
from app.services.stock import put_offcut_on_rack
from app.stock.cost_allocation import SoundFallout, cost_shares
from app.stock.costs import cost_by_book, usual_length, usual_size
from app.stock.items import Item, StockItem
from app.stock.movements import MovementKind, NewMovement, contrary
from app.stock.offcuts import Offcut
from app.stock.planning.parts import PieceRef
from app.stock.planning.plans import (
    BinAt,
    Booking,
    CuttingPlan,
    Moved,
    NewBooking,
    Opened,
    PlanSection,
    PlanStage,
    check_bookable,
    standing,
    standing_bookings,
    unbooked,
)
from app.stock.planning.problems import is_usual
from app.storage import Stamp, Store, UnitOfWork


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


class NotOnRack(Conflict):
    """Sticks or sheets were to be booked that the rack does not hold. bins: these."""

    def __init__(self, bins: tuple[BinAt, ...]) -> None:
        super().__init__(f"{len(bins)} of them are not on the rack.")
        self.bins = bins


def not_on_rack(work: UnitOfWork, plan: CuttingPlan) -> frozenset[BinAt]:
    """Return the sticks and sheets still to be cut that the rack does not hold, counted in the order of the plan.

    One that was to be bought is there once whole stock of its material came in that no plan has reserved.
    """
    reserved = work.plans.reserved()
    left: dict[int, int] = {}
    usual: dict[int, list[int]] = {}
    missing = set()
    for at in unbooked(plan):
        source = plan.source(at)
        if source is None:
            if at.section not in usual:
                found = _usual_stock(work, plan.section(at.section).material)
                usual[at.section] = [kept.id for kept in found]
                left |= {kept.id: kept.on_hand - reserved[kept.id] for kept in found}
            source = next((id for id in usual[at.section] if left[id] > 0), None)
            if source is None:
                missing.add(at)
            else:
                left[source] -= 1
        elif work.stock.get(source).on_hand < 1:
            missing.add(at)
    return frozenset(missing)


def _usual_stock(work: UnitOfWork, material: Material) -> tuple[StockItem, ...]:
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


def book_bin(
    store: Store, which: BinAtPlan, act: Stamp, keep: ToKeep = KEEP_ALL, *, anyway: bool = True
) -> Booked:
    """Note that a stick or sheet was cut up: all its parts are cut but those spoiled, what is left over is kept.

    It is taken from the item that the plan has for it; where that was to be bought, from whole stock of
    its material, of which none need be known of. anyway: as `book_bins` has it.

    Raises: NotFound; Conflict where it is booked already or the plan is dropped; NotOnRack; Invalid at "offcuts",
    "fallouts", "place".
    """
    (booked,) = book_bins(store, which.plan_id, {which.at: keep}, act, anyway=anyway)
    return booked


def book_bins(
    store: Store,
    plan_id: int,
    keeps: Mapping[BinAt, ToKeep],
    act: Stamp,
    *,
    anyway: bool = True,
) -> tuple[Booked, ...]:
    """Note that several sticks and sheets of a plan were cut up, each as `book_bin` does: all of them or none.

    keeps: what is kept of each. anyway: whether what is not on the rack is booked all the same.

    Raises: NotOnRack where it is not, besides what `book_bin` raises.
    """
    with store.writing() as work:
        plan = work.plans.get(plan_id)
        for at in keeps:
            check_bookable(plan, at)
        missing = frozenset() if anyway else not_on_rack(work, plan)
        if not missing.isdisjoint(keeps):
            raise NotOnRack(tuple(at for at in keeps if at in missing))
        bookings = [
            _book(work, BinAtPlan(plan_id=plan_id, at=at), act, keep) for at, keep in keeps.items()
        ]
        done = _settle(work, plan_id)
        return tuple(booking.booked(id, done=done) for booking, id in bookings)


def _book(work: UnitOfWork, which: BinAtPlan, act: Stamp, keep: ToKeep) -> tuple["_Cutting", int]:
    """Book one stick or sheet; what was done and the id of its booking."""
    plan = work.plans.get(which.plan_id)
    check_bookable(plan, which.at)
    booking = _Cutting(work=work, plan=plan, at=which.at, act=act)
    booking.take()
    booking.keep(keep)
    entry = NewBooking(bin=which.at, at=act.now, by=act.who, moved=tuple(booking.moved))
    return booking, work.plans.book(plan.id, entry)


@dataclass(slots=True, kw_only=True)
class _Cutting:
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
            _usual_stock(self.work, self.section.material),
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


def take_back_booking(store: Store, which: BinAtPlan, act: Stamp) -> None:
    """What was booked was not cut: everything moved goes back by contrary movements.

    A plan that was done is open again. Raises: NotFound; Conflict where it is not booked, or what was
    kept of it was cut, moved off or promised since.
    """
    with store.writing() as work:
        plan = work.plans.get(which.plan_id)
        booking = standing_bookings(plan.bookings).get(which.at)
        if booking is None:
            plan.opened(which.at)
            raise Conflict("It is not booked as cut, so there is nothing to undo.")
        _check_still_there(work, booking)
        entry = NewBooking(
            bin=which.at,
            at=act.now,
            by=act.who,
            moved=tuple(_moved_back(work, booking, act)),
            takes_back=booking.id,
        )
        work.plans.book(plan.id, entry)
        _settle(work, plan.id)


def _check_still_there(work: UnitOfWork, booking: Booking) -> None:
    reserved = work.plans.reserved()
    for moved in booking.entry.moved[1:]:
        kept = work.stock.get(moved.item_id)
        if _undone(work, moved):
            continue
        if kept.on_hand < 1:
            raise Conflict(
                f"The offcut {kept.item.label} that was kept of it is gone since: undo that "
                "first, or count it in."
            )
        if reserved[kept.id] >= kept.on_hand:
            raise Conflict(
                f"The offcut {kept.item.label} that was kept of it is in an open cutting plan; delete "
                "that plan first."
            )


def _moved_back(work: UnitOfWork, booking: Booking, act: Stamp) -> Iterator[Moved]:
    for moved in booking.entry.moved:
        if not _undone(work, moved):
            record = work.stock.movements(moved.item_id)
            entry = contrary(record, moved.movement_id, at=act.now, by=act.who)
            yield Moved(item_id=moved.item_id, movement_id=work.stock.move(moved.item_id, entry))


def _undone(work: UnitOfWork, moved: Moved) -> bool:
    """Tell whether somebody took the movement back at the rack already."""
    return moved.movement_id in taken_back(work.stock.movements(moved.item_id))


def _settle(work: UnitOfWork, plan_id: int) -> bool:
    """Put a plan where its bookings have it; whether it is done. A dropped one stays dropped."""
    plan = work.plans.get(plan_id)
    done = set(standing(plan).booked) == set(plan.bins())
    if plan.stage is PlanStage.DROPPED:
        work.plans.move(plan_id, PlanStage.DROPPED)
        return False
    work.plans.move(plan_id, PlanStage.DONE if done else PlanStage.OPEN)
    return done


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
