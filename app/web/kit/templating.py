"""Renders templates: one strict and escaping environment, and the filters that print figures.

Templates get one frozen page model called `page`, and whole pages the `chrome` around it, which
`render` makes. They loop and choose; whatever is a length, an amount or a date is printed by the
filters here.
"""

import hashlib
import re
from collections.abc import Hashable
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any
from urllib.parse import quote, unquote, urlsplit

from fastapi import Request
from fastapi.responses import HTMLResponse, RedirectResponse
from jinja2 import Environment
from markupsafe import Markup

from app import __version__
from app.documents.kit.printing import strict_environment
from app.errors import Fault
from app.files import STATIC
from app.handbook import BY_NUMBER
from app.lengths import Length, Size, Unit, show, show_size
from app.money import Money, show_money, show_percent
from app.orders import Shop
from app.services.shop import current_shop
from app.web.kit.access import may_ask, stays_beside_customer
from app.web.kit.alarms import Alarm, alarms_of
from app.web.kit.context import RequestContext, get_context, get_who
from app.web.kit.fields import fields_in, id_of
from app.web.kit.fractions import with_fractions_set
from app.web.kit.sent_once import NOTICE_COOKIE, life_shown, new_key
from app.web.kit.sought import SOUGHT, read_sought
from app.web.kit.stylesheet import style_address
from app.web.kit.visitor import Visitor, visitor_of

FIND = "/find"
"""The address that the field in the head asks."""

