"""Tells where a person is named in a text: by name, phone, e-mail address or street, however it is written.

Case, accents and line breaks do not count. A whole name, a phone number, an e-mail address and a street with its number are
sure; a single word of a name may be something else: Rose is a flower as well.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Self

from app.orders import Customer
from app.storage.search_text import digits_of, folded, words_of

_TITLES = frozenset(["mr", "mrs", "ms", "miss", "mx", "dr", "prof", "herr", "frau", "sir"])
_SHORTEST_WORD = 3
_SHORTEST_NUMBER = 7
"""Digits that say whose number it is; as where numbers are compared (`search_text`)."""

_TAIL = 7
_BETWEEN = r"[\s()/.\-]*"
_OF_A_NUMBER = frozenset("+0123456789 ()/.-\n\t")
_LONGEST_CODE = 4
"""Digits of a country code with what is dialled before it."""

ALSO_KEPT = re.compile(r"(?m)^Also (?:name|phone|e-mail|address): .*$")
"""How the joining of two records notes what the other one said."""

_KEPT_PART = re.compile(
    r"(?:^Also |; )(name|phone|e-mail|address): (.*?)(?=; (?:name|phone|e-mail|address): |$)"
)

MARK = "…"
"""What takes the place of a name. Never longer than what it stands for, so that no text becomes too long."""


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Span:
    """A run of a text that names the person. sure: it cannot well be anything else."""

    start: int
    end: int
    sure: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """All by which a person is known, now and before. others: typed by who asks, word for word."""

    names: frozenset[str] = frozenset()
    phones: frozenset[str] = frozenset()
    emails: frozenset[str] = frozenset()
    streets: frozenset[str] = frozenset()
    others: frozenset[str] = frozenset()

    @classmethod
    def of(cls, customers: Iterable[Customer], also: Iterable[str] = ()) -> Self:
        """Return who some records are, former ones too, with whatever the joining of two left in the notes."""
        said: dict[str, set[str]] = {
            "name": set(),
            "phone": set(),
            "e-mail": set(),
            "address": set(),
        }
        for each in customers:
            said["name"].add(each.name)
            said["phone"].add(each.phone)
            said["e-mail"].add(each.email)
            said["address"].add(each.address)
            for line in ALSO_KEPT.findall(each.notes):
                for what, text in _KEPT_PART.findall(line):
                    said[what].add(text)
        typed = {text for text in also if text.strip()}
        phones = {text for text in typed if _is_phone(text)}
        return cls(
            names=frozenset(filter(str.strip, said["name"])),
            phones=frozenset(filter(None, said["phone"] | phones)),
            emails=frozenset(filter(None, said["e-mail"])),
            streets=frozenset(street for text in said["address"] for street in _streets(text)),
            others=frozenset(typed - phones),
        )

    @property
    def known_by(self) -> tuple[str, ...]:
        """Return every name, number and address that is looked for, in words."""
        return tuple(
            text
            for group in (self.names, self.phones, self.emails, self.streets, self.others)
            for text in sorted(group)
        )


def _is_phone(text: str) -> bool:
    return len(digits_of(text)) >= _SHORTEST_NUMBER and not re.search(r"[^\d\s+()/.\-]", text)


def _streets(address: str) -> Iterator[str]:
    """Yield the lines of an address that have a number and a word: "12 Ropewalk"."""
    for part in re.split(r"[\n,;]", address):
        if re.search(r"\d", part) and re.search(r"[^\W\d]{3}", part):
            yield part.strip()


class Finder:
    """Finds a person in texts."""

    def __init__(self, person: Person) -> None:
        sure, weak = [], []
        for name in person.names:
            own = [_in_a_row(words_of(each)) for each in name.split() if words_of(each)]
            own = [each for each in own if each not in _TITLES] or own
            if len(own) > 1:
                sure += [_apart_by_any(own), _apart_by_any([own[-1], *own[:-1]])]
                sure.append(_apart_by_any([own[0], own[-1]]))
            weak += [each for each in own if len(each) >= _SHORTEST_WORD]
        for text in (*person.emails, *person.streets, *person.others):
            sure.append(r"\s+".join(map(re.escape, _folded(text)[0].split())))
        self._sure = _any_of(sure, r"(?<!\w)(?:{})")
        self._weak = _any_of(weak, r"(?<!\w)(?:{})(?!\w)")
        self._phones = tuple(_Phone(each) for each in sorted(person.phones))
        exact = (*person.emails, *person.streets, *person.others)
        self._exact = tuple(
            word
            for text in (*person.names, *exact)
            for word in text.split()
            if len(word) >= _SHORTEST_WORD
        )
        words = {_plainly(word) for word in self._exact}
        self._words = tuple(word for word in words if len(word) >= _SHORTEST_WORD)

    def may_be_in(self, text: str) -> bool:
        """Tell quickly whether a long text is worth looking into."""
        plain = _plainly(text)
        return any(word in plain for word in self._words) or any(
            True for phone in self._phones for _ in phone.found_in(text)
        )

    def words_in_bytes(self) -> tuple[bytes, ...]:
        """Return the words that are looked for as they may stand in a file, in small letters, with accents and without; a
        phone number by its last digits.
        """
        words = {form.encode() for word in self._exact for form in (word.lower(), folded(word))}
        return tuple(words | {phone.tail[-4:].encode() for phone in self._phones if phone.tail})

    def found_in(self, text: str) -> tuple[Span, ...]:
        """Return the places in a text that name the person, in order and apart from each other."""
        if not self.may_be_in(text):
            return ()
        plain, places = _folded(text)
        found = [
            Span(start=places[match.start()], end=places[match.end() - 1] + 1, sure=sure)
            for pattern, sure in ((self._sure, True), (self._weak, False))
            if pattern is not None
            for match in pattern.finditer(plain)
        ]
        found += [span for phone in self._phones for span in phone.found_in(text)]
        return _apart(found)


_ACCENTS = re.compile("[\u0300-\u036f]")


def _plainly(text: str) -> str:
    """Return a text without case and the usual accents, far faster than `folded`, for looking whether words are in it."""
    if text.isascii():
        return text.lower()
    return _ACCENTS.sub("", unicodedata.normalize("NFKD", text.casefold()))


def _any_of(patterns: Iterable[str], within: str) -> re.Pattern[str] | None:
    wanted = sorted(set(filter(None, patterns)), key=len, reverse=True)
    return re.compile(within.format("|".join(wanted))) if wanted else None


def _in_a_row(words: Iterable[str]) -> str:
    return _apart_by_any(map(re.escape, words))


def _apart_by_any(patterns: Iterable[str]) -> str:
    return r"[\W_]+".join(patterns)


def _folded(text: str) -> tuple[str, list[int]]:
    """Return a text without case and accents, and for each of its characters where it stood."""
    if text.isascii():
        return text.lower(), list(range(len(text)))
    pairs = [(char, place) for place, each in enumerate(text) for char in folded(each)]
    return "".join(char for char, _ in pairs), [place for _, place in pairs]


def _apart(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Join what overlaps; a part of what is sure is no place of its own."""
    found: list[Span] = []
    for span in sorted(spans, key=lambda each: (not each.sure, each.start, -each.end)):
        for place, other in enumerate(found):
            if span.start < other.end and other.start < span.end:
                if other.sure == span.sure:
                    found[place] = Span(
                        start=min(span.start, other.start),
                        end=max(span.end, other.end),
                        sure=span.sure,
                    )
                break
        else:
            found.append(span)
    found.sort()
    assert all(one.end <= other.start for one, other in pairwise(found)), "spans stand apart"
    return tuple(found)


