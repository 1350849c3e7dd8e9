"""The colours of a photo on the quote page, the mats and mouldings near each, and one press that tries them.

The picture is painted: sea #3f5864 below, sky #8fa5b4 above, a red boat #c4332b of 2 %. The price book is that of the worked
piece (chalk white, slate blue #51627a; linden, limewashed #d8d0c0) and what each test adds.
"""

import json
from dataclasses import replace
from io import BytesIO

import pytest
from lxml.html import HtmlElement as Element
from PIL import Image, ImageDraw

from app.colours import Colour
from app.lengths import mm
from app.money import Money, parse_money, show_money
from app.pricing import Kind
from app.services import price_book, stock
from app.services.colour_matches import Needed, nearest, picked
from app.services.picture_colours import colours_of
from app.stock.items import Item, StockForm
from app.storage import Stamp, Store
from app.storage.tables.pictures import Picture, PictureShape
from tests.builders.values import euro, size
from tests.builders.worked import MOULDING, SHOP, TOP_MAT, TYPED, UNDER_MAT
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words

ACT = Stamp(who="Ilse", now=NOW)
PHOTO = "0" * 32
SEA, SKY, BOAT = "#3f5864", "#8fa5b4", "#c4332b"
PICTURED = {**TYPED, "artwork.photo": PHOTO}

MATS = (
    replace(UNDER_MAT, code="M-SEA", name="Deep water", colour="#41596a"),
    replace(UNDER_MAT, code="M-TIDE", name="Low tide", colour="#465f6b"),
    replace(UNDER_MAT, code="M-BRICK", name="Old brick", colour="#c03a30"),
    replace(UNDER_MAT, code="M-ROSE", name="Faded rose", colour="#e8b3ae"),
)
RED_RAIL = replace(MOULDING, code="LIN-RED", name="Linden, red", colour="#b8362e")


def harbour() -> Image.Image:
    image = Image.new("RGB", (400, 300), SKY)
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, 140, 399, 299), fill=SEA)
    draw.rectangle((200, 120, 259, 159), fill=BOAT)
    return image


@pytest.fixture
def photographed(counter: Counter, stocked: Store) -> Counter:
    """A counter with a photo that is kept, four mats and a moulding more."""
    for each in (*MATS, RED_RAIL):
        price_book.add(stocked, each, ACT)
    image, file = harbour(), BytesIO()
    image.save(file, "PNG")
    with stocked.writing() as work:
        work.pictures.keep(
            Picture(
                shape=PictureShape(
                    id=PHOTO, width=400, height=300, colours=tuple(colours_of(image))
                ),
                at=NOW,
                by="Ilse",
                small=file.getvalue(),
                content=file.getvalue(),
            )
        )
    return counter


def sheets(store: Store, code: str) -> None:
    item = Item(material=code, form=StockForm.SHEET, unit_cost=euro("10"), size=size(1200, 1000))
    stock.receive(store, stock.Received(item=item, count=2), ACT)


def swatches(page: Shown) -> dict[str, str]:
    """What the colours are called, each by its value."""
    where = page.one(id="match-swatches")
    return {
        label.find("input").get("value"): words(label)
        for label in where.iter("label")
        if label.find("input") is not None
    }


def row(page: Shown, title: str) -> list[Element]:
    """The offers beneath a heading, in their order."""
    return list(beneath(page, title).iter("li"))


def beneath(page: Shown, title: str) -> Element:
    (head,) = (
        each for each in page.one(id="match-rows").iter("h3") if words(each).startswith(f"{title} ")
    )
    return head.getnext()


def groups(page: Shown, title: str) -> list[tuple[str, list[str]]]:
    """The headings within a row, each with the names of what stands beneath it."""
    return [
        (words(head), [words(each) for each in head.getnext().iter("strong")])
        for head in beneath(page, title).iter("h4")
    ]


def said(page: Shown, title: str) -> list[str]:
    """What is said of each offer but its price."""
    return [
        " ".join(words(part) for part in each.find("button") if part.get("class") != "match-price")
        .replace("  ", " ")
        .strip()
        for each in row(page, title)
    ]


