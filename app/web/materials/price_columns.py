"""The columns of the price book's file: each a field of the form, or several that fit into one cell.

Owns the way from a cell to fields and back. A cell is read with goodwill: a select takes the words of
the form and those of the trade, whatever their case.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches

from app.errors import Invalid, quoted
from app.orders import Shop
from app.pricing import TRAITS_OF, Kind, Trait
from app.web.kit.spreadsheet import is_formula, safe
from app.web.materials.choices import NOT_SAID, TRAIT_CHOICES, Choice
from app.web.materials.fields import FIELDS, MOST_BANDS
from app.web.materials.material_field import MaterialField

CLEARS = frozenset("-\N{EN DASH}\N{EM DASH}\N{MINUS SIGN}")
"""What a cell says, alone, to empty a field on purpose. A text that is a dash is written as '- instead."""

BANDS, TRAITS = "charge.bands", "sheet.traits"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column. name: at the head of the file; label: of the form; fields: that its cell fills, first of all `first`."""

    name: str
    label: str
    fields: tuple[str, ...]
    first: MaterialField
    choices: tuple[Choice, ...] = ()
    prose: bool = False

    def named(self, shop: Shop) -> str:
        """Return the label with the shop's unit or with how amounts are stated; plain where a cell has several."""
        return self.label if self.first.cell else replace(self.first, label=self.label).named(shop)

    @property
    def is_figures(self) -> bool:
        """Whether its cells hold figures; free text and choices are not figures."""
        return not (self.prose or self.choices or self.name in _SHOPS_OWN)

    def written(self, typed: Mapping[str, str]) -> str:
        """Return the text of a material's cell, safe for a spreadsheet; blank where it has nothing to say."""
        text = self.said(typed)
        return safe(text) if self.prose else text

    def said(self, typed: Mapping[str, str]) -> str:
        """Return the text of a cell for people, without the apostrophe that keeps spreadsheets from reckoning."""
        if self.name == BANDS:
            rows = (typed[path].strip() for path in self.fields)
            return "; ".join(f"{up_to}: {price}" for up_to, price in _pairs(rows) if up_to)
        if self.name == TRAITS:
            return " ".join(path.rpartition(".")[2] for path in self.fields if typed[path])
        if self.name == "active":
            return "yes" if typed[self.name] else "no"
        return typed[self.name]

    def label_of(self, said: str) -> str:
        """Return the label that the form has for a value of a choice; other values are returned as they are."""
        return next((each.label for each in self.choices if each.value == said), said)

    def read(self, cell: str, kind: Kind, shop: Shop) -> dict[str, str]:
        """Return the text of each field that a filled cell stands for. Raises: Invalid at the column."""
        if cell in CLEARS:
            return self._cleared()
        if self.name == BANDS:
            return _bands(cell)
        if self.name == TRAITS:
            return _traits(cell, kind)
        if choices := self.choices or _of_the_shop(self.name, shop):
            return {self.name: _chosen(self.name, self.label, cell, choices)}
        return {self.name: cell[1:] if self._is_quoted(cell) else cell}

    def _is_quoted(self, cell: str) -> bool:
        return self.prose and cell.startswith("'") and is_formula(cell)

    def _cleared(self) -> dict[str, str]:
        if NOT_SAID not in self.choices and (self.choices or self.name in _SHOPS_OWN):
            raise Invalid.at(
                self.name,
                f"A dash empties a field, but {quoted(self.label)} is a choice that is never empty; "
                "leave the cell blank to leave it as it is.",
            )
        return dict.fromkeys(self.fields, "")


_SHOPS_OWN = ("tax", "selling.table")


def _columns() -> tuple[Column, ...]:
    """Return the columns. Size bands and traits each share one cell; what a sheet is made of only helps the form."""
    within = {path for each in FIELDS for path in each.cell}
    return tuple(
        Column(
            name=each.path,
            label=each.head or each.plain,
            fields=each.cell or (each.path,),
            first=each,
            choices=each.choices,
            prose=each.prose,
        )
        for each in FIELDS
        if each.path not in within and each.path != "sheet.matter"
    )


COLUMNS: tuple[Column, ...] = _columns()


_FORMER = {"Further words to find it by": "tags", "On offer in quotes": "active"}
"""What the form called a field before; a file with such a head is still read."""


def _names() -> dict[str, Column]:
    """Return the column for every name that means only one: its own name, and its label with or without
    unit.

    A supplier's "price" is the shop's cost, so no name is taken that might be meant otherwise.
    """
    named: dict[str, list[Column]] = {}
    for column in COLUMNS:
        for name in {column_words(column.label), column_words(column.label.partition(",")[0])}:
            named.setdefault(name, []).append(column)
    only = {name: columns[0] for name, columns in named.items() if len(columns) == 1}
    own = {column_words(column.name): column for column in COLUMNS}
    return only | {column_words(label): own[name] for label, name in _FORMER.items()} | own


