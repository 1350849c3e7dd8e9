"""A customer as the shop knows one."""

import re
from dataclasses import dataclass, replace

from app.errors import Conflict, FaultCollector
from app.journal import Noted

LONGEST_NAME = 120
LONGEST_NOTE = 2000


@dataclass(frozen=True, slots=True, kw_only=True)
class Customer:
    """name is all that is needed. tax_free: priced without tax, with the reason in `notes`.

    Raises: Invalid with every fault, at the field's name.
    """

    name: str
    phone: str = ""
    email: str = ""
    address: str = ""
    notes: str = ""
    tax_free: bool = False

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not self.name.strip():
            faults.add("name", "The name is empty; a name is what the customer is found by.")
        for field, limit in (
            ("name", LONGEST_NAME),
            ("phone", 40),
            ("email", 254),
            ("address", 400),
            ("notes", LONGEST_NOTE),
        ):
            given = len(getattr(self, field))
            if given > limit:
                faults.add(field, f"The {field} has {given} characters; at most {limit} are kept.")
        if self.email and len(self.email) <= 254 and not _looks_like_email(self.email):
            faults.add(
                "email", f"“{self.email[:60]}” is not an e-mail address: name@place.example is."
            )
        if self.phone and len(self.phone) <= 40 and not re.search(r"\d.*\d.*\d", self.phone):
            faults.add("phone", f"“{self.phone}” is not a phone number: it needs digits.")
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerJoin(Noted):
    """Another record that was joined into a customer's. joined_id: of that one; orders: how many came with it."""

    joined_id: int
    orders: int


def joined(kept: Customer, other: Customer) -> Customer:
    """Return one record of two: what the kept one lacks is taken from the other, what differs goes into its notes.

    Raises: Conflict where one is priced without tax and the other is not; Invalid at "notes" where they
    become too long.
    """
    if kept.tax_free != other.tax_free:
        raise Conflict(
            "One of the two is priced without tax and the other with it. Say of both what holds, then join them."
        )
    taken = {
        field: getattr(other, field)
        for field in ("phone", "email", "address")
        if not getattr(kept, field)
    }
    named = (("name", "name"), ("phone", "phone"), ("email", "e-mail"), ("address", "address"))
    differing = [
        f"{word}: {getattr(other, field)}"
        for field, word in named
        if getattr(other, field)
        and getattr(other, field) not in (getattr(kept, field), taken.get(field))
    ]
    also = f"Also {'; '.join(differing)}" if differing else ""
    notes = "\n".join(filter(None, (kept.notes, also, other.notes)))
    return replace(kept, **taken, notes=notes)


def _looks_like_email(text: str) -> bool:
    return bool(re.fullmatch(r"[^@\s]+@[^@\s]+\.[^@\s.]+", text))