NAV = (
    ("Desk", "/"),
    ("Quotes", "/quotes"),
    ("Orders", "/orders"),
    ("Materials", "/materials"),
    ("Stock", "/stock"),
    ("Customers", "/customers"),
    ("Settings", "/settings"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class NavItem:
    """One entry of the head's navigation."""

    label: str
    href: str
    current: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ErrorSummaryItem:
    """One line of the summary of what is wrong. field: how it is called; anchor: its element's id."""

    field: str
    sentence: str
    anchor: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Chrome:
    """What stands around every page and is none of its own: head, notice and foot.

    nav: what the visitor may open; empty before the shop is set up. people: who may be working here; who: who is. path: where
    choosing another person leads back to. notice: a word that is said once; paper: the address of the
    paper that it speaks of. find: what is looked for. alarms: what is wrong with the machine or the data.
    handbook: where it is read. visitor: who asks, and so what may be shown. stays: whether this page is shown to a customer too, once the
    screen is turned.
    """

    shop_name: str
    nav: tuple[NavItem, ...]
    people: tuple[str, ...]
    who: str
    path: str
    notice: str
    paper: str
    find: str
    handbook: str
    alarms: tuple[Alarm, ...]
    visitor: Visitor
    stays: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What every page says of itself; pages add their own fields, and give these their values.

    section: the label of the navigation entry that the page belongs to. wide: whether it takes the
    whole width of the screen. turned_by: the id of its form, where that is sent to turn the screen, so that nothing typed is
    lost; "" where the head does it by itself. enter: what Enter in a field of that form sends as its action. whole_screen: whether it takes the whole screen, without head and foot.
    begins_at_notice: whether the focus is put on the notice of what was just done, so that it is read out and one goes on from there.
    """

    title: str
    section: str = ""
    faults: tuple[Fault, ...] = ()
    wide: bool = False
    turned_by: str = ""
    enter: str = ""
    whole_screen: bool = False
    begins_at_notice: bool = False

    @property
    def to_mend(self) -> tuple[ErrorSummaryItem, ...]:
        """The summary of what is wrong with the form: each fault, with the name of its field on the form."""
        if not self.faults:
            return ()
        called = {field.path: field.called for field in fields_in(self)}
        place = {path: number for number, path in enumerate(called)}
        return tuple(
            ErrorSummaryItem(
                field=called.get(fault.path, ""),
                sentence=fault.message,
                anchor=id_of(fault.path),
            )
            for fault in sorted(self.faults, key=lambda fault: place.get(fault.path, -1))
        )


def length(value: Length, unit: Unit, mark: bool = False) -> str:
    """Print a length for people."""
    return show(value, unit, mark=mark)


def size(value: Size, unit: Unit, mark: bool = False) -> str:
    """Print a size for people."""
    return show_size(value, unit, mark=mark)


def money(value: Money, code: bool = False) -> str:
    """Print an amount for people."""
    return show_money(value, code=code)


@cache
def _static_version(path: str) -> str:
    return hashlib.sha256((STATIC / path).read_bytes()).hexdigest()[:10]


def static(path: str) -> str:
    """Return the address of a static file, which changes with its content."""
    return f"/static/{path}?v={_static_version(path)}"


@cache
def environment() -> Environment:
    """Return the one environment of the app."""
    env = strict_environment()
    env.filters.update(length=length, size=size, money=money)
    env.filters.update(percent=show_percent)
    env.globals.update(static=static, style_address=style_address, version=__version__)
    env.globals.update(printed=printed, new_key=new_key, life_shown=life_shown)
    env.globals.update(rule_titles={number: rule.title for number, rule in BY_NUMBER.items()})
    return env


@lru_cache(maxsize=3000)
def printed(template: str, macro: str, model: Hashable) -> Markup:
    """Print a frozen model by a macro that follows from it alone: a field of a live form, a row of a long list.

    Between two keys, or two askings for a page, hardly any of them changes, so what was printed is remembered.
    """
    module: Any = environment().get_template(template).module
    text: Markup = getattr(module, macro)(model)
    return text


def _way_back(request: Request) -> str:
    """Return the page to show once it is set who works here: this one, or the one that a form was sent from."""
    if request.method in ("GET", "HEAD"):
        return path_and_query(request)
    sent_from = urlsplit(request.headers.get("referer", ""))
    if sent_from.netloc != request.url.netloc:
        return "/"
    return f"{sent_from.path}?{sent_from.query}" if sent_from.query else sent_from.path


def _looked_for(request: Request) -> str:
    """Return what the field in the head holds: on the page of what was found the words that were looked for."""
    asked = request.query_params
    return (
        read_sought(asked.get("q", ""), asked.get(SOUGHT, "")) if request.url.path == FIND else ""
    )


def _chrome(request: Request, shop: Shop | None, section: str) -> Chrome:
    notice, paper = _noticed(request)
    visitor = visitor_of(request)
    if visitor.beside_customer:
        return _calm(request, shop, notice, visitor)
    return Chrome(
        shop_name=shop.name if shop else "",
        nav=tuple(
            NavItem(label=label, href=href, current=label == section)
            for label, href in (NAV if shop else ())
            if may_ask(request, "GET", href)
        ),
        people=shop.people if shop else (),
        who=get_who(request, shop),
        path=_way_back(request),
        notice=notice,
        paper=paper,
        find=_looked_for(request),
        handbook="/handbook" if may_ask(request, "GET", "/handbook") else "/handbook/work",
        alarms=alarms_of(get_context(request)),
        visitor=visitor,
        stays=request.method == "GET" and stays_beside_customer(request),
    )


def _calm(request: Request, shop: Shop | None, notice: str, visitor: Visitor) -> Chrome:
    """Return what stands around a page while a customer sees it: the shop's name, and the way back."""
    return Chrome(
        shop_name=shop.name if shop else "",
        nav=(),
        people=(),
        who="",
        path=_way_back(request),
        notice=notice,
        paper="",
        find="",
        handbook="",
        alarms=(),
        visitor=visitor,
        stays=True,
    )


@dataclass(frozen=True, slots=True)
class WithPaper:
    """A notice, and the address of the paper of which it speaks."""

    said: str
    paper: str


def see(path: str, notice: str | WithPaper = "") -> RedirectResponse:
    """Redirect to the page to look at next (303), with a notice that it shows once."""
    answer = RedirectResponse(path, status_code=303)
    if isinstance(notice, WithPaper):
        notice = f"{notice.said}\n{notice.paper}"
    if notice:
        answer.set_cookie(
            NOTICE_COOKIE, quote(notice), max_age=60, httponly=True, samesite="strict"
        )
    return answer


_PAPER = re.compile(r"(?:/[A-Za-z0-9-]+)+\.pdf", re.ASCII)
"""The address of a paper of this app: nothing else of a cookie becomes a link."""


def _noticed(request: Request) -> tuple[str, str]:
    """Return the notice that was set, and the paper that it leads to or ""."""
    said, _, paper = unquote(request.cookies.get(NOTICE_COOKIE, "")).partition("\n")
    return said, paper if _PAPER.fullmatch(paper) else ""


def render(
    here: RequestContext | Request, template: str, page: Page, status: int = 200
) -> HTMLResponse:
    """Render a whole page, with the chrome of the request that it answers.

    here: a bare request where there may be no shop, or one that cannot be read.
    """
    if isinstance(here, RequestContext):
        chrome = _chrome(here.request, here.shop, page.section)
    else:
        chrome = _chrome(here, _shop_or_none(here), page.section)
    answer = _html(template, status, page=page, chrome=chrome)
    if chrome.notice:
        answer.delete_cookie(NOTICE_COOKIE)
    return answer


def render_part(template: str, page: object, status: int = 200) -> HTMLResponse:
    """Render a part of a page, which a script puts in its place."""
    return _html(template, status, page=page)


def wants_part(here: RequestContext) -> bool:
    """Tell whether a script asks, which needs only the part of the page that it renews."""
    return here.request.headers.get("x-partial") == "1"


def _html(template: str, status: int, **values: object) -> HTMLResponse:
    html = environment().get_template(template).render(values)
    html = with_fractions_set(html)
    return HTMLResponse(html, status_code=status, headers={"cache-control": "no-store"})


@dataclass(frozen=True, slots=True, kw_only=True)
class ErrorPage(Page):
    """A page that says what went wrong. reference: of a bug, in the log. action, again: where the form that
    was sent goes, and its fields, where sending it again may do, or where it is to be read. leads_to: the page to look at first.
    """

    message: str
    leads_to: str = ""
    reference: str = ""
    action: str = ""
    again: tuple[tuple[str, str], ...] = ()


def render_error(
    request: Request,
    status: int,
    message: str,
    *,
    reference: str = "",
    own: str = "",
    again: tuple[tuple[str, str], ...] = (),
    leads_to: str = "",
) -> HTMLResponse:
    """Render the error page of a status, with the navigation where the shop can be read.

    own: the page for this very error, where the one of its status would say something else. again: the
    fields of the form that was sent, where sending it again may do. leads_to: the page to look at first.
    """
    template = f"errors/{own or (status if status in (404, 405, 409, 422, 500) else 422)}.html"
    page = ErrorPage(
        title=_TITLES.get(own or str(status), "That did not work"),
        message=message,
        leads_to=leads_to,
        reference=reference,
        action=path_and_query(request),
        again=again,
    )
    return render(request, template, page, status)


_TITLES = {
    "404": "Not found",
    "not-for-visitor": "Not on this phone",
    "facing-customer": "The screen faces the customer",
    "405": "Nothing to look at",
    "409": "The change does not fit",
    "422": "Not readable",
    "500": "Something went wrong",
    "not-moved": "Not changed",
    "unending": "Too much for this paper",
    "pdf-unavailable": "No PDF can be made here yet",
    "disk-full": "The disk is full",
    "sent-before": "Saved already",
    "put-back": "Nothing was saved",
    "only-looked-at": "Nothing can be changed here",
    "busy": "Too much at once",
    "not-in-place": "The file is not in its place",
    "cannot-write": "Nothing was saved",
    "at-the-computer": "At the computer only",
}


def path_and_query(request: Request) -> str:
    """Return the address of a request within this app."""
    query = request.url.query
    return f"{request.url.path}?{query}" if query else request.url.path


def _shop_or_none(request: Request) -> Shop | None:
    """Return the shop if there is one and it can be read. A page that reports an error must not fail on the shop."""
    try:
        return current_shop(get_context(request).store)
    except Exception:
        return None
