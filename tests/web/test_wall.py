"""Pieces of an order on a wall. The worked piece is 630 × 530 outside (G12), see `tests/builders/worked.py`.

Above a sofa of 800 it hangs 200 higher, from 1000 to 1530, its middle at 1265; two beside each other with a gap of 50 are
630 + 50 + 630 = 1310 wide, their middles 340 from that of both.
"""

import io
import re
from urllib.parse import urlencode

import pytest
from PIL import Image
from sqlalchemy import text

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.web.wall import routes
from tests.builders.lines import GOODS
from tests.builders.photos import kept_photo
from tests.builders.worked import BOOK, SHOP, TYPED
from tests.unit.orders.test_designs import ONE_MAT
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)
NAME = "Amber Quill"


@pytest.fixture
def quote(stocked: Store) -> str:
    """The address of a quote of the worked piece."""
    return f"/orders/{quotes.save_new(stocked, CustomerRequest(name=NAME), TYPED, SHOP, ACT)}"


@pytest.fixture
def pair(counter: Counter, quote: str) -> str:
    """The same with a further piece like it, called “Second”."""
    page = counter.get(f"{quote}/pieces/new?like=1")
    typed = page.form(f"{quote}/pieces") | {"artwork.title": "Second", "action": "save"}
    counter.go(f"{quote}/pieces", typed)
    return quote


def places(page: Shown) -> list[tuple[float, float]]:
    moved = re.findall(r'transform="translate\((-?[\d.]+) (-?[\d.]+)\)" class="on-wall"', page.text)
    return [(float(x), float(y)) for x, y in moved]


def figures(page: Shown) -> dict[str, str]:
    return {
        words(next(each.iter("dt"))): words(next(each.iter("dd")))
        for part in page.each("facts")
        for each in part.iter("div")
    }


def nails(page: Shown) -> list[list[str]]:
    rows = list(page.one(id="nails").iter("tr"))[1:]
    return [[words(cell) for cell in row] for row in rows]


def test_a_piece_hangs_above_a_sofa_at_first(counter: Counter, quote: str) -> None:
    page = counter.get(f"{quote}/wall")
    assert page.status == 200
    assert places(page) == [(-315, -1530)]
    assert figures(page) == {
        "all of it": "630 mm × 530 mm",
        "middle above the floor": "1265 mm",
        "lowest edge above the floor": "1000 mm",
        "above the sofa": "200 mm",
    }
    assert "the sofa is 2000 × 800 mm" in page.main
    assert page.headers["cache-control"] == "no-store"


def test_what_is_chosen_stands_in_the_address_and_in_the_form(counter: Counter, pair: str) -> None:
    """Without a script the form is sent as any other: the address that it leads to shows the same again."""
    asked = "colour=ink-blue&thing=door&piece=2+1&rows=2&gap=60&level=tops&height=1450&hook=80"
    page = counter.get(f"{pair}/wall?{asked}")
    assert page.status == 200
    [form] = [each for each in page.each(tag="form") if each.get("action") == f"{pair}/wall"]
    assert form.get("method") == "get"
    assert page.has("button", tag="button")
    filled = page.form(f"{pair}/wall")
    kept = {
        name: filled[name]
        for name in ("colour", "thing", "piece", "rows", "gap", "level", "height", "hook")
    }
    assert kept == {
        "colour": "ink-blue",
        "thing": "door",
        "piece": "2 1",
        "rows": "2",
        "gap": "60",
        "level": "tops",
        "height": "1450",
        "hook": "80",
    }
    assert "#384a60" in page.text


def test_several_hang_beside_each_other_with_the_gap_that_is_typed(
    counter: Counter, pair: str
) -> None:
    page = counter.get(f"{pair}/wall")
    assert places(page) == [(-655, -1530), (25, -1530)]
    assert figures(page)["all of it"] == "1310 mm × 530 mm"
    page = counter.get(f"{pair}/wall?gap=10cm&rows=1%2B1")
    assert figures(page)["all of it"] == "630 mm × 1160 mm"
    assert places(page) == [(-315, -2160), (-315, -1530)]


def test_the_nails_are_told_from_the_floor_and_from_the_middle(counter: Counter, pair: str) -> None:
    """Hooks 80 below the top edges at 1530: 1450 above the floor."""
    told = nails(counter.get(f"{pair}/wall?hook=80"))
    assert [row[1:] for row in told] == [
        ["1530 mm", "1450 mm", "340 mm to the left"],
        ["1530 mm", "1450 mm", "340 mm to the right"],
    ]
    assert told[1][0] == "2 Second"
    page = counter.get(f"{pair}/wall?piece=2")
    assert [row[1:] for row in nails(page)] == [["1530 mm", "in the middle"]]
    assert "local building rules decide" in page.main


def test_a_piece_can_hang_twice_and_in_any_order(counter: Counter, pair: str) -> None:
    told = nails(counter.get(f"{pair}/wall?piece=2,1,2"))
    assert [row[0].split()[0] for row in told] == ["2", "1", "2"]