def prices(page: Shown, title: str) -> dict[str, str]:
    """What is said of the price of each offer, by its name."""
    return {
        words(each.find("button/strong")): "".join(
            words(price) for price in each.find_class("match-price")
        )
        for each in row(page, title)
    }


def test_the_colours_that_carry_the_photo_are_shown_with_their_words(photographed: Counter) -> None:
    page = photographed.post("/quotes?live=1", PICTURED)
    assert page.status == 200
    assert len(swatches(page)) == 3
    assert set(swatches(page).values()) == {"dark grey-blue", "pale grey-blue", "red"}
    assert words(page.one(id="match-summary")) == "Colours of the picture"


def test_the_nearest_mats_and_mouldings_stand_beneath_the_first(photographed: Counter) -> None:
    page = photographed.post("/quotes?live=1", PICTURED)
    mats = said(page, "Mats")
    assert mats[0].startswith("Low tide dark grey-blue · very near")
    assert mats[1].startswith("Deep water dark grey-blue · very near")
    assert not any("brick" in each for each in mats)
    assert "None of the price book comes near this dark grey-blue." in page.words(id="match-rows")


def test_another_colour_of_it_is_looked_at_by_a_press(photographed: Counter) -> None:
    boat = next(
        each
        for each, word in swatches(photographed.post("/quotes?live=1", PICTURED)).items()
        if word == "red"
    )
    page = photographed.post("/quotes?live=1", {**PICTURED, "match": boat})
    assert said(page, "Mats") == ["Old brick red · very near"]
    assert said(page, "Mouldings") == ["Linden, red red · very near"]
    # A mat as strong as the boat would shout; the same hue let down with white is offered too.
    assert said(page, "Paler mats")[0].startswith("Faded rose pink")


def test_what_lies_on_the_rack_comes_first_and_says_so(
    photographed: Counter, stocked: Store
) -> None:
    sheets(stocked, "M-SEA")
    first, second, *_ = said(photographed.post("/quotes?live=1", PICTURED), "Mats")
    assert first == "Deep water dark grey-blue · very near"
    assert second == "Low tide dark grey-blue · very near"
    assert groups(photographed.post("/quotes?live=1", PICTURED), "Mats")[:2] == [
        ("On the rack", ["Deep water"]),
        ("To order", ["Low tide", "Slate blue"]),
    ]


def test_beside_a_customer_nearness_alone_orders_them(
    photographed: Counter, stocked: Store
) -> None:
    sheets(stocked, "M-SEA")
    photographed.post("/turn", {"to": "customer", "next": "/"})
    page = photographed.post("/quotes?live=1", PICTURED)
    assert said(page, "Mats")[0].startswith("Low tide")
    assert groups(page, "Mats") == []


def test_a_board_that_harms_a_work_on_paper_is_named_so_before_it_is_taken(
    photographed: Counter, stocked: Store
) -> None:
    """The same words stand among the notices once it is taken; beside an oil on canvas no board harms."""
    poor = replace(
        MATS[0],
        code="M-GATE",
        name="Rusted gate",
        colour=SEA,
        sheet=replace(MATS[0].sheet, traits=frozenset()),
    )
    price_book.add(stocked, poor, ACT)
    sheets(stocked, "M-GATE")
    watercolour = {**PICTURED, "artwork.kind": "watercolour"}
    page = photographed.post("/quotes?live=1", watercolour)
    found = groups(page, "Mats")
    assert found[-1] == ("Not acid-free beside a work on paper", ["Rusted gate"])
    assert found[0] == ("To order", ["Low tide", "Deep water", "Slate blue"])
    taken = photographed.post(
        "/quotes?live=1", watercolour | {"mats.0.material": "M-GATE", "mats.1.material": ""}
    )
    assert "Not acid-free beside a work on paper: “Rusted gate”" in taken.main
    for harmless in ({"artwork.kind": "other"}, {"artwork.support": "metal"}):
        page = photographed.post("/quotes?live=1", watercolour | harmless)
        assert groups(page, "Mats")[0] == ("On the rack", ["Rusted gate"])


