"""Days as they are said, on the pages: understood while they are typed, in the shop's order of day and month.

The counter's clock stands on Wednesday, 25 November 2026.
"""

import pytest

from tests.web.shown import Counter


def told(counter: Counter, **asked: str) -> str:
    query = "&".join(f"{name}={text.replace(' ', '+')}" for name, text in asked.items())
    return counter.get(f"/days?{query}").text


@pytest.mark.parametrize(
    ("text", "towards", "said"),
    [
        ("in 2 weeks", "coming", "Wed 9 Dec 2026, in 14 days"),
        ("13/12", "coming", "Sun 13 Dec 2026, in 18 days"),
        ("13 Dec", "past", "Sat 13 Dec 2025, 11 months ago"),
        ("yesterday", "past", "Tue 24 Nov 2026, yesterday"),
        ("in 2 weeks", "promised", "Wed 9 Dec 2026, in 14 days"),
        ("today", "promised", "Wed 25 Nov 2026, today"),
        ("yesterday", "promised", "Tue 24 Nov 2026, yesterday: this day is past"),
        (
            "13 Dec",
            "promised",
            "Sun 13 Dec 2026, in 18 days: the shop is closed; open next on Mon 14 Dec",
        ),
    ],
)
def test_a_day_is_told_while_it_is_typed(
    counter: Counter, text: str, towards: str, said: str
) -> None:
    answer = told(counter, field="due", text=text, towards=towards)
    assert f'id="due-said" data-swap>{said}</span>' in answer


def test_what_is_no_day_is_told_as_well(counter: Counter) -> None:
    answer = told(counter, field="told.day", text="31 Feb")
    assert "“31 Feb” does not exist; February has 28 days, 29 in a leap year." in answer
    assert "Error:" not in told(counter, field="due", text="")


def test_the_shop_says_whether_day_or_month_stands_first(counter: Counter) -> None:
    form = counter.get("/settings/shop")
    assert form.fields["day_order"] == "day-first"
    counter.post("/settings/shop", form.fields | {"day_order": "month-first"})
    assert 'value="month-first" checked' in counter.get("/settings/shop").text
    assert "Sun 13 Dec 2026" in told(counter, field="due", text="12/13")
