"""Takes a picture of the README: pages in Chromium, papers by the poppler tools, set beside each other in few colours."""

import subprocess
from collections.abc import Iterable
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.request import urlopen

from PIL import Image
from playwright.sync_api import Browser

from tests.browser.conftest import PATIENCE, Shop, visiting
from tests.readme.pictures import PHONE, Picture, Sheet, Shot
from tests.readme.scene import Scene

BETWEEN = 20
"""Pixels between what stands side by side in a picture; they let the ground of the reader's page through."""


def take(picture: Picture, browser: Browser, shop: Shop, scene: Scene) -> bytes:
    """A picture as PNG."""
    parts = [
        _seen(each, path, browser, shop) if isinstance(each, Shot) else _printed(each, path, shop)
        for each, path in zip(picture.of, picture.at(scene), strict=True)
    ]
    return small(side_by_side(parts), picture.colours)


def _seen(shot: Shot, path: str, browser: Browser, shop: Shop) -> Image.Image:
    width, height = shot.size
    wishes: dict[str, object] = {"viewport": {"width": width, "height": height}}
    if shot.size == PHONE:
        wishes |= {"has_touch": True, "is_mobile": True}
    with visiting(browser, shop, reduced_motion="reduce", **wishes) as page:
        page.goto(path)
        page.wait_for_load_state("networkidle")
        page.evaluate("() => document.fonts.ready.then(() => document.activeElement?.blur())")
        if shot.upper:
            page.locator(shot.upper).first.evaluate(
                "(each, above) => scrollTo(0, each.getBoundingClientRect().top + scrollY - above)",
                shot.above,
            )
        part = page.locator(shot.part).first if shot.part else page
        return _image(part.screenshot(animations="disabled", timeout=PATIENCE))


def _printed(sheet: Sheet, path: str, shop: Shop) -> Image.Image:
    with urlopen(f"{shop.address}{path}") as answer, TemporaryDirectory() as folder:
        drawn = Path(folder) / "page"
        subprocess.run(
            ["pdftoppm", "-r", str(sheet.dpi), "-singlefile", "-png", "-", drawn],
            input=answer.read(),
            check=True,
        )
        return _image(drawn.with_suffix(".png").read_bytes())


def _image(png: bytes) -> Image.Image:
    return Image.open(BytesIO(png)).convert("RGB")


def side_by_side(parts: Iterable[Image.Image]) -> Image.Image:
    """The parts from the left, with nothing between and below them."""
    shown = list(parts)
    if len(shown) == 1:
        return shown[0]
    width = sum(each.width for each in shown) + BETWEEN * (len(shown) - 1)
    whole = Image.new("RGB", (width, max(each.height for each in shown)), "white")
    left = 0
    for each in shown:
        whole.paste(each, (left, 0))
        left += each.width + BETWEEN
    return whole


def small(image: Image.Image, colours: int) -> bytes:
    """A PNG of so many colours, chosen among those of the picture."""
    file = BytesIO()
    image.quantize(colours, Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE).save(
        file, "PNG", optimize=True
    )
    return file.getvalue()

