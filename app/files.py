"""Where the files lie that are no code: templates, what browsers are sent, the steps of the database.

In a checkout they stand at its top; where the app was installed as a package they stand within it.
"""

from pathlib import Path

_HERE = Path(__file__).resolve().parent
_INSTALLED = _HERE / "files"

TOP = _INSTALLED if _INSTALLED.is_dir() else _HERE.parent
"""The folder of all of them."""

TEMPLATES = TOP / "templates"
STATIC = TOP / "static"
MIGRATIONS = TOP / "migrations"
