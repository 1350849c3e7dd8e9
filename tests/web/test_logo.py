"""The shop's logo: taken in, shown, on papers for customers, removed; and how quotes state prices."""

from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader

from app.services import pictures, quotes
from app.services import shop as shops
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.photos import SVG, file_of
from tests.builders.worked import SHOP, TO_PAY, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter

ACT = Stamp(who="Ilse", now=NOW)


def clear_logo(width: int = 400, height: int = 100) -> bytes:
    """A red half beside a clear one."""
    image = Image.new("RGBA", (width, height), (0, 0, 0, 0))
    image.paste((168, 52, 40, 255), (0, 0, width // 2, height))
    return file_of(image, "PNG")


def send(counter: Counter, content: bytes, name: str = "logo.png") -> int:
    """Choose a file on the page of the shop and save it."""
    answer = counter.client.post("/settings/shop/logo", files={"logo": (name, content)})
    return answer.status_code


def logo_kept(store: Store) -> Image.Image:
    return Image.open(BytesIO(pictures.content_of(store, shops.get(store).value.logo)))


def test_a_logo_is_kept_clear_and_shown(counter: Counter, stocked: Store) -> None:
    assert 'src="data:' not in counter.get("/settings/shop").text
    assert send(counter, clear_logo()) == 200
    kept = logo_kept(stocked)
    assert (kept.format, kept.mode, kept.size) == ("PNG", "RGBA", (400, 100))
    assert [kept.getpixel((x, 50)) for x in (10, 390)] == [(168, 52, 40, 255), (0, 0, 0, 0)]
    assert 'alt="The logo"' in counter.get("/settings/shop").text


def test_a_large_logo_is_kept_small_with_its_proportions(counter: Counter, stocked: Store) -> None:
    """3600 × 900 to the 900 that are kept at most: 900 × 225."""
    send(counter, clear_logo(3600, 900))
    assert logo_kept(stocked).size == (900, 225)
    noisy = Image.effect_noise((600, 400), 90).convert("RGBA")
    noisy.putalpha(Image.effect_noise((600, 400), 90))
    send(counter, file_of(noisy, "PNG"))
    logo = shops.get(stocked).value.logo
    kept = pictures.get(stocked, logo).now
    assert len(pictures.content_of(stocked, logo)) <= 120_000
    assert kept.width * 2 == kept.height * 3


def test_a_logo_without_clear_parts_may_be_a_jpeg(counter: Counter, stocked: Store) -> None:
    send(counter, file_of(Image.new("RGB", (200, 80), (10, 20, 30)), "JPEG"), "logo.jpg")
    assert logo_kept(stocked).size == (200, 80)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (SVG, "Save it as PNG or JPEG."),
        (b"", "The file is empty."),
        (
            b"not a picture",
            "The file is no picture that can be opened here: a JPEG, PNG or WebP file is.",
        ),
        (clear_logo()[:60], "breaks off, or is damaged"),
    ],
)
def test_a_bad_file_gets_a_sentence_and_the_logo_stays(
    counter: Counter, stocked: Store, content: bytes, said: str
) -> None:
    send(counter, clear_logo())
    before = shops.get(stocked)
    answer = counter.client.post("/settings/shop/logo", files={"logo": ("logo.png", content)})
    assert answer.status_code == 422
    assert said in answer.text
    assert shops.get(stocked) == before


def test_no_file_is_said(counter: Counter) -> None:
    answer = counter.client.post("/settings/shop/logo", data={"once": ""})
    assert answer.status_code == 422
    assert "No file was chosen." in answer.text


def test_a_logo_is_removed_and_other_settings_keep_it(counter: Counter, stocked: Store) -> None:
    send(counter, clear_logo())
    logo = shops.get(stocked).value.logo
    fields = counter.get("/settings/shop").fields
    counter.go("/settings/shop", fields | {"name": "Sedge Lane", "action": "save"})
    assert (shops.get(stocked).value.name, shops.get(stocked).value.logo) == ("Sedge Lane", logo)
    counter.client.post("/settings/shop/logo/remove", data={"once": ""})
    assert shops.get(stocked).value.logo == ""


@pytest.fixture
def quote(stocked: Store) -> str:
    """The address of a saved quote of the worked piece."""
    order = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    return f"/orders/{order}"


def paper(counter: Counter, address: str) -> tuple[str, int]:
    """The words of a paper of one page, and how many pictures of pixels it holds."""
    answer = counter.client.get(address)
    assert answer.status_code == 200
    (page,) = PdfReader(BytesIO(answer.content)).pages
    return " ".join(page.extract_text().split()), len(page.images)


@pytest.mark.documents
def test_the_logo_heads_a_quote_and_the_name_stays_in_its_words(
    counter: Counter, quote: str
) -> None:
    words, pictures_before = paper(counter, f"{quote}/quote.pdf")
    assert pictures_before == 0
    send(counter, clear_logo())
    headed, pictures_now = paper(counter, f"{quote}/quote.pdf")
    assert pictures_now == 1
    assert SHOP.name in headed
    assert TO_PAY in headed
    assert TO_PAY in words


@pytest.mark.documents
def test_a_quote_states_prices_as_the_shop_says_or_as_this_print_asks(
    counter: Counter, quote: str
) -> None:
    lines, _ = paper(counter, f"{quote}/quote.pdf")
    assert "Mats and boards" in lines
    only, _ = paper(counter, f"{quote}/quote.pdf?prices=total")
    assert "Mats and boards" not in only
    assert TO_PAY in only
    fields = counter.get("/settings/shop").fields
    assert fields["quote_prices"] == "lines"
    counter.go("/settings/shop", fields | {"quote_prices": "total", "action": "save"})
    assert "Mats and boards" not in paper(counter, f"{quote}/quote.pdf")[0]
    assert "Mats and boards" in paper(counter, f"{quote}/quote.pdf?prices=lines")[0]
