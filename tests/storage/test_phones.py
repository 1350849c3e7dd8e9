"""Paired phones as they are kept, and that no copy of before brings back who was put out."""

import shutil
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from app.errors import Invalid, NotFound
from app.services import phones
from app.storage import DATABASE_NAME, Stamp, Store, back_up, keys_of, read_keys, restore
from tests.builders.kept import NOW

ACT = Stamp(who="", now=NOW)
HERE = ("192.0.2.7", 8027)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "shop" / DATABASE_NAME


@pytest.fixture
def store(path: Path) -> Iterator[Store]:
    path.parent.mkdir()
    with Store.open(path) as store:
        phones.turn_on(store, *HERE)
        yield store


def names(store: Store) -> list[str]:
    return [phone.name for phone in phones.access(store).phones]


def test_a_shop_lets_nobody_in_until_it_is_told_to(tmp_path: Path) -> None:
    with Store.open(tmp_path / DATABASE_NAME) as store:
        assert phones.access(store) == phones.Access()
        assert read_keys(store.path) is None
        with pytest.raises(NotFound):
            phones.pair(store, "Bench", "bench", ACT)


def test_a_paired_phone_is_known_by_its_token_of_which_only_a_hash_is_kept(store: Store) -> None:
    token = phones.pair(store, "Bench", "bench", ACT)
    assert len(token) >= 43  # 256 bits in base64, RFC 4648: six bits a character
    found = phones.access(store).phone_of(token)
    assert found is not None
    assert (found.name, found.role, found.paired_at, found.seen_at) == ("Bench", "bench", NOW, NOW)
    assert phones.access(store).phone_of(token[:-1]) is None
    store.fold()
    assert token.encode() not in store.path.read_bytes()


def test_a_name_is_there_once_and_says_something(store: Store) -> None:
    phones.pair(store, "Bench", "bench", ACT)
    for name, said in (
        ("Bench", "a phone called “Bench”"),
        ("", "a name"),
        ("x" * 41, "at most 40"),
    ):
        with pytest.raises(Invalid, match=said):
            phones.pair(store, name, "bench", ACT)
    assert names(store) == ["Bench"]


def test_a_revoked_phone_is_gone_and_the_others_stay(store: Store) -> None:
    lost = phones.pair(store, "Lost", "office", ACT)
    kept = phones.pair(store, "Bench", "bench", ACT)
    (first, _) = phones.access(store).phones
    assert phones.revoke(store, first.id) == "Lost"
    assert phones.access(store).phone_of(lost) is None
    assert phones.access(store).phone_of(kept) is not None
    with pytest.raises(NotFound):
        phones.revoke(store, first.id)


def test_turned_off_the_phones_stay_paired(store: Store) -> None:
    phones.pair(store, "Bench", "bench", ACT)
    phones.turn_off(store)
    assert not phones.access(store).is_on
    phones.turn_on(store, *HERE)
    assert names(store) == ["Bench"]


def test_when_it_was_seen_is_kept(store: Store) -> None:
    phones.pair(store, "Bench", "bench", ACT)
    later = NOW + timedelta(hours=3)
    phones.seen(store, phones.access(store).phones[0].id, later)
    assert phones.access(store).phones[0].seen_at == later


@pytest.mark.parametrize("by", ["command", "hand"])
@pytest.mark.parametrize("act", ["revoke", "turn off"])
def test_a_copy_of_before_brings_back_nobody(path: Path, tmp_path: Path, act: str, by: str) -> None:
    path.parent.mkdir()
    with Store.open(path) as store:
        phones.turn_on(store, *HERE)
        lost = phones.pair(store, "Lost", "office", ACT)
        copy = back_up(store, tmp_path / "copies", now=NOW)
        if act == "revoke":
            phones.revoke(store, phones.access(store).phones[0].id)
        else:
            phones.turn_off(store)
    if by == "command":
        restore(copy, path, now=NOW)
    else:
        shutil.copyfile(copy, path)
    with Store.open(path) as store:
        now = phones.access(store)
        assert (now.is_on, now.phones, now.lapsed) == (False, (), True)
        assert now.phone_of(lost) is None
        phones.turn_on(store, *HERE)
        assert phones.access(store).phone_of(lost) is None


def test_a_copy_since_which_nobody_was_put_out_keeps_its_phones(path: Path, tmp_path: Path) -> None:
    path.parent.mkdir()
    with Store.open(path) as store:
        phones.turn_on(store, *HERE)
        token = phones.pair(store, "Bench", "bench", ACT)
        copy = back_up(store, tmp_path / "copies", now=NOW)
        later = phones.pair(store, "Later", "bench", ACT)
    restore(copy, path, now=NOW)
    with Store.open(path) as store:
        assert phones.access(store).phone_of(token) is not None
        assert phones.access(store).phone_of(later) is None


def test_a_copy_on_another_machine_lets_nobody_in(store: Store, tmp_path: Path) -> None:
    token = phones.pair(store, "Bench", "bench", ACT)
    copy = back_up(store, tmp_path / "elsewhere", now=NOW)
    with Store.open(copy) as other:
        assert phones.access(other).phone_of(token) is None
        assert not phones.access(other).is_on


def test_the_keys_are_their_owners_alone_and_stay_the_same(path: Path) -> None:
    path.parent.mkdir(mode=0o755)
    keys = keys_of(path)
    file = path.with_name("bevelbook.keys")
    assert file.stat().st_mode & 0o777 == 0o600
    assert len(keys.own) >= 43
    assert keys_of(path) == keys
    file.chmod(0o644)
    with Store.open(path):
        assert file.stat().st_mode & 0o777 == 0o600
    assert [each.name for each in path.parent.glob("*.part")] == []


def test_keys_that_cannot_be_read_are_made_anew(path: Path) -> None:
    path.parent.mkdir()
    before = keys_of(path)
    path.with_name("bevelbook.keys").write_text("{")
    assert read_keys(path) is None
    assert keys_of(path).own != before.own
