"""Reads and replaces small files of JSON beside the database: whole or not at all, for their owner alone."""

import json
from pathlib import Path

from app.storage.copying import onto_the_disk
from app.storage.errors import not_written
from app.storage.privacy import private_file


def json_in(path: Path) -> object:
    """Return what a file of JSON holds, None where it cannot be read."""
    try:
        return json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None


def write_whole(path: Path, value: object) -> None:
    """Replace a file of JSON in one step, and wait until it is on the disk. Raises: CannotWrite."""
    part = path.with_name(f"{path.name}.part")
    try:
        private_file(part)
        part.write_text(json.dumps(value, indent=1, ensure_ascii=False), encoding="utf-8")
        onto_the_disk(part)
        part.replace(path)
        onto_the_disk(path.parent)
    except OSError as error:
        raise not_written(path, error) from error
