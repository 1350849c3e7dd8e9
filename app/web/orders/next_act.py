"""What is to be done next with an order, in words, and the button that does it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from app.counting import counted
from app.money import show_money
from app.orders import LEFT_THE_WAY, Order, OrderLine, Piece, Stage
from app.orders.totals import Account
from app.stock.material_states import MaterialState
from app.web.orders.acts import ACT_ON_ALL, NEXT_ACT, most_of, moved_by
from app.web.orders.line_cards import NEXT_ACT as NEXT_OF_LINE
from app.web.orders.materials import OrderMaterials
from app.web.pieces.cut_asks import NOTHING_ASKED, CutAsks
from app.web.pieces.planned import PlannedView
from app.web.pieces.spoiled import SpoiledView


class Step(StrEnum):
    """What the next act is: each but work has a form of its own on the page."""

    DECIDE = "decide"
    DELETED = "deleted"
    WORK = "work"
    HAND_OVER = "hand over"
    DONE = "done"
    LEFT = "left"


@dataclass(frozen=True, slots=True, kw_only=True)
class Button:
    """A button that brings something to a stage. address: of the order, a piece or a line.

    most: of several alike how many may move, 0 where all move together. anew: what it says of spoiled parts too.
    asks: sentences, why it asks first.
    """

    address: str
    stage: str
    words: str
    most: int = 0
    anew: str = ""
    asks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NextAct:
    """The next act. said: a sentence. ways: (words, address) of what helps to it. button: None where another form or nothing does it.

    of_piece: the number of the only piece that the button moves, which then needs none of its own; 0 for several.
    """

    step: Step
    said: str
    ways: tuple[tuple[str, str], ...] = ()
    button: Button | None = None
    of_piece: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the next act follows from beside the order. told: whether the customer was told that the work is ready."""

    account: Account
    materials: OrderMaterials
    planned: Mapping[int, PlannedView | None]
    spoiled: Mapping[int, SpoiledView]
    told: bool
    asks: CutAsks = NOTHING_ASKED


def next_act(order: Order, known: Known) -> NextAct:
    """Say what is to be done next: the work by the stage where the least of it stands, then the money."""
    match order.stage:
        case Stage.QUOTED:
            return NextAct(step=Step.DECIDE, said="the customer decides.")
        case Stage.ORDERED:
            return _work(order, known, Stage.CUT)
        case Stage.CUT:
            return _work(order, known, Stage.FRAMED)
        case Stage.FRAMED:
            return NextAct(step=Step.HAND_OVER, said=_handing(order, known))
        case Stage.COLLECTED:
            return NextAct(step=Step.DONE, said=_settling(known.account), ways=_paying(known))
        case Stage.DECLINED | Stage.CANCELLED:
            return _left(order, known)


def _work(order: Order, known: Known, stage: Stage) -> NextAct:
    moved = moved_by(order, stage)
    pieces = [each for each in moved if isinstance(each, Piece)]
    what = _named(order, moved)
    said, ways = (
        _cutting(pieces, known, what) if stage is Stage.CUT else (_finishing(pieces, what), ())
    )
    only = moved[0] if len(moved) == 1 else None
    if isinstance(only, Piece):
        spoiled = known.spoiled.get(only.number)
        withheld = spoiled is not None and stage.value in spoiled.withheld
        if spoiled and withheld:
            said = spoiled.said
        elif spoiled and not spoiled.anew and stage is not Stage.CUT:
            said = f"{spoiled.said} Cut it anew by a plan, then {said}"
            ways = (("See the plans", "/plans"),)
        return NextAct(
            step=Step.WORK,
            said=said,
            ways=ways,
            button=None if withheld else _of_one(order, only, stage, known),
            of_piece=only.number,
        )
    button = Button(
        address=f"/orders/{order.id}",
        stage=stage.value,
        words=_on_several(order, moved, stage),
        asks=known.asks.together if stage is Stage.CUT else (),
    )
    return NextAct(step=Step.WORK, said=said, ways=ways, button=button if moved else None)


def _of_one(order: Order, piece: Piece, stage: Stage, known: Known) -> Button:
    spoiled = known.spoiled.get(piece.number)
    most = most_of(piece, stage)
    anew = spoiled.anew if spoiled and stage is Stage.CUT else ""
    alone = len(order.standing) == 1 or most or anew
    return Button(
        address=f"/orders/{order.id}" + (f"/pieces/{piece.number}" if alone else ""),
        stage=stage.value,
        words=NEXT_ACT[stage],
        most=most,
        anew=anew,
        asks=known.asks.of_piece.get(piece.number, ()) if stage is Stage.CUT else (),
    )


def _on_several(order: Order, moved: Sequence[Piece | OrderLine], stage: Stage) -> str:
    """Return the words of the button: "Mark all 6 cut", "Mark 2 cut", "Mark done"."""
    if all(isinstance(each, OrderLine) for each in moved):
        return NEXT_OF_LINE[stage] if len(moved) == 1 else f"Mark {_all(order, moved)}done"
    return ACT_ON_ALL[stage].replace("all ", _all(order, moved))


