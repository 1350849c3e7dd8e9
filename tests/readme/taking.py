"""Takes a picture of the README: pages in Chromium, papers by the poppler tools, set beside each other in few colours."""

import subprocess
from collections.abc import Iterable, Sequence
from io import BytesIO
from itertools import batched, chain
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.request import urlopen

from PIL import Image, ImageOps
from playwright.sync_api import Browser

from tests.browser.conftest import PATIENCE, Shop, visiting
from tests.readme.pictures import PHONE, Given, Picture, Sheet, Shot
from tests.readme.scene import Scene

BETWEEN = 20
"""Pixels between what stands side by side in a picture; white, as paper is."""

AS_THEY_ARE = 8
"""Colours of a picture that its palette has exactly."""

STEPS = 8
"""Of a channel, which a palette is searched by. Source: found by trying; Pillow documents it nowhere."""

EDGE = "#c9c4b8"
"""The line round a sheet, without which paper has no edge on a white page."""


def take(picture: Picture, browser: Browser, shop: Shop, scene: Scene) -> bytes:
    """A picture as PNG."""
    parts = [
        _part(each, path, browser, shop)
        for each, path in zip(picture.of, picture.at(scene), strict=True)
    ]
    return small(side_by_side(parts))


def _part(part: Shot | Sheet | Given, path: str, browser: Browser, shop: Shop) -> Image.Image:
    match part:
        case Shot():
            return _seen(part, path, browser, shop)
        case Sheet():
            return _printed(part, path, shop)
        case Given():
            return _given(part, path, shop)


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
        return _image(page.screenshot(timeout=PATIENCE))


def _printed(sheet: Sheet, path: str, shop: Shop) -> Image.Image:
    with urlopen(f"{shop.address}{path}") as answer, TemporaryDirectory() as folder:
        drawn = Path(folder) / "page"
        subprocess.run(
            ["pdftoppm", "-r", str(sheet.dpi), "-singlefile", "-png", "-", drawn],
            input=answer.read(),
            check=True,
        )
        return ImageOps.expand(_image(drawn.with_suffix(".png").read_bytes()), 1, EDGE)


def _given(given: Given, path: str, shop: Shop) -> Image.Image:
    with urlopen(f"{shop.address}{path}") as answer:
        image = _image(answer.read())
    return image.resize((given.width, image.height * given.width // image.width))


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


def small(image: Image.Image) -> bytes:
    """A PNG of 256 colours at most: the commonest as they are, so that white paper is white; others so chosen that a rare
    one, as of a small boat, is kept; between them it is dithered.
    """
    counted = sorted(image.getcolors(image.width * image.height), reverse=True)
    commonest = [colour for _, colour in counted[:AS_THEY_ARE]]
    chosen = image.quantize(256 - AS_THEY_ARE, Image.Quantize.MAXCOVERAGE, kmeans=1).getpalette()
    others = [each for each in batched(chosen, 3) if not _close(each, commonest)]
    palette = Image.new("P", (1, 1))
    palette.putpalette(list(chain(*commonest, *others)))
    file = BytesIO()
    few = image.quantize(palette=palette, dither=Image.Dither.FLOYDSTEINBERG)
    few.save(file, "PNG", optimize=True)
    return file.getvalue()


def _close(colour: Sequence[int], to: Iterable[Sequence[int]]) -> bool:
    """Whether Pillow would take a colour for another one: it tells them apart in steps of eight."""
    return any(max(abs(a - b) for a, b in zip(colour, each, strict=True)) < STEPS for each in to)
