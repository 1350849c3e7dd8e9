"""A customer from the form, and back."""

from collections.abc import Mapping

from app.orders import Customer

CUSTOMER_FIELDS = ("name", "phone", "email", "address", "notes", "tax_free")


def read_customer(typed: Mapping[str, str]) -> Customer:
    """The customer of a form. Raises: Invalid with every fault, at the form's fields."""
    text = {name: typed.get(name, "").strip() for name in CUSTOMER_FIELDS}
    return Customer(
        name=" ".join(text["name"].split()),
        phone=text["phone"],
        email=text["email"],
        address=text["address"],
        notes=text["notes"],
        tax_free=bool(text["tax_free"]),
    )


def typed_of(customer: Customer) -> dict[str, str]:
    """The text of every field of a customer."""
    return {
        "name": customer.name,
        "phone": customer.phone,
        "email": customer.email,
        "address": customer.address,
        "notes": customer.notes,
        "tax_free": "1" if customer.tax_free else "",
    }
