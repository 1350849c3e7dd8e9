"""That the customer was told, on an order's page: what is noted, and the form that notes it."""

from dataclasses import dataclass
from datetime import date, datetime

from app.errors import Conflict, Fault, Invalid, quoted
from app.forms.kinds import PAST_DAY, text_of
from app.forms.table import Field, Form, Typed, values_in
from app.journal import standing, taken_back
from app.orders.handing_over import waiting
from app.orders.told import LONGEST_HOW, Told
from app.services import telling
from app.services.order_transaction import OrderAt
from app.web.kit.context import RequestContext
from app.web.kit.fields import Fields, FormView
from app.web.orders.form import OfOrder

OTHERWISE = "otherwise"
WAYS = ("phone", "e-mail", "in person")
"""How a customer is told as a rule; anything else is typed."""

_CALLED = {
    "phone": "Told by phone",
    "e-mail": "Told by e-mail (noted only, nothing is sent)",
    "in person": "Told in person",
    OTHERWISE: "Told as typed",
}
"""What the button of each way says."""

_TOO_LONG_WITH_ITS_WAY = LONGEST_HOW - max(map(len, WAYS)) - 2

TOLD = Form[OfOrder](
    Field(
        "day",
        "Told on",
        PAST_DAY,
        "As today, 13 Nov, Friday or 2 days ago; the last such day.",
        needed=True,
        wish="Type the day of telling.",
    ),
    Field(
        "note",
        "What was said, or how else",
        text_of(_TOO_LONG_WITH_ITS_WAY),
        "As “left a message”.",
        beside=True,
    ),
).under("told")


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldLine:
    """One line of the record. stands: whether it was not taken back and takes none back."""

    id: int
    day: date
    how: str
    at: datetime
    by: str
    stands: bool
    taken_back: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TellingView:
    """What is noted, the oldest first, and the form; None where nothing is framed.

    ways: how the customer can be told, each with the words of its button.
    """

    form: FormView[OfOrder] | None
    lines: tuple[ToldLine, ...]
    ways: tuple[tuple[str, str], ...]

    @property
    def stands(self) -> bool:
        """Whether the customer was told."""
        return any(line.stands for line in self.lines)


def telling_view(
    known: OfOrder,
    told: tuple[Told, ...],
    typed: Typed,
    faults: tuple[Fault, ...],
    *,
    has_email: bool,
) -> TellingView:
    """Return the part of the order's page that is about telling the customer. has_email: whether an address is known."""
    begin = TOLD.typed(values_in({"day": known.today, "note": ""}), known)
    stand, undone = standing(told), taken_back(told)
    return TellingView(
        form=FormView(TOLD, known, Fields({**begin, **typed}, faults))
        if waiting(known.order)
        else None,
        lines=tuple(
            ToldLine(
                id=each.id,
                day=each.entry.day,
                how=each.entry.how,
                at=each.entry.at,
                by=each.entry.by,
                stands=each in stand,
                taken_back=each.id in undone,
            )
            for each in told
        ),
        ways=tuple(way for way in _CALLED.items() if way[0] != "e-mail" or has_email),
    )


def tell(here: RequestContext, at: OrderAt, known: OfOrder, typed: Typed) -> str:
    """Note that the customer was told, as the form says. Raises: Invalid at the form's fields, Conflict."""
    values = TOLD.read(typed, known)
    way = typed.get("action", OTHERWISE)
    if way not in (*WAYS, OTHERWISE):
        raise Conflict(f"{quoted(way)} is not a way to tell; type how it was.")
    ways = () if way == OTHERWISE else (way,)
    how = ", ".join((*ways, *((values["note"],) if values["note"] else ())))
    try:
        telling.tell(here.store, at, telling.Telling(day=values["day"], how=how), here.act)
    except Invalid as invalid:
        raise invalid.under("told") from invalid
    return f"Noted that {known.order.customer_name} was told, {how}."
