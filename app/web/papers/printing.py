"""Gives papers as downloads: those that are made within a moment at once, others by a page that says how far they are."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Path
from starlette.responses import FileResponse, RedirectResponse, Response

from app.counting import counted
from app.errors import AppError, NotFound
from app.services.printing import GONE, Make, Print, Work
from app.services.run_state import RunState
from app.web.kit.access import is_of
from app.web.kit.context import ONCE_ONLY, Here, RequestContext
from app.web.kit.templating import Page, render, render_part, see, wants_part

router = APIRouter(prefix="/prints")

PrintId = Annotated[str, Path(pattern=r"^[0-9a-f]{16}$")]
"""Of a paper that is being made; a well-formed one may be gone, any other never was."""

_ENDED = {
    RunState.DONE: "The paper is ready.",
    RunState.STOPPED: "Making this paper was stopped.",
    RunState.FAILED: "Something went wrong in the app itself; what it was is in its log.",
}


def printed(here: RequestContext, make: Make, name: str, *, pieces: int = 1) -> Response:
    """Give a paper. make: a function of a document with all that it is made of. name: of its file."""
    return in_child(here, lambda made: made(make), name, pieces=pieces)


def in_child(here: RequestContext, work: Work, name: str, *, pieces: int = 1) -> Response:
    """Give a paper that takes more than to be made, as `printed`."""
    paper = here.context.prints.start(work, name, pieces, asked_by=here.visitor)
    if paper.state is RunState.DONE:
        return pdf(here.context.prints.taken(paper), name)
    return RedirectResponse(f"/prints/{paper.id}", 303)


def pdf(content: bytes, name: str) -> Response:
    """Return a PDF to be looked at in the browser."""
    return Response(content, media_type="application/pdf", headers=_headers(name))


def _headers(name: str) -> dict[str, str]:
    return {
        "content-disposition": f'inline; filename="{name}"',
        "cache-control": "no-store",
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintingPage(Page):
    """How far a paper is, or what became of it. of: how many pieces; 1 where it is not counted by them. how_far: in words, where no piece is
    done yet.
    """

    section: str = "Orders"
    id: str
    done: int
    of: int
    how_far: str
    watching: bool
    ready: bool
    sentence: str


@router.get("/{print_id}")
def watch(here: Here, print_id: PrintId) -> Response:
    """Show how far a paper is; once it is made, the paper. Raises: what its making raised."""
    paper = _theirs(here, print_id)
    if isinstance(paper.error, AppError):
        raise paper.error
    if wants_part(here):
        return render_part("pages/papers/_making.html", _page(paper))
    if paper.state is RunState.DONE:
        return RedirectResponse(f"/prints/{print_id}/paper.pdf", 303)
    return render(here, "pages/papers/making.html", _page(paper))


@router.get("/{print_id}/paper.pdf")
def give(here: Here, print_id: PrintId) -> Response:
    """Give a paper that is made; it may be asked for again until others were made since."""
    paper = _theirs(here, print_id)
    if paper.result is None:
        return RedirectResponse(f"/prints/{print_id}", 303)
    return FileResponse(paper.result, media_type="application/pdf", headers=_headers(paper.name))


@router.post("/{print_id}/stop", dependencies=[ONCE_ONLY])
def stop(here: Here, print_id: PrintId) -> Response:
    """Stop making a paper."""
    here.context.prints.stop(_theirs(here, print_id).id)
    return see(f"/prints/{print_id}")


def _theirs(here: RequestContext, print_id: str) -> Print:
    """Return a paper of who asks. Raises: NotFound, of another's too."""
    paper = here.context.prints.look(print_id)
    if not is_of(here.visitor, paper.asked_by):
        raise NotFound(GONE)
    return paper


def _page(paper: Print) -> PrintingPage:
    running = paper.state is RunState.RUNNING
    return PrintingPage(
        title=f"Making {_called(paper)}" if running else _called(paper),
        id=paper.id,
        done=paper.done,
        of=paper.of,
        how_far=_how_far(paper),
        watching=running,
        ready=paper.state is RunState.DONE,
        sentence="" if running else _ENDED[paper.state],
    )


def _called(paper: Print) -> str:
    """Return what is made: its file without the ending."""
    return paper.name.removesuffix(".pdf")


def _how_far(paper: Print) -> str:
    """Say what is done for a paper of which no piece is counted; nothing once one is."""
    if paper.waits:
        return "It waits for its turn: another long paper is made first."
    if not paper.begun.is_set():
        return "The printing is being started; that takes some seconds, once."
    if paper.of > 1:
        return ""
    if paper.pages:
        return f"{counted(paper.pages, 'page')} laid out so far."
    return "It is being laid out; this one takes longer."
