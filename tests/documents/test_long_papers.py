"""A long document is laid out piece after piece, and says the same as one that is laid out whole."""

from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from app.documents.kit import pdf
from app.documents.kit.merging import merged
from app.documents.kit.pdf import TOLD, PageSetting, StyleSheets, fit, in_parts, joined

pytestmark = pytest.mark.documents


def page(number: int) -> Any:
    html = (
        f'<!doctype html><html lang="en"><head><title>Piece {number}</title></head><body>'
        f"<h1>Piece {number}</h1><p>Cut {number} mm.</p></body></html>"
    )
    return fit((PageSetting(html=html),), StyleSheets(names=("document",)))


def test_parts_become_one_document_with_all_pages_tags_and_outlines() -> None:
    parts = [joined([page(number) for number in numbers]) for numbers in ((1, 2), (3,), (4, 5))]
    reader = PdfReader(BytesIO(merged(parts)))
    assert [each.extract_text().replace("\n", "") for each in reader.pages] == [
        f"Piece {number}Cut {number} mm." for number in range(1, 6)
    ]
    assert [each["/StructParents"] for each in reader.pages] == [0, 1, 2, 3, 4]
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Piece 1"
    tree = root["/StructTreeRoot"]
    (document,) = tree["/K"]
    assert len(document["/K"]) == sum(_elements(part) for part in parts)
    numbers = list(tree["/ParentTree"]["/Nums"])
    assert numbers[::2] == [0, 1, 2, 3, 4]
    for elements, at in zip(numbers[1::2], reader.pages, strict=True):
        for element in elements.get_object():
            assert element.get_object()["/Pg"] == at
    assert [entry.title for entry in reader.outline] == [f"Piece {n}" for n in range(1, 6)]  # type: ignore[union-attr]


def _elements(part: bytes) -> int:
    root: Any = PdfReader(BytesIO(part)).trailer["/Root"]
    return len(root["/StructTreeRoot"]["/K"][0]["/K"])


def test_a_long_document_is_written_part_by_part_and_tells_how_far_it_is(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(pdf, "PAGES_AT_ONCE", 2)
    told: list[tuple[int, int]] = []
    token = TOLD.set(lambda done, of: told.append((done, of)))
    try:
        made = in_parts((page(number) for number in range(1, 6)), 5)
    finally:
        TOLD.reset(token)
    assert told == [(1, 5), (2, 5), (3, 5), (4, 5), (5, 5)]
    assert len(PdfReader(BytesIO(made)).pages) == 5


def test_a_short_document_is_written_as_before() -> None:
    assert len(in_parts((page(number) for number in (1, 2)), 2)) == len(joined([page(1), page(2)]))
