"""Where the data are, where the program listens, how much it says.

Read at the entry points only: a command's options win over the environment, which wins over the
platform's habits. The environment knows BEVELBOOK_DATA, BEVELBOOK_HOST, BEVELBOOK_PORT,
BEVELBOOK_LOG, BEVELBOOK_HOSTS, BEVELBOOK_TLS_CERT and BEVELBOOK_TLS_KEY.
"""

import ipaddress
import os
import ssl
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
    "tls_cert": "BEVELBOOK_TLS_CERT",
    "tls_key": "BEVELBOOK_TLS_KEY",
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


class UnusableCertificate(AppError):
    """The files for https cannot be used."""

    code = "unusable-certificate"

    def __init__(self, certificate: Path, key: Path, reason: str) -> None:
        super().__init__(
            f"The certificate {certificate} with the key {key} cannot be used: {reason}. Give files in "
            "the PEM form, the key without a password, or leave both out and phones speak plain http."
        )


def _host(host: str) -> str:
    """One address of a machine, as it stands in the one canonical form, or localhost.

    Whether an address that reaches further than this machine may be listened on, the data say. Source: RFC 6761,
    6.3 (localhost). Raises: ValueError for a name, and for what stands for many addresses or none for all to use.
    """
    if host.lower() == "localhost":
        return "localhost"
    address = ipaddress.ip_address(host.removeprefix("[").removesuffix("]"))
    other = isinstance(address, ipaddress.IPv6Address) and (
        address.ipv4_mapped is not None or address.scope_id is not None
    )
    if address.is_unspecified or address.is_multicast or address.is_link_local or other:
        raise ValueError("it is not one address that others know")
    return str(address)


def _is_loopback(host: str) -> bool:
    """Tell whether a host reaches this machine alone.

    Source: RFC 1122, 3.2.1.3 (127.0.0.0/8), RFC 4291, 2.5.3 (::1).
    """
    if host == "localhost":
        return True
    address = ipaddress.ip_address(host)
    return address in _LOOPBACK_NET or address == _LOOPBACK


class Settings(BaseModel):
    """What an entry point starts with.

    data: the folder of everything that is kept. host: where the program listens: on this machine alone, or, where the
    data let phones in, at one address of this machine as well. hosts: names, beside this machine's own, by which a
    browser may call the program. tls_cert, tls_key: files by which phones speak https.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    data: Path
    host: Annotated[str, AfterValidator(_host)] = "127.0.0.1"
    port: int = Field(default=DEFAULT_PORT, ge=0, le=65535)
    log_level: Annotated[
        Literal["debug", "info", "warning", "error"],
        BeforeValidator(lambda value: value.lower() if isinstance(value, str) else value),
    ] = "info"
    hosts: Annotated[tuple[str, ...], BeforeValidator(_listed)] = ()
    tls_cert: Path | None = None
    tls_key: Path | None = None

    @property
    def own_host(self) -> str:
        """Where this machine itself reaches the program."""
        return self.host if _is_loopback(self.host) else "127.0.0.1"

    @property
    def for_phones(self) -> str | None:
        """The address at which phones are to reach it, where one was named; else the data say it."""
        return None if _is_loopback(self.host) else self.host

    @property
    def own_name(self) -> str:
        """The host name of the address that is opened in a browser."""
        return f"[{self.own_host}]" if ":" in self.own_host else self.own_host

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
    tls: tuple[Path | None, Path | None] = (None, None),
    environ: Mapping[str, str] = os.environ,
) -> Settings:
    """The settings; None leaves one to the environment. The data folder is made where it is missing.

    tls: the files of the certificate and its key.

    Raises: Invalid with every fault, UnusableFolder.
    """
    typed: dict[str, object] = {
        field: environ[name] for field, name in _NAMES.items() if environ.get(name)
    }
    options = {"data": data, "host": host, "port": port, "tls_cert": tls[0], "tls_key": tls[1]}
    typed |= {field: value for field, value in options.items() if value is not None}
    typed.setdefault("data", user_data_path(APP_NAME, appauthor=False))
    try:
        settings = Settings.model_validate(typed)
    except ValidationError as error:
        raise Invalid(_faults(error)) from error
    if (settings.tls_cert is None) != (settings.tls_key is None):
        raise Invalid.at(
            "tls_cert",
            "A certificate goes with its key: give both --tls-cert and --tls-key, or neither.",
        )
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


def check_certificate(certificate: Path, key: Path) -> None:
    """Raises: UnusableCertificate where https cannot be spoken with these files."""
    try:
        # A password is given so that nobody is asked for one.
        ssl.create_default_context(ssl.Purpose.CLIENT_AUTH).load_cert_chain(certificate, key, "")
    except (OSError, ValueError) as error:  # those of TLS are among them
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise UnusableCertificate(certificate, key, reason) from error


_ALLOWED = {
    "host": (
        "only this machine itself is allowed, as 127.0.0.1, ::1 or localhost, or, where phones were turned on "
        "under Settings > Workshop, one address of this machine"
    ),
    "tls_cert": "a file is allowed",
    "tls_key": "a file is allowed",
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
