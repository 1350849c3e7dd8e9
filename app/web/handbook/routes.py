"""Routes of the handbook, with an address for each rule, /handbook#G12, and each kind of step, /handbook/work#join."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse

from app.bench import StepCode
from app.handbook import RULES
from app.web.handbook.page import HandbookPage, subjects_of
from app.web.handbook.work_page import WorkPage
from app.web.kit.context import Here
from app.web.kit.templating import render
from app.web.pieces.how import how_at_any

router = APIRouter()


@router.get("/handbook")
def show(here: Here, q: Annotated[str, Query(max_length=200)] = "") -> HTMLResponse:
    """Show every rule, or those that have all words of a search."""
    subjects = subjects_of(RULES, q, here.shop)
    page = HandbookPage(
        query=q,
        subjects=subjects,
        found=sum(len(subject.rules) for subject in subjects),
    )
    return render(here, "pages/handbook/show.html", page)


@router.get("/handbook/work")
def show_work(here: Here) -> HTMLResponse:
    """Show how each kind of step is done."""
    page = WorkPage(steps=tuple(how_at_any(code, here.shop.mat_word.value) for code in StepCode))
    return render(here, "pages/handbook/work.html", page)
