"""Phones in the workshop: where they reach the app, which are let in, and which are no more.

What stands in the database counts only where the keys beside it bear the same standing, and each act that puts somebody
out gives both a new one: a database of before, put back, lets in nobody.
"""

import hashlib
import secrets
from dataclasses import dataclass, replace
from datetime import datetime

from app.errors import Invalid, NotFound, quoted
from app.storage import Phone, PhoneAccess, Stamp, Store, UnitOfWork, new_standing, read_keys

LONGEST_NAME = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """How it stands. is_on: phones are to reach the app, at this address of the machine and this port.

    lapsed: phones were let in by the data that were put back, and are no more.
    """

    is_on: bool = False
    address: str = ""
    port: int = 0
    phones: tuple[Phone, ...] = ()
    lapsed: bool = False

    def phone_of(self, token: str) -> Phone | None:
        """Return the phone that was given a token; None where that is nobody's, or was revoked."""
        digest = digest_of(token)
        return next((phone for phone in self.phones if phone.digest == digest), None)


def digest_of(token: str) -> str:
    """Return what is kept of a token. It is random through and through, so a plain hash is enough."""
    return hashlib.sha256(token.encode()).hexdigest()


def access(store: Store) -> Access:
    """Return how it stands now."""

    def found() -> Access:
        with store.reading() as work:
            return _access(store, work)

    return store.remembered("phones", found)


def _access(store: Store, work: UnitOfWork) -> Access:
    kept, phones = work.phones.access(), work.phones.all()
    if kept is None:
        return Access()
    keys = read_keys(store.path)
    if keys is None or keys.standing != kept.standing:
        return Access(address=kept.address, port=kept.port, lapsed=kept.is_on or bool(phones))
    return Access(is_on=kept.is_on, address=kept.address, port=kept.port, phones=phones)


def turn_on(store: Store, address: str, port: int) -> None:
    """Let phones reach the app, at an address of this machine. Raises: CannotWrite."""
    with store.writing() as work:
        if not _access(store, work).phones:
            work.phones.drop_all()  # those of data that were put back
        _stand_anew(store, work, Access(is_on=True, address=address, port=port))


def turn_off(store: Store) -> None:
    """Let them reach it no more; they stay paired for when it is turned on again. Raises: CannotWrite."""
    with store.writing() as work:
        now = _access(store, work)
        if now.is_on:
            _stand_anew(store, work, replace(now, is_on=False))


def pair(store: Store, name: str, role: str, act: Stamp) -> str:
    """Let a phone in under a name. Returns its token, of 256 bits, of which only a hash is kept.

    Raises: Invalid where the name is not to be had, NotFound where phones do not reach the app, CannotWrite.
    """
    # OWASP ASVS 5.0, 7.2.3: at least 128 bits, from a cryptographically secure source.
    token = secrets.token_urlsafe(32)
    with store.writing() as work:
        now = _access(store, work)
        if not now.is_on:
            raise NotFound("Phones do not reach Bevelbook now.")
        check_name(now, name)
        work.phones.add(name=name, role=role, digest=digest_of(token), at=act.now)
    return token


def check_name(now: Access, name: str) -> None:
    """Raises: Invalid where a phone cannot be called so."""
    if not name:
        raise Invalid.at("name", "Give the phone a name, such as “Bench”.")
    if len(name) > LONGEST_NAME:
        raise Invalid.at("name", f"A name of at most {LONGEST_NAME} characters is allowed.")
    if any(phone.name == name for phone in now.phones):
        raise Invalid.at("name", f"There is a phone called {quoted(name)}; take another name.")


def revoke(store: Store, phone_id: int) -> str:
    """Put a phone out for good. Returns its name. Raises: NotFound, CannotWrite."""
    with store.writing() as work:
        now = _access(store, work)
        gone = next((phone for phone in now.phones if phone.id == phone_id), None)
        if gone is None:
            raise NotFound("There is no such phone; perhaps it was revoked already.")
        work.phones.drop(phone_id)
        _stand_anew(store, work, now)
    return gone.name


def seen(store: Store, phone_id: int, at: datetime) -> None:
    """Note that a phone asked for something. Raises: CannotWrite."""
    with store.writing() as work:
        work.phones.seen(phone_id, at)


def _stand_anew(store: Store, work: UnitOfWork, now: Access) -> None:
    """Keep a state that no data of before can bring back.

    The keys come first: where the rest then fails, everybody is out, and nobody is in who should not be.
    """
    standing = new_standing(store.path)
    work.phones.set_access(
        PhoneAccess(is_on=now.is_on, address=now.address, port=now.port, standing=standing)
    )
