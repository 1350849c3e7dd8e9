"""Pictures in the data: kept once, under a digest of what is kept, and read in a child that may be late."""

import asyncio
import hashlib
import json
import sqlite3
import sys
from base64 import b64decode
from contextlib import closing, suppress
from datetime import timedelta
from fractions import Fraction

import pytest
from sqlalchemy import event

from app.errors import Invalid, NotFound
from app.orders.photo_corners import Corners
from app.services import customer_export, erasing, orders, pictures, quotes
from app.services.children import Children
from app.services.erasing import Copies, RemovalRequest
from app.services.pictures import Photo
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store, back_up, check_database, problems_of
from app.web.rest import let_pictures_go
from tests.apart import run_apart
from tests.builders.kept import NOW, SHOP, TYPED
from tests.builders.photos import BLUE, RED, colour_at, file_of, kept_photo, noise, photo

ACT = Stamp(who="Ann", now=NOW)


def test_a_photo_is_kept_under_a_digest_of_what_is_kept(store: Store) -> None:
    kept = kept_photo(store, photo(), by=ACT)
    content = pictures.content_of(store, kept.id)
    assert kept.id == hashlib.sha256(content).hexdigest()[:32]
    assert (kept.width, kept.height) == (80, 60)
    assert pictures.get(store, kept.id) == Photo(now=kept, taken=kept)
    (waiting,) = pictures.in_tray(store, NOW)
    assert (waiting.id, waiting.by, waiting.at) == (kept.id, "Ann", NOW)


def test_the_same_photo_is_kept_once(store: Store) -> None:
    first = kept_photo(store, photo(), by=ACT)
    later = Stamp(who="Bea", now=NOW)
    assert kept_photo(store, photo(), by=later) == first
    (waiting,) = pictures.in_tray(store, NOW)
    assert waiting.by == "Ann"


def test_nothing_is_kept_of_what_is_no_photo(store: Store) -> None:
    with pytest.raises(Invalid, match="no photo"):
        kept_photo(store, b"words", by=ACT)
    with store.reading() as work:
        assert (
            work.session.connection().exec_driver_sql("SELECT count(*) FROM pictures").scalar() == 0
        )


def test_a_straightened_picture_knows_what_it_was_made_from(store: Store) -> None:
    taken = kept_photo(store, photo(80, 60, "PNG"), by=ACT)
    corners = Corners(((0, 0), (40, 0), (40, 60), (0, 60)))
    flat = pictures.straighten(store, taken.id, corners, Fraction(2, 3), by=ACT)
    assert (flat.made_from, flat.corners) == (taken.id, corners)
    assert (flat.width, flat.height) == (40, 60)
    content = pictures.content_of(store, flat.id)
    assert colour_at(content, 0.9, 0.1) == RED
    assert colour_at(content, 0.9, 0.9) == BLUE
    assert pictures.get(store, flat.id) == Photo(now=flat, taken=taken)


def test_corners_that_make_no_rectangle_are_refused(store: Store) -> None:
    taken = kept_photo(store, photo(), by=ACT)
    with pytest.raises(Invalid, match="lies beside the photo, which is 80 wide and 60 high"):
        pictures.straighten(
            store, taken.id, Corners(((0, 0), (81, 0), (80, 60), (0, 60))), None, by=ACT
        )


def test_a_picture_that_is_gone_is_said_to_be(store: Store) -> None:
    with pytest.raises(NotFound, match="not kept here any more"):
        pictures.get(store, "0" * 32)


