"""A photo of the artwork on the quote page, without a script: taken in with the form, refused in words, straightened, saved."""

import sys
from datetime import timedelta
from io import BytesIO

import pytest
from pypdf import PdfReader

from app.documents.kit import pdf
from app.services import orders, pictures, quotes, stages
from app.services.children import Children
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.web.pictures.block import NOT_DRAWN
from tests.builders.photos import HEIC, RED, close, colour_at, kept_photo, photo
from tests.builders.worked import SHOP, TYPED
from tests.web.at_bench import phone_on
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, words
from tests.web.shown import _shown as shown
from tests.web.test_quotes import save_form

ACT = Stamp(who="Ann", now=NOW)


def sent(counter: Counter, path: str, form: dict[str, str], file: bytes, **headers: str) -> Shown:
    """Send a form with a photo, as a browser does."""
    answer = counter.client.post(
        path,
        data=form,
        files={"photo": ("IMG 1.jpg", file, "image/jpeg")},
        headers=headers,
        follow_redirects=False,
    )
    return shown(answer)


def asking(**changes: str) -> dict[str, str]:
    return save_form(**{"action": "recalculate", **changes})


def kept_in(page: Shown) -> str:
    return page.fields["artwork.photo"]


def count(store: Store) -> int:
    with store.reading() as work:
        found = work.session.connection().exec_driver_sql("SELECT count(*) FROM pictures").scalar()
    assert isinstance(found, int)
    return found


def test_a_photo_comes_into_the_form_and_everything_typed_stays(
    counter: Counter, stocked: Store
) -> None:
    form = asking(artwork__title="Harbour", note="by Friday")
    page = sent(counter, "/quotes", form, photo())
    assert page.status == 200
    id = kept_in(page)
    assert pictures.get(stocked, id).now.width == 80
    assert (
        page.fields.items()
        >= {name: text for name, text in form.items() if name not in ("action", "customer")}.items()
    )
    assert f'href="/pictures/{id}"' in page.text, "the drawing shows it"
    assert page.one("photo").find("img").get("src") == f"/pictures/{id}?small=1"


def test_a_photo_is_saved_with_its_piece(counter: Counter, stocked: Store) -> None:
    answer = sent(counter, "/quotes", save_form(), photo())
    assert answer.status == 303
    piece = orders.get(stocked, 1).pieces[0]
    assert colour_at(pictures.content_of(stocked, piece.artwork.photo), 0.2, 0.2)[0] > 150
    assert piece.agreed.typed["artwork.photo"] == piece.artwork.photo
    again = counter.get("/orders/1/pieces/1/change")
    assert kept_in(again) == piece.artwork.photo


@pytest.mark.parametrize(
    ("file", "said"), [(HEIC, "HEIC"), (b"words", "no photo"), (photo()[:500], "breaks off")]
)
@pytest.mark.parametrize("action", ["recalculate", "save"])
def test_a_file_that_is_refused_is_said_at_its_field_and_nothing_is_lost(
    counter: Counter, stocked: Store, file: bytes, said: str, action: str
) -> None:
    form = asking(artwork__title="Harbour") | {"action": action}
    page = sent(counter, "/quotes", form, file)
    assert page.status == 422
    assert said in page.words(id="photo-error")
    assert said in page.words("error-summary")
    assert 'href="#artwork-photo"' in page.text
    assert page.fields["artwork.title"] == "Harbour"
    assert kept_in(page) == ""
    assert count(stocked) == 0
    assert counter.get("/quotes").main.count("Harbour") == 0


def test_a_photo_that_is_refused_leaves_the_one_there_is(counter: Counter) -> None:
    first = kept_in(sent(counter, "/quotes", asking(), photo()))
    page = sent(counter, "/quotes", asking(artwork__photo=first), HEIC)
    assert kept_in(page) == first


def test_while_one_types_a_refused_photo_stops_no_price(counter: Counter) -> None:
    page = sent(counter, "/quotes?live=1", asking(), HEIC, **{"x-partial": "1"})
    assert page.status == 200
    assert "HEIC" in page.words(id="photo-error")
    assert page.has(id="price")


