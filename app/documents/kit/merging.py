"""Several PDFs of WeasyPrint as one: pages, tags and outlines of all, title and language of the first.

A document that is laid out part after part takes the room of one part, and not that of all. Each part is handed over before it is
written; its objects are written at once, with new numbers, those that may be packed as one stream: of a page some ten kilobytes stay.
Source: ISO 32000-1, 7.5.7 (object streams), 7.5.8 (cross-reference streams), 7.7.3 (page tree), 14.7.4 (structure trees, StructParents
and the parent tree), 12.3.3 (outlines).
"""

import re
from array import array
from collections.abc import Iterable, Mapping
from io import BytesIO
from typing import Any

import pydyf

_SAID_OR_REFERENCE = re.compile(rb"\((?:[^\\()]|\\.)*\)|<[0-9a-fA-F]+>|\b(\d+) 0 R\b", re.DOTALL)
"""A string, in which nothing is a reference, or a reference with its number."""

_OF_THE_WHOLE = ("Type", "Pages", "StructTreeRoot", "Outlines", "Names")
"""Entries of a catalog that are not those of the first part. No document of ours names places in itself."""

type _Numbered = tuple[int, bytes]
"""An object as it is written, with its number in the whole."""


class _Written:
    """A PDF that is written object by object. A number is given out before its object is written, and each is written once."""

    _ALONE, _PACKED = 1, 2

    def __init__(self) -> None:
        self._out = BytesIO()
        # of each number: how its object is written, and (offset, 0) or (number of its stream, place in that)
        self._kinds, self._where, self._places = array("B", b"\0"), array("Q", [0]), array("L", [0])
        self._out.write(b"%PDF-1.7\n%\xf0\x9f\x96\xa4\n")

    def number(self) -> int:
        """Give out the next number."""
        self._kinds.append(0)
        self._where.append(0)
        self._places.append(0)
        return len(self._kinds) - 1

    def alone(self, number: int, data: bytes) -> None:
        """Write an object by itself."""
        self._note(number, self._ALONE, self._out.tell(), 0)
        self._out.write(b"%d 0 obj\n%b\nendobj\n" % (number, data))

    def packed(self, objects: Iterable[_Numbered]) -> None:
        """Write objects as one stream."""
        stream, heads, bodies, at = self.number(), list[str](), list[bytes](), 0
        for place, (number, data) in enumerate(objects):
            self._note(number, self._PACKED, stream, place)
            heads.append(f"{number} {at}")
            bodies.append(data)
            at += len(data) + 1
        head = " ".join(heads)
        entries = {"Type": "/ObjStm", "N": len(heads), "First": len(head) + 1}
        self.alone(stream, pydyf.Stream([head, *bodies], entries, compress=True).data)

    def whole(self, root: int, info: int | None) -> bytes:
        """Return what was written, with the table of where each object stands. root: the number of the catalog."""
        table, begin = self.number(), self._out.tell()
        self._note(table, self._ALONE, begin, 0)
        sizes = (1, _bytes_for(self._where), _bytes_for(self._places))
        lines = b"".join(
            value.to_bytes(size, "big")
            for line in zip(self._kinds, self._where, self._places, strict=True)
            for size, value in zip(sizes, line, strict=True)
        )
        entries = {
            "Type": "/XRef",
            "W": pydyf.Array(sizes),
            "Size": len(self._kinds),
            "Root": _reference(root),
        }
        if info is not None:
            entries["Info"] = _reference(info)
        self.alone(table, pydyf.Stream([lines], entries, compress=True).data)
        self._out.write(b"startxref\n%d\n%%%%EOF\n" % begin)
        return self._out.getvalue()

    def _note(self, number: int, kind: int, where: int, place: int) -> None:
        self._kinds[number], self._where[number], self._places[number] = kind, where, place


