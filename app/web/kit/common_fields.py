"""Reads the version that a form was made from, which many forms carry along."""

from collections.abc import Mapping

from app.forms.reader import whole_number


def read_version(form: Mapping[str, str], name: str = "version") -> int:
    """Read the version that a form was made from; it is -1, which is never current, where it is unreadable."""
    version = whole_number(form.get(name, ""), digits=11)
    return -1 if version is None else version
