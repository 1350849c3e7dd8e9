"""The one style sheet of the pages: whole, to be kept, and within its bounds."""

import gzip
import re

from starlette.testclient import TestClient

from app.web.kit.stylesheet import CSS, SHEETS, style_address


def test_no_style_sheet_of_the_pages_is_forgotten() -> None:
    files = {file.relative_to(CSS).with_suffix("").as_posix() for file in CSS.rglob("*.css")}
    assert {name for name in files if not name.startswith("print/")} == set(SHEETS)


def test_the_style_sheet_may_be_kept_since_its_address_changes_with_it(api: TestClient) -> None:
    answer = api.get(style_address())
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/css; charset=utf-8"
    assert "immutable" in answer.headers["cache-control"]
    assert re.fullmatch(r"/static/css/all\.css\?v=[0-9a-f]{10}", style_address())


def test_every_file_that_the_style_sheet_names_is_served(api: TestClient) -> None:
    named = re.findall(r'url\("([^"]+)"\)', api.get(style_address()).text)
    assert len(named) == 4
    for address in named:
        assert api.get(f"/static/css/{address}").status_code == 200, address


def test_styles_and_scripts_stay_small() -> None:
    """What a browser is sent; the styles of papers are read by the app itself."""
    scripts = b"\n".join(file.read_bytes() for file in sorted(CSS.parent.glob("js/*.js")))
    styles = b"\n".join((CSS / f"{name}.css").read_bytes() for name in (*SHEETS, "print/page"))
    assert len(gzip.compress(styles)) <= 25_000
    assert len(gzip.compress(scripts)) <= 15_000
