"""The core of a mat: typed on the quote page, seen in the bevel, named on the ticket, asked for by programs."""

import re

import pytest

from app.drawings import Colour, Look, front
from app.framing import Dimensions, work_out
from app.framing.spec import Core
from app.orders.quoting.request import read_piece
from tests.builders.worked import BOOK, TYPED
from tests.web.conftest import SHOP
from tests.web.shown import Counter
from tests.web.test_fillets import text_of
from tests.web.test_orders import do

BLACK = TYPED | {"mats.1.core": "black"}


def dimensions(typed: dict[str, str]) -> Dimensions:
    by_code = {material.code: material for material in BOOK}
    return work_out(read_piece(typed, SHOP, lambda text, _kind: by_code.get(text)).spec)


def brightness_of_bevels(made: Dimensions, look: Look) -> dict[str, float]:
    """How bright the bevels of each mat are on average, from 0 to 255, by the mat's number from the front."""
    _, *mats = re.split(r'class="mat mat-(\d)', str(front(made, look)))
    found = {}
    for number, drawn in zip(mats[::2], mats[1::2], strict=True):
        tags = re.findall(r'<[^>]*class="bevel[^>]*>', drawn)
        shades = [Colour.parse(fill) for tag in tags for fill in re.findall(r'fill="(#\w+)"', tag)]
        found[number] = sum(c.red + c.green + c.blue for c in shades) / (3 * len(shades))
    return found


def test_a_blank_core_is_white_and_each_mat_has_its_own() -> None:
    plain, cored = dimensions(TYPED), dimensions(BLACK)
    assert [mat.core for mat in plain.spec.mats] == [Core.WHITE, Core.WHITE]
    assert [mat.core for mat in cored.spec.mats] == [Core.WHITE, Core.BLACK]
    assert cored.windows == plain.windows


def test_the_bevel_is_drawn_in_the_colour_of_the_core() -> None:
    look = Look(mats=(Colour.parse("#f4efe3"), Colour.parse("#203050")))
    plain = brightness_of_bevels(dimensions(TYPED), look)
    black = brightness_of_bevels(dimensions(BLACK), look)
    solid = brightness_of_bevels(dimensions(TYPED | {"mats.1.core": "solid"}), look)
    assert plain["1"] == black["1"] == solid["1"]
    assert plain["2"] > 200
    # A black core is near 55; one coloured through as its face #203050 is near (32 + 48 + 80) / 3 = 53.
    assert black["2"] < 80
    assert solid["2"] < 80


@pytest.mark.documents
def test_it_is_kept_with_the_piece_and_named_on_its_ticket(counter: Counter) -> None:
    counter.go("/quotes", BLACK | {"customer": "Amber Quill", "version": "0", "action": "save"})
    again = counter.get("/orders/1/pieces/1/change")
    assert (again.fields["mats.0.core"], again.fields["mats.1.core"]) == ("", "black")
    do(counter, "/orders/1", "take", deposit="")
    ticket = text_of(counter, "/orders/1/pieces/1/ticket.pdf")
    assert ticket.count("black core") == 1
    assert "white core" not in ticket


def test_another_core_is_refused_at_its_field(counter: Counter) -> None:
    page = counter.post("/quotes?live=1", TYPED | {"mats.0.core": "green"})
    assert "choose one of white, cream, black, solid" in page.error("mats.0.core")


def test_a_program_asks_for_it(counter: Counter) -> None:
    asked = {
        "artwork": {"size": "A4"},
        "mats": [{"material": "M-101", "core": "black"}],
        "borders": {"left": "60"},
    }
    assert counter.client.post("/api/price", json=asked).status_code == 200
    refused = counter.client.post(
        "/api/price", json=asked | {"mats": [{"material": "M-101", "core": "green"}]}
    )
    assert refused.status_code == 422
    assert refused.json()["error"]["fields"][0]["path"] == "mats.0.core"