def _all(order: Order, moved: Sequence[Piece | OrderLine]) -> str:
    """Return "all 6 " or "both " where nothing else stands on the order, else how many."""
    if len(moved) < len(order.sold):
        return f"{len(moved)} "
    return "both " if len(moved) == 2 else f"all {len(moved)} "


def _named(order: Order, moved: Sequence[Piece | OrderLine]) -> str:
    """Name what moves: by its title, or how many of how many."""
    if len(moved) == 1:
        (each,) = moved
        if isinstance(each, OrderLine):
            return each.agreed.what
        return each.artwork.title or ("the piece" if len(order.sold) == 1 else "one piece")
    pieces = sum(isinstance(each, Piece) for each in moved)
    lines = len(moved) - pieces
    named = [counted(pieces, "piece")] if pieces else []
    named += [counted(lines, "line")] if lines else []
    if len(moved) < len(order.sold) or lines:
        return " and ".join(named)
    return "both pieces" if pieces == 2 else f"all {named[0]}"


def _cutting(
    pieces: Sequence[Piece], known: Known, what: str
) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Say what stands between the pieces and their cutting, and where that is done."""
    states = [stand.words for stand in known.materials.worst]
    buy, coming = states.count(MaterialState.TO_BUY), states.count(MaterialState.ON_ORDER)
    plan = _plan(pieces, known)
    of = f"{counted(len(states), 'material')}"
    if buy:
        return f"buy {buy} of {of}, then cut {what}.", (("See what to buy", "/buying"), *plan)
    if coming:
        on_order = f"{coming} of {of} {'is' if coming == 1 else 'are'} on order"
        return f"cut {what}; {on_order}.", (("See what is on order", "/buying/orders"), *plan)
    if states and set(states) <= {MaterialState.IN_HAND.value}:
        return f"cut {what}; every material is in hand.", plan
    return f"cut {what}.", plan


def _plan(pieces: Sequence[Piece], known: Known) -> tuple[tuple[str, str], ...]:
    """Return the ways to the cutting plans that hold the pieces, and to a new one where parts are in none."""
    views = [view for piece in pieces if (view := known.planned.get(piece.number))]
    held = {plan.href: plan.number for view in views for plan in view.plans}
    ways = [(f"Cutting plan {number}", href) for href, number in held.items()]
    open_ones = [view.plan_href for view in views if view.to_plan]
    if open_ones:
        href = open_ones[0] if len(open_ones) == 1 else "/plans/new"
        ways.append(("Make a cutting plan", href))
    return tuple(ways)


def _finishing(pieces: Sequence[Piece], what: str) -> str:
    return f"frame {what}." if pieces else f"do {what}."


def _handing(order: Order, known: Known) -> str:
    """Say that the customer is told and takes the work along, and what is owed for it."""
    telling = "" if known.told else f"tell {order.customer_name or 'the customer'}, then "
    return f"{telling}hand over; {_owed(known.account)}."


def _owed(account: Account) -> str:
    balance = account.balance
    if balance.minor > 0:
        return f"{show_money(balance)} is owed"
    return f"{show_money(-balance)} is to refund" if balance.minor < 0 else "everything is paid"


def _settling(account: Account) -> str:
    """Say what is still to be done with the money of work that has left."""
    if account.balance.minor:
        return f"everything is collected, and {_owed(account)}."
    return "nothing: everything is collected and paid."


def _paying(known: Known) -> tuple[tuple[str, str], ...]:
    """Return the way to the form of a payment, where money is owed either way."""
    balance = known.account.balance.minor
    if not balance:
        return ()
    return (("Record payment" if balance > 0 else "Record the refund", "#payment"),)


def _left(order: Order, known: Known) -> NextAct:
    """Say that a quote was deleted or declined, which may be quoted again, or that an order was cancelled."""
    if order.deleted:
        return NextAct(step=Step.DELETED, said="this quote is deleted.")
    if order.stage is Stage.CANCELLED:
        said = (
            f"nothing is made; {_owed(known.account)}."
            if known.account.received
            else "nothing is made."
        )
        return NextAct(step=Step.LEFT, said=said, ways=_paying(known))
    again = moved_by(order, Stage.QUOTED)
    if not again or not all(each.stage in LEFT_THE_WAY for each in order.standing):
        return NextAct(step=Step.LEFT, said=_DECLINED)
    only = again[0] if len(again) == 1 else None
    if isinstance(only, Piece):
        button = _of_one(order, only, Stage.QUOTED, known)
        return NextAct(step=Step.LEFT, said=_DECLINED, button=button, of_piece=only.number)
    words = ACT_ON_ALL[Stage.QUOTED] if len(again) > 1 else NEXT_ACT[Stage.QUOTED]
    button = Button(address=f"/orders/{order.id}", stage=Stage.QUOTED.value, words=words)
    return NextAct(step=Step.LEFT, said=_DECLINED, button=button)


_DECLINED = "the customer declined."