def test_while_one_types_a_photo_comes_into_the_form(counter: Counter, stocked: Store) -> None:
    page = sent(counter, "/quotes?live=1", asking(), photo(), **{"x-partial": "1"})
    assert pictures.get(stocked, page.one(id="artwork-photo").find("input").get("value"))


def test_a_photo_that_is_too_large_is_said_at_its_field(counter: Counter, stocked: Store) -> None:
    page = sent(counter, "/quotes", asking(), photo() + bytes(26_000_000))
    assert page.status == 422
    assert "27 MB; a photo of up to 25 MB is read" in page.words(id="photo-error")
    assert count(stocked) == 0


def test_a_form_without_a_file_is_as_before(counter: Counter) -> None:
    answer = counter.client.post(
        "/quotes", data=asking(), files={"photo": ("", b"", "application/octet-stream")}
    )
    assert answer.status_code == 200
    assert kept_in(shown(answer)) == ""


def test_a_photo_is_removed_by_a_button(counter: Counter) -> None:
    page = sent(counter, "/quotes", asking(), photo())
    form = {**page.fields, "action": "say:artwork.photo:"}
    assert kept_in(counter.post("/quotes", form)) == ""


@pytest.mark.parametrize(
    ("id", "said"), [("0" * 32, "not kept here any more"), ("../x", "no id of a picture")]
)
def test_a_photo_that_is_not_kept_is_a_fault(counter: Counter, id: str, said: str) -> None:
    page = counter.post("/quotes", save_form(artwork__photo=id))
    assert page.status == 422
    assert said in page.words(id="photo-error")


def test_the_json_takes_no_photo(counter: Counter) -> None:
    asked = {"artwork": {"width": "100", "height": "150", "photo": "0" * 32}}
    answer = counter.client.post("/api/price", json=asked)
    assert answer.status_code == 422
    assert "artwork.photo" in answer.text


def test_another_photo_of_what_is_agreed_leaves_its_price(counter: Counter, stocked: Store) -> None:
    counter.go("/quotes", save_form())
    before = orders.get(stocked, 1).pieces[0]
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    page = sent(counter, "/orders/1/pieces/1", form | {"action": "save"}, photo())
    assert page.status == 303
    after = orders.get(stocked, 1).pieces[0]
    assert after.artwork.photo
    assert after.agreed.price == before.agreed.price
    assert "photo changed, price as agreed" in counter.get("/orders/1").main


def test_two_versions_say_the_photo_in_words_and_carry_it_along(counter: Counter) -> None:
    sent(counter, "/quotes", save_form(), photo())
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1") | {"action": "save"}
    counter.go("/orders/1/pieces/1", form | {"artwork.title": "Harbour"})
    page = sent(counter, "/orders/1/pieces/1", form | {"artwork.title": "Quay"}, photo(90, 60))
    assert page.status == 409
    assert "a photo another photo" in page.main
    id = page.form("/orders/1/pieces/1")["artwork.photo"]
    assert id not in page.main
    assert counter.client.get(f"/pictures/{id}").status_code == 200


def test_a_further_design_shows_the_same_photo(counter: Counter, stocked: Store) -> None:
    sent(counter, "/quotes", save_form(), photo())
    form = counter.get("/orders/1/pieces/1/designs/new").form("/orders/1/pieces/1/designs")
    counter.go("/orders/1/pieces/1/designs", form | {"borders.left": "80", "action": "save"})
    piece = orders.get(stocked, 1).pieces[0]
    assert [each.agreed.typed["artwork.photo"] for each in piece.designs] == [
        piece.artwork.photo
    ] * 2
    orders.set_photo(
        stocked, orders.OrderAt(id=1, version=orders.get(stocked, 1).version), 1, "", ACT
    )
    piece = orders.get(stocked, 1).pieces[0]
    assert [each.agreed.typed["artwork.photo"] for each in piece.designs] == ["", ""]


# --- straightened


