"""The sample's customers: many, of many names, and none that anybody could ring or write to."""

import re

from seed_demo.customers import customers


def test_there_are_more_than_sixty_and_some_pay_no_tax() -> None:
    known = customers(0)
    assert len(known) >= 60
    assert 1 <= sum(each.tax_free for each in known) <= 5
    assert all("tax" in each.notes.casefold() for each in known if each.tax_free)


def test_phones_are_of_the_range_kept_for_fiction() -> None:
    """Source: Ofcom's numbers for TV and radio drama: 01632 960000-960999, 07700 900000-900999."""
    for each in customers(500):
        assert re.fullmatch(r"(01632 960|07700 900) \d{3}", each.phone), each


def test_mail_goes_to_the_domain_kept_for_examples() -> None:
    """Source: RFC 2606, section 2."""
    addresses = [each.email for each in customers(500) if each.email]
    assert len(set(addresses)) == len(addresses) > 490
    assert all(address.endswith(".example") for address in addresses)


def test_a_large_sample_has_as_many_names_as_it_asks_for() -> None:
    names = [each.name for each in customers(9000)]
    assert len(names) == 9000
    assert len(set(names)) == 9000
