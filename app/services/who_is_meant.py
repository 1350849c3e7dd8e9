"""Who is meant by what was typed for a customer: somebody known, somebody to be asked about, or somebody new."""

import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

from app.days import show_day
from app.errors import Fault, FaultCollector, Invalid, NotFound, quoted
from app.orders import Customer
from app.storage import (
    Stamp,
    Store,
    UnitOfWork,
    Versioned,
    digits_of,
    same_phone,
    words_of,
)

_LABEL = re.compile(r"(?P<name>.*\S) #(?P<id>[0-9]{1,9})", re.ASCII | re.DOTALL)

_NUMBER = re.compile(r"#\s?(?P<id>[0-9]{1,9})", re.ASCII)

_DOCUMENT = re.compile(r"(?:[A-Z]{1,2}-)?[0-9]{4}-[0-9]{3,6}", re.ASCII | re.IGNORECASE)
"""The number of a quote, an order, an invoice, a plan: "Q-2026-0304"."""

MEANT = "customer.meant"
"""What a form bears that was typed for the shop and then shown to a customer: the label of who was meant. No page has a field of it."""

TOLD = "customer.told"
"""The field of a form that says whom its page told to be known: their label, or blank."""

OF_KNOWN = "of-known-customer"
"""Code of a fault that tells something of somebody known."""

WHO = "known-customers"
"""Code of a fault that asks whether one of the customers it offers is meant, or somebody new."""

_MOST_ASKED = 5
"""Customers who are offered where a typed name may be theirs."""

_TYPED = 20
"""Typed customers who are remembered while somebody types the piece. Source: ours."""

_SHORTEST_NUMBER = 3
"""Digits that are taken for a part of a phone number; fewer may be anything."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerRequest:
    """For whom a quote is, as typed: somebody known by label or name, or somebody new.

    new: the name that was said to be somebody new's, "" while nothing was said; None where nobody can be asked.
    told: the label of whom the page said to be known, "" where it said nothing; None where nobody is to be told.
    by_contact: whether a customer may have typed it, who is not to get at what is known of others: then somebody known is meant
    only by a whole name together with their phone or e-mail.
    """

    name: str
    phone: str = ""
    email: str = ""
    new: str | None = None
    told: str | None = None
    by_contact: bool = False

    @classmethod
    def of(cls, form: Mapping[str, str], *, beside_customer: bool = False) -> "CustomerRequest":
        """From the fields "customer", "customer.phone", "customer.email", "customer.new"; beside a customer of whom the shop
        meant before the screen was turned, where that is known.
        """
        meant = form.get(MEANT, "") if beside_customer else ""
        return cls(
            by_contact=beside_customer and not meant,
            name=meant or form.get("customer", "").strip(),
            phone=form.get("customer.phone", "").strip(),
            email=form.get("customer.email", "").strip(),
            new=form.get("customer.new", "").strip(),
            told=form.get(TOLD),
        )

    @property
    def is_new(self) -> bool:
        """Whether it was said that the typed name is somebody new's; what a customer may have said is not heeded."""
        return not self.by_contact and bool(self.name) and self.new == self.name


def label(customer_id: int, name: str) -> str:
    """Return what stands in a field once a customer is chosen: "Amber Quill #12"."""
    return f"{name} #{customer_id}"


def named(label: str) -> str:
    """Return the name in a label."""
    labelled = _LABEL.fullmatch(label)
    return labelled["name"] if labelled else label


def meant(store: Store, asked: CustomerRequest) -> str | None:
    """Return the label of the one known customer who is meant by what was typed; None where nobody is, or several may be."""
    with store.reading() as work:
        same = _same(work, asked)
        return label(same[0].id, same[0].value.name) if len(same) == 1 else None


def namesakes(store: Store, customer_id: int) -> tuple[str, ...]:
    """Return the labels of the other customers who are called as one is."""
    with store.reading() as work:
        customer = work.customers.get(customer_id).value
        others = work.customers.named(customer.name)
        return tuple(label(kept.id, kept.value.name) for kept in others if kept.id != customer_id)


def known(work: UnitOfWork, asked: CustomerRequest) -> Versioned[Customer]:
    """Return the one customer who is known and meant. Raises: Invalid at "customer"."""
    same = _same(work, asked)
    if len(same) == 1:
        return same[0]
    if same:
        raise Invalid.at(
            "customer", f"{len(same)} customers are called so; choose one from the list."
        )
    raise Invalid.at(
        "customer",
        f"{quoted(asked.name)} is nobody who is known; type a part of a name and choose from the list."
        if asked.name
        else "Nobody was chosen; type a part of a name and choose from the list.",
    )


def fitting(store: Store, asked: CustomerRequest) -> tuple[Customer, ...]:
    """Return the customers who may be meant by what was typed: none is somebody new, several are asked about."""

    def read() -> tuple[Customer, ...]:
        with store.reading() as work:
            return tuple(kept.value for kept in _same(work, asked))

    return store.remembered("fitting customers", read, asked=asked, most=_TYPED)


