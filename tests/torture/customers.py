"""The customers of a shop, as the tortures count them."""

from string import ascii_lowercase

from sqlalchemy import select

from app.storage import Store
from app.storage.tables.customers import CustomerRow


def name_of(*numbers: int) -> str:
    """A name of its own for these numbers below 10,000, which holds no other and no figure; each place has words of its own, so
    that nobody may be meant by the name of somebody else, in whatever order they come.
    """
    words = (
        ascii_lowercase[place] + "".join(ascii_lowercase[int(digit)] for digit in f"{number:04}")
        for place, number in enumerate(numbers)
    )
    return " ".join(["Somebody", *(word.capitalize() for word in words)])


def names_in(store: Store) -> set[str]:
    """The names of all customers."""
    with store.reading() as work:
        return set(work.session.scalars(select(CustomerRow.name)))
