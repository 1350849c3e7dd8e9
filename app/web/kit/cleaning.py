"""Cleans every text that comes in, from a form or from a file."""

_CONTROLS = (*range(32), *range(127, 160))
_UNSEEN = (
    0xAD,
    0x200B,
    0x200E,
    0x200F,
    *range(0x202A, 0x202F),
    0x2060,
    *range(0x2066, 0x206A),
    0xFEFF,
)
"""Soft hyphen, blanks without a width, and marks of the direction of writing. Those that join letters stay, as words need them."""

_NO_KEY_TYPES = {number: None for number in (*_CONTROLS, *_UNSEEN) if chr(number) not in "\t\n\r"}
"""What comes along when text is pasted and nobody sees; SQLite, PDF and spreadsheets choke on some, and two codes look alike."""


def cleaned(text: str) -> str:
    """Leave out of a text what nobody sees, control characters and the like, but for tabs and ends of lines.

    Blanks stay as they were typed; whoever reads a field leaves out those around it.
    """
    return text.translate(_NO_KEY_TYPES)