def alike(store: Store, asked: CustomerRequest) -> str | None:
    """Return the label of the only customer whose name is like what was typed, where nobody is meant by it.

    It may as well be the name of somebody new, so whoever asks offers it and does not take it.
    """

    def read() -> str | None:
        with store.reading() as work:
            return _alike(work, asked)

    return store.remembered("alike customer", read, asked=asked, most=_TYPED)


def _alike(work: UnitOfWork, asked: CustomerRequest) -> str | None:
    if asked.by_contact or _same(work, asked):
        return None
    found = _only(work, asked.name)
    words = words_of(asked.name)
    if found is None or not all(_begins_a_word(word, found.value.name) for word in words):
        return None
    return label(found.id, found.value.name)


def known_or_new(work: UnitOfWork, asked: CustomerRequest, act: Stamp) -> int:
    """Return the id of the customer who is meant, added where nobody of that name is known.

    Somebody with the same name but another phone or e-mail is somebody new, and so is who is said to be; of somebody who was
    chosen from the list, what was not known yet is noted. Whose page did not tell that somebody is known is told first. Where a person typed a name that may be somebody known's, it is asked
    once who is meant; a customer is not asked, and is somebody new unless their phone or e-mail is known. Raises: Invalid at "customer", "customer.phone", "customer.email".
    """
    chosen = _chosen(work, asked)
    if chosen is not None:
        return _noted(work, chosen, asked, act)
    same = _same(work, asked)
    if len(same) == 1 and not asked.is_new:
        _check_told(work, same[0], asked)
        return same[0].id
    if len(same) > 1 and not asked.by_contact:
        raise Invalid.at(
            "customer",
            f"{len(same)} customers are called {quoted(same[0].value.name)}; choose the right one from "
            "the list, or add a phone number.",
            OF_KNOWN,
        )
    _check_new(work, asked)
    try:
        customer = Customer(name=asked.name, phone=asked.phone, email=asked.email)
    except Invalid as invalid:
        raise _at_the_form(invalid) from invalid
    return work.customers.add(customer, now=act.now)


def _check_told(work: UnitOfWork, kept: Versioned[Customer], asked: CustomerRequest) -> None:
    """Raises: Invalid at "customer" where a person typed it on a page that did not say that somebody is known."""
    theirs = label(kept.id, kept.value.name)
    if asked.by_contact or asked.told is None or asked.told == theirs:
        return
    first = work.order_lists.first_of_customer(kept.id)
    since = f" since {show_day(first)}" if first else ""
    message = (
        f"This is for {kept.value.name}, in your records{since}. Save it again if so, or choose a new customer "
        "who is called so too."
    )
    raise Invalid((Fault(path="customer", message=message, code=WHO, offers=(theirs,)),))


def _check_new(work: UnitOfWork, asked: CustomerRequest) -> None:
    """Raises: Invalid at "customer" for a number in place of a name, and where somebody known may be meant."""
    if asked.by_contact:
        _check_name(asked.name)
        return
    if asked.name and (number := _NUMBER.fullmatch(asked.name)):
        raise Invalid.at("customer", f"There is no customer #{number['id']}; type the name.")
    if asked.new is None or not asked.name:
        return
    if no_name := _no_name(asked.name):
        raise Invalid.at("customer", no_name)
    if asked.is_new:
        return
    if labels := _may_be_known(work, asked):
        raise Invalid(
            (
                Fault(
                    path="customer",
                    message=f"{quoted(asked.name)} may be somebody known: {', '.join(labels)}. Choose who is meant, "
                    "or that it is a new customer.",
                    code=WHO,
                    offers=labels,
                ),
            )
        )


def _check_name(typed: str) -> None:
    """Raises: Invalid at "customer" for what is no name, without a word about who is known."""
    numbered = _NUMBER.fullmatch(typed) or _LABEL.fullmatch(typed)
    if typed and (numbered or _no_name(typed)):
        raise Invalid.at("customer", f"{quoted(typed)} is no name. Type the name alone.")


def _no_name(typed: str) -> str:
    """Say why what was typed is no name, where it is not."""
    if _DOCUMENT.fullmatch(typed):
        return f"{quoted(typed)} is the number of a quote, an order or another paper, no name. Type the name."
    what = ""
    if not any(char.isalpha() for char in typed):
        what = "a phone number has"
    elif "@" in typed and " " not in typed:
        what = "an e-mail address has"
    return (
        f"{quoted(typed)} is no name, and nobody is known by it. Type the name; {what} a field of its own."
        if what
        else ""
    )


def _may_be_known(work: UnitOfWork, asked: CustomerRequest) -> tuple[str, ...]:
    """Return the labels of those whose name every typed word begins a word of, and who have no other phone or e-mail."""
    words = words_of(asked.name)
    found = work.customers.find(asked.name, limit=4 * _MOST_ASKED) if words else ()
    like = (each for each in found if all(_begins_a_word(word, each.name) for word in words))
    theirs = [
        each
        for each in like
        if _may_be_phone(each.phone, asked.phone)
        and not _differ(each.email.casefold(), asked.email.casefold())
    ]
    return tuple(label(each.id, each.name) for each in theirs[:_MOST_ASKED])


