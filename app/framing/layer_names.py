"""What one of several layers is called: "mat 2", and "mat" where there is only one."""


def numbered(word: str, number: int, count: int) -> str:
    """Number a word: "Mat 2", or "Mat" where there is only one."""
    return f"{word} {number}" if count > 1 else word


def numbered_or_the(word: str, number: int, count: int) -> str:
    """Return the same as it stands within a sentence: "mat 2", or "the mat" where there is only one."""
    return numbered(word, number, count) if count > 1 else f"the {word}"
