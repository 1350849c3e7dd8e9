"""A field of a material, and what the form that it stands in follows from."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from app.forms.kinds import FieldKind
from app.forms.table import Field, Typed
from app.money import TaxRate
from app.orders import Shop
from app.pricing import CHARGES, ChargeBy, Kind, Material
from app.web.kit.fields import OfShop
from app.web.materials.choices import SELLING_WAYS, Choice

SECTION = ("profile.face", "profile.rebate_depth", "profile.stick")
"""What every stick has; a moulding has a lip as well, or says that it has none."""


def kind_of(typed: Typed) -> Kind:
    """Return the kind that a form is for; it is a moulding where the form says none."""
    return Kind(typed["kind"]) if typed.get("kind") in set(Kind) else Kind.MOULDING


def rule_of(typed: Typed) -> ChargeBy:
    """Return the charge rule that was chosen, or the usual one of the kind."""
    rules = CHARGES[kind_of(typed)]
    return ChargeBy(typed["charge.by"]) if typed.get("charge.by") in set(ChargeBy) else rules[0]


@dataclass(frozen=True)
class MaterialTyped(OfShop):
    """The shop and all that was typed in the form of a material, from which its fields follow."""

    typed: Typed

    @cached_property
    def kind(self) -> Kind:
        """The kind of the material, as typed."""
        return kind_of(self.typed)

    @cached_property
    def by(self) -> ChargeBy:
        """The charge rule that was chosen, or the usual one of the kind."""
        return rule_of(self.typed)

    @cached_property
    def amounts(self) -> ChargeBy:
        """The rule whose amounts are asked: by length a least length and a step, by area a least area.

        A material that is charged by what is opened is asked for those of its sticks or sheets.
        """
        if self.by is not ChargeBy.OPENED:
            return self.by
        return ChargeBy.AREA if self.kind.is_sheet else ChargeBy.LENGTH

    @cached_property
    def way(self) -> str:
        """The way of selling that was chosen; "" for a size band, which has prices of its own."""
        if self.by is ChargeBy.SIZE_BAND:
            return ""
        way = self.typed.get("selling", "").strip()
        return way if way in SELLING_WAYS else SELLING_WAYS[0]

    @cached_property
    def has_section(self) -> bool:
        """Whether it has a section: a moulding always has, an extra (a slip or spacer strip) if any of
        it is typed.
        """
        given = any(self.typed.get(path, "").strip() for path in SECTION)
        return self.kind is Kind.MOULDING or (self.kind is Kind.EXTRA and given)

    @cached_property
    def rate(self) -> TaxRate | None:
        """The tax rate that it bears; None while that is not known."""
        return self.shop.rules.rate_of(self.typed.get("tax", ""))


type When = Callable[[MaterialTyped], bool]

_COUNTS: Mapping[str, When] = {
    "section": lambda known: known.has_section,
    "sheet": lambda known: known.kind.is_sheet,
    "frame": lambda known: known.kind is Kind.READY_MADE,
    "hanging": lambda known: known.kind is Kind.HARDWARE,
}
"""When the fields of a part of the page are read."""


@dataclass(frozen=True, slots=True)
class MaterialField(Field[MaterialTyped]):
    """One field of a material. A length or size without a mark is in the shop's unit, which the label
    names.

    needs: the kinds for which a blank field is refused wherever it is asked. counts: tells when it is
    read, where its part does not say so. of: returns its value in a material, where the path does not
    say so. choices: those of a select, with the words that a file may have for each. prose: whether it
    holds free text. head: the head of its column, where the label alone would not be understood. cell:
    the fields that its cell in a file fills, where there are several.
    """

    needs: Collection[Kind] = frozenset()
    counts: When | None = None
    of: Callable[[Material], Any] | None = None
    choices: tuple[Choice, ...] = ()
    prose: bool = False
    head: str = ""
    cell: tuple[str, ...] = ()

    @property
    def plain(self) -> str:
        """The label without unit or tax."""
        assert isinstance(self.label, str), "no label of a material follows from anything"
        return self.label

    def named(self, shop: Shop) -> str:
        """Return the label with the shop's unit for a length or size, or with how an amount is stated."""
        if self.stated is not None:
            return ", ".join(
                filter(None, (self.plain, self.stated(MaterialTyped(shop, {}), {}).words))
            )
        return f"{self.plain}, {shop.unit.value}" if self.like else self.plain

    def is_read(self, known: MaterialTyped) -> bool:
        """Tell whether the field counts, given what was typed in the others."""
        counts = self.counts or _COUNTS.get(self.part)
        return not self.cell and (counts is None or counts(known))

    def for_kind(self, kind: Kind) -> "MaterialField":
        """Return the field as it stands on the form of a kind."""
        needed: bool | When = kind in self.needs
        if kind is Kind.EXTRA and self.path in SECTION:
            needed = lambda known: known.has_section  # noqa: E731
        what = "a width and a height" if self.kind.control == "size" else "a length"
        called = f"{self.plain[:1].lower()}{self.plain[1:]}"
        asks = f"The {called} is empty; type {what}" if self.like and needed else ""
        label = self.label if self.stated else lambda known: self.named(known.shop)
        return replace(self, label=label, needed=needed, wish=asks or self.wish)


def written(kind: FieldKind[Any], when: When) -> FieldKind[Any]:
    """Return the same kind of field, whose text is left blank where the field does not count."""

    def text(value: Any, known: Any) -> str:
        return kind.text(value, known) if when(known) else ""

    return replace(kind, text=text)
