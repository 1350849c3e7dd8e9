"""Keeps beside the database what no copy of it may bring back: who is let in.

A file of its own, for its owner alone, that is in no backup and that restoring leaves alone. `standing` is made anew
whenever somebody is put out; what the database says of phones counts only where it bears the same.
"""

import json
import logging
import secrets
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from app.storage.small_files import write_whole

_KEYS = ".keys"

log = logging.getLogger("bevelbook.keys")


@dataclass(frozen=True, slots=True, kw_only=True)
class Keys:
    """instance: tells this shop's cookies from those of another one on the same machine. own: lets in who sits at
    this machine, 256 bits. standing: the state of who is let in that counts.
    """

    instance: str
    own: str
    standing: str


def read_keys(database: Path) -> Keys | None:
    """Return the keys of a shop; None where there are none, or none that can be read."""
    try:
        kept = json.loads(database.with_suffix(_KEYS).read_text("utf-8"))
        return Keys(**{name: str(kept[name]) for name in ("instance", "own", "standing")})
    except FileNotFoundError:
        return None
    except (OSError, ValueError, TypeError, KeyError) as error:
        log.warning("The keys of %s cannot be read: %s", database, error)
        return None


def keys_of(database: Path) -> Keys:
    """Return the keys of a shop, made where there are none. Raises: CannotWrite."""
    return read_keys(database) or _keep(database, _new())


def new_standing(database: Path) -> str:
    """Make what counted until now count no more; return what counts from now on. Raises: CannotWrite."""
    standing = secrets.token_hex(16)
    _keep(database, replace(keys_of(database), standing=standing))
    return standing


def _new() -> Keys:
    # 256 bits: OWASP ASVS 5.0, 7.2.3 asks for at least 128 of a reference token.
    return Keys(
        instance=secrets.token_hex(4),
        own=secrets.token_urlsafe(32),
        standing=secrets.token_hex(16),
    )


def _keep(database: Path, keys: Keys) -> Keys:
    write_whole(database.with_suffix(_KEYS), asdict(keys))
    return keys
