"""A customer as the shop knows one."""

import re
from dataclasses import dataclass

from app.errors import FaultCollector

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


def _looks_like_email(text: str) -> bool:
    return bool(re.fullmatch(r"[^@\s]+@[^@\s]+\.[^@\s.]+", text))
