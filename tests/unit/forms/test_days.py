"""Days as browsers post them: the calendar of ISO 8601."""

from datetime import date

import pytest

from app.errors import Invalid
from app.forms.table import DAY, Field, Form, In
from app.lengths import Unit
from app.money import currency

KNOWN = In(Unit.MM, currency("EUR"))
FORM = Form[In](Field("due", "Ready on", DAY), Field("paid", "Pay by", DAY))


def test_a_day_is_read_and_written_back() -> None:
    """29 February 2028 is a day, since 2028 is a leap year."""
    typed = {"due": " 2028-02-29 ", "paid": ""}
    values = FORM.read(typed, KNOWN)
    assert values == {"due": date(2028, 2, 29), "paid": None}
    assert FORM.typed(values.__getitem__, KNOWN) == {"due": "2028-02-29", "paid": ""}


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("2026-02-29", "“2026-02-29” is not a date; type it as 2026-12-10."),
        ("10.12.2026", "“10.12.2026” is not a date; type it as 2026-12-10."),
        ("1999-12-31", "“1999-12-31” lies too far away; years from 2000 to 2200 are kept."),
        ("2201-01-01", "“2201-01-01” lies too far away; years from 2000 to 2200 are kept."),
    ],
)
def test_what_is_no_day_is_refused_at_its_field(text: str, sentence: str) -> None:
    with pytest.raises(Invalid) as refused:
        FORM.read({"due": text, "paid": "2026-12-10"}, KNOWN)
    assert [(fault.path, fault.message) for fault in refused.value.faults] == [("due", sentence)]
