"""What every route is given: the store, the clock, and who is working."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated

from fastapi import Depends, Request

from app.storage import Store

Clock = Callable[[], datetime]

WHO_COOKIE = "bevelbook_who"


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """One per app. now: local time with its zone."""

    store: Store
    now: Clock

    @property
    def today(self) -> date:
        """The date on the shop's wall."""
        return self.now().date()


def get_context(request: Request) -> Context:
    """The app's context."""
    context: Context = request.app.state.context
    return context


def get_who(request: Request) -> str:
    """Who works at this screen, as chosen in the footer; empty where nobody said."""
    return request.cookies.get(WHO_COOKIE, "")[:40]


async def get_typed(request: Request) -> dict[str, str]:
    """Every field of a posted form as text; of a repeated field the last one counts."""
    async with request.form(max_fields=500, max_files=0) as form:
        return {name: value for name, value in form.items() if isinstance(value, str)}


Ctx = Annotated[Context, Depends(get_context)]
Who = Annotated[str, Depends(get_who)]
TypedForm = Annotated[dict[str, str], Depends(get_typed)]
