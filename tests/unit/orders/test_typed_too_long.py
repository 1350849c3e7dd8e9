"""A field with more text than anybody means: one sentence about it, and no second one that denies it."""

from datetime import date

import pytest

from app.errors import Invalid
from app.orders.quoting.agreement import agree
from tests.builders.photograph import PIECE, find
from tests.builders.worked import SHOP


@pytest.mark.parametrize("path", ["artwork.size", "borders.left", "mats.0.material"])
def test_what_is_too_long_is_said_once(path: str) -> None:
    with pytest.raises(Invalid) as refused:
        agree(PIECE | {path: "9" * 10_000}, SHOP, find, today=date(2026, 11, 25))
    said = [fault.message for fault in refused.value.faults if fault.path == path]
    assert said[0].startswith("This field has 10000 characters; at most ")
    assert not any("is empty" in sentence for sentence in said)
