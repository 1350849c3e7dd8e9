"""What stands around every page: a notice is said once, by the next page, and by no part of one."""

from tests.web.shown import Counter

NOTICE = "Customer added."


def named(counter: Counter) -> None:
    """An act whose notice is still to be said."""
    form = {"name": "Rinn Vale"}
    answer = counter.client.post("/customers", data=form, follow_redirects=False)
    assert answer.status_code == 303


def test_a_notice_is_said_once(counter: Counter) -> None:
    named(counter)
    assert NOTICE in counter.get("/customers").main
    assert NOTICE not in counter.get("/customers").main


def test_a_part_of_a_page_leaves_the_notice_to_the_next_page(counter: Counter) -> None:
    named(counter)
    part = counter.post("/quotes?live=1", {"artwork.size": "A3"}, **{"x-partial": "1"})
    assert NOTICE not in part.text
    assert "Working here" not in part.text
    assert counter.get("/customers/find?q=rinn").text.count("Rinn Vale") > 0
    assert NOTICE in counter.get("/customers").main


def test_a_part_names_no_navigation(counter: Counter) -> None:
    page = counter.get("/customers").text
    assert 'href="/customers" aria-current="page"' in page
    assert "aria-current" not in counter.get("/customers/find?q=a").text
