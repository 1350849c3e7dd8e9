"""Who asks: this computer itself, or a phone that was paired with it, and what it may see.

The guard finds out who asks and leaves it with the request (`noted`); whoever answers reads it there (`visitor_of`).
"""

from dataclasses import dataclass
from enum import StrEnum

from starlette.requests import HTTPConnection
from starlette.types import Scope

from app.errors import AppError

_KEY = "visitor"


class Role(StrEnum):
    """What a visitor works on.

    OFFICE: everything. BENCH: tickets, steps, stages, plans and stock; no prices, no money and nobody's contacts.
    """

    OFFICE = "office"
    BENCH = "bench"


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """What a screen shows that is turned to a customer: the order that was open, None for none, and those begun since.

    id: of this turning, which no other one has.
    """

    id: str = ""
    order: int | None = None
    begun: frozenset[int] = frozenset()

    def shows(self, order_id: int) -> bool:
        """Tell whether an order may be looked at. All others are somebody else's, for all that is known."""
        return order_id == self.order or order_id in self.begun


@dataclass(frozen=True, slots=True, kw_only=True)
class Visitor:
    """Who asks. phone: the name of the paired phone, blank for this computer itself. turned: what the screen shows while a
    customer sees it too; None while none does.
    """

    role: Role = Role.OFFICE
    phone: str = ""
    turned: Turned | None = None

    @property
    def beside_customer(self) -> bool:
        """Tell whether the screen is turned to a customer."""
        return self.turned is not None

    @property
    def at_own_machine(self) -> bool:
        """Tell whether the computer itself asks, on which the data are."""
        return not self.phone

    @property
    def sees_money(self) -> bool:
        """Tell whether prices, costs and what is owed are shown."""
        return self.role is Role.OFFICE

    @property
    def sees_costs(self) -> bool:
        """Tell whether costs, markup, margin, stock, suppliers, codes and notices of the workshop are shown."""
        return self.sees_money and not self.beside_customer

    @property
    def sees_all(self) -> bool:
        """Tell whether there is nothing that is closed to who asks."""
        return self.role is Role.OFFICE and not self.beside_customer


class AtTheComputer(AppError):
    """Only the computer itself is answered here, no phone, whatever it may see."""

    code = "at-the-computer"

    def __init__(self) -> None:
        super().__init__("Phones are let in and put out on the computer itself, not on a phone.")


OWNER = Visitor()
"""Who sits at the computer itself."""


def noted(scope: Scope, visitor: Visitor) -> None:
    """Leave with a request who asks."""
    scope.setdefault("state", {})[_KEY] = visitor


def visitor_of(request: HTTPConnection) -> Visitor:
    """Return who asks; the computer itself where nobody was noted."""
    visitor: Visitor = request.scope.get("state", {}).get(_KEY, OWNER)
    return visitor