def _may_be_phone(known: str, typed: str) -> bool:
    """Tell whether a phone that was typed is the known one, or one of them is not known."""
    return not (known and digits_of(typed)) or same_phone(known, typed)


def _differ(known: str, typed: str) -> bool:
    return bool(known and typed and known != typed)


def _chosen(work: UnitOfWork, asked: CustomerRequest) -> Versioned[Customer] | None:
    """Return the customer whose label, or number after a #, stands in the field; of a customer's typing nobody."""
    if asked.by_contact:
        return None
    if number := _NUMBER.fullmatch(asked.name):
        return _numbered(work, int(number["id"]))
    labelled = _LABEL.fullmatch(asked.name)
    if labelled is None:
        return None
    named = work.customers.named(labelled["name"])
    return next((kept for kept in named if kept.id == int(labelled["id"])), None)


def _numbered(work: UnitOfWork, customer_id: int) -> Versioned[Customer] | None:
    with suppress(NotFound):
        if work.customers.erased_on(customer_id) is None:
            return work.customers.get(customer_id)
    return None


def _noted(work: UnitOfWork, kept: Versioned[Customer], asked: CustomerRequest, act: Stamp) -> int:
    """Write down a phone or an e-mail that was not known of somebody. Raises: Invalid where another one is."""
    customer, faults = kept.value, FaultCollector()
    if not _may_be_phone(customer.phone, asked.phone):
        said = _knows(customer, "phone", "the phone number", asked.phone)
        faults.add("customer.phone", said, OF_KNOWN)
    if asked.email.casefold() not in ("", customer.email.casefold()) and customer.email:
        said = _knows(customer, "email", "the e-mail address", asked.email)
        faults.add("customer.email", said, OF_KNOWN)
    faults.finish()
    try:
        changed = replace(
            customer, phone=customer.phone or asked.phone, email=customer.email or asked.email
        )
    except Invalid as invalid:
        raise _at_the_form(invalid) from invalid
    if changed != customer:
        work.customers.save(kept.id, changed, kept.version, now=act.now)
    return kept.id


def _knows(customer: Customer, field: str, what: str, given: str) -> str:
    return (
        f"{quoted(given)} was typed, but {customer.name} has {what} {quoted(getattr(customer, field))}. Leave this "
        f"blank and change it on the customer's page, or take the # off the name for somebody else who is called so."
    )


def _same(work: UnitOfWork, asked: CustomerRequest) -> tuple[Versioned[Customer], ...]:
    """Return those whom a label, a name or a part of one phone or e-mail with what else was typed may mean."""
    if asked.by_contact:
        theirs = work.customers.named(asked.name)
        return tuple(kept for kept in theirs if _is_reached(kept.value, asked))
    if number := _NUMBER.fullmatch(asked.name):
        kept = _numbered(work, int(number["id"]))
        return (kept,) if kept is not None and _fits(kept.value, asked) else ()
    labelled = _LABEL.fullmatch(asked.name)
    named = work.customers.named(labelled["name"] if labelled else asked.name)
    return tuple(
        kept
        for kept in named or _reached_by(work, asked.name)
        if (labelled is None or kept.id == int(labelled["id"])) and _fits(kept.value, asked)
    )


def _reached_by(work: UnitOfWork, part: str) -> tuple[Versioned[Customer], ...]:
    """Return the only customer whose phone or e-mail has this part; nobody is called so."""
    number = digits_of(part) if not any(char.isalpha() for char in part) else ""
    if "@" not in part and len(number) < _SHORTEST_NUMBER:
        return ()
    found = _only(work, part)
    if found is None:
        return ()
    customer = found.value
    has = part.casefold() in customer.email.casefold() or (
        number and (number in digits_of(customer.phone) or same_phone(part, customer.phone))
    )
    return (found,) if has else ()


def _only(work: UnitOfWork, part: str) -> Versioned[Customer] | None:
    """Return the only customer who is found by a part of anything."""
    found = work.customers.find(part, limit=2)
    return work.customers.get(found[0].id) if len(found) == 1 else None


def _begins_a_word(word: str, name: str) -> bool:
    return any(each.startswith(word) for each in words_of(name))


def _fits(customer: Customer, asked: CustomerRequest) -> bool:
    """Tell whether what was typed beside the name is blank or what is known."""
    phone = not digits_of(asked.phone) or same_phone(asked.phone, customer.phone)
    return phone and asked.email.casefold() in ("", customer.email.casefold())


def _is_reached(customer: Customer, asked: CustomerRequest) -> bool:
    """Tell whether a phone or an e-mail was typed that is known of a customer, and nothing that is not."""
    phone = bool(digits_of(asked.phone)) and same_phone(asked.phone, customer.phone)
    email = bool(asked.email) and asked.email.casefold() == customer.email.casefold()
    return (phone or email) and _fits(customer, asked)


def _at_the_form(invalid: Invalid) -> Invalid:
    paths = {"name": "customer", "phone": "customer.phone", "email": "customer.email"}
    return Invalid(replace(fault, path=paths[fault.path]) for fault in invalid.faults)