def test_a_photo_that_breaks_who_reads_it_is_refused_in_words(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    ends = Children((sys.executable, "-c", "import os; input(); os._exit(9)"), most=1)
    monkeypatch.setattr(pictures, "_READING", ends)
    with pytest.raises(Invalid, match="could not be read in the time and memory"):
        kept_photo(store, photo(), by=ACT)


# --- of a customer who is deleted


def pixels(store: Store, id: str) -> tuple[bytes, bytes]:
    """What of a picture must stand in no file: pieces of what it shows, in both its sizes."""
    large, small = (pictures.content_of(store, id, small=small) for small in (False, True))
    return large[200:260], small[200:260]


def quote(store: Store, name: str, photo_of: str) -> int:
    typed = {**TYPED, "artwork.photo": photo_of}
    return quotes.save_new(store, CustomerRequest(name=name), typed, SHOP, ACT)


def in_files(store: Store, *never: bytes) -> list[str]:
    return [
        path.name
        for path in sorted(store.path.parent.rglob("*"))
        if path.is_file()
        for text in never
        if text in path.read_bytes()
    ]


def test_photos_of_a_customer_who_is_deleted_are_in_no_byte_of_any_file(store: Store) -> None:
    first = kept_photo(store, file_of(noise(300, 200), quality=80), by=ACT)
    taken = kept_photo(store, file_of(noise(310, 200), quality=80), by=ACT)
    flat = pictures.straighten(store, taken.id, Corners.of_whole(310, 200).turned(), None, by=ACT)
    shared = kept_photo(store, file_of(noise(320, 200), quality=80), by=ACT)
    order = quote(store, "Amber Quill", first.id)
    orders.set_photo(store, orders.OrderAt(id=order, version=1), 1, flat.id, ACT)
    quote(store, "Amber Quill #1", shared.id)
    other = quote(store, "Bram Reed", shared.id)
    back_up(store, store.path.parent / "backups", now=NOW)
    gone = tuple(part for each in (first, taken, flat) for part in pixels(store, each.id))
    stays = pixels(store, shared.id)
    assert len(in_files(store, *gone)) >= 6
    assert in_files(store, first.id.encode())
    customer = orders.get(store, order).customer_id
    keys = erasing.asked(store, customer).keys
    wanted = RemovalRequest(shown=keys, ticked=keys, copies=Copies.ANEW)
    done = erasing.erase(store, customer, wanted, ACT)
    assert done.left == ()
    assert check_database(store) == ()
    assert problems_of(store.path, every_record=True) == ()
    piece = orders.get(store, order).pieces[0]
    assert piece.artwork.photo == ""
    assert piece.agreed.typed["artwork.photo"] == ""
    assert orders.get(store, other).pieces[0].artwork.photo == shared.id
    assert pictures.get(store, shared.id).now == shared, "somebody else's piece shows it too"
    assert in_files(store, *gone) == []
    store.close()
    assert in_files(store, *gone, *(each.id.encode() for each in (first, taken, flat))) == []
    assert in_files(store, *stays)


def test_what_is_kept_of_a_customer_holds_the_photos(store: Store) -> None:
    kept = kept_photo(store, photo(), by=ACT)
    order = quote(store, "Amber Quill", kept.id)
    given = json.loads(customer_export.export(store, orders.get(store, order).customer_id))
    assert given["orders"][0]["pieces"][0]["photo"] == kept.id
    head, _, content = given["photos"][kept.id].partition(",")
    assert head == "data:image/jpeg;base64"
    assert b64decode(content) == pictures.content_of(store, kept.id)


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("UPDATE pictures SET content = x'00'", "is not as it was kept."),
        ("DELETE FROM pictures", "the photo of piece 1 is not kept."),
    ],
)
def test_a_check_finds_pictures_that_were_altered_or_are_gone(
    store: Store, statement: str, said: str
) -> None:
    kept = kept_photo(store, photo(), by=ACT)
    quote(store, "Amber Quill", kept.id)
    assert problems_of(store.path, every_record=True) == ()
    path = store.path
    store.close()
    with closing(sqlite3.connect(path)) as file:
        file.execute(statement)
        file.commit()
    assert any(said in each for each in problems_of(path, every_record=True))


def test_what_is_known_of_a_picture_is_told_without_reading_it(store: Store) -> None:
    """What waits is asked by id, day and who brought it; a photo by its size, colours and corners."""
    kept = kept_photo(store, photo(), by=ACT)
    asked: list[str] = []
    with store.reading() as work:
        connection = work.session.connection()
        event.listen(connection, "before_cursor_execute", lambda *said: asked.append(said[2]))
        (waiting,) = work.pictures.unused(most=4)
        assert work.pictures.shape(kept.id) == kept
        assert work.pictures.has(kept.id)
    assert waiting.by == "Ann"
    assert len(asked) == 3
    columns = [each.partition("FROM")[0] for each in asked]
    assert not any("content" in each or "small" in each for each in columns)


def test_unused_pictures_go_while_the_shop_rests(store: Store) -> None:
    old = Stamp(who="Ann", now=NOW - timedelta(days=8))
    kept = kept_photo(store, photo(), by=old)

    async def rested() -> None:
        with suppress(TimeoutError):
            async with asyncio.timeout(5):
                letting = asyncio.create_task(
                    let_pictures_go(store, lambda: NOW, rest=0, look=0.01)
                )
                while is_kept():
                    await asyncio.sleep(0.02)
        letting.cancel()

    def is_kept() -> bool:
        with store.reading() as work:
            return work.pictures.has(kept.id)

    run_apart(rested())
    assert not is_kept()


def test_the_few_colours_that_carry_it_are_kept_with_it(store: Store) -> None:
    """A quarter each: red #c81e1e, green #1ea03c, blue #283cc8, and white, which may be bare paper and comes last."""
    kept = kept_photo(store, photo(160, 120, "PNG"), by=ACT)
    *quarters, paper = (colour.hex for colour in kept.colours)
    assert sorted(quarters) == ["#1ea03c", "#283cc8", "#c81e1e"]
    assert paper == "#ffffff"
