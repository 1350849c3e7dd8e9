"""The customers of a shop, as the tortures count them."""

from string import ascii_lowercase

from sqlalchemy import select

from app.storage import Store
from app.storage.tables.customers import CustomerRow


def name_of(*numbers: int) -> str:
    """A name of its own for these numbers below 10,000, which holds no other and no figure."""
    return " ".join(
        [
            "Somebody",
            *("".join(ascii_lowercase[int(d)] for d in f"{n:04}").capitalize() for n in numbers),
        ]
    )


def names_in(store: Store) -> set[str]:
    """The names of all customers."""
    with store.reading() as work:
        return set(work.session.scalars(select(CustomerRow.name)))
