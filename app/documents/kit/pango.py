"""What brings Pango, without which no PDF is made, by the packages of this system.

Source: WeasyPrint 70, documentation, "First steps"; packages by their names in the distributions. The font is ours.
"""

import platform
import sys
from collections.abc import Mapping
from contextlib import suppress

_DEBIAN = "apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-dejavu-core"
_FEDORA = "dnf install pango dejavu-sans-fonts"
_ARCH = "pacman -S pango ttf-dejavu"
_MACOS = "brew install pango"
_WINDOWS = "pacman -S mingw-w64-x86_64-pango"

_OF_LINUX = {
    "debian": _DEBIAN,
    "ubuntu": _DEBIAN,
    "fedora": _FEDORA,
    "rhel": _FEDORA,
    "arch": _ARCH,
}


def this_linux() -> Mapping[str, str]:
    """Return what this system says of itself; nothing where it is no Linux or says nothing."""
    with suppress(OSError):
        return platform.freedesktop_os_release()
    return {}


def how_to_install(system: str = sys.platform, linux: Mapping[str, str] | None = None) -> str:
    """Return what to type, as the end of a sentence. system: as `sys.platform`; linux: as `this_linux`."""
    if system == "darwin":
        return f"With Homebrew install it with: {_MACOS}"
    if system == "win32":
        return (
            f"Install MSYS2, and in its window: {_WINDOWS}. Then add its folder mingw64\\bin (usually "
            "C:\\msys64\\mingw64\\bin) to the PATH and start Bevelbook anew"
        )
    said = this_linux() if linux is None else linux
    for name in (said.get("ID", ""), *said.get("ID_LIKE", "").split()):
        if name in _OF_LINUX:
            return f"Install it with: {_OF_LINUX[name]}"
    return f"Install it as on Debian ({_DEBIAN}) or on Fedora ({_FEDORA})"
