"""Pictures in the data: kept once, under a digest of what is kept, and read in a child that may be late."""

import hashlib
import sys
from fractions import Fraction

import pytest

from app.errors import Invalid, NotFound
from app.services import pictures
from app.services.children import Children
from app.services.corners import Corners
from app.storage import Stamp, Store
from tests.builders.kept import NOW
from tests.builders.photos import BLUE, RED, colour_at, photo

ACT = Stamp(who="Ann", now=NOW)


def test_a_photo_is_kept_under_a_digest_of_what_is_kept(store: Store) -> None:
    kept = pictures.keep_picture(store, photo(), by=ACT)
    assert kept.id == hashlib.sha256(kept.content).hexdigest()[:32]
    assert (kept.width, kept.height, kept.by, kept.at) == (80, 60, "Ann", NOW)
    assert pictures.get(store, kept.id) == kept


def test_the_same_photo_is_kept_once(store: Store) -> None:
    first = pictures.keep_picture(store, photo(), by=ACT)
    later = Stamp(who="Bea", now=NOW)
    assert pictures.keep_picture(store, photo(), by=later) == first


def test_nothing_is_kept_of_what_is_no_photo(store: Store) -> None:
    with pytest.raises(Invalid, match="no photo"):
        pictures.keep_picture(store, b"words", by=ACT)
    with store.reading() as work:
        assert (
            work.session.connection().exec_driver_sql("SELECT count(*) FROM pictures").scalar() == 0
        )


def test_a_straightened_picture_knows_what_it_was_made_from(store: Store) -> None:
    taken = pictures.keep_picture(store, photo(80, 60, "PNG"), by=ACT)
    corners = Corners(((0, 0), (40, 0), (40, 60), (0, 60)))
    flat = pictures.straighten(store, taken.id, corners, Fraction(2, 3), by=ACT)
    assert (flat.made_from, flat.corners) == (taken.id, corners.text)
    assert (flat.width, flat.height) == (40, 60)
    assert colour_at(flat.content, 0.9, 0.1) == RED
    assert colour_at(flat.content, 0.9, 0.9) == BLUE
    assert pictures.get(store, taken.id) == taken


def test_corners_that_make_no_rectangle_are_refused(store: Store) -> None:
    taken = pictures.keep_picture(store, photo(), by=ACT)
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
        pictures.keep_picture(store, photo(), by=ACT)
