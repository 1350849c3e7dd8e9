"""The pages of customers: the list, a customer with the orders, the form, and removing a customer."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from app.counting import count_text
from app.money import Money, show_money
from app.orders import Customer, Shop
from app.orders.customer import CustomerJoin
from app.services.customers import Joining
from app.services.who_is_meant import label
from app.storage import CustomerSummary, CustomerSums, OrderSummary
from app.web.kit.fields import FieldView, FormView
from app.web.kit.listing import Listing, ListQuery, Option, private_words
from app.web.kit.tally import Tally
from app.web.kit.templating import Page
from app.web.orders.invoices_page import InvoiceView


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerQuery(ListQuery):
    """The search and the page that the address of the list asks for."""

    path: ClassVar[str] = "/customers"
    text: str = private_words()


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomersPage(Page):
    """The list of customers, a page at a time."""

    title: str = "Customers"
    section: str = "Customers"
    wide: bool = True
    listing: Listing[CustomerSummary]


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerPage(Page):
    """One customer.

    tally: what is owed and ordered in all, and how many quotes and orders there are. removed: whether the record was emptied.
    invoices: with the credit notes, the latest first.
    """

    section: str = "Customers"
    wide: bool = True
    id: int
    customer: Customer
    facts: tuple[tuple[str, str], ...]
    orders: tuple[OrderSummary, ...]
    invoices: tuple[InvoiceView, ...]
    today: date
    tally: tuple[Tally, ...]
    more: bool
    removed: bool
    joins: tuple[CustomerJoin, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerFormPage(Page):
    """The form of a new or a known customer."""

    section: str = "Customers"
    heading: str
    action: str
    back: str
    version: str
    fields: FormView[Shop]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChooseCustomerPage(Page):
    """Chooses somebody who is known, to join two records or to give an order away.

    text: what it is for. joining: what joining means, once the other one is chosen.
    """

    section: str = "Customers"
    wide: bool = False
    text: str
    action: str
    back: str
    yes: str
    version: int
    field: FieldView
    joining: Joining | None = None
    result: tuple[tuple[str, str], ...] = ()


def options(found: Iterable[CustomerSummary]) -> tuple[Option, ...]:
    """Return the customers that the field of a quote offers while one types."""
    return tuple(
        Option(
            value=label(each.id, each.name),
            label=each.name,
            hint=" · ".join(part for part in (each.phone, each.email) if part),
        )
        for each in found
    )


def facts_of(customer: Customer) -> tuple[tuple[str, str], ...]:
    """Return what is known of a customer as (what, text) pairs, blanks left out."""
    known = (
        ("phone", customer.phone),
        ("e-mail", customer.email),
        ("address", customer.address),
        ("tax", "priced without tax" if customer.tax_free else ""),
    )
    return tuple((what, text) for what, text in known if text)


def tally_of(sums: CustomerSums, count: int) -> tuple[Tally, ...]:
    """Return what a customer owes and has ordered, and how many quotes and orders there are, all of them."""
    return (
        Tally(label="Owed", number=_in_all(sums.owed) or "nothing"),
        Tally(label="Ordered", number=_in_all(sums.ordered) or "nothing yet"),
        Tally(label="Quotes and orders", number=count_text(count)),
    )


def _in_all(amounts: Iterable[Money]) -> str:
    return " + ".join(show_money(amount, code=True) for amount in amounts)
