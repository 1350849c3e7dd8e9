"""What is said to whoever is not let in: pages of their own, which hold nothing of the shop, and JSON for programs."""

import base64
import hashlib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.types import Scope

from app.web.kit.guard import HEADERS
from app.web.kit.templating import environment


@dataclass(frozen=True, slots=True, kw_only=True)
class PairPage:
    """The page at which a phone is paired. leads_to: the page to open then. fault: what is wrong with what was typed."""

    title: str = "Pair this phone"
    code: str = ""
    name: str = ""
    leads_to: str = "/"
    fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnPage:
    """The page for who opens the address on this machine without having come by the one that was printed."""

    title: str = "Open the address from the start"


_UNKEPT = {"cache-control": "no-store"}


def page(template: str, of: PairPage | OwnPage, status: int) -> HTMLResponse:
    """Write a page that needs no further file, so that nothing else has to be let through."""
    style, hashed = _style()
    html = environment().get_template(f"door/{template}.html").render(page=of, style=style)
    policy = HEADERS["content-security-policy"].replace("style-src 'self'", f"style-src '{hashed}'")
    headers = {"content-security-policy": policy, **_UNKEPT}
    return HTMLResponse(html, status_code=status, headers=headers)


def refused(scope: Scope, template: str, of: PairPage | OwnPage, sentence: str) -> Response:
    """Answer a request that is not let in, a program in the one shape of the contract."""
    if scope["path"].startswith("/api/"):
        content = {"error": {"code": "not-let-in", "message": sentence, "fields": []}}
        return JSONResponse(content, status_code=403, headers=_UNKEPT)
    return page(template, of, 403)


@cache
def _style() -> tuple[str, str]:
    """The style sheet of these pages, and its hash for the policy. Source: CSP Level 3, 2.3.1."""
    style = Path(__file__).with_name("door.css").read_text("utf-8")
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    return style, f"sha256-{digest}"
