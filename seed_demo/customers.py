"""The sample's customers: those of the table, and as many more as a large sample asks for."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count, islice

from app.orders import Customer
from seed_demo.tables import Line, table

TRADE_DISCOUNT = {"Tidewrack Gallery": "10"}
"""Per cent that is typed into every quote for them."""


def customers(wanted: int) -> tuple[Customer, ...]:
    """The customers of the table and, where more are wanted, others named after them."""
    known = tuple(map(_customer, table("customers")))
    return (*known, *islice(_others(known), max(0, wanted - len(known))))


def _customer(line: Line) -> Customer:
    return Customer(
        name=line["name"],
        phone=line["phone"],
        email=line["email"],
        address=line["address"],
        notes=line["notes"] or "",
        tax_free=line["tax_free"] == "yes",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Names:
    given: tuple[str, ...]
    family: tuple[str, ...]


def _others(known: tuple[Customer, ...]) -> Iterator[Customer]:
    """Given and family names of the known ones in other pairs; a further initial in each round."""
    people = [c.name.split() for c in known if len(c.name.split()) == 2]
    names = _Names(
        given=tuple(given for given, _ in people), family=tuple(family for _, family in people)
    )
    pairs = len(people)
    for number in count():
        step, place = divmod(number, pairs)
        row, shift = divmod(step, pairs - 1)
        given = names.given[place]
        family = names.family[(place + shift + 1) % pairs]
        initial = f" {chr(ord('A') + row % 26)}." if row else ""
        yield Customer(
            name=f"{given}{initial} {family}",
            phone=f"07700 900 {number % 1000:03d}",
            email=f"box{number}@driftpost.example",
            address=f"{number % 90 + 1} Wherry Road, Orrenby",
        )
