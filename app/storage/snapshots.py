"""Domain values as JSON that is read back years later.

Every field is written, those at their default too: a default that changes later must not change what
was frozen. A field that did not exist yet takes its default when it is read.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict
from datetime import date
from fractions import Fraction
from typing import Any

from pydantic import TypeAdapter

from app.framing import DEFAULTS
from app.lengths import Unit
from app.orders import Agreed, Shop
from app.orders.invoices.invoice import Invoice
from app.pricing import DEFAULT_OPERATIONS, When

SCHEMA = 2
"""The form in which snapshots are written now. It goes up when a field is renamed or changes its
meaning, together with a step in UPGRADES."""

type Plain = dict[str, Any]


def _with_objects(plain: Plain) -> Plain:
    """A shop from before objects in boxes takes what is usual for them: the room over one, by its
    unit, and the time to mount one (G22, P5). All else reads as it is.
    """
    if "allowances" not in plain:
        return plain
    usual = DEFAULTS[Unit(plain["unit"])].object_clearance
    labour = plain["labour"]
    return plain | {
        "allowances": {"object_clearance": {"mm": str(usual.mm)}} | plain["allowances"],
        "labour": labour | {"operations": _with_mounting(labour["operations"])},
    }


def _with_mounting(operations: list[Plain]) -> list[Plain]:
    new = [asdict(each) for each in DEFAULT_OPERATIONS if each.when is When.OBJECT]
    taken = {each["code"] for each in operations}
    return [*operations, *(each for each in new if each["code"] not in taken)]


UPGRADES: Mapping[int, Callable[[Plain], Plain]] = {1: _with_objects}
"""From the form of that number to the next one."""


class Codec[T]:
    """Writes and reads one type of value."""

    def __init__(self, name: str, type_: type[T]) -> None:
        self._name = name
        self._type = type_
        self._made: TypeAdapter[T] | None = None

    @property
    def _adapter(self) -> TypeAdapter[T]:
        # Made at its first use: building one takes longer than a page may take to start.
        if self._made is None:
            self._made = TypeAdapter(self._type)
        return self._made

    def write(self, value: T) -> str:
        """The value as JSON, with the number of its form; equal values are equal text."""
        plain = self._adapter.dump_python(value)
        body = json.dumps(plain, default=_written, ensure_ascii=False, separators=(",", ":"))
        return f'{{"schema":{SCHEMA},"{self._name}":{body}}}'

    def read(self, text: str) -> T:
        """The value of a JSON of this form or an older one.

        Raises: ValueError where the form is newer than this program.
        """
        whole = json.loads(text)
        schema, plain = whole["schema"], whole[self._name]
        if schema > SCHEMA:
            raise ValueError(f"a snapshot of form {schema} is newer than this program ({SCHEMA})")
        for step in range(schema, SCHEMA):
            plain = UPGRADES[step](plain)
        return self._adapter.validate_python(plain)


def _written(value: object) -> object:
    """What JSON has no form for. A set has no order of its own: it is written sorted."""
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"{type(value).__name__} has no form in a snapshot")


AGREED: Codec[Agreed] = Codec("agreed", Agreed)
SHOP: Codec[Shop] = Codec("shop", Shop)
INVOICE: Codec[Invoice] = Codec("invoice", Invoice)
