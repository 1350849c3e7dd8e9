"""Several PDFs of ours as one: pages, tags and outlines of all, title and language of the first.

A document that is laid out piece after piece takes the room of one piece, and not that of all; each part is a whole tagged PDF, and
here they become one. Source: ISO 32000-1, 14.7.4 (structure trees, StructParents and the parent tree), 12.3.3 (outlines).
"""

from collections.abc import Iterator, Sequence
from io import BytesIO
from typing import Any

from pypdf import PdfReader, PdfWriter
from pypdf.generic import DictionaryObject, NameObject, NumberObject


def merged(parts: Sequence[bytes]) -> bytes:
    """Return one PDF of all pages, in their order. parts: PDFs as WeasyPrint writes them; at least one."""
    writer = PdfWriter(clone_from=BytesIO(parts[0]))
    for part in parts[1:]:
        _append(writer, PdfReader(BytesIO(part)))
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _append(writer: PdfWriter, reader: PdfReader) -> None:
    """Append the pages of a document with their tags and outlines."""
    whole: Any = writer.root_object
    count = int(whole["/Pages"]["/Count"])
    root: Any = reader.trailer["/Root"]
    further: Any = root.clone(writer)
    pages = list(_leaves(further["/Pages"]))
    for place, page in enumerate(pages):
        at = page.get_object()
        at[NameObject("/Parent")] = whole.raw_get("/Pages")
        at[NameObject("/StructParents")] = NumberObject(count + place)
        whole["/Pages"]["/Kids"].append(page)
    whole["/Pages"][NameObject("/Count")] = NumberObject(count + len(pages))
    _append_tags(whole["/StructTreeRoot"], further["/StructTreeRoot"], count)
    if "/Outlines" in whole and "/Outlines" in further:
        _append_outlines(whole, further)


def _leaves(tree: Any) -> Iterator[Any]:
    for kid in tree["/Kids"]:
        if "/Kids" in kid.get_object():
            yield from _leaves(kid.get_object())
        else:
            yield kid


def _append_tags(tree: Any, further: Any, pages: int) -> None:
    """Put the elements of a document under the one document, and its pages into the one parent tree."""
    document = tree["/K"][0]
    for element in further["/K"][0].get_object()["/K"]:
        element.get_object()[NameObject("/P")] = document.indirect_reference
        document["/K"].append(element)
    all_numbers: Any = tree["/ParentTree"]["/Nums"]
    numbers = list(further["/ParentTree"]["/Nums"])  # kept as references, where they are some
    for page, elements in zip(numbers[::2], numbers[1::2], strict=True):
        all_numbers.extend((NumberObject(int(page) + pages), elements))


def _append_outlines(whole: Any, further: Any) -> None:
    """Hang the outlines of a document behind those that are there."""
    mine, theirs = whole["/Outlines"], further["/Outlines"]
    if "/First" not in theirs:
        return
    if "/First" not in mine:
        whole[NameObject("/Outlines")] = further.raw_get("/Outlines")
        return
    last, first = mine.raw_get("/Last"), theirs.raw_get("/First")
    last.get_object()[NameObject("/Next")] = first
    first.get_object()[NameObject("/Prev")] = last
    each: Any = first
    while each is not None:
        entry: DictionaryObject = each.get_object()
        entry[NameObject("/Parent")] = whole.raw_get("/Outlines")
        each = entry.raw_get("/Next") if "/Next" in entry else None
    mine[NameObject("/Last")] = theirs.raw_get("/Last")
    mine[NameObject("/Count")] = NumberObject(
        int(mine.get("/Count", 0)) + int(theirs.get("/Count", 0))
    )
