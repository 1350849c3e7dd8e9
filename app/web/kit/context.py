"""Gives every route what it needs: the store, the clock, the shop, and who is working."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Protocol
from urllib.parse import unquote

from fastapi import Depends, Path, Request
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

from app.errors import AppError
from app.orders import Shop
from app.services import shop as shops
from app.services.backups import Keeper
from app.services.plan_drafts import PlanDrafts
from app.services.printing import PRINTS, Prints
from app.storage import Stamp, Store
from app.web.kit.cleaning import cleaned
from app.web.kit.sent_once import KEYS, note_sent
from app.web.kit.visitor import Visitor, visitor_of

Clock = Callable[[], datetime]

WHO_COOKIE = "bevelbook_who"


class Reach(Protocol):
    """Whether phones in the shop's network reach the app."""

    @property
    def url(self) -> str | None:
        """The address at which they do, None while the app answers this machine alone."""

    @property
    def trouble(self) -> str:
        """Why they do not, though they should; blank where nothing is wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReachedAt:
    """A reach that does not change."""

    url: str | None
    trouble: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt:
    """What an app shows that lets a copy be looked at. sentence: says so; back: the page of the shop itself that ends it."""

    sentence: str
    back: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AppContext:
    """Holds what the whole app shares; there is one per app. now: local time with its zone. drafts: cutting plans that are being made;
    prints: papers. readies_papers: whether pages that lead to a paper have a child ready for it.

    reach: whether phones in the shop's network reach the app. keeper: sees to the copies of the data. looked_at: where this
    is a copy that is only looked at.
    """

    store: Store
    now: Clock
    drafts: PlanDrafts
    reach: Reach
    keeper: Keeper
    looked_at: LookedAt | None = None
    prints: Prints = PRINTS
    readies_papers: bool = False

    @property
    def phone_url(self) -> str | None:
        """Where phones reach the app now, None while it answers this machine alone."""
        return self.reach.url

    @property
    def today(self) -> date:
        """The date in the shop's time zone."""
        return self.now().date()


def get_context(request: Request) -> AppContext:
    """Return the app's context."""
    context: AppContext = request.app.state.context
    return context


class NotSetUp(AppError):
    """There is no shop yet; the first-run page makes one."""

    code = "not-set-up"

    def __init__(self) -> None:
        super().__init__("The shop is not set up yet; open /welcome.")


def get_shop(request: Request) -> Shop:
    """Return the shop. Raises: NotSetUp before the first run."""
    shop = shops.current_shop(get_context(request).store)
    if shop is None:
        raise NotSetUp
    return shop


def get_who(request: Request, shop: Shop | None) -> str:
    """Return who works at this screen, as chosen in the footer.

    It is empty where nobody was chosen, or somebody who does not work here: what a browser sends is
    never written into a record unchecked.
    """
    who = unquote(request.cookies.get(WHO_COOKIE, ""))
    return who if shop is not None and who in shop.people else ""


def get_act(request: Request) -> Stamp:
    """Stamp the first run, which nobody's name stands behind yet."""
    return Stamp(who="", now=get_context(request).now())


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestContext:
    """Holds what the request of a page needs: the app's context, the shop, and who acts."""

    request: Request
    context: AppContext
    shop: Shop

    @property
    def store(self) -> Store:
        """The store with the shop's data."""
        return self.context.store

    @property
    def today(self) -> date:
        """The date in the shop's time zone."""
        return self.context.today

    @property
    def visitor(self) -> Visitor:
        """Who asks, and so what may be shown."""
        return visitor_of(self.request)

    def expect_paper(self) -> None:
        """Have a child ready for a paper that this page leads to."""
        if self.context.readies_papers:
            self.context.prints.expect()

    @property
    def act(self) -> Stamp:
        """A stamp for a change: who makes it, and when."""
        return Stamp(who=get_who(self.request, self.shop), now=self.context.now())


async def get_visit(request: Request, shop: Annotated[Shop, Depends(get_shop)]) -> RequestContext:
    """Return the context of a request, with the shop that was read once for all that it depends on.

    Raises: NotSetUp before the first run.
    """
    return RequestContext(request=request, context=get_context(request), shop=shop)


async def get_typed(request: Request) -> dict[str, str]:
    """Read every field of a posted form as text; of a repeated field the last one counts.

    Control characters are left out, but for tabs and ends of lines. The key of a form that is to be kept once is known
    to what the request writes, and to nobody else. Raises: AnsweredBefore.
    """
    return await _typed(request, 500)


async def get_long_typed(request: Request) -> dict[str, str]:
    """Read a form with a box for each material of a large price book; all else as `get_typed`."""
    return await _typed(request, 6000)


async def get_typed_with_file(request: Request) -> "WithFile":
    """Read a form with one file, of the field `photo`; all else as `get_typed`."""
    async with request.form(max_fields=500, max_files=1) as form:
        typed = {name: cleaned(value) for name, value in form.items() if isinstance(value, str)}
        if any(name != FILE for name, value in form.items() if isinstance(value, UploadFile)):
            raise HTTPException(400, "No file is wanted in this field.")
        sent = form.get(FILE)
        named = isinstance(sent, UploadFile) and (sent.filename or sent.size)
        content = await sent.read(MOST_OF_FILE) if isinstance(sent, UploadFile) and named else None
    return WithFile(typed=await _noted(request, typed), content=content)


@dataclass(frozen=True, slots=True, kw_only=True)
class WithFile:
    """A posted form. content: of the file that came with it; None where none was chosen."""

    typed: dict[str, str]
    content: bytes | None


FILE = "photo"
"""The field of a file that comes with a form."""

MOST_OF_FILE = 32 * 1024 * 1024
"""Bytes of it that are read at most; whoever takes it says how many are too many."""


async def _typed(request: Request, most: int) -> dict[str, str]:
    async with request.form(max_fields=most, max_files=0) as form:
        typed = {name: cleaned(value) for name, value in form.items() if isinstance(value, str)}
    return await _noted(request, typed)


async def _noted(request: Request, typed: dict[str, str]) -> dict[str, str]:
    """Return the fields of a form without its keys, which are known to what the request writes. Raises: AnsweredBefore."""
    request.state.typed = tuple(typed.items())
    await note_sent(request, typed)
    return {name: text for name, text in typed.items() if name not in KEYS}


ONCE_ONLY = Depends(get_typed)
"""For a route that reads nothing of its form: it is answered once all the same."""

LARGEST_ID = 2**63 - 1
"""The largest number that the store can hold."""

Id = Annotated[int, Path(ge=1, le=LARGEST_ID)]
"""A number in an address: of an order, a piece, an entry, a customer."""

Ctx = Annotated[AppContext, Depends(get_context)]
Doing = Annotated[Stamp, Depends(get_act)]
Here = Annotated[RequestContext, Depends(get_visit)]
OurShop = Annotated[Shop, Depends(get_shop)]
TypedForm = Annotated[dict[str, str], Depends(get_typed)]
LongTypedForm = Annotated[dict[str, str], Depends(get_long_typed)]
