"""Pictures that show nothing but the artworks of one person, which go with the person."""

import sqlite3
from collections.abc import Collection

_EVER = """
    SELECT p.photo FROM pieces p JOIN orders o ON o.id = p.order_id WHERE o.customer_id {of}
    UNION SELECT s.agreed ->> '$.agreed.typed."artwork.photo"' FROM piece_snapshots s
    JOIN pieces p ON p.id = s.piece_id JOIN orders o ON o.id = p.order_id
    WHERE o.customer_id {of} AND json_valid(s.agreed)
"""


def photos_of(connection: sqlite3.Connection, own: Collection[int]) -> frozenset[str]:
    """Return the ids of the pictures that only pieces of a person show or ever showed, and of those they were made from.

    own: the ids of the person's records. One that the shop's settings name, as its logo, is none of them. Expects a file that
    has pictures.
    """
    if not own:
        return frozenset()
    marks = ", ".join("?" * len(own))
    ours = _ids(connection, _EVER.format(of=f"IN ({marks})"), own)
    theirs = _ids(connection, _EVER.format(of=f"NOT IN ({marks})"), own)
    settings = "".join(text for (text,) in connection.execute("SELECT settings FROM shop"))
    family: dict[str, set[str]] = {}
    for id_, made_from in connection.execute("SELECT id, made_from FROM pictures"):
        family.setdefault(made_from or id_, set()).add(id_)
    gone: set[str] = set()
    for taken, members in family.items():
        of_all = members | {taken}
        if of_all & ours and not of_all & theirs and not any(id_ in settings for id_ in of_all):
            gone |= of_all
    return frozenset(gone)


def _ids(connection: sqlite3.Connection, asked: str, own: Collection[int]) -> frozenset[str]:
    return frozenset(id_ for (id_,) in connection.execute(asked, (*own, *own)) if id_)


def without_photos(text: str, photos: Collection[str]) -> str:
    """Return the id of a photo, or the JSON of what was agreed, without photos that go."""
    if not text.startswith("{"):
        return "" if text in photos else text
    for photo in photos:
        # An id is of hexadecimal digits alone, so it stands in JSON as it is.
        text = text.replace(f'"{photo}"', '""')
    return text


def drop_pictures(connection: sqlite3.Connection, photos: Collection[str]) -> None:
    """Delete pictures, first those that were made from others."""
    for which in ("NOT NULL", "NULL"):
        connection.executemany(
            f"DELETE FROM pictures WHERE id = ? AND made_from IS {which}",
            [(id_,) for id_ in photos],
        )
