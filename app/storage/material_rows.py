"""A material as a row, and back."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from app.lengths import Length, Size, to_grains
from app.pricing import Material
from app.storage.memo import Memo
from app.storage.rows import MaterialRow
from app.storage.search_text import words_of
from app.storage.snapshots import MATERIAL


def columns_of(material: Material) -> Mapping[str, Any]:
    """The columns of a material. Raises: Invalid where a length is too fine for stock to be kept of it."""
    _check_grains(material, "")
    size = material.sheet and material.sheet.size
    return {
        "code": material.code,
        "name": material.name,
        "kind": material.kind.value,
        "colour": material.colour,
        "longest_side": to_grains(max(size.width, size.height)) if size else None,
        "active": material.active,
        "words": _words(material),
        "says": MATERIAL.write(material),
    }


def _words(material: Material) -> str:
    """What it is found by: every word with a blank before it, so that beginnings can be told."""
    texts = (material.code, material.name, material.finish, material.supplier, *material.tags)
    return "".join(f" {word}" for text in texts for word in words_of(text))


def _check_grains(value: Any, path: str) -> None:
    """Raises: Invalid at the path of the form's field for the first length that is no whole grains."""
    match value:
        case Length():
            to_grains(value, path=path)
        case Size():
            for length in (value.width, value.height):
                to_grains(length, path=path)
        case tuple():
            for index, each in enumerate(value):
                _check_grains(each, f"{path}.{index}")
        case _ if is_dataclass(value):
            for field in fields(value):
                inner = f"{path}.{field.name}" if path else field.name
                _check_grains(getattr(value, field.name), inner)


def material_of(row: MaterialRow, lasting: Memo) -> Material:
    """The material of a row; read once for each of its versions."""
    return lasting.of("material", (row.id, row.version), lambda: MATERIAL.read(row.says))
