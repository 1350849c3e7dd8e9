"""Several PDFs of WeasyPrint as one: pages, tags and outlines of all, title and language of the first.

A document that is laid out part after part takes the room of one part, and not that of all. Each part is handed over before it is
written; its objects are kept as the bytes that they are written as, with new numbers, and are packed once, at the end.
Source: ISO 32000-1, 7.7.3 (page tree), 14.7.4 (structure trees, StructParents and the parent tree), 12.3.3 (outlines).
"""

import re
from collections.abc import Mapping
from io import BytesIO
from typing import Any

import pydyf

_SAID_OR_REFERENCE = re.compile(rb"\((?:[^\\()]|\\.)*\)|<[0-9a-fA-F]+>|\b(\d+) 0 R\b", re.DOTALL)
"""A string, in which nothing is a reference, or a reference with its number."""

_OF_THE_WHOLE = ("Type", "Pages", "StructTreeRoot", "Outlines", "Names")
"""Entries of a catalog that are not those of the first part. No document of ours names places in itself."""


class _Kept(pydyf.Object):  # type: ignore[misc]
    """An object as the bytes that it is written as."""

    def __init__(self, data: bytes, *, compressible: bool) -> None:
        super().__init__()
        self._data, self._compressible = data, compressible

    @property
    def data(self) -> bytes:
        return self._data

    @property
    def compressible(self) -> bool:
        return self._compressible

    def also(self, entry: bytes) -> None:
        """Give a dictionary one more entry."""
        self._data = self._data.removesuffix(b">>") + entry + b">>"


class Merging:
    """One PDF that is made of parts as they come. Each part is tagged and has a page at least."""

    def __init__(self) -> None:
        whole = self._whole = pydyf.PDF()
        self._numbers = pydyf.Dictionary({"Nums": pydyf.Array()})
        self._tree = pydyf.Dictionary({"Type": "/StructTreeRoot"})
        self._document = pydyf.Dictionary(
            {"Type": "/StructElem", "S": "/Document", "K": pydyf.Array()}
        )
        self._outlines = pydyf.Dictionary({"Count": 0})
        for each in (self._numbers, self._tree, self._document, self._outlines):
            whole.add_object(each)
        self._tree["ParentTree"] = self._numbers.reference
        self._tree["K"] = pydyf.Array([self._document.reference])
        self._document["P"] = self._tree.reference
        whole.catalog["StructTreeRoot"] = self._tree.reference
        self._keys = 0
        self._last_entry: _Kept | None = None

    def add(self, part: Any) -> None:
        """Take the pages of a part, a `pydyf.PDF` that is ready to be written, behind those that are there."""
        tree = _object(part, part.catalog["StructTreeRoot"])
        document = _object(part, tree["K"][0])
        numbers = _object(part, tree["ParentTree"])
        becomes = {
            part.catalog.number: self._whole.catalog.number,
            tree.number: self._tree.number,
            document.number: self._document.number,
            numbers.number: self._numbers.number,
        }
        outlines = None
        if "Outlines" in part.catalog:
            outlines = _object(part, part.catalog["Outlines"])
            becomes[outlines.number] = self._outlines.number
        own = [each for each in part.objects if each.free != "f" and each.number not in becomes]
        self._count_on(own)
        begin = len(self._whole.objects)
        becomes |= {each.number: begin + place for place, each in enumerate(own)}
        for each in own:
            self._whole.add_object(_kept(each, becomes))
        self._take_pages(part, becomes)
        self._take_tags(document, numbers, becomes)
        if outlines is not None:
            self._take_outlines(outlines, becomes)
        if not self._whole.info:
            self._whole.info = part.info
            for key, value in part.catalog.items():
                if key not in _OF_THE_WHOLE:
                    self._whole.catalog[key] = _moved(_written(value), becomes)

    def pdf(self) -> bytes:
        """Return the whole, of the version that PDF/UA-1 is of."""
        out = BytesIO()
        self._whole.write(out, b"1.7", compress=True)
        return out.getvalue()

    def _count_on(self, own: list[Any]) -> None:
        """Let pages and notes on them look behind the others into the one parent tree."""
        for each in own:
            for key in ("StructParents", "StructParent"):
                if isinstance(each, dict) and key in each:
                    each[key] += self._keys

    def _take_pages(self, part: Any, becomes: Mapping[int, int]) -> None:
        at = becomes[part.pages.number]
        self._whole.objects[at].also(b"/Parent " + self._whole.pages.reference)
        self._whole.pages["Kids"].extend([at, 0, "R"])
        self._whole.pages["Count"] += part.pages["Count"]

    def _take_tags(self, document: Any, numbers: Any, becomes: Mapping[int, int]) -> None:
        self._document["K"].extend(_moved(each, becomes) for each in document["K"])
        all_numbers = numbers["Nums"]
        for key, elements in zip(all_numbers[::2], all_numbers[1::2], strict=True):
            self._numbers["Nums"].append(key + self._keys)
            self._numbers["Nums"].append(_moved(_written(elements), becomes))
        self._keys += len(all_numbers) // 2

    def _take_outlines(self, outlines: Any, becomes: Mapping[int, int]) -> None:
        """Hang entries behind those that are there."""
        first, last = (_moved(outlines[key], becomes) for key in ("First", "Last"))
        if self._last_entry is None:
            self._whole.catalog["Outlines"] = self._outlines.reference
            self._outlines["First"] = first
        else:
            self._last_entry.also(b"/Next " + first)
            _object(self._whole, first).also(b"/Prev " + self._last_entry.reference)
        self._last_entry = _object(self._whole, last)
        self._outlines["Last"] = last
        self._outlines["Count"] += outlines["Count"]


def _object(pdf: Any, reference: bytes) -> Any:
    """Return the object that is referred to."""
    return pdf.objects[int(reference.split()[0])]


def _written(value: Any) -> bytes:
    return value.data if isinstance(value, pydyf.Object) else _plain(value)


def _plain(value: Any) -> bytes:
    return value if isinstance(value, bytes) else str(value).encode("ascii")


def _kept(each: Any, becomes: Mapping[int, int]) -> _Kept:
    """Return an object with the numbers that it has in the whole; what a stream holds is left as it is."""
    if each.compressible:
        return _Kept(_moved(each.data, becomes), compressible=True)
    entries, word, held = each.data.partition(b"\nstream\n")
    return _Kept(_moved(entries, becomes) + word + held, compressible=False)


def _moved(written: bytes, becomes: Mapping[int, int]) -> bytes:
    """Return what is written with every reference to where the object is now."""

    def now(found: re.Match[bytes]) -> bytes:
        number = found[1]
        return b"%d 0 R" % becomes[int(number)] if number else found[0]

    return _SAID_OR_REFERENCE.sub(now, written)
