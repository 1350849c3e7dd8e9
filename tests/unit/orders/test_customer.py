"""A customer: what is needed, what is too long, and what is no phone or e-mail address."""

import pytest

from app.errors import Invalid
from app.orders import Customer


def faults(**given: str) -> list[str]:
    with pytest.raises(Invalid) as raised:
        Customer(**{"name": "Ada Birch", **given})
    return [fault.path for fault in raised.value.faults]


def test_a_name_is_all_that_is_needed():
    assert Customer(name="Ada Birch").tax_free is False


@pytest.mark.parametrize("name", ["", "  "])
def test_a_customer_without_a_name_is_refused(name):
    assert faults(name=name) == ["name"]


@pytest.mark.parametrize(
    ("field", "longest"),
    [
        ("name", "n" * 120),
        ("phone", "1" * 40),
        ("email", "a" * 241 + "@wood.example"),  # 241 + 13
        ("address", "a" * 400),
        ("notes", "a" * 2000),
    ],
)
def test_what_is_one_character_too_long_is_refused_once(field, longest):
    Customer(**{"name": "Ada Birch", field: longest})
    assert faults(**{field: longest[0] + longest}) == [field]


@pytest.mark.parametrize("email", ["ada@wood.example", "a.b+c@sub.wood.example"])
def test_an_email_address_has_a_name_and_a_place(email):
    assert Customer(name="Ada Birch", email=email).email == email


@pytest.mark.parametrize(
    "email", ["ada", "ada@wood", "@wood.example", "a b@wood.example", "a@b@c.de"]
)
def test_what_is_no_email_address_is_refused(email):
    assert faults(email=email) == ["email"]


def test_a_phone_number_has_three_digits_or_more():
    assert Customer(name="Ada Birch", phone="ext. 1-2-3").phone == "ext. 1-2-3"
    assert faults(phone="ext. 1-2") == ["phone"]


def test_all_faults_are_told_at_once():
    assert faults(name=" ", phone="none", email="none") == ["name", "email", "phone"]