def test_enough_of_a_moulding_must_lie_there_for_the_piece(
    photographed: Counter, stocked: Store
) -> None:
    """The rails are 2.32 m along their long points; 2 m are not enough, 4 m are."""
    red = {**PICTURED, "match": "own", "match.own": BOAT}
    for expected in ("To order", "On the rack"):
        stick = Item(
            material="LIN-RED", form=StockForm.STICK, unit_cost=euro("12"), length=mm(2000)
        )
        stock.receive(stocked, stock.Received(item=stick, count=1), ACT)
        page = photographed.post("/quotes?live=1", red)
        assert groups(page, "Mouldings") == [(expected, ["Linden, red"])]


def test_one_press_tries_it_with_and_without_scripts(photographed: Counter) -> None:
    page = photographed.post("/quotes?live=1", PICTURED)
    button = row(page, "Mats")[0].find("button")
    fill = json.loads(button.get("data-fill"))
    assert fill == {"mats.0.material": "M-TIDE"}
    tried = photographed.post(
        "/quotes", {**PICTURED, "customer": "Amber Quill", "action": button.get("value")}
    )
    assert tried.status == 200
    assert tried.fields["mats.0.material"] == "M-TIDE"
    assert tried.fields["customer"] == "Amber Quill"
    assert tried.fields["borders.left"] == TYPED["borders.left"]
    assert tried.one(id="match").get("open") is not None
    assert row(tried, "Mats")[0].find("button").get("aria-pressed") == "true"


def test_it_may_be_tried_as_the_second_mat_once_there_is_a_first(photographed: Counter) -> None:
    offered = row(photographed.post("/quotes?live=1", PICTURED), "Mats")[0]
    second = list(offered.iter("button"))[1]
    assert words(second) == "under mat : Low tide"
    tried = photographed.post("/quotes", {**PICTURED, "action": second.get("value")})
    assert tried.fields["mats.0.material"] == TYPED["mats.0.material"]
    assert tried.fields["mats.1.material"] == "M-TIDE"
    first, under = row(tried, "Mats")[0].iter("button")
    assert (first.get("aria-pressed"), under.get("aria-pressed")) == (None, "true")
    without = photographed.post("/quotes?live=1", {**PICTURED, "mats.0.material": ""})
    assert len(list(row(without, "Mats")[0].iter("button"))) == 1


def test_the_photo_is_pointed_at_without_scripts(photographed: Counter) -> None:
    """It is shown 200 × 150: x 115 of 200 and y 70 of 150 lie in the boat, at 230 and 140 of 400 × 300."""
    page = photographed.post("/quotes", PICTURED)
    (image,) = (
        each for each in page.one(id="match-picture").iter("input") if each.get("type") == "image"
    )
    assert (image.get("width"), image.get("height")) == ("200", "150")
    assert image.get("src") == f"/pictures/{PHOTO}"
    picked_page = photographed.post(
        "/quotes", {**PICTURED, "match.at.x": "115", "match.at.y": "70"}
    )
    assert picked_page.status == 200
    assert picked_page.fields["match.own"] == BOAT
    (chosen,) = (
        each
        for each in picked_page.one(id="match").iter("input")
        if each.get("name") == "match" and each.get("checked") is not None
    )
    assert chosen.get("value") == "own"
    assert said(picked_page, "Mats") == ["Old brick red · very near"]
    assert picked_page.fields["artwork.size"] == TYPED["artwork.size"]


def test_a_colour_is_picked_by_the_spot_around_it(photographed: Counter, stocked: Store) -> None:
    assert picked(stocked, PHOTO, 0.1, 0.1) == Colour.parse(SKY)


def test_without_a_photo_a_colour_of_ones_own_is_matched(photographed: Counter) -> None:
    untouched = photographed.get("/quotes/new")
    assert untouched.words(id="match-summary") == "Match a colour"
    assert untouched.one(id="match").get("open") is None
    assert untouched.words(id="match-rows") == ""
    wall = {**TYPED, "match": "own", "match.own": BOAT, "action": "match"}
    page = photographed.post("/quotes", wall)
    assert said(page, "Mats") == ["Old brick red · very near"]
    assert page.one(id="match").get("open") is not None


