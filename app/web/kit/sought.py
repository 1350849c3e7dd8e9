"""What was looked for, kept out of addresses: whoever is looked for by name or telephone number stands in no history and no log.

An address bears an id in place of the words. The id follows from the words and from a key that the process draws when it
starts, so that Back, reload and links to other pages find the words again while it runs; after that, and once very many
others were looked for, they are forgotten and are typed anew.
"""

import hashlib
import secrets
from collections import OrderedDict
from threading import Lock

SOUGHT = "s"
"""The name of the id in an address."""

LONGEST = 200
"""Characters of what is looked for; what follows is left off. Source: ours."""

MOST_KEPT = 2000
"""Texts that are remembered, those that were used last. Source: ours, some days at a busy counter."""


class Sought(str):
    """Words that may name a person."""

    __slots__ = ()

    @property
    def forgotten(self) -> bool:
        """Whether an address asked for words that are not known any more; these are blank then."""
        return isinstance(self, Forgotten)


class Forgotten(Sought):
    """What stands for words that are not known any more."""

    __slots__ = ()


class Memory:
    """The words by their ids. It may be asked from several threads."""

    def __init__(self, most: int = MOST_KEPT) -> None:
        self._key = secrets.token_bytes(32)
        self._words: OrderedDict[str, str] = OrderedDict()
        self._most = most
        self._lock = Lock()

    def id_of(self, words: str) -> str:
        """Remember words, and return the id that stands for them."""
        name = hashlib.blake2b(words.encode(), digest_size=12, key=self._key).hexdigest()
        with self._lock:
            self._words[name] = words
            self._words.move_to_end(name)
            while len(self._words) > self._most:
                self._words.popitem(last=False)
        return name

    def words_of(self, name: str) -> Sought:
        """Return the words that an id stands for."""
        with self._lock:
            if name not in self._words:
                return Forgotten()
            self._words.move_to_end(name)
            return Sought(self._words[name])


MEMORY = Memory()


def read_sought(typed: str, name: str) -> Sought:
    """Return what an address asks for. typed: its words, as addresses of old have them; name: the id that stands for them."""
    return MEMORY.words_of(name) if name else Sought(typed.strip()[:LONGEST])
