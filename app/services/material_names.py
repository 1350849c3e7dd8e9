"""What materials are called where no code is shown: by their names, those of one kind that are called alike with a number behind.

Each kind's names are told apart, so that a name that was given is read back to its code.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from app.pricing import Kind, Material
from app.services.price_book import by_code
from app.storage import Store


@dataclass(frozen=True, slots=True)
class MaterialNames:
    """called: the name of each code, in lower case; former codes too. kinds: of each code its kind. codes: the code of each kind and name in
    lower case. shops_own: all codes and suppliers, in lower case.
    """

    called: Mapping[str, str]
    kinds: Mapping[str, Kind]
    codes: Mapping[tuple[Kind, str], str]
    shops_own: str

    def of(self, text: str, kind: Kind) -> str:
        """Return what is shown for the text of a field that finds a material: its name for a code; nothing for what is a part of
        codes or suppliers and of no name; any other text as it is.
        """
        typed = text.strip().casefold()
        if self.kinds.get(typed) is kind:
            return self.called[typed]
        names = [name for of, name in self.codes if of is kind]
        for word in typed.split():
            if word in self.shops_own and not any(word in name for name in names):
                return ""
        return text

    def code_of(self, text: str, kind: Kind) -> str:
        """Return the code of a material by the name that it is given here; any other text as it is."""
        return self.codes.get((kind, text.strip().casefold()), text)

    def in_words(self, sentence: str) -> str:
        """Return a sentence with names in place of codes. One of digits alone stays: as well it is a number."""
        return _WORD.sub(lambda word: self._word(word[0]), sentence)

    def _word(self, word: str) -> str:
        bare = word.rstrip("./-")
        code = bare.casefold()
        if bare.isdigit() or code not in self.called:
            return word
        return f"{self.called[code]}{word[len(bare) :]}"


_WORD = re.compile(r"[A-Za-z0-9][A-Za-z0-9./-]*")


def names_of(store: Store) -> MaterialNames:
    """Return what the materials of the price book are called, also those that are discontinued."""
    return store.remembered("names of materials", lambda: _read(store), most=1)


def _read(store: Store) -> MaterialNames:
    book = by_code(store)
    codes: dict[tuple[Kind, str], str] = {}
    names: dict[str, str] = {}
    for material in sorted({id(kept): kept.value for kept in book.values()}.values(), key=_code):
        name = _free(material, codes)
        codes[material.kind, name.casefold()] = material.code
        names[material.code] = name
    return MaterialNames(
        called={code: names[kept.value.code] for code, kept in book.items()},
        kinds={code: kept.value.kind for code, kept in book.items()},
        codes=codes,
        shops_own="\n".join((*book, *{kept.value.supplier.casefold() for kept in book.values()})),
    )


def _code(material: Material) -> str:
    return material.code


def _free(material: Material, taken: Mapping[tuple[Kind, str], str]) -> str:
    """Return the name of a material, with the first number behind it by which no other of its kind is called."""
    name, number = material.name, 1
    while (material.kind, name.casefold()) in taken:
        number += 1
        name = f"{material.name} ({number})"
    return name
