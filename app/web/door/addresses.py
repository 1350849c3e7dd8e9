"""The addresses by which this machine is known in its networks. Nothing is sent to find them."""

import ipaddress
import socket
import struct
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass

_TOLD: bool = sys.platform == "linux"
"""Whether the system tells its networks one by one."""

_SIOCGIFADDR = 0x8915
"""Source: Linux, include/uapi/linux/sockios.h."""

_ELSEWHERE = ("192.0.2.1", "10.255.255.255", "172.31.255.255", "192.168.255.255")
"""Towards which it is asked where one would set out from. Source: RFC 5737, RFC 1918."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnAddress:
    """An address of this machine. network: what the system calls the way to it, blank where it does not say."""

    address: str
    network: str = ""

    @property
    def is_public(self) -> bool:
        """Tell whether it may be reached from all of the internet."""
        return ipaddress.ip_address(self.address).is_global


def own_addresses() -> tuple[OwnAddress, ...]:
    """Return the addresses at which others in the network reach this machine, those of a home network first."""
    found: dict[str, OwnAddress] = {}
    for each in (*_of_networks(), *_of_name(), *_of_ways_out()):
        if _reaches(each.address):
            found.setdefault(each.address, each)
    return tuple(sorted(found.values(), key=lambda each: each.is_public))


def _reaches(address: str) -> bool:
    ip = ipaddress.ip_address(address)
    return not (ip.is_loopback or ip.is_link_local or ip.is_unspecified or ip.is_multicast)


def _of_networks() -> Iterator[OwnAddress]:
    """On Linux one of each network device."""
    if not _TOLD:
        return
    import fcntl  # noqa: PLC0415 - it is there on some systems alone

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        for _, name in socket.if_nameindex():
            with suppress(OSError):
                request = struct.pack("256s", name.encode()[:15])
                answer = fcntl.ioctl(asking.fileno(), _SIOCGIFADDR, request)
                yield OwnAddress(address=socket.inet_ntoa(answer[20:24]), network=name)


def _of_name() -> Iterator[OwnAddress]:
    """Elsewhere those that this machine's own name leads to."""
    if _TOLD:
        return
    with suppress(OSError, UnicodeError):
        for *_, end in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            yield OwnAddress(address=str(end[0]))


def _of_ways_out() -> Iterator[OwnAddress]:
    """Those from which one would set out. A datagram socket that is connected sends nothing."""
    for address in _ELSEWHERE:
        with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
            asking.connect((address, 9))
            yield OwnAddress(address=str(asking.getsockname()[0]))
