"""A photo of the artwork as a browser takes it in: chosen, dropped, pasted, refused, and straightened by hand and by keys."""

from base64 import b64encode
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from app.services import orders, pictures
from app.storage import Stamp
from tests.browser.accessible import found_by_axe, wider_than_the_screen
from tests.browser.clock import NOW
from tests.browser.conftest import Shop
from tests.browser.keyboard import Keyboard
from tests.builders.photos import HEIC, kept_photo, photo

BLOCK = "#artwork-photo"

HAND_OVER = """([place, event, content]) => {
    const bytes = Uint8Array.from(atob(content), (char) => char.charCodeAt(0));
    const data = new DataTransfer();
    data.items.add(new File([bytes], "taken.jpg", { type: "image/jpeg" }));
    const what = event === "paste"
        ? new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true })
        : new DragEvent(event, { dataTransfer: data, bubbles: true, cancelable: true });
    document.querySelector(place).dispatchEvent(what);
}"""


def begun(page: Page) -> Keyboard:
    page.goto("/quotes/new")
    keyboard = Keyboard(page)
    keyboard.type("artwork.size", "400x300")
    keyboard.find("mats.0.material", "chal", "Chalk white")
    return keyboard


def straighten(page: Page, folder: Path, width: int, height: int) -> None:
    """Choose a photo of so many pixels and open its corners."""
    file = folder / "taken.png"
    file.write_bytes(photo(width, height, "PNG"))
    page.set_input_files("#photo", file)
    page.get_by_role("button", name="Straighten").click()
    expect(page.locator("h1")).to_have_text("Straighten the photo")
    page.wait_for_load_state()  # the corners heed the pointer once their script is there


@pytest.mark.parametrize("way", ["chosen", "dropped", "dropped beside", "pasted"])
def test_a_photo_shows_in_the_drawing_however_it_comes(
    page: Page, way: str, tmp_path: Path
) -> None:
    begun(page)
    file = tmp_path / "taken.jpg"
    file.write_bytes(photo(400, 300))
    content = b64encode(photo(400, 300)).decode()
    if way == "chosen":
        page.set_input_files("#photo", file)
    elif way == "dropped":
        page.evaluate(HAND_OVER, [BLOCK, "drop", content])
    elif way == "dropped beside":
        page.evaluate(HAND_OVER, ["#drawing", "drop", content])
    else:
        page.evaluate(HAND_OVER, ["body", "paste", content])
    expect(page.locator(f"{BLOCK} > img")).to_be_visible()
    shown = page.locator("#drawing image")
    expect(shown).to_have_count(1)
    id = page.locator("[name='artwork.photo']").input_value()
    assert shown.get_attribute("href") == f"/pictures/{id}"
    assert page.evaluate(
        "fetch(document.querySelector('#drawing image').href.baseVal).then((a) => a.ok)"
    )
    page.get_by_role("button", name="Remove the photo").click()
    expect(shown).to_have_count(0)
    expect(page.locator("#artwork-size")).to_have_value("400x300")


def test_whoever_comes_to_the_photo_sees_what_a_phone_took_meanwhile(
    page: Page, shop: Shop
) -> None:
    begun(page)
    expect(page.locator("#price .price")).not_to_have_text("–")
    taken = kept_photo(shop.store, photo(400, 300), by=Stamp(who="", now=NOW))
    expect(page.locator(".photo-offer")).to_have_count(0)
    page.locator(f"{BLOCK} label").hover()
    page.locator(".photo-offer").click()
    expect(page.locator("#drawing image")).to_have_attribute("href", f"/pictures/{taken.id}")
    expect(page.locator("#artwork-size")).to_have_value("400x300")


def test_a_refused_photo_is_said_and_the_price_goes_on(page: Page, tmp_path: Path) -> None:
    keyboard = begun(page)
    button = """() => getComputedStyle(document.querySelector("#photo"), "::file-selector-button").fontFamily"""
    assert "Bevelbook Sans" in page.evaluate(button)
    expect(page.locator("#price .price")).not_to_have_text("–")
    file = tmp_path / "taken.heic"
    file.write_bytes(HEIC)
    page.set_input_files("#photo", file)
    expect(page.locator("#photo-error")).to_contain_text("HEIC")
    expect(page.locator("#price")).not_to_have_attribute("data-stale", "")
    expect(page.locator("#photo")).to_have_value("")  # it is sent once
    keyboard.type("artwork.title", "Harbour")
    expect(page.locator("#artwork-title")).to_have_value("Harbour")


def test_an_empty_file_is_refused_at_its_field(page: Page, tmp_path: Path) -> None:
    begun(page)
    expect(page.locator("#price .price")).not_to_have_text("–")
    file = tmp_path / "taken.jpg"
    file.write_bytes(b"")
    page.set_input_files("#photo", file)
    expect(page.locator("#photo-error")).to_contain_text("The file is empty.")
    expect(page.locator(f"{BLOCK} > img")).to_have_count(0)


