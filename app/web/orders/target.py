"""A target price on the page of a quote: its form, and what meeting it leaves (P13). All of it is for the shop."""

from dataclasses import dataclass

from app.errors import Conflict, Fault, Invalid
from app.forms.kinds import MONEY, text_of
from app.forms.table import Field, Form, Typed
from app.money import Money, show_money, show_percent
from app.orders.reductions import LONGEST_REASON
from app.orders.target_price import NEAR, MetTarget, met_by
from app.services.target_price import CheaperChoice
from app.web.kit import stating
from app.web.kit.fields import FormView
from app.web.orders.form import OfOrder
from app.web.pieces.price import margin_share

TARGET = Form[OfOrder](
    Field(
        "amount",
        "The customer wants to pay",
        MONEY,
        needed=True,
        stated=lambda known, _typed: stating.paid_in_all(known.account),
    ),
    Field(
        "reason",
        "Printed beside the discount",
        text_of(LONGEST_REASON),
        "Blank for “price of … agreed”, with the amount.",
    ),
).under("target")


MEET = "Take the discount off"
"""The button by which a target is met."""

BELOW = "target.below"
"""The field that holds the amount of which it was asked whether to go below cost."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceView:
    """A cheaper choice. href: the page on which the piece is changed with it filled in."""

    name: str
    to_pay: Money
    difference: str
    href: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetView:
    """What meeting a target leaves. share, margin_share: in percent. choices: by what they are in place of. near: how
    far from the target these are at most, in percent.

    asked_below: the amount as typed where it was asked whether to go below cost; "" else.
    """

    met: MetTarget
    share: str
    margin_share: str
    below_cost: str
    choices: tuple[tuple[str, tuple[ChoiceView, ...]], ...]
    asked_below: str = ""
    near: str = show_percent(NEAR)


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetPart:
    """The live answer: the amount with what is wrong with it, and what it leaves. target: None while it cannot be read."""

    form: FormView[OfOrder]
    target: TargetView | None


def read_target(typed: Typed, known: OfOrder) -> tuple[Money, str]:
    """Return the amount and the reason. Raises: Invalid with every fault, at the form's fields."""
    values = TARGET.read(typed, known)
    return values["amount"], values["reason"]


def met_in(typed: Typed, known: OfOrder) -> MetTarget:
    """Return what a typed target leaves. Raises: Invalid at the form's fields, Conflict."""
    amount, _ = read_target(typed, known)
    try:
        return met_by(known.order, amount)
    except Invalid as invalid:
        raise invalid.under("target") from invalid


def asked_below_cost(typed: Typed, known: OfOrder) -> Fault | None:
    """Return the question before a target below cost is met; None where it was asked, or where nothing can be met."""
    try:
        below = met_in(typed, known).below_cost
    except (Invalid, Conflict):
        return None
    amount = typed["target.amount"]
    if not below or typed.get(BELOW, "") == amount:
        return None
    return Fault(
        path="target.amount",
        message=f"{amount.strip()} is below cost. Press “{MEET}” once more to agree to it all the same.",
    )


def target_view(
    order_id: int, met: MetTarget, choices: tuple[CheaperChoice, ...], *, several: bool
) -> TargetView:
    """Return what meeting a target leaves, ready to print. several: whether the quote has several pieces."""
    return TargetView(
        met=met,
        share=show_percent(met.share, 1),
        margin_share=margin_share(met.margin, met.net),
        below_cost=_below_cost(met),
        choices=tuple(
            (of, tuple(_choice(order_id, each, met) for each in alike))
            for of, alike in _by_place(choices, several=several).items()
        ),
    )


def _below_cost(met: MetTarget) -> str:
    """Say that less is left than the materials cost; empty where that is not so."""
    if not met.below_cost:
        return ""
    return (
        f"This is below cost: {show_money(met.net)} without tax is {show_money(-met.margin)} less than the materials "
        "cost, and the work is not paid at all."
    )


def _by_place(
    choices: tuple[CheaperChoice, ...], *, several: bool
) -> dict[str, list[CheaperChoice]]:
    """Return the choices by what each is in place of, the cheapest first."""
    found: dict[str, list[CheaperChoice]] = {}
    for each in choices:
        of_piece = f"Piece {each.number}, in" if several else "In"
        found.setdefault(f"{of_piece} place of {each.instead_of}", []).append(each)
    return found


def _choice(order_id: int, choice: CheaperChoice, met: MetTarget) -> ChoiceView:
    beyond = choice.to_pay - met.asked
    side = "above" if beyond.minor > 0 else "below"
    return ChoiceView(
        name=choice.material.name,
        to_pay=choice.to_pay,
        difference=f"{show_money(abs(beyond))} {side}" if beyond else "just that",
        href=f"/orders/{order_id}/pieces/{choice.number}/change?take={choice.path}:{choice.material.code}",
    )
