"""Reads a customer from the form, and writes the form's text from a customer."""

from app.forms.kinds import TICK, FieldKind, text_of
from app.forms.table import Field, Form, Typed
from app.orders import Customer, Shop


def _text(control: str = "text") -> FieldKind[str]:
    """Return the kind of field for a text; how long it may be is said by the customer itself."""
    return text_of(1_000_000, control)


CUSTOMER = Form[Shop](
    Field("name", "Name", _text(), needed=True),
    Field("phone", "Phone", _text("tel")),
    Field("email", "E-mail", _text("email"), beside=True),
    Field("address", "Address", _text("lines")),
    Field(
        "notes", "Notes", _text("lines"), "What you want to remember when the customer comes again."
    ),
    Field(
        "tax_free",
        "Priced without tax",
        TICK,
        "As for a customer from abroad or with an exemption; say why in the notes.",
    ),
)


def read_customer(typed: Typed, shop: Shop) -> Customer:
    """Read the customer of a form. Raises: Invalid with every fault, at the form's fields."""
    values = CUSTOMER.read(typed, shop)
    return Customer(**{**values, "name": " ".join(values["name"].split())})


OTHER = Form[Shop](
    Field(
        "customer",
        "Who",
        text_of(200),
        "A part of a name, phone or e-mail, chosen from the list.",
        needed=True,
    ),
)
"""Names somebody who is known."""