def test_each_design_can_be_seen(counter: Counter, quote: str) -> None:
    page = counter.get(f"{quote}/pieces/1/designs/new?like=1")
    typed = page.form(f"{quote}/pieces/1/designs") | ONE_MAT | {"action": "save"}
    counter.go(f"{quote}/pieces/1/designs", typed)
    assert f"{quote}/wall?piece=1A+1B" in counter.get(f"{quote}/pieces/1/designs").text
    alone = counter.get(f"{quote}/wall")
    assert "Piece 1 hangs as design A; all of its designs are 1A 1B." in alone.main
    page = counter.get(f"{quote}/wall?piece=1A+1B")
    assert "all of its designs" not in page.main
    assert len(places(page)) == 2
    assert page.text.count('class="mat mat-2"') == 1
    refused = counter.get(f"{quote}/wall?piece=1C")
    assert refused.status == 422
    assert refused.error("piece") == "Error: Piece 1 has no design C; it has A, B."
    refused = counter.get(f"{quote}/wall?piece=9Z")
    assert "“9Z” is no piece of" in refused.error("piece")
    assert refused.error("piece").endswith("; it has 1, 1A, 1B.")


@pytest.mark.parametrize(
    ("path", "typed", "said"),
    [
        ("gap", "abc", "“abc” cannot be read as a length"),
        ("gap", "-5", "“-5”"),
        ("rows", "x", "type how many rows, as 2, or how many hang in each from the top, as 1+3"),
        ("rows", "3", "3 rows are more than there are pieces: 2"),
        ("rows", "1+2", "The rows hold 3 pieces; 2 are hung"),
        ("piece", "7", "“7” is no piece of"),
        ("piece", " ".join(["1"] * 100), "100 pieces are named; at most 24 hang on one wall"),
        ("height", "90 cm", "165 mm behind the sofa, which is 800 mm high"),
        ("wall", "1000x2500", "The sofa is 2000 mm wide, the wall 1000 mm"),
        ("wall", "600x2500", "the wall 600 mm; take a wider wall."),
        ("wall", "big", "“big”"),
        ("hook", "600", "600 mm is below piece 1, which is 530 mm high"),
        ("colour", "plaid", "“plaid” is no wall here"),
        ("own", "red", "“red” is no colour"),
        ("thing", "throne", "“throne” is not a choice here"),
    ],
)
def test_what_cannot_be_is_told_and_everything_typed_is_kept(
    counter: Counter, pair: str, path: str, typed: str, said: str
) -> None:
    kept = {"hook": "70", "gap": "60", "colour": "clay"} | {path: typed}
    shown = counter.get(f"{pair}/wall?{urlencode(kept)}")
    assert shown.status == 422
    assert said in shown.main
    assert shown.fields["hook"] == kept["hook"]
    assert shown.fields["gap"] == kept["gap"]
    for name in ("rows", "piece", "height", "wall"):
        assert shown.fields[name] == kept.get(name, "")
    assert not shown.has("drawing-wall")
    assert "The wall is drawn here as soon as" in shown.main


def test_a_script_gets_the_parts_that_change(counter: Counter, pair: str) -> None:
    answer = counter.client.get(f"{pair}/wall?thing=none&gap=70", headers={"X-Partial": "1"})
    assert answer.status_code == 200
    assert "<html" not in answer.text
    assert 'id="drawing"' in answer.text
    assert 'id="gap-error"' in answer.text
    faulty = counter.client.get(f"{pair}/wall?gap=x", headers={"X-Partial": "1"})
    assert faulty.status_code == 422
    assert "cannot be read as a length" in faulty.text


def test_blank_fields_show_what_they_come_to(counter: Counter, pair: str) -> None:
    page = counter.get(f"{pair}/wall")
    inside = {each.get("name"): each.get("placeholder") for each in page.each(tag="input")}
    assert inside["height"] == "1265 mm"
    assert inside["above"] == "200 mm"
    assert inside["gap"] == "50"
    assert inside["rows"] == "1"
    assert inside["piece"] == "1 2"
    assert page.fields["height"] == ""


def test_nothing_of_the_shop_is_on_it(counter: Counter, quote: str) -> None:
    """No price, cost or code, and no name but that of the shop in the head."""
    page = counter.get(f"{quote}/wall")
    assert NAME not in page.text
    for amount in ("103.51", "86.26", "23.00", "63.26"):
        assert amount not in page.text
    for material in BOOK:
        assert f">{material.code}<" not in page.text
        assert f" {material.code} " not in page.main


