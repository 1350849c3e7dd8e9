"""The shop's own settings, from the first run on."""

from dataclasses import replace

from app.money import Currency
from app.orders import Shop
from app.orders.change_of_currency import material_in
from app.storage import Stamp, Store, UnitOfWork, Versioned


def exists(store: Store) -> bool:
    """Tell whether the first run is done."""
    return current_shop(store) is not None


def current_shop(store: Store) -> Shop | None:
    """Return the shop, None before the first run."""
    return store.current_shop()


def get(store: Store) -> Versioned[Shop]:
    """Return the shop with its version, for the settings page. Raises: NotFound before the first run."""
    with store.reading() as work:
        return work.shop.kept()


def set_up(store: Store, shop: Shop, act: Stamp) -> None:
    """Keep the shop of the first run. Raises: Conflict where there is one."""
    with store.writing() as work:
        work.shop.add(shop, now=act.now)


def save(store: Store, shop: Shop, expected_version: int, act: Stamp) -> None:
    """Replace the settings; quotes keep those that they were made with. Raises: NotFound, Stale.

    With another currency the amounts of price book, stock and open orders to suppliers keep their
    figures in it.
    """
    with store.writing() as work:
        before = work.shop.get().currency
        work.shop.save(shop, expected_version, now=act.now)
        if shop.currency != before:
            _redenominate(work, shop.currency, act)


def set_logo(store: Store, logo: str, act: Stamp) -> None:
    """Let a picture that is kept head the papers, or none where blank. Raises: NotFound before the first run."""
    with store.writing() as work:
        kept = work.shop.kept()
        work.shop.save(replace(kept.value, logo=logo), kept.version, now=act.now)


def _redenominate(work: UnitOfWork, currency: Currency, act: Stamp) -> None:
    for material in work.materials.all(inactive=True):
        version = work.materials.get(material.code).version
        work.materials.save(material.code, material_in(material, currency), version, now=act.now)
    work.stock.denominate(currency)
    work.supplier_orders.denominate(currency)