def test_corners_are_moved_by_pointer_and_by_keys(page: Page, shop: Shop, tmp_path: Path) -> None:
    """The photo is 400 wide; a corner is dragged to 100, 60 of it, another goes 10 and 1 pixels by the keys."""
    keyboard = begun(page)
    keyboard.type("customer", "Amber Quill")
    straighten(page, tmp_path, 400, 300)
    assert found_by_axe(page) == []
    assert wider_than_the_screen(page) == ""
    sheet = page.locator(".straighten-photo").bounding_box()
    corner = page.locator("[data-corner='0']")
    words = page.locator(".straighten-words").bounding_box()
    assert sheet is not None
    assert words is not None
    assert sheet["x"] + sheet["width"] + 22 <= words["x"], "a corner of 44 px lies over the words"
    larger = sheet["width"] / 400
    page.mouse.move(sheet["x"] + 1, sheet["y"] + 1)
    page.mouse.down()
    page.mouse.move(sheet["x"] + 100 * larger, sheet["y"] + 60 * larger, steps=3)
    page.mouse.up()
    expect(page.locator("[name='corner.0.x']")).to_have_value("100")
    expect(page.locator("[name='corner.0.y']")).to_have_value("60")
    expect(corner).to_have_attribute("aria-valuetext", "100 across, 60 down")
    page.locator("[data-corner='1']").focus()
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("ArrowLeft")
    expect(page.locator("[name='corner.1.x']")).to_have_value("389")
    page.locator("[name='corner.2.y']").fill("290")
    expect(page.locator("[data-corner='2']")).to_have_attribute("d", "M400,290h0")
    page.get_by_role("button", name="Straighten").last.click()
    expect(page.locator("#artwork-size")).to_have_value("400x300")
    expect(page.locator(":focus")).to_have_text("The photo is straightened.")
    page.keyboard.press("Tab")
    expect(page.locator(":focus")).to_have_id("photo")
    id = page.locator("[name='artwork.photo']").input_value()
    assert pictures.get(shop.store, id).corners.text == "100,60 389,0 400,290 0,300"
    page.get_by_role("button", name="Save the quote").click()
    expect(page.locator("h1")).to_have_text("Quote Q-2026-0001")
    assert orders.get(shop.store, 1).pieces[0].artwork.photo == id


def test_one_begins_at_a_corner_and_goes_on_from_where_one_left(page: Page, tmp_path: Path) -> None:
    begun(page)
    file = tmp_path / "taken.png"
    file.write_bytes(photo(400, 300, "PNG"))
    page.set_input_files("#photo", file)
    page.get_by_role("button", name="Straighten").click()
    focused = page.locator(":focus")
    expect(focused).to_have_attribute("aria-label", "Left top")
    page.get_by_role("button", name="Turn by a quarter").click()
    expect(page.locator("[name='corner.0.x']")).to_have_value("0")
    expect(page.locator("[name='corner.0.y']")).to_have_value("300")
    expect(focused).to_have_text("Turn by a quarter")
    page.get_by_role("button", name="Cancel").click()
    expect(page.locator("h1")).to_have_text("A new quote")
    expect(focused).to_have_text("The photo is as it was.")
    expect(page.locator("#artwork-size")).to_have_value("400x300")


@pytest.mark.parametrize(("wide", "high"), [(1366, 768), (1280, 720), (768, 1024)])
@pytest.mark.parametrize("size", [(400, 300), (300, 400)], ids=str)
def test_the_photo_takes_the_height_or_the_width_beside_what_is_done(
    page: Page, tmp_path: Path, size: tuple[int, int], wide: int, high: int
) -> None:
    """Of the height all but the head and the room of corners is the photo's, unless the width ends it before."""
    begun(page)
    page.set_viewport_size({"width": wide, "height": high})
    file = tmp_path / "taken.png"
    file.write_bytes(photo(1200, 1200 * size[1] // size[0], "PNG"))
    page.set_input_files("#photo", file)
    page.get_by_role("button", name="Straighten").click()
    expect(page.locator("h1")).to_have_text("Straighten the photo")
    sheet = page.locator(".straighten-photo").bounding_box()
    acts = page.locator(".straighten-acts").bounding_box()
    assert sheet is not None
    assert acts is not None
    beside = acts["x"] - (sheet["x"] + sheet["width"] + 22)
    assert 0 <= beside <= 24
    assert sheet["height"] >= high - 160 or acts["width"] <= 330
    assert page.evaluate("document.documentElement.scrollWidth") <= wide


@pytest.mark.parametrize(("wide", "high"), [(1280, 720), (390, 844)])
def test_handles_lie_on_the_screen_and_go_where_they_are_dragged_to(
    page: Page, tmp_path: Path, wide: int, high: int
) -> None:
    """A portrait photo, 300 by 400: each corner with its 22 pixels around is seen, and a press on one does not scroll."""
    keyboard = begun(page)
    keyboard.type("artwork.size", "300x400")
    straighten(page, tmp_path, 300, 400)
    page.set_viewport_size({"width": wide, "height": high})
    sheet = page.locator(".straighten-photo").bounding_box()
    assert sheet is not None
    assert sheet["x"] >= 22
    assert sheet["x"] + sheet["width"] + 22 <= wide
    assert sheet["y"] + sheet["height"] + 22 <= high
    larger = sheet["width"] / 300
    right, bottom = sheet["x"] + sheet["width"], sheet["y"] + sheet["height"]
    page.mouse.move(right + 2, bottom + 2)
    page.mouse.down()
    page.mouse.move(right - 60 * larger, bottom - 40 * larger, steps=3)
    page.mouse.up()
    assert page.evaluate("window.scrollY") == 0
    assert abs(int(page.locator("[name='corner.2.x']").input_value()) - 240) <= 1
    assert abs(int(page.locator("[name='corner.2.y']").input_value()) - 360) <= 1