def column_words(text: str) -> str:
    """Return a head in plain words, whatever its case: "Face_width" is "face width"."""
    return " ".join(re.sub(r"[._-]", " ", text.casefold()).split())


_BY_NAME = _names()


def column_named(head: str) -> Column | None:
    """Return the column that a cell of the first row names, any case: "charge.waste", "Face width"."""
    return _BY_NAME.get(column_words(head))


def nearest_name(head: str) -> str:
    """Return the name of a column that may have been meant; "" where none is near."""
    near = get_close_matches(column_words(head), _BY_NAME, n=1, cutoff=0.75)
    return _BY_NAME[near[0]].name if near else ""


def _of_the_shop(name: str, shop: Shop) -> tuple[Choice, ...]:
    """Return the choices of a select that each shop sets up for itself."""
    if name == "tax":
        return tuple(Choice(value=rate.code, label=rate.name) for rate in shop.tax_rates)
    if name == "selling.table":
        return tuple(Choice(value=table.code, label=table.name) for table in shop.markup_tables)
    return ()


_BEFORE = re.compile(r"^(?:per|by|for|a|an|the|/) ?\b|^/ ?")


def _word(text: str) -> str:
    """Return a word of a select in plain letters: "Per m²" is "m2", "a sq. ft" is "sq ft"."""
    plain = text.casefold().replace("²", "2").replace("×", "x").replace(".", " ")
    plain = " ".join(plain.replace("-", " ").replace("_", " ").split())
    while (shorter := _BEFORE.sub("", plain, count=1).strip()) and shorter != plain:
        plain = shorter
    return plain


def _chosen(path: str, label: str, cell: str, choices: Iterable[Choice]) -> str:
    """Return the value that a cell means. Raises: Invalid at the path."""
    found = _meant(cell, choices := tuple(choices))
    if found is None:
        allowed = ", ".join(each.label for each in choices)
        raise Invalid.at(
            path, f"{quoted(cell)} is no choice for {quoted(label)}; one of {allowed} is."
        )
    return found.value


def _meant(text: str, choices: Iterable[Choice]) -> Choice | None:
    word = _word(text)
    return next((each for each in choices if word in words_of(each)), None)


def words_of(choice: Choice) -> set[str]:
    """Return every word that means a choice, in plain letters."""
    return {*map(_word, (choice.value, choice.label, *choice.also))} - {""}


def kind_meant(cell: str) -> Kind:
    """Return the kind that a cell means. Raises: Invalid at "kind"."""
    column = _BY_NAME["kind"]
    found = _meant(cell, column.choices)
    if found is None:
        allowed = ", ".join(kind.value for kind in Kind)
        raise Invalid.at("kind", f"The kind is {quoted(cell)}; one of {allowed} is.")
    return Kind(found.value)


def _pairs(values: Iterable[str]) -> Iterator[tuple[str, str]]:
    each = iter(values)
    return zip(each, each, strict=True)


def _bands(cell: str) -> dict[str, str]:
    """Read prices by size: "800: 4.00; 1200: 6.00". Raises: Invalid for more bands than the form has rows."""
    bands = [band.partition(":") for band in cell.split(";") if band.strip()]
    if len(bands) > MOST_BANDS:
        raise Invalid.at(BANDS, f"{len(bands)} sizes are listed; at most {MOST_BANDS} are read.")
    typed = {
        f"{BANDS}.{row}.{name}": "" for row in range(MOST_BANDS) for name in ("up_to", "price")
    }
    for row, (up_to, _, price) in enumerate(bands):
        typed[f"{BANDS}.{row}.up_to"] = up_to.strip()
        typed[f"{BANDS}.{row}.price"] = price.strip()
    return typed


def _traits(cell: str, kind: Kind) -> dict[str, str]:
    """Read the traits of a sheet, with commas or blanks between. Raises: Invalid for an unknown trait."""
    known = TRAITS_OF.get(kind, ())
    whole = re.split(r"[,;]", cell) if re.search(r"[,;]", cell) else [cell]
    words = (
        whole if all(_meant(word, TRAIT_CHOICES) for word in whole) else re.split(r"[\s,;]+", cell)
    )
    ticked = {f"{TRAITS}.{trait.value}": "" for trait in Trait}
    for word in filter(None, (word.strip() for word in words)):
        found = _meant(word, TRAIT_CHOICES)
        if found is None or Trait(found.value) not in known:
            allowed = ", ".join(trait.value for trait in known) or "nothing"
            raise Invalid.at(
                TRAITS, f"{quoted(word)} is not said of {kind.with_article}; {allowed} may be."
            )
        ticked[f"{TRAITS}.{found.value}"] = "1"
    return ticked
