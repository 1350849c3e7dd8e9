"""Builds the sample shop in an empty store.

The same day and the same number of orders give the same shop to the last cent: all chance comes from
generators with fixed seeds, and all days are counted back from `today`.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from itertools import batched
from random import Random

from app.errors import Conflict, Invalid
from app.orders import Customer, Shop
from app.orders.open_days import OpenDays
from app.storage import Store, UnitOfWork
from seed_demo.buying import order_from_suppliers
from seed_demo.choices import offer_designs
from seed_demo.customers import customers
from seed_demo.happenings import let_things_happen
from seed_demo.invoicing import issue_invoices
from seed_demo.keeping import keep, number_them
from seed_demo.lines import sell_without_artwork
from seed_demo.photos import bring_photos
from seed_demo.plans import make_plans
from seed_demo.price_book import price_book
from seed_demo.quoting import Quoter, finder
from seed_demo.rack import fill_rack
from seed_demo.shop import quillmoor
from seed_demo.years import A_YEAR, People, past_orders

USUAL_ORDERS = 320
MOST_ORDERS = 200_000
DIFFERENT_QUOTES = 400
"""Above so many orders their pieces come round again, with other customers and on other days."""

AT_ONCE = 1000
"""Orders in one transaction."""

_SEED = 27_104


def build_demo(store: Store, *, orders: int | None = None, today: date | None = None) -> None:
    """Fill an empty store with the sample shop.

    orders: how many, 320 as a rule; one of them is a sale over the counter, where there are two. today: the day that the sample leads up to; this one as a rule.
    Raises: Conflict where a shop is set up already; Invalid for a number of orders out of range.
    """
    wanted = USUAL_ORDERS if orders is None else orders
    if not 0 <= wanted <= MOST_ORDERS:
        raise Invalid.at(
            "orders", f"{wanted} orders were asked for; 0 to {MOST_ORDERS} can be made."
        )
    day = today or datetime.now().astimezone().date()
    shop, random = replace(quillmoor(), open_days=_open_days(day)), Random(_SEED)
    quoter = Quoter(
        shop, finder(price_book()), Random(_SEED + 1), different=min(wanted, DIFFERENT_QUOTES) or 1
    )
    with store.writing() as work:
        people = _open_shop(work, shop, customers(wanted // 6), day)
        past = past_orders(wanted - (wanted > 1), day, people, quoter, random)
        first = number_them(work.session, tuple(past))
        keep(work.session, first[:AT_ONCE])
    for more in batched(first[AT_ONCE:], AT_ONCE):
        with store.writing() as work:
            keep(work.session, more)
    issue_invoices(store, first, dict(people.known), day)
    make_plans(store, day)
    order_from_suppliers(store, day)
    bring_photos(store, day)
    offer_designs(store)
    if wanted > 1:
        sell_without_artwork(store, day)
    let_things_happen(store, day)


def _open_days(today: date) -> OpenDays:
    """Monday to Saturday, and closed between the years."""
    first = date(today.year, 12, 24)
    return OpenDays(closed=tuple(first + timedelta(days=n) for n in range(10)))


def _open_shop(work: UnitOfWork, shop: Shop, known: tuple[Customer, ...], today: date) -> People:
    """The shop, its price book and its customers, as of a year ago, and what is on its rack."""
    if work.shop.exists():
        raise Conflict("There is a shop here already; the sample goes only into an empty folder.")
    opened = datetime.combine(today - timedelta(days=A_YEAR + 7), time(9), UTC)
    work.shop.add(shop, now=opened)
    work.materials.add_all(price_book(), now=opened)
    fill_rack(work, price_book(), today)
    return People(known=tuple((work.customers.add(each, now=opened), each) for each in known))