class _Phone:
    """A phone number, found with and without a country code, and whatever stands between its digits."""

    def __init__(self, phone: str) -> None:
        self._digits = digits_of(phone.replace("(0)", ""))
        self._national = self._digits.lstrip("0")
        self.tail = tail = self._digits[-_TAIL:]
        self._alone = len(self._digits) < _SHORTEST_NUMBER or not self._national
        self._pattern = re.compile(_BETWEEN.join(tail) + r"(?!\d)") if tail else None

    def found_in(self, text: str) -> Iterator[Span]:
        """Yield where it stands in a text."""
        if self._pattern is None:
            return
        for match in self._pattern.finditer(text):
            start = self._start(text, match.start(), match.end())
            if start is not None:
                yield Span(start=start, end=match.end(), sure=True)

    def _start(self, text: str, start: int, end: int) -> int | None:
        """Return where the number begins that ends there; None where it is another one with the same last digits."""
        begin = start
        while begin and text[begin - 1] in _OF_A_NUMBER:
            begin -= 1
        places = [
            place for place in range(begin, end) if text[place].isdigit() and text[place].isascii()
        ]
        digits = "".join(text[place] for place in places)
        if self._alone:
            return places[0] if digits == self._digits else None
        if digits.endswith(self._national):
            left = digits[: len(digits) - len(self._national)]
            first = len(left)
            if len(left) <= _LONGEST_CODE and (left.startswith("0") or "+" in text[begin:start]):
                first = 0
            start = places[first]
            while start > begin and text[start - 1] in "+(":
                start -= 1
            return start
        shorter = digits.lstrip("0")
        whole = len(shorter) >= _SHORTEST_NUMBER and self._digits.endswith(shorter)
        return places[0] if whole else None


def cleared(text: str, spans: Iterable[Span]) -> str:
    """Return a text with a mark in the place of each span."""
    parts, last = [], 0
    for span in spans:
        parts += [text[last : span.start], MARK]
        last = span.end
    return "".join((*parts, text[last:]))
