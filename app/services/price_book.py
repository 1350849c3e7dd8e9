"""The price book: materials added, changed, raised in price, taken out.

Quotes keep what they were priced with, so nothing here touches one (P7).
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from app.errors import Invalid
from app.money import Money, show_percent
from app.pricing import Kind, Material
from app.storage import Act, Kept, Store, Work

LARGEST_RAISE = Fraction(5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Selection:
    """Which materials are meant; everything given must hold. supplier: any case."""

    kind: Kind | None = None
    text: str = ""
    supplier: str = ""


def get(store: Store, code: str) -> Kept[Material]:
    """The material of a code, any case. Raises: NotFound."""
    with store.reading() as work:
        return work.materials.get(code)


def find(
    store: Store, text: str, *, kind: Kind | None = None, limit: int = 20
) -> tuple[Material, ...]:
    """Active materials by a part of code, name, finish, supplier or tag, the best first."""
    with store.reading() as work:
        return work.materials.find(text, kind=kind, limit=limit)


def listed(
    store: Store, selection: Selection | None = None, *, inactive: bool = False
) -> tuple[Material, ...]:
    """The materials that are meant, by code."""
    with store.reading() as work:
        return _meant(work, selection or Selection(), inactive=inactive)


def counts(store: Store) -> dict[Kind, int]:
    """How many active materials there are of each kind."""
    with store.reading() as work:
        return work.materials.counts()


def add(store: Store, material: Material, act: Act) -> None:
    """Add a material. Raises: Invalid at "code" where it is taken."""
    with store.writing() as work:
        work.materials.add(material, now=act.now)


def save(store: Store, code: str, material: Material, expected_version: int, act: Act) -> None:
    """Replace the material of a code; its code may change. Raises: NotFound, Stale, Invalid."""
    with store.writing() as work:
        work.materials.save(code, material, expected_version, now=act.now)


def remove(store: Store, code: str, expected_version: int) -> None:
    """Take a material out of the book for good. Raises: NotFound, Stale."""
    with store.writing() as work:
        work.materials.remove(code, expected_version)


def retire(store: Store, code: str, expected_version: int, act: Act) -> None:
    """Keep a material but offer it no more. Raises: NotFound, Stale."""
    _set_active(store, code, expected_version, act, active=False)


def reactivate(store: Store, code: str, expected_version: int, act: Act) -> None:
    """Offer a material again. Raises: NotFound, Stale."""
    _set_active(store, code, expected_version, act, active=True)


def raise_prices(store: Store, selection: Selection, percent: Fraction, act: Act) -> int:
    """Raise costs, and prices given outright, of all that is meant. Returns how many materials.

    percent: as a share, 1/20 for 5 %; below zero lowers them. Each amount is rounded half up.
    Raises: Invalid at "percent", or at "selection" where nothing is meant.
    """
    if not -1 < percent <= LARGEST_RAISE or not percent:
        raise Invalid.at(
            "percent",
            f"{show_percent(percent)} cannot be used; a raise up to {show_percent(LARGEST_RAISE)} "
            "can, or a cut of less than 100 %.",
        )
    with store.writing() as work:
        meant = _meant(work, selection, inactive=True)
        if not meant:
            raise Invalid.at("selection", "No material is meant, so no price was changed.", "none")
        for material in meant:
            version = work.materials.get(material.code).version
            work.materials.save(material.code, raised(material, percent), version, now=act.now)
        return len(meant)


def raised(material: Material, percent: Fraction) -> Material:
    """A material with its cost, its outright price and its band prices raised by a share."""
    factor = 1 + percent

    def up(money: Money) -> Money:
        return money.times(factor)

    price = material.selling.price
    bands = tuple(replace(band, price=up(band.price)) for band in material.charge.bands)
    return replace(
        material,
        cost=up(material.cost),
        selling=replace(material.selling, price=up(price) if price is not None else None),
        charge=replace(material.charge, bands=bands),
    )


def _meant(work: Work, selection: Selection, *, inactive: bool) -> tuple[Material, ...]:
    if selection.text.strip():
        found = work.materials.find(
            selection.text, kind=selection.kind, limit=None, inactive=inactive
        )
    else:
        found = work.materials.all(selection.kind, inactive=inactive)
    supplier = selection.supplier.strip().casefold()
    return tuple(
        material
        for material in found
        if not supplier or material.supplier.strip().casefold() == supplier
    )


def _set_active(store: Store, code: str, expected_version: int, act: Act, *, active: bool) -> None:
    with store.writing() as work:
        kept = work.materials.get(code)
        material = replace(kept.value, active=active)
        work.materials.save(code, material, expected_version, now=act.now)
