"""Where the data are, where the program listens, how much it says.

Read at the entry points only: a command's options win over the environment, which wins over the
platform's habits. The environment knows BEVELBOOK_DATA, BEVELBOOK_HOST, BEVELBOOK_PORT,
BEVELBOOK_LOG and BEVELBOOK_HOSTS.
"""

import ipaddress
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Literal

from platformdirs import user_data_path
from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
)

from app.errors import AppError, Fault, Invalid, quoted
from app.storage import BACKUPS

APP_NAME = "bevelbook"
DEFAULT_PORT = 8027
_NAMES = {
    "data": "BEVELBOOK_DATA",
    "host": "BEVELBOOK_HOST",
    "port": "BEVELBOOK_PORT",
    "log_level": "BEVELBOOK_LOG",
    "hosts": "BEVELBOOK_HOSTS",
}


_LOOPBACK_NET = ipaddress.IPv4Network("127.0.0.0/8")
_LOOPBACK = ipaddress.IPv6Address("::1")


class UnusableFolder(AppError):
    """The data folder cannot be made or written."""

    code = "unusable-folder"

    def __init__(self, folder: Path, reason: str) -> None:
        super().__init__(
            f"The data folder {folder} cannot be used: {reason}. Give yourself leave to write "
            f"there, or name another folder with --data or {_NAMES['data']}."
        )


def _listed(value: object) -> object:
    """A list of names typed with commas or blanks between them."""
    return tuple(value.replace(",", " ").split()) if isinstance(value, str) else value


def _loopback(host: str) -> str:
    """An address or name that reaches this machine alone, as it stands in the one canonical form.

    Source: RFC 1122, 3.2.1.3 (127.0.0.0/8), RFC 4291, 2.5.3 (::1), RFC 6761, 6.3 (localhost).
    Raises: ValueError for any other: whoever reaches the program may read and write everything.
    """
    if host.lower() == "localhost":
        return "localhost"
    address = ipaddress.ip_address(host.removeprefix("[").removesuffix("]"))
    if address not in _LOOPBACK_NET and address != _LOOPBACK:
        raise ValueError("it reaches further than this machine")
    return str(address)


class Settings(BaseModel):
    """What an entry point starts with.

    data: the folder of everything that is kept. host: where the program listens, on this machine alone.
    hosts: names, beside this machine's own, by which a browser may call the program.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    data: Path
    host: Annotated[str, AfterValidator(_loopback)] = "127.0.0.1"
    port: int = Field(default=DEFAULT_PORT, ge=0, le=65535)
    log_level: Annotated[
        Literal["debug", "info", "warning", "error"],
        BeforeValidator(lambda value: value.lower() if isinstance(value, str) else value),
    ] = "info"
    hosts: Annotated[tuple[str, ...], BeforeValidator(_listed)] = ()

    @property
    def own_name(self) -> str:
        """The host name of the address that is opened in a browser."""
        return f"[{self.host}]" if ":" in self.host else self.host

    @property
    def database(self) -> Path:
        """The file of the database."""
        return self.data / "bevelbook.sqlite3"

    @property
    def backups(self) -> Path:
        """The folder of backups, unless another is named."""
        return self.data / BACKUPS


def read_settings(
    *,
    data: Path | None = None,
    host: str | None = None,
    port: int | str | None = None,
    environ: Mapping[str, str] = os.environ,
) -> Settings:
    """The settings; None leaves one to the environment. The data folder is made where it is missing.

    Raises: Invalid with every fault, UnusableFolder.
    """
    typed: dict[str, object] = {
        field: environ[name] for field, name in _NAMES.items() if environ.get(name)
    }
    options = {"data": data, "host": host, "port": port}
    typed |= {field: value for field, value in options.items() if value is not None}
    typed.setdefault("data", user_data_path(APP_NAME, appauthor=False))
    try:
        settings = Settings.model_validate(typed)
    except ValidationError as error:
        raise Invalid(_faults(error)) from error
    folder = usable_folder(settings.data)
    return settings.model_copy(update={"data": folder})


def usable_folder(folder: Path) -> Path:
    """The folder as an absolute path, made where it is missing, for its owner alone to read.

    Raises: UnusableFolder.
    """
    folder = folder.expanduser().absolute()
    if folder.exists() and not folder.is_dir():
        raise UnusableFolder(folder, "it is a file, and a folder is wanted")
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        raise UnusableFolder(folder, (error.strerror or str(error)).lower()) from error
    return folder


_ALLOWED = {
    "host": (
        "only this machine itself is allowed, as 127.0.0.1, ::1 or localhost: Bevelbook has no locks, "
        "so whoever else reached it could read and change everything"
    ),
    "port": "a whole number from 0 to 65535 is allowed",
    "log_level": "debug, info, warning or error is allowed",
    "hosts": "names with commas between them are allowed",
    "data": "a folder is allowed",
}


def _faults(error: ValidationError) -> tuple[Fault, ...]:
    faults = []
    for wrong in error.errors():
        field = str(wrong["loc"][0])
        given = quoted(str(wrong["input"]))
        faults.append(
            Fault(
                path=field, message=f"{_NAMES[field]} or its option is {given}; {_ALLOWED[field]}."
            )
        )
    return tuple(faults)
