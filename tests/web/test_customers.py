"""Customers on their pages: found, added, changed in two tabs, given their data, removed."""

import json

import pytest
from starlette.testclient import TestClient

from tests.web.reading import Page

QUILL = {"name": "Amber Quill", "phone": "555 0134", "email": "amber@quill.example"}


def add(page: TestClient, **typed: str) -> str:
    """The path of a new customer."""
    answer = page.post("/customers", data=typed, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def test_nobody_yet_teaches_with_one_action(page: TestClient) -> None:
    shown = Page(page.get("/customers").text)
    assert "No customers yet" in shown.text
    assert shown.links["Add a customer"] == "/customers/new"


def test_a_customer_is_found_by_a_part_of_anything(page: TestClient) -> None:
    add(page, **QUILL)
    add(page, name="Linden Fox", phone="555 0199", email="")
    for part in ("quil", "0134", "amber@"):
        shown = Page(page.get("/customers", params={"q": part}).text)
        assert "Amber Quill" in shown.links
        assert "Linden Fox" not in shown.links
    assert "Nobody is like that" in Page(page.get("/customers?q=zzz").text).text


def test_the_list_under_a_field_writes_the_customer_with_the_number(page: TestClient) -> None:
    add(page, **QUILL)
    answer = page.get("/customers/find?q=amb")
    assert 'role="option"' in answer.text
    assert 'data-value="Amber Quill #1"' in answer.text
    assert "<html" not in answer.text


def test_what_was_typed_becomes_the_customer_and_can_be_changed(page: TestClient) -> None:
    path = add(page, **QUILL, address="1 Rush Bank\nFenmarsh", notes="Likes oak.", tax_free="1")
    form = Page(page.get(f"{path}/edit").text).values
    assert form["address"] == "1 Rush Bank\nFenmarsh"
    assert form["tax_free"] == "1"
    page.post(path, data={**form, "phone": "555 0177", "action": "save"})
    shown = Page(page.get(path).text)
    assert "555 0177" in shown.text
    assert "priced without tax" in shown.text


def test_every_fault_stands_beside_its_field(page: TestClient) -> None:
    typed = {"name": " ", "phone": "call me", "email": "nowhere", "notes": "x" * 10_000}
    answer = page.post("/customers", data=typed)
    shown = Page(answer.text)
    assert answer.status_code == 422
    assert set(shown.errors) == {"name", "phone", "email", "notes"}
    assert shown.values["notes"] == typed["notes"]


@pytest.mark.parametrize("name", ["<img src=x onerror=alert(1)>", "🖼 Ω ß", 'O\'Quill & "Sons"'])
def test_a_name_is_shown_as_it_was_typed_and_never_as_markup(page: TestClient, name: str) -> None:
    path = add(page, name=name)
    for shown in (path, f"{path}/edit", f"{path}/remove", "/customers", "/customers/find?q=o"):
        html = page.get(shown).text
        assert "<img src=x" not in html
    assert name in Page(page.get(path).text).text


def test_the_second_of_two_tabs_sees_both_and_can_keep_either(page: TestClient) -> None:
    path = add(page, **QUILL)
    first = Page(page.get(f"{path}/edit").text).values
    second = dict(first)
    page.post(path, data={**first, "phone": "555 0001", "action": "save"})
    answer = page.post(path, data={**second, "phone": "555 0002", "action": "save"})
    shown = Page(answer.text)
    assert answer.status_code == 409
    assert "555 0001" in shown.text
    assert "555 0002" in shown.text
    assert "1 field differs" in shown.text
    assert "555 0001" in Page(page.get(path).text).text
    kept = page.post(path, data={**shown.values, "action": "save"})
    assert kept.status_code == 200
    assert "555 0002" in Page(page.get(path).text).text


def test_the_data_of_a_customer_are_a_file(page: TestClient) -> None:
    path = add(page, **QUILL)
    answer = page.get(f"{path}/export")
    assert answer.headers["content-disposition"] == 'attachment; filename="customer-1.json"'
    assert json.loads(answer.text)["customer"]["email"] == QUILL["email"]


def test_removing_asks_first_and_leaves_nothing_personal(page: TestClient) -> None:
    path = add(page, **QUILL)
    asked = page.get(f"{path}/remove")
    assert "cannot be brought back" in Page(asked.text).text
    assert "Amber Quill" in Page(page.get("/customers").text).links
    page.post(f"{path}/remove")
    for shown in ("/customers", path, f"{path}/export", "/customers/find?q=amber"):
        assert "Amber" not in page.get(shown).text
    assert "Delete" not in Page(page.get(path).text).links
    assert page.post(path, data={**QUILL, "version": "2", "action": "save"}).status_code == 409


def test_a_customer_that_is_not_there_is_said_so(page: TestClient) -> None:
    assert page.get("/customers/7").status_code == 404
    for other in ("seven", "0", "-1", "9" * 30):
        assert page.get(f"/customers/{other}").status_code in (404, 422)


def test_long_lists_come_in_pages(page: TestClient) -> None:
    for number in range(35):
        add(page, name=f"Reed {number:02}")
    first = Page(page.get("/customers").text)
    assert "35 customers" in first.text
    assert "Reed 00" in first.links
    assert "Reed 30" not in first.links
    second = Page(page.get(first.links["2"]).text)
    assert "Reed 30" in second.links


@pytest.mark.parametrize("text", ["x" * 10_000, "🖼", '"', "*", "%", "NEAR(", "\x00", "   "])
def test_any_text_may_be_looked_for(page: TestClient, text: str) -> None:
    add(page, **QUILL)
    for path in ("/customers", "/customers/find", "/materials", "/materials/find"):
        assert page.get(path, params={"q": text}).status_code == 200
