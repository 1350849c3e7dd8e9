"""A notice: something worth saying about a piece that does not stop it."""

from dataclasses import dataclass
from enum import StrEnum


class Concern(StrEnum):
    """How a notice is meant: worth knowing, worth a second look, or a risk to the work."""

    NOTE = "note"
    LOOK = "look"
    RISK = "risk"


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """code: stable, for programs. message: a sentence with the lengths in the piece's unit."""

    code: str
    message: str
    concern: Concern = Concern.LOOK
