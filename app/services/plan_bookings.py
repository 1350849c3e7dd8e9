"""What was cut by a plan, booked: material out, what is left over in, each under a label of its own.

A booking is taken back by contrary movements. Nothing is refused for going below zero; it is said.
"""

from collections.abc import Iterator, Mapping

from app.errors import Conflict
from app.journal import taken_back
from app.services.booked_bin import KEEP_ALL, BinBooking, Booked, ToKeep, usual_stock
from app.services.plans import BinAtPlan
from app.stock.movements import contrary
from app.stock.planning.plans import (
    BinAt,
    Booking,
    CuttingPlan,
    Moved,
    NewBooking,
    PlanStage,
    check_bookable,
    standing,
    standing_bookings,
    unbooked,
)
from app.storage import Stamp, Store, UnitOfWork


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
                found = usual_stock(work, plan.section(at.section).material)
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


def _book(work: UnitOfWork, which: BinAtPlan, act: Stamp, keep: ToKeep) -> tuple["BinBooking", int]:
    """Book one stick or sheet; what was done and the id of its booking."""
    plan = work.plans.get(which.plan_id)
    check_bookable(plan, which.at)
    booking = BinBooking(work=work, plan=plan, at=which.at, act=act)
    booking.take()
    booking.keep(keep)
    entry = NewBooking(bin=which.at, at=act.now, by=act.who, moved=tuple(booking.moved))
    return booking, work.plans.book(plan.id, entry)


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
