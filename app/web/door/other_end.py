"""Who is at the other end of a connection within this machine, where the system tells: on Linux.

Source: Linux, Documentation/networking/proc_net_tcp.rst: a line a socket, its own address and the other one as words of
32 bits in the order of the machine's bytes, its state, and the id of the user whose it is.
"""

import ipaddress
import sys
from collections.abc import Iterator
from pathlib import Path

TABLES = (Path("/proc/net/tcp"), Path("/proc/net/tcp6"))

_OPEN = "01"
"""TCP_ESTABLISHED. A socket that its program has closed is nobody's, and is listed under user 0."""

NOBODY_KNOWN = 65534
"""What stands for a user of another container. Source: Linux, /proc/sys/kernel/overflowuid as it is shipped."""

type End = tuple[str, int]


def tells() -> bool:
    """Tell whether the system says at all whose connections are."""
    return any(table.exists() for table in TABLES)


def user_at(client: End, server: End) -> int | None:
    """Return the id of the user whose program holds the other end of an open connection; None where that is not told."""
    # Read again where it was not there: a table that changes while it is read may leave a line out.
    for _ in range(2):
        for table in TABLES:
            try:
                lines = table.read_text("ascii").splitlines()
            except (OSError, ValueError):
                continue
            for ends in _as_listed(client, server):
                for line in lines:
                    if ends in line:
                        return _user_in(line)
    return None


def _user_in(line: str) -> int | None:
    _, _, _, _, _, _, _, user, _, inode, *_ = line.split()
    return int(user) if int(inode) and int(user) != NOBODY_KNOWN else None


def _as_listed(client: End, server: End) -> Iterator[str]:
    """The two ends as a line has them; those of version 4 stand in the table of version 6 where the program asked so."""
    ends = [(ipaddress.ip_address(address), port) for address, port in (client, server)]
    yield " ".join((*(_listed(ip.packed, port) for ip, port in ends), _OPEN, ""))
    if all(ip.version == 4 for ip, _ in ends):
        mapped = (_listed(b"\0" * 10 + b"\xff" * 2 + ip.packed, port) for ip, port in ends)
        yield " ".join((*mapped, _OPEN, ""))


def _listed(packed: bytes, port: int) -> str:
    words = (packed[at : at + 4] for at in range(0, len(packed), 4))
    address = "".join(f"{int.from_bytes(word, sys.byteorder):08X}" for word in words)
    return f"{address}:{port:04X}"
