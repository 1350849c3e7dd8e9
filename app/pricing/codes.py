"""Codes that the shop gives its own things: materials, markup tables, operations."""

import re

from app.errors import FaultCollector, quoted

_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9./-]{0,23}", re.ASCII)


def check_code(faults: FaultCollector, code: str) -> None:
    """Note, at "code", a code that is empty, too long or has other characters."""
    if not _CODE.fullmatch(code):
        faults.add(
            "code",
            f"The code {quoted(code)} cannot be used; give 1 to 24 letters, digits, dots, "
            "slashes or hyphens.",
        )
