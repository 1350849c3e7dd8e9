"""Cleans every text that comes in, from a form or from a file."""

_NO_KEY_TYPES = {
    number: None for number in (*range(32), *range(127, 160)) if chr(number) not in "\t\n\r"
}
"""Control characters, which come along when text is pasted; SQLite, PDF and spreadsheets choke on some."""


def cleaned(text: str) -> str:
    """Leave control characters out of a text, but for tabs and ends of lines.

    Blanks stay as they were typed; whoever reads a field leaves out those around it.
    """
    return text.translate(_NO_KEY_TYPES)
