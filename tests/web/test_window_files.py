"""Window files as a browser fetches them from the page of a piece."""

from io import StringIO
from xml.etree import ElementTree

import ezdxf
import pytest

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter

ACT = Stamp(who="Ilse", now=NOW)


@pytest.fixture
def piece(counter: Counter, stocked: Store) -> str:
    order = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    return f"/orders/{order}/pieces/1"


def test_a_dxf_has_the_windows_of_the_ticket(counter: Counter, piece: str) -> None:
    answer = counter.client.get(f"{piece}/windows.dxf?side=front")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/vnd.dxf"
    disposition = answer.headers["content-disposition"]
    assert disposition.startswith("attachment")
    assert 'all mats from the front.dxf"' in disposition
    document = ezdxf.read(StringIO(answer.text))
    points = {
        one.dxf.layer: [tuple(point) for point in one.get_points("xy")]
        for one in document.modelspace()
        if one.dxf.layer != "BLANKS"
    }
    # By hand in `tests.builders.worked`: 600 × 500; borders 90, 90, 80, 100; the second window 10 further in.
    assert points == {
        "MAT-1": [(90, 100), (510, 100), (510, 420), (90, 420)],
        "MAT-2": [(100, 110), (500, 110), (500, 410), (100, 410)],
    }


def test_an_svg_of_one_mat_has_the_size_of_its_blank(counter: Counter, piece: str) -> None:
    answer = counter.client.get(f"{piece}/windows.svg?side=back&line=face&layer=2")
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith("image/svg+xml")
    root = ElementTree.fromstring(answer.content)
    assert (root.get("width"), root.get("height")) == ("594mm", "494mm")
    assert (root[0].text or "").endswith("piece 1, mat 2 from the back, at the face")


@pytest.mark.parametrize(
    ("query", "says"),
    [
        ("side=left", "back or front; “left” was given"),
        ("line=middle", "back or face; “middle” was given"),
        ("layer=two", "“two” is no number of a mat"),
        ("layer=-1", "“-1” is no number of a mat"),
    ],
)
def test_what_cannot_be_shown_is_said(counter: Counter, piece: str, query: str, says: str) -> None:
    answer = counter.client.get(f"{piece}/windows.svg?{query}")
    assert answer.status_code == 422
    assert says in answer.text


def test_a_mat_that_the_piece_has_not_is_not_found(counter: Counter, piece: str) -> None:
    for kind in ("svg", "dxf"):
        answer = counter.client.get(f"{piece}/windows.{kind}?layer=3")
        assert answer.status_code == 404
        assert "Mat 3 was asked for" in answer.text


def test_the_page_of_the_piece_offers_them_with_a_caution(counter: Counter, piece: str) -> None:
    page = counter.get(piece)
    assert "Window files" in page.main
    assert "as its maker's instructions say" in page.main
    actions = [form.get("action") for form in page.each(tag="form")]
    assert f"{piece}/windows.svg" in actions
    assert f"{piece}/windows.dxf" in [b.get("formaction") for b in page.each(tag="button")]
