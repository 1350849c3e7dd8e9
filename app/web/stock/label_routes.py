"""The route of labels for the rack, as PDF."""

from functools import partial

from fastapi import APIRouter
from starlette.responses import Response

from app.documents.labels import CutLabel, LabelPrinting, ToLabel, labels_pdf
from app.services import stock
from app.web.kit.context import Here
from app.web.papers.printing import printed
from app.web.stock.form import read_ids

router = APIRouter(prefix="/stock")


@router.get("/labels")
def labels(here: Here, items: str = "", cut: str = "") -> Response:
    """Give the labels of some items, "4,7,12": on sheets to cut, or each on a page of its own."""
    lines = stock.lines(here.store, read_ids(items, stock.MOST_AT_ONCE))
    printing = LabelPrinting(
        paper=here.shop.paper,
        unit=here.shop.unit,
        phone_url=here.context.phone_url,
        cut=CutLabel.SINGLE if cut == CutLabel.SINGLE else CutLabel.SHEET,
    )
    wanted = [ToLabel(kept=line.kept, name=line.name, since=line.since.date()) for line in lines]
    return printed(here, partial(labels_pdf, wanted, printing), "labels.pdf")