def test_corners_are_shown_with_everything_typed_carried_along(counter: Counter) -> None:
    page = sent(counter, "/quotes", asking(artwork__title="Harbour"), photo())
    corners = counter.post("/quotes", {**page.fields, "action": "straighten"})
    assert corners.heading == "Straighten the photo"
    held = corners.form("/quotes")
    assert held["artwork.title"] == "Harbour"
    assert [held[f"corner.{n}.{axis}"] for n in range(4) for axis in "xy"] == [
        "0",
        "0",
        "80",
        "0",
        "80",
        "60",
        "0",
        "60",
    ]
    assert 'value="straighten:back">Cancel<' in corners.text
    back = counter.post("/quotes", held | {"action": "straighten:back"})
    assert back.fields["artwork.title"] == "Harbour"
    assert back.fields["artwork.photo"] == page.fields["artwork.photo"]
    assert back.words("photo-said") == "The photo is as it was."
    assert not any(name.startswith("corner.") for name in back.fields)


def test_a_photo_is_straightened_to_the_size_that_was_typed(
    counter: Counter, stocked: Store
) -> None:
    """The artwork is 297 x 420; the left half of the photo, 40 x 60, becomes 42.4 x 60: 42 x 60 in whole pixels."""
    page = sent(counter, "/quotes", asking(artwork__size="297 x 420"), photo(kind="PNG"))
    taken = kept_in(page)
    held = counter.post("/quotes", {**page.fields, "action": "straighten"}).form("/quotes")
    held |= {"corner.1.x": "40", "corner.2.x": "40", "action": "straighten:keep"}
    done = counter.post("/quotes", held)
    flat = pictures.get(stocked, kept_in(done)).now
    assert flat.corners is not None
    assert (flat.made_from, flat.corners.text) == (taken, "0,0 40,0 40,60 0,60")
    assert (flat.width, flat.height) == (42, 60)
    assert colour_at(pictures.content_of(stocked, flat.id), 0.9, 0.1) == RED
    anew = counter.post("/quotes", {**done.fields, "action": "straighten"})
    assert anew.fields["corner.1.x"] == "40", "it begins from the photo as it was taken"
    assert f"/pictures/{taken}" in anew.text


def test_a_press_moves_the_nearest_corner_and_a_button_turns(counter: Counter) -> None:
    """The photo, 80 wide, is pressed at 272 wide: 34 across there is 34 * 80 / 272 = 10, and 17 down is 5."""
    page = sent(counter, "/quotes", asking(), photo())
    held = counter.post("/quotes", {**page.fields, "action": "straighten"}).form("/quotes")
    pressed = counter.post("/quotes", held | {"press.x": "34", "press.y": "17"})
    assert (pressed.fields["corner.0.x"], pressed.fields["corner.0.y"]) == ("10", "5")
    turned = counter.post("/quotes", pressed.form("/quotes") | {"action": "straighten:turn"})
    assert (turned.fields["corner.1.x"], turned.fields["corner.1.y"]) == ("10", "5")
    whole = counter.post("/quotes", turned.form("/quotes") | {"action": "straighten:whole"})
    assert (whole.fields["corner.1.x"], whole.fields["corner.1.y"]) == ("80", "0")


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (
            {"corner.0.x": "80", "corner.1.x": "0", "corner.2.x": "0", "corner.3.x": "80"},
            "from behind",
        ),
        ({"corner.1.x": "900"}, "lies beside the photo"),
        ({"corner.1.x": "much"}, "two whole numbers for the right top corner"),
        ({"corner.2.x": "20", "corner.2.y": "10"}, "lies within"),
    ],
)
def test_corners_that_will_not_do_are_said_and_kept(
    counter: Counter, changes: dict[str, str], said: str
) -> None:
    page = sent(counter, "/quotes", asking(artwork__title="Harbour"), photo())
    held = counter.post("/quotes", {**page.fields, "action": "straighten"}).form("/quotes")
    again = counter.post("/quotes", held | changes | {"action": "straighten:keep"})
    assert again.status == 422
    assert said in again.words("error-summary")
    assert again.fields["artwork.title"] == "Harbour"
    assert again.fields["corner.3.y"] == "60"


# --- given


