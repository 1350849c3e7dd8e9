"""What stands at the head of a paper that goes to one party: whose it is, to whom, the days and the number."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PartyPaper:
    """The head of such a paper, as `documents/_party_head.html` prints it. dates: (what, day) beside the address.

    logo: the address of the shop's picture, which stands for its name; blank for none. towards: the word before the party.
    """

    lang: str
    title: str
    heading: str
    number: str
    shop_name: str
    shop_lines: tuple[str, ...]
    customer: str
    customer_lines: tuple[str, ...]
    dates: tuple[tuple[str, str], ...]
    currency: str
    logo: str = ""
    towards: str = "For"