class Merging:
    """One PDF that is made of parts as they come. Each part is tagged and has a page at least."""

    def __init__(self) -> None:
        out = self._out = _Written()
        self._pages, self._catalog, self._numbers = out.number(), out.number(), out.number()
        self._tree, self._document, self._outlines = out.number(), out.number(), out.number()
        self._kids: list[bytes] = []
        self._count = 0
        self._elements: list[bytes] = []
        self._looked_up: list[bytes] = []
        self._keys = 0
        self._first_entry = b""
        self._last_entry: _Numbered | None = None
        self._entries = 0
        self._of_first: Mapping[str, bytes] | None = None
        self._info: int | None = None

    def add(self, part: Any) -> None:
        """Take the pages of a part, a `pydyf.PDF` that is ready to be written, behind those that are there."""
        tree = _object(part, part.catalog["StructTreeRoot"])
        document = _object(part, tree["K"][0])
        numbers = _object(part, tree["ParentTree"])
        becomes = {
            part.catalog.number: self._catalog,
            tree.number: self._tree,
            document.number: self._document,
            numbers.number: self._numbers,
        }
        outlines = None
        if "Outlines" in part.catalog:
            outlines = _object(part, part.catalog["Outlines"])
            becomes[outlines.number] = self._outlines
        own = [each for each in part.objects if each.free != "f" and each.number not in becomes]
        self._count_on(own)
        becomes |= {each.number: self._out.number() for each in own}
        packed = dict(self._written(own, becomes))
        self._take_pages(part, becomes, packed)
        self._take_tags(document, numbers, becomes)
        if outlines is not None:
            self._take_outlines(outlines, becomes, packed)
        if self._of_first is None:
            self._of_first = {
                key: _moved(_plain(value), becomes)
                for key, value in part.catalog.items()
                if key not in _OF_THE_WHOLE
            }
            self._info = self._out.number()
            packed[self._info] = _moved(part.info.data, becomes)
        self._out.packed(packed.items())

    def pdf(self) -> bytes:
        """Return the whole, of the version that PDF/UA-1 is of."""
        refers = {"StructTreeRoot": self._tree, "Pages": self._pages}
        rest = [
            (self._pages, b"<</Type /Pages/Kids [%b]/Count %d>>" % (b" ".join(self._kids), self._count)),
            (self._numbers, b"<</Nums [%b]>>" % b" ".join(self._looked_up)),
            (
                self._tree,
                b"<</Type /StructTreeRoot/ParentTree %b/K [%b]>>"
                % (_reference(self._numbers), _reference(self._document)),
            ),
            (
                self._document,
                b"<</Type /StructElem/S /Document/P %b/K [%b]>>"
                % (_reference(self._tree), b" ".join(self._elements)),
            ),
        ]  # fmt: skip
        if self._last_entry is not None:
            refers["Outlines"] = self._outlines
            last = _reference(self._last_entry[0])
            told = (self._first_entry, last, self._entries)
            rest.append((self._outlines, b"<</First %b/Last %b/Count %d>>" % told))
            rest.append(self._last_entry)
        catalog = pydyf.Dictionary({"Type": "/Catalog", **(self._of_first or {})})
        catalog.update({key: _reference(number) for key, number in refers.items()})
        self._out.packed([*rest, (self._catalog, catalog.data)])
        return self._out.whole(self._catalog, self._info)

    def _count_on(self, own: list[Any]) -> None:
        """Let pages and notes on them look behind the others into the one parent tree."""
        for each in own:
            for key in ("StructParents", "StructParent"):
                if isinstance(each, dict) and key in each:
                    each[key] += self._keys

    def _written(self, own: list[Any], becomes: Mapping[int, int]) -> Iterable[_Numbered]:
        """Yield objects that may be packed, with the numbers that they have in the whole; write the others, whose streams are left
        as they are.
        """
        for each in own:
            number = becomes[each.number]
            if each.compressible:
                yield number, _moved(each.data, becomes)
            else:
                entries, word, held = each.data.partition(b"\nstream\n")
                self._out.alone(number, _moved(entries, becomes) + word + held)

    def _take_pages(self, part: Any, becomes: Mapping[int, int], packed: dict[int, bytes]) -> None:
        at = becomes[part.pages.number]
        packed[at] = _with(packed[at], b"/Parent " + _reference(self._pages))
        self._kids.append(_reference(at))
        self._count += part.pages["Count"]

    def _take_tags(self, document: Any, numbers: Any, becomes: Mapping[int, int]) -> None:
        self._elements += [_moved(each, becomes) for each in document["K"]]
        nums = numbers["Nums"]
        for key, elements in zip(nums[::2], nums[1::2], strict=True):
            self._looked_up += [b"%d" % (key + self._keys), _moved(_plain(elements), becomes)]
        self._keys += len(nums) // 2

    def _take_outlines(
        self, outlines: Any, becomes: Mapping[int, int], packed: dict[int, bytes]
    ) -> None:
        """Hang entries behind those that are there. The last one waits for what comes behind it."""
        first, last = (becomes[_number(outlines[key])] for key in ("First", "Last"))
        if self._last_entry is None:
            self._first_entry = _reference(first)
        else:
            before, entry = self._last_entry
            packed[before] = _with(entry, b"/Next " + _reference(first))
            packed[first] = _with(packed[first], b"/Prev " + _reference(before))
        self._last_entry = (last, packed.pop(last))
        self._entries += outlines["Count"]


def _bytes_for(values: Iterable[int]) -> int:
    """Return how many bytes the largest of some numbers takes, one at least."""
    return max((max(values).bit_length() + 7) // 8, 1)


def _reference(number: int) -> bytes:
    return b"%d 0 R" % number


def _number(reference: bytes) -> int:
    return int(reference.split()[0])


def _object(pdf: Any, reference: bytes) -> Any:
    """Return the object that is referred to."""
    return pdf.objects[_number(reference)]


def _with(dictionary: bytes, entry: bytes) -> bytes:
    """Return a dictionary as it is written with one more entry."""
    return dictionary.removesuffix(b">>") + entry + b">>"


def _plain(value: Any) -> bytes:
    """Return a value as it is written."""
    if isinstance(value, pydyf.Object):
        data: bytes = value.data
        return data
    return value if isinstance(value, bytes) else str(value).encode("ascii")


def _moved(written: bytes, becomes: Mapping[int, int]) -> bytes:
    """Return what is written with every reference to where the object is now."""

    def now(found: re.Match[bytes]) -> bytes:
        number = found[1]
        return b"%d 0 R" % becomes[int(number)] if number else found[0]

    return _SAID_OR_REFERENCE.sub(now, written)
