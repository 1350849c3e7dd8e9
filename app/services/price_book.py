"""The price book: materials added, changed, raised in price, taken out.

Quotes keep what they were priced with, so nothing here touches one (P7).
"""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from app.errors import Conflict, Invalid
from app.money import Money, show_percent
from app.orders.hanging_parts import Hardware
from app.pricing import Kind, Material, Raised, raised
from app.storage import Stamp, Store, UnitOfWork, Versioned

LARGEST_RAISE = Fraction(5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Selection:
    """Which materials are meant; everything given must hold. supplier: any case."""

    kind: Kind | None = None
    text: str = ""
    supplier: str = ""


def get(store: Store, code: str) -> Versioned[Material]:
    """Return the material of a code, any case. Raises: NotFound."""
    with store.reading() as work:
        return work.materials.get(code)


def several(store: Store, codes: Collection[str]) -> dict[str, Material]:
    """Return materials by their codes, whether they are on offer or not."""
    with store.reading() as work:
        return work.materials.several(codes)


def find(
    store: Store, text: str, *, kind: Kind | None = None, limit: int = 20
) -> tuple[Material, ...]:
    """Active materials by a part of code, name, finish, supplier or tag, the best first."""
    with store.reading() as work:
        return work.materials.find(text, kind=kind, limit=limit)


def listed(
    store: Store, selection: Selection | None = None, *, inactive: bool = False
) -> tuple[Material, ...]:
    """Return the materials that are meant, by code."""
    with store.reading() as work:
        return _meant(work, selection or Selection(), inactive=inactive)


def counts(store: Store) -> dict[Kind, int]:
    """Tell how many active materials there are of each kind."""
    with store.reading() as work:
        return work.materials.counts()


def hardware(store: Store) -> Hardware:
    """Return all hardware of the price book by its codes of today and of before, on offer or not."""
    return store.of_book.of("hardware", None, lambda: _hardware(store), most=1)


def _hardware(store: Store) -> Hardware:
    with store.reading() as work:
        materials = work.materials.all(Kind.HARDWARE, inactive=True)
        former = work.materials.codes().now
    book = {each.code.casefold(): each for each in materials}
    renamed = {old.casefold(): new.casefold() for old, new in former}
    return {old: book[new] for old, new in renamed.items() if new in book} | book


@dataclass(frozen=True, slots=True, kw_only=True)
class Uses:
    """How many materials bear each tax rate and sell by each markup table, by its code. book: all of them."""

    rates: Mapping[str, int]
    tables: Mapping[str, int]
    book: tuple[Material, ...] = ()


def uses(store: Store) -> Uses:
    """Return what of the shop's settings the price book rests on."""
    with store.reading() as work:
        book = work.materials.all(inactive=True)
    tables = (material.selling.table for material in book)
    return Uses(
        rates=Counter(material.tax for material in book),
        tables=Counter(table for table in tables if table is not None),
        book=book,
    )


def check_free(store: Store, code: str) -> None:
    """Check that a new material may have a code. Raises: Invalid at "code" where it is taken."""
    with store.reading() as work:
        work.materials.check_free(code)


def add(store: Store, material: Material, act: Stamp) -> None:
    """Add a material. Raises: Invalid at "code" where it is taken."""
    with store.writing() as work:
        work.materials.add(material, now=act.now)


def add_all(store: Store, materials: Sequence[Material], act: Stamp) -> None:
    """Add several materials, all or none. Raises: Invalid at "" naming the code that is taken."""
    with store.writing() as work:
        for material in materials:
            try:
                work.materials.add(material, now=act.now)
            except Invalid as invalid:
                raise Invalid.at("", f"{material.code}: {invalid.message}", "taken") from invalid


def save(store: Store, code: str, material: Material, expected_version: int, act: Stamp) -> None:
    """Replace the material of a code; its code may change. Raises: NotFound, Stale, Invalid."""
    with store.writing() as work:
        work.materials.save(code, material, expected_version, now=act.now)


def remove(store: Store, code: str, expected_version: int) -> None:
    """Take a material out of the book for good. Raises: NotFound, Stale, Conflict where it has stock."""
    with store.writing() as work:
        work.materials.remove(code, expected_version)


def retire(store: Store, code: str, expected_version: int, act: Stamp) -> None:
    """Keep a material but offer it no more. Raises: NotFound, Stale."""
    _set_active(store, code, expected_version, act, active=False)


def reactivate(store: Store, code: str, expected_version: int, act: Stamp) -> None:
    """Offer a material again. Raises: NotFound, Stale."""
    _set_active(store, code, expected_version, act, active=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Raise:
    """A change of many prices. share: 1/20 for 5 % more; below zero lowers them.

    step: to which given prices are rounded; None for the exact minor unit. Raises: Invalid at "percent".
    """

    selection: Selection
    share: Fraction
    what: Raised
    step: Money | None = None

    def __post_init__(self) -> None:
        if not -1 < self.share <= LARGEST_RAISE or not self.share:
            raise Invalid.at(
                "percent",
                f"{show_percent(self.share)} cannot be used; a raise up to "
                f"{show_percent(LARGEST_RAISE)} can, or a cut of less than 100 %.",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Raising:
    """A material before and after a raise."""

    old: Versioned[Material]
    new: Material


def preview_raise(store: Store, asked: Raise) -> tuple[Raising, ...]:
    """Return what a raise would change, by code; what it leaves as it is is left out."""
    with store.reading() as work:
        return _raising(work, asked)


def raise_prices(
    store: Store,
    asked: Raise,
    seen: Mapping[str, int],
    act: Stamp,
    *,
    without: Collection[str] = (),
) -> int:
    """Carry out a raise as it was previewed. seen: the version of each material, by its code.

    without: codes of what is left as it is. Returns how many materials were changed. Raises: Conflict where the materials that are meant are
    not those that were seen, or one was changed since; then nothing is changed.
    """
    with store.writing() as work:
        raising = _raising(work, asked)
        if {each.new.code: each.old.version for each in raising} != dict(seen):
            raise Conflict(
                "The price book was changed since this list was made. Nothing was raised: look at "
                "the new list and carry it out again."
            )
        wanted = [each for each in raising if each.new.code not in without]
        for each in wanted:
            work.materials.save(each.new.code, each.new, each.old.version, now=act.now)
        return len(wanted)


def _raising(work: UnitOfWork, asked: Raise) -> tuple[Raising, ...]:
    meant = (
        work.materials.get(material.code)
        for material in _meant(work, asked.selection, inactive=True)
    )
    changes = (
        Raising(old=kept, new=raised(kept.value, asked.share, asked.what, asked.step))
        for kept in meant
    )
    return tuple(change for change in changes if change.new != change.old.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Arriving:
    """A material from a file. version: of the one that it changes, None for a new one."""

    material: Material
    version: int | None


def by_code(store: Store) -> dict[str, Versioned[Material]]:
    """Return the whole price book with its versions, by code in lower case; by former codes too."""
    with store.reading() as work:
        book = {kept.value.code.casefold(): kept for kept in work.materials.kept()}
        former = {
            old.casefold(): book[new.casefold()]
            for old, new in work.materials.codes().now
            if new.casefold() in book
        }
        return former | book


def bring_in(store: Store, arriving: Sequence[Arriving], act: Stamp) -> None:
    """Add what is new and change what is there; all or none, and what is not named stays.

    Raises: Stale, NotFound, Invalid where the price book is not as it was when the file was read.
    """
    with store.writing() as work:
        for each in arriving:
            code = each.material.code
            if each.version is None:
                work.materials.add(each.material, now=act.now)
            else:
                work.materials.save(code, each.material, each.version, now=act.now)


def _meant(work: UnitOfWork, selection: Selection, *, inactive: bool) -> tuple[Material, ...]:
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


def _set_active(
    store: Store, code: str, expected_version: int, act: Stamp, *, active: bool
) -> None:
    with store.writing() as work:
        kept = work.materials.get(code)
        material = replace(kept.value, active=active)
        work.materials.save(code, material, expected_version, now=act.now)