def test_a_wall_without_its_unit_is_no_wall(counter: Counter, quote: str) -> None:
    """A wall is said in metres, and a number alone is in millimetres here."""
    refused = counter.get(f"{quote}/wall?wall=4 x 2.5")
    assert refused.status == 422
    assert refused.error("wall") == (
        "Error: “4 x 2.5” is 4 × 2.5 mm; each side is 300 mm or more; a number without a mark is in millimetres. "
        'Type a width and a height such as 3600 x 2500 mm or 144 x 96".'
    )
    assert refused.fields["wall"] == "4 x 2.5"
    assert counter.get(f"{quote}/wall?wall=3.6 x 2.5 m").status == 200
    marked = counter.get(f"{quote}/wall?wall=4 x 2.5 cm").error("wall")
    assert marked.startswith("Error: “4 x 2.5 cm” is 40 × 25 mm; each side is 300 mm or more. Type")
    mixed = counter.get(f"{quote}/wall?wall=3600 x 2.5 m").error("wall")
    assert "“3600 x 2.5 m” is more than 10 m" in mixed


@pytest.mark.png
def test_the_picture_is_a_png_without_a_name(counter: Counter, quote: str) -> None:
    """The wall is what is asked for, a corner of it shows its colour: away from the paper at the edge and from the light."""
    page = counter.get(f"{quote}/wall?colour=own&own=%23336699&wall=4000x2500")
    [link] = [each for each in page.each(tag="a") if each.get("download") is not None]
    answer = counter.client.get(link.get("href") or "")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/png"
    assert answer.headers["cache-control"] == "no-store"
    number = page.words("subheading")
    assert answer.headers["content-disposition"] == f'attachment; filename="{number} wall.png"'
    image = Image.open(io.BytesIO(answer.content)).convert("RGB")
    assert image.size[0] == 1600
    at = round(250 / 4176 * 1600)
    assert image.getpixel((at, at)) == (0x33, 0x66, 0x99)


@pytest.mark.png
def test_the_photo_of_the_artwork_is_in_the_picture(counter: Counter, stocked: Store) -> None:
    """A photo all of one loud green, without a glass that mirrors: the middle of the picture is that."""
    bare = {path: typed for path, typed in TYPED.items() if not path.startswith("glazing")}
    asked = CustomerRequest(name=NAME)
    quote = f"/orders/{quotes.save_new(stocked, asked, bare, SHOP, ACT)}"
    file = io.BytesIO()
    Image.new("RGB", (40, 30), (20, 200, 40)).save(file, "PNG")
    picture = kept_photo(stocked, file.getvalue(), by=ACT)
    with_photo(stocked, quote, picture.id)
    assert f"/pictures/{picture.id}" in counter.get(f"{quote}/wall").text
    answer = counter.client.get(f"{quote}/wall.png?wall=4000x2500&thing=none")
    image = Image.open(io.BytesIO(answer.content)).convert("RGB")
    assert image.getpixel((800, round((2500 - 1500 + 88) / 4176 * 1600))) == (20, 200, 40)


def with_photo(store: Store, quote: str, picture: str) -> None:
    """Let the piece of a quote have a photo, as the rows hold it."""
    order = int(quote.rpartition("/")[2])
    with store.writing() as work:
        work.session.execute(
            text("UPDATE pieces SET photo = :photo WHERE order_id = :order"),
            {"photo": picture, "order": order},
        )


def test_where_no_png_is_made_the_svg_is_given(
    counter: Counter, quote: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(routes, "can_make_png", lambda: False)
    monkeypatch.setattr("app.web.wall.page.can_make_png", lambda: False)
    page = counter.get(f"{quote}/wall")
    assert "The picture (SVG)" in page.main
    answer = counter.client.get(f"{quote}/wall.png")
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.headers["content-disposition"].endswith('wall.svg"')
    assert answer.text.startswith("<svg")


def test_a_picture_of_what_cannot_be_is_refused_with_the_sentence(
    counter: Counter, quote: str
) -> None:
    page = counter.get(f"{quote}/wall.png?gap=abc")
    assert page.status == 422
    assert "cannot be read as a length" in page.main


def test_order_page_and_bench_lead_there(counter: Counter, pair: str) -> None:
    page = counter.get(pair).text
    assert f'href="{pair}/wall"' in page
    assert f'href="{pair}/wall?piece=2"' in page
    assert f'href="{pair}/wall?piece=1"' in counter.get(f"{pair}/pieces/1").text


def test_a_quote_of_lines_alone_has_nothing_to_hang(counter: Counter, stocked: Store) -> None:
    with stocked.writing() as work:
        work.materials.add_all(GOODS, now=NOW)
    form = counter.get("/sell").form("/sell")
    plate = {"customer": "Ben Alder", "what": "Brass plate", "price": "24.99", "action": "save"}
    quote = counter.post("/sell", form | plate).location.partition("#")[0]
    page = counter.get(f"{quote}/wall")
    assert page.status == 200
    assert "has no piece that could hang on a wall" in page.main
    assert counter.get(f"{quote}/wall.png").status == 409
    assert f'href="{quote}/wall"' not in counter.get(quote).text
