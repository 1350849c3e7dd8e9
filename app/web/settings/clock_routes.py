"""The clock of this computer: what it says, what speaks against it, and that it is right all the same."""

from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.days import Doubt
from app.services import clock as clocks
from app.services.clock import Reading
from app.web.kit.context import Here, RequestContext, TypedForm
from app.web.kit.templating import Page, render, see

router = APIRouter(prefix="/settings/clock")


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockPage(Page):
    """The page of the clock."""

    title: str = "The clock of this computer"
    section: str = "Settings"
    reading: Reading

    @property
    def says(self) -> str:
        """The day that is asked about; the form carries it, so that nobody agrees to another one."""
        return self.reading.now.date().isoformat()

    @property
    def follows(self) -> str:
        """What comes of entering something while the clock is wrong."""
        wrong = {
            Doubt.AHEAD: "Whatever is entered now is dated ahead: quotes run out and work is overdue too soon, and "
            "the next invoices after it are asked for their dates.",
            Doubt.BEHIND: "Whatever is entered now is dated before what happened already, and an invoice is asked "
            "for its date.",
        }
        return wrong[self.reading.doubt] if self.reading.doubt else ""


@router.get("")
def show(here: Here) -> HTMLResponse:
    """Show what the clock says and what that is held against."""
    return _show(here)


@router.post("")
def confirm(here: Here, form: TypedForm) -> Response:
    """Take the clock for right, provided that it still says the day that was asked about."""
    if form.get("says") != here.today.isoformat():
        return _show(here)
    clocks.confirm(here.store, here.act)
    return see("/", "The clock is taken for right.")


def _show(here: RequestContext) -> HTMLResponse:
    page = ClockPage(reading=clocks.read(here.store, here.context.now()))
    return render(here, "pages/settings/clock.html", page)
