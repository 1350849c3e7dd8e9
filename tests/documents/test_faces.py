"""Every paper is set in the faces of the app, its drawings too, and carries them."""

from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from app.documents.count_sheet import count_sheet_pdf
from app.documents.invoice import invoice_pdf
from app.documents.job_sheet import job_sheets_pdf
from app.documents.labels import labels_pdf
from app.documents.order_sheet import order_sheet_pdf
from app.documents.ticket.ticket import ticket_pdf
from app.orders import Paper
from app.storage import DATABASE_NAME
from tests.benchmarks.tickets import printed
from tests.builders.hasty import new_store
from tests.builders.kept import BOOK, NOW, SHOP
from tests.builders.printed import a_shop
from tests.builders.values import TODAY
from tests.builders.worked import SHOP as WORKED
from tests.documents import test_count_sheet as counting
from tests.documents import test_cutting_plan as plans
from tests.documents import test_designs as designs
from tests.documents import test_invoice as invoices
from tests.documents import test_labels as labels
from tests.documents import test_lines as lines
from tests.documents import test_order_sheet as supplying
from tests.storage.plan_work import planned

pytestmark = pytest.mark.documents

PAPERS: dict[str, Callable[[], bytes]] = {
    "quote": lambda: designs.quoted(designs.OPEN),
    "designs": designs.compared,
    "invoice": lambda: invoice_pdf(invoices.issued(), paper=Paper.A4),
    "ticket": lambda: printed(1),
    "ticket with designs": lambda: ticket_pdf(
        designs.ALONE, WORKED, None, paper=Paper.A5, phone_url=None, today=TODAY
    ),
    "job sheet": lambda: job_sheets_pdf(lines.three(), lines.SHOP),
    "labels": lambda: labels_pdf(labels.LABELS, labels.SHEET),
    "count sheet": lambda: count_sheet_pdf((counting.item(1),), counting.SHEET),
    "order sheet": lambda: order_sheet_pdf(
        supplying.order(supplying.STICKS), a_shop(), paper=Paper.A4, costs=True
    ),
}


@pytest.mark.parametrize("make", PAPERS.values(), ids=PAPERS.keys())
def test_a_paper_carries_our_faces_and_no_other(make: Callable[[], bytes]) -> None:
    assert _other_faces(make()) == set()


def test_a_cutting_plan_carries_our_faces_and_no_other(tmp_path: Path) -> None:
    with new_store(tmp_path / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        shop = plans.Printed(store)
        plans.ordered(store)
        assert _other_faces(shop.pdf(planned(store))) == set()


def _other_faces(pdf: bytes) -> set[str]:
    """The names of faces that are not ours, or that the paper does not carry."""
    faces = list(_faces(PdfReader(BytesIO(pdf))))
    assert faces
    return {
        str(face["/BaseFont"])
        for face in faces
        if "+Bevelbook-" not in face["/BaseFont"] or not _is_carried(face)
    }


def _faces(reader: PdfReader) -> Iterator[Any]:
    """Every face of every page, and of what is drawn there."""
    waiting: list[Any] = [page.get("/Resources") for page in reader.pages]
    while waiting:
        resources = waiting.pop().get_object()
        yield from (face.get_object() for face in resources.get("/Font", {}).values())
        drawn = [each.get_object() for each in resources.get("/XObject", {}).values()]
        waiting += [each["/Resources"] for each in drawn if "/Resources" in each]


def _is_carried(face: Any) -> bool:
    below = face["/DescendantFonts"][0].get_object() if "/DescendantFonts" in face else face
    described = below["/FontDescriptor"].get_object()
    return any(key in described for key in ("/FontFile", "/FontFile2", "/FontFile3"))