def test_a_picture_is_given_for_good(counter: Counter) -> None:
    id = kept_in(sent(counter, "/quotes", asking(), photo()))
    whole, small = (counter.client.get(f"/pictures/{id}{query}") for query in ("", "?small=1"))
    assert whole.headers["content-type"] == small.headers["content-type"] == "image/jpeg"
    assert whole.headers["cache-control"] == "private, max-age=31536000, immutable"
    assert whole.headers["x-content-type-options"] == "nosniff"
    drawn = kept_in(sent(counter, "/quotes", asking(), photo(kind="PNG")))
    assert counter.client.get(f"/pictures/{drawn}").headers["content-type"] == "image/png"
    assert counter.client.get(f"/pictures/{'0' * 32}").status_code == 404
    assert counter.client.get("/pictures/x").status_code in (404, 422)


def test_a_photo_that_is_not_turned_in_time_loses_nothing_that_was_typed(
    counter: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    form = sent(counter, "/quotes", asking(), photo()).form("/quotes")
    ends = Children((sys.executable, "-c", "import os; input(); os._exit(9)"), most=1)
    monkeypatch.setattr(pictures, "_READING", ends)
    page = counter.post("/quotes", form | {"action": "straighten:quarter"})
    assert page.status == 422
    assert page.heading == "Straighten the photo"
    assert "could not be read in the time and memory" in page.words(id="error-summary")
    assert page.fields["artwork.photo"] == form["artwork.photo"]
    assert page.fields["artwork.title"] == form["artwork.title"]


def test_a_photo_that_is_gone_meanwhile_is_said_with_all_that_was_typed(counter: Counter) -> None:
    form = sent(counter, "/quotes", asking(), photo()).form("/quotes")
    page = counter.post(
        "/quotes",
        form | {"artwork.photo": "0" * 32, "action": "straighten", "artwork.title": "Gorse"},
    )
    assert page.status == 422
    assert "not kept here any more" in page.words(id="photo-error")
    assert page.fields["artwork.title"] == "Gorse"


# --- several windows

THREE = {
    "artwork.size": "400x200",
    "windows.count": "3",
    "windows.0.size": "100x150",
    "windows.0.kind": "hole",
    "arrangement.across": "20",
}
"""Three windows of 100 × 150, given outright, so that one artwork may lie behind all of them."""


def test_one_artwork_behind_several_windows_is_drawn_with_its_photo(counter: Counter) -> None:
    page = sent(counter, "/quotes", asking(**THREE), photo(400, 200))
    id = kept_in(page)
    assert page.text.count(f'href="/pictures/{id}"') == 1
    assert NOT_DRAWN not in page.main


@pytest.mark.parametrize(
    "own", [{"windows.0.kind": "artwork"}, {"artwork.size": "250x200"}], ids=["own", "too small"]
)
def test_where_each_window_has_its_own_no_photo_is_drawn_and_that_is_said(
    counter: Counter, own: dict[str, str]
) -> None:
    page = sent(counter, "/quotes", asking(**{**THREE, **own}), photo(400, 200))
    assert f'href="/pictures/{kept_in(page)}"' not in page.text
    assert NOT_DRAWN in page.words("photo")


# --- of a piece that is there


def test_a_piece_that_is_there_gets_a_photo(counter: Counter, stocked: Store) -> None:
    counter.go("/quotes", save_form())
    at = "/orders/1/pieces/1/photo"
    assert at in counter.get("/orders/1").text
    assert at in counter.get("/orders/1/pieces/1").text
    empty = counter.get(at)
    assert counter.post(at, empty.form(at) | {"action": "keep"}).status == 422
    assert sent(counter, at, counter.get(at).form(at), HEIC).status == 422
    assert sent(counter, at, counter.get(at).form(at), photo()).status == 303
    id = orders.get(stocked, 1).pieces[0].artwork.photo
    assert f'href="/pictures/{id}"' in counter.get("/orders/1/pieces/1").text
    held = counter.get(f"{at}/straighten").form(f"{at}/straighten")
    answer = counter.post(
        f"{at}/straighten",
        held | {"corner.1.x": "40", "corner.2.x": "40", "action": "straighten:keep"},
    )
    [begun] = (
        each for each in counter.get(answer.address).each() if each.get("autofocus") is not None
    )
    assert begun.get("role") == "status"
    assert "".join(begun.itertext()).strip() == "The photo is straightened."
    flat = pictures.get(stocked, orders.get(stocked, 1).pieces[0].artwork.photo).now
    assert flat.made_from == id
    counter.go(at, counter.get(at).form(at) | {"action": "remove"})
    assert orders.get(stocked, 1).pieces[0].artwork.photo == ""
    assert counter.get(f"{at}/straighten").status == 409


def test_a_photo_that_comes_after_another_change_of_the_order_is_kept_beside_what_there_is(
    counter: Counter, stocked: Store
) -> None:
    counter.go("/quotes", save_form())
    at = "/orders/1/pieces/1/photo"
    opened, second = counter.get(at).form(at), counter.get(at).form(at)
    assert sent(counter, at, second, photo()).status == 303
    first = orders.get(stocked, 1).pieces[0].artwork.photo
    refused = sent(counter, at, opened | {"action": "keep"}, photo(kind="PNG"))
    assert refused.status == 409
    assert "in another tab or through somebody else" in refused.words(id="error-summary")
    assert orders.get(stocked, 1).pieces[0].artwork.photo == first, "nothing was overwritten"
    brought = refused.form(at)["artwork.photo"]
    assert brought not in ("", first)
    assert [each.get("src") for each in refused.each(tag="img")] == [
        f"/pictures/{first}",
        f"/pictures/{brought}?small=1",
    ]
    counter.go(at, refused.form(at) | {"action": "keep"})
    assert orders.get(stocked, 1).pieces[0].artwork.photo == brought


def test_corners_are_of_the_photo_that_they_were_put_on(counter: Counter, stocked: Store) -> None:
    counter.go("/quotes", save_form())
    at = "/orders/1/pieces/1/photo"
    sent(counter, at, counter.get(at).form(at), photo())
    shown = orders.get(stocked, 1).pieces[0].artwork.photo
    corners = counter.get(f"{at}/straighten").form(f"{at}/straighten")
    moved = counter.post(f"{at}/straighten", corners | {"action": "straighten:whole"})
    corners = moved.form(f"{at}/straighten") | {"corner.1.x": "40", "corner.2.x": "40"}
    sent(counter, at, counter.get(at).form(at), photo(300, 300))
    other = orders.get(stocked, 1).pieces[0].artwork.photo
    refused = counter.post(f"{at}/straighten", corners | {"action": "straighten:keep"})
    assert refused.status == 409
    assert orders.get(stocked, 1).pieces[0].artwork.photo == other
    flat = pictures.get(stocked, refused.form(at)["artwork.photo"])
    assert flat.taken.id == shown


def test_a_photo_is_taken_off_from_the_version_that_was_seen(
    counter: Counter, stocked: Store
) -> None:
    counter.go("/quotes", save_form())
    at = "/orders/1/pieces/1/photo"
    opened = counter.get(at).form(at)
    sent(counter, at, counter.get(at).form(at), photo())
    assert counter.post(at, opened | {"action": "remove"}).status == 409
    assert orders.get(stocked, 1).pieces[0].artwork.photo != ""


# --- the tray


def test_what_waits_is_offered_on_the_quote_page(
    counter: Counter, stocked: Store, clock: Clock
) -> None:
    answer = sent(counter, "/pictures", {}, photo())
    assert answer.status == 303
    clock.time += timedelta(minutes=3)
    page = counter.get("/quotes/new")
    assert "3 min ago" in page.words("photo-offers")
    (button,) = page.one("photo-offers").iter("button")
    taken = counter.post("/quotes", {**page.fields, **asking(), "action": button.get("value")})
    assert kept_in(taken)
    assert not taken.has("photo-offers")
    counter.go("/quotes", {**taken.fields, "customer": "Amber Quill", "action": "save"})
    assert not counter.get("/quotes/new").has("photo-offers"), "it is used"
    assert "No photo waits" in counter.get("/pictures").main


def test_what_waits_for_more_than_a_day_is_offered_no_more(counter: Counter, clock: Clock) -> None:
    sent(counter, "/pictures", {}, photo())
    clock.time += timedelta(hours=23)
    assert counter.get("/quotes/new").has("photo-offers")
    clock.time += timedelta(hours=2)
    assert not counter.get("/quotes/new").has("photo-offers")


def test_nothing_is_kept_of_what_is_no_photo_there(counter: Counter, stocked: Store) -> None:
    page = sent(counter, "/pictures", {}, HEIC)
    assert page.status == 422
    assert "HEIC" in page.words(id="photo-error")
    assert counter.post("/pictures", {}).status == 422
    assert count(stocked) == 0


def test_what_nothing_uses_is_let_go_after_a_week(counter: Counter, stocked: Store) -> None:
    sent(counter, "/quotes", save_form(), photo(kind="PNG"))
    used = orders.get(stocked, 1).pieces[0].artwork.photo
    held = counter.get("/orders/1/pieces/1/photo/straighten").form(
        "/orders/1/pieces/1/photo/straighten"
    )
    counter.go(
        "/orders/1/pieces/1/photo/straighten",
        held
        | {"action": "straighten:turn"}
        | {"action": "straighten:keep", "corner.1.x": "40", "corner.2.x": "40"},
    )
    sent(counter, "/pictures", {}, photo(90, 40))
    assert count(stocked) == 3
    assert pictures.let_go(stocked, NOW + timedelta(days=7)) == 0
    assert pictures.let_go(stocked, NOW + timedelta(days=7, seconds=1)) == 1
    assert count(stocked) == 2
    assert pictures.get(stocked, used), "the one in use was made from it"


# --- on paper


@pytest.mark.documents
@pytest.mark.parametrize(("paper", "widest"), [("quote.pdf", 900), ("pieces/1/ticket.pdf", 360)])
def test_papers_show_the_photo(counter: Counter, paper: str, widest: int, made_here: None) -> None:
    """A quote holds the photo as it is looked at, a ticket as it is listed: at most 360 pixels."""
    sent(counter, "/quotes", save_form(), photo(900, 600))
    content = counter.client.get(f"/orders/1/{paper}").content
    shown = [each.image for page in PdfReader(BytesIO(content)).pages for each in page.images]
    (image,) = (each for each in shown if each is not None and each.width > 200)
    assert image.width == widest
    assert close(image.convert("RGB").getpixel((20, 20)), RED)  # type: ignore[arg-type]


@pytest.mark.documents
def test_a_paper_is_made_in_a_child_with_its_photo(counter: Counter) -> None:
    sent(counter, "/quotes", save_form(), photo(900, 600))
    content = counter.client.get("/orders/1/quote.pdf").content
    assert any(
        each.image and each.image.width == 900
        for each in PdfReader(BytesIO(content)).pages[0].images
    )


@pytest.mark.documents
def test_a_paper_shows_no_picture_that_it_was_not_handed() -> None:
    fetcher = pdf._engine().fetcher
    with pytest.raises(ValueError, match="not handed"):
        fetcher.fetch(f"bevelbook:pictures/{'0' * 32}")
    handed = pdf.made_with(
        {"0" * 32: b"\x89PNG"}, lambda: fetcher.fetch(f"bevelbook:pictures/{'0' * 32}").read()
    )
    assert handed == b"\x89PNG"


# --- with a phone


def test_a_phone_of_the_bench_takes_a_photo_for_a_piece(stocked: Store) -> None:
    order = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    stages.take_order(stocked, orders.OrderAt(id=order, version=1), stages.Terms(due=None), ACT)
    with phone_on(stocked) as client:
        phone = Counter(client)
        at = f"/orders/{order}/pieces/1/photo"
        page = phone.get(at)
        (field,) = (each for each in page.each(tag="input") if each.get("type") == "file")
        assert field.get("capture") == "environment"
        assert sent(phone, at, page.form(at) | {"action": "keep"}, photo()).status == 303
        id = orders.get(stocked, order).pieces[0].artwork.photo
        assert client.get(f"/pictures/{id}").status_code == 200
        assert f"/pictures/{id}?small=1" in phone.get("/").text, "its desk shows it"
        assert client.get("/pictures").status_code == 403, "photos that wait are the office's"


LIES = "The photo lies across, the size stands."


def test_a_photo_that_lies_on_a_size_that_stands_is_said_and_the_size_exchanged(
    counter: Counter, stocked: Store
) -> None:
    page = sent(counter, "/quotes", asking(artwork__size="30 x 40 cm"), photo())
    assert LIES in words(page.one("photo"))
    assert "Is the artwork 300 × 400 mm, or 400 × 300 mm?" in page.text
    id = kept_in(page)
    done = counter.post(
        "/quotes",
        asking(
            artwork__size="30 x 40 cm",
            artwork__photo=id,
            action="say:artwork.size:40 x 30 cm",
        ),
    )
    assert 'value="say:artwork.size:40 x 30 cm"' in page.text
    assert done.fields["artwork.size"] == "40 x 30 cm"
    assert LIES not in done.text
    assert kept_in(done) == id


def test_a_photo_that_lies_is_turned_by_a_quarter_with_all_of_it(
    counter: Counter, stocked: Store
) -> None:
    page = sent(counter, "/quotes", asking(artwork__size="300 x 400"), photo())
    form = asking(
        artwork__size="300 x 400", artwork__photo=kept_in(page), action="straighten:quarter"
    )
    done = counter.post("/quotes", form)
    turned = pictures.get(stocked, kept_in(done)).now
    assert (turned.width, turned.height) == (60, 80)
    assert LIES not in done.text
    assert "cut off" not in words(done.one("photo"))


def test_a_photo_stretched_by_straightening_is_still_said(counter: Counter, stocked: Store) -> None:
    """The whole photo, 80 by 60, straightened into 300 by 400 stretches what it shows."""
    id = kept_in(sent(counter, "/quotes", asking(artwork__size="300 x 400"), photo()))
    form = asking(artwork__size="300 x 400", artwork__photo=id)
    corners = counter.post("/quotes", {**form, "action": "straighten"})
    assert LIES in corners.text
    exchanged = counter.post("/quotes", {**form, "action": "straighten:exchange"})
    assert LIES not in exchanged.text
    assert exchanged.fields["artwork.size"] == "400 x 300"
    done = counter.post("/quotes", {**form, "action": "straighten:keep"})
    assert kept_in(done) != id
    assert LIES in words(done.one("photo"))


def test_a_photo_much_wider_than_its_size_is_said_to_be_cut_off(
    counter: Counter, stocked: Store
) -> None:
    page = sent(counter, "/quotes", asking(artwork__size="400 x 300"), photo(80, 40))
    assert "cut off at its sides" in words(page.one("photo"))
    assert "Is the artwork" not in page.text


def test_a_turned_photo_of_a_piece_stands_among_its_checks(
    counter: Counter, stocked: Store
) -> None:
    sent(counter, "/quotes", save_form(artwork__size="300 x 400"), photo())
    assert "Is the artwork 300 × 400 mm" in counter.get("/orders/1").text
    assert LIES in counter.get("/orders/1/pieces/1/photo").text
    at = "/orders/1/pieces/1/photo/straighten"
    counter.go(
        at, {**counter.get("/orders/1/pieces/1/photo").form(at), "action": "straighten:quarter"}
    )
    assert LIES not in counter.get("/orders/1/pieces/1/photo").text
    assert "Is the artwork" not in counter.get("/orders/1").text


def test_the_desk_shows_the_first_photo_of_an_order_in_small(
    counter: Counter, stocked: Store
) -> None:
    kept = kept_photo(stocked, photo(), by=ACT)
    typed = {**TYPED, "artwork.photo": kept.id}
    quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), typed, SHOP, ACT)
    quotes.save_new(stocked, CustomerRequest(name="Bram Reed"), TYPED, SHOP, ACT)
    desk = counter.get("/").text
    assert desk.count(f'src="/pictures/{kept.id}?small=1"') == 1
    assert desk.count('class="desk-photo"') == 1
