"""`python -m tests.readme [name ...]`: takes the README's pictures anew, all or those named, from the sample shop.

Takes Chromium, Pango and the poppler tools, and a minute. Look at what it made before it is kept.
"""

import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import sync_playwright

from app.services.printing import PRINTS
from app.storage import DATABASE_NAME, Store
from seed_demo.build import USUAL_ORDERS
from tests.browser.conftest import launched, opened
from tests.needs import NEEDS, unmet
from tests.readme.pictures import PICTURES
from tests.readme.scene import set_out
from tests.readme.taking import take

PHONES_REACH_IT_AT = "http://192.0.2.27:8027"
"""So that papers bear a code. Source: RFC 5737, an address for examples, which nobody has."""


def main(names: Sequence[str]) -> int:
    """Take what is named, or everything. Returns the exit code."""
    missing = unmet(NEEDS, (need.marker for need in NEEDS))
    unknown = set(names) - {each.name for each in PICTURES}
    if missing or unknown:
        for need in missing:
            print(f"pictures: {need.word}.", file=sys.stderr)
        for name in sorted(unknown):
            print(f"pictures: no picture is called {name}.", file=sys.stderr)
        return 2
    PRINTS.moment = 120
    with (
        TemporaryDirectory() as folder,
        Store.open(Path(folder) / DATABASE_NAME) as store,
        sync_playwright() as playwright,
        launched(playwright) as browser,
    ):
        scene = set_out(store, orders_before=USUAL_ORDERS)
        with opened(store, phone_url=PHONES_REACH_IT_AT) as shop:
            for picture in PICTURES:
                if not names or picture.name in names:
                    picture.file.write_bytes(take(picture, browser, shop, scene))
                    print(f"{picture.file.name}: {picture.file.stat().st_size // 1000} kB")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