@pytest.mark.parametrize("text", ["", "red", "#12345", "<b>"])
def test_what_is_no_colour_is_passed_over(photographed: Counter, text: str) -> None:
    page = photographed.post("/quotes", {**TYPED, "match": "own", "match.own": text})
    assert page.status == 200
    assert page.fields["match.own"] == "#8a7f70"


@pytest.mark.parametrize("where", [("", ""), ("9999", "9999"), ("-1", "x"), ("99999", "1")])
def test_a_place_beside_the_photo_breaks_nothing(
    photographed: Counter, where: tuple[str, str]
) -> None:
    at = dict(zip(("match.at.x", "match.at.y"), where, strict=True))
    assert photographed.post("/quotes", PICTURED | at).status == 200


def test_a_photo_that_is_not_kept_any_more_has_no_colours(photographed: Counter) -> None:
    """That it is gone is said at its field."""
    page = photographed.post(
        "/quotes", {**TYPED, "artwork.photo": "f" * 32, "match.at.x": "1", "match.at.y": "1"}
    )
    assert page.status == 422
    assert "This photo is not kept here any more." in page.main
    assert page.words(id="match-summary") == "Match a colour"


@pytest.mark.parametrize("facing", ["shop", "customer"])
def test_an_open_block_says_what_each_makes_the_piece_dearer_by(
    photographed: Counter, stocked: Store, facing: str
) -> None:
    """What it says is the difference of the two prices that the page shows with each."""
    dear = replace(MATS[0], code="M-SILK", name="Silk of the sea", colour=SEA, cost=euro("90"))
    price_book.add(stocked, dear, ACT)

    def price(mat: str) -> Money:
        page = photographed.post("/quotes?live=1", {**PICTURED, "mats.0.material": mat})
        return parse_money(page.words("price"), SHOP.currency)

    dearer = price("M-SILK") - price(PICTURED["mats.0.material"])
    photographed.post("/turn", {"to": facing, "next": "/"})
    form = {**PICTURED, "match.open": "1"}
    said_of = prices(photographed.post("/quotes?live=1", form), "Mats")
    assert said_of["Silk of the sea"] == f"+ {show_money(dearer)}"
    taken = photographed.post("/quotes?live=1", {**form, "mats.0.material": "M-SILK"})
    assert prices(taken, "Mats")["Silk of the sea"] == ""
    assert prices(taken, "Mats")["Low tide"].startswith("− ")
    closed = photographed.post("/quotes?live=1", {**PICTURED, "match.open": ""})
    assert set(prices(closed, "Mats").values()) == {""}


def test_without_a_price_yet_the_whole_price_is_said(photographed: Counter) -> None:
    """A window needs a mat: without one the piece has no price, with the one that is offered that of the page."""
    form = {**PICTURED, "mats.0.material": "", "mats.1.material": "", "match.open": "1"}
    said_of = prices(photographed.post("/quotes?live=1", form), "Mats")["Low tide"]
    assert said_of == photographed.post(
        "/quotes?live=1", {**form, "mats.0.material": "M-TIDE"}
    ).words("price")


def test_a_canvas_has_no_mat_to_choose(photographed: Counter) -> None:
    page = photographed.post("/quotes?live=1", {**PICTURED, "presentation": "canvas"})
    heads = [words(each) for each in page.one(id="match-rows").iter("h3")]
    assert [each.split(" near ")[0] for each in heads] == ["Mouldings"]


def test_mats_of_which_no_sheet_is_large_enough_are_left_out(
    photographed: Counter, stocked: Store
) -> None:
    def found(wide: int, high: int) -> list[str]:
        needed = Needed(sheet=size(wide, high))
        return [
            each.material.code for each in nearest(stocked, Colour.parse(SEA), Kind.MAT, needed)
        ]

    # Sheets are 1200 × 1000 and may be turned.
    assert found(1000, 1200) == found(600, 500) != []
    assert found(1001, 1200) == []


def test_a_white_mat_of_the_price_book_is_found_for_white(photographed: Counter) -> None:
    page = photographed.post(
        "/quotes?live=1", {**TYPED, "match": "own", "match.own": TOP_MAT.colour}
    )
    assert said(page, "Mats") == ["Chalk white white · the same"]
