"""The job sheet of work without a piece: what, for whom, by when, how long, and a box to tick (P12).

Owns no price: it lies at the bench, where a customer may read it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from app.documents.kit.pdf import StyleSheets, to_pdf
from app.documents.kit.printing import day, page_html
from app.errors import Conflict
from app.orders import Order, OrderLine, Shop

_FEW_LINES, _FEW_LETTERS = 3, 180
"""Lines of the note, and letters in all, of a sheet in large letters. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One sheet. number: of the order and the line. about: (what, figure) pairs."""

    number: str
    what: str
    about: tuple[tuple[str, str], ...]
    note: tuple[str, ...]

    @property
    def long(self) -> bool:
        """Whether there is too much to say for large letters on one sheet."""
        words = (self.what, *(text for _, text in self.about), *self.note)
        return len(self.note) > _FEW_LINES or sum(map(len, words)) > _FEW_LETTERS


@dataclass(frozen=True, slots=True, kw_only=True)
class JobSheets:
    """Every sheet of an order's work, or one of them."""

    lang: str
    title: str
    shop_name: str
    jobs: tuple[Job, ...]


def job_sheets_pdf(order: Order, shop: Shop, lines: Sequence[OrderLine] | None = None) -> bytes:
    """Make the job sheets of some lines, of all work of an order where none are named.

    Raises: Conflict where there is no work; PdfUnavailable.
    """
    html = page_html("job_sheet.html", job_sheets(order, shop, lines))
    return to_pdf(html, StyleSheets(names=("document", "job-sheet")))


def job_sheets(order: Order, shop: Shop, lines: Sequence[OrderLine] | None = None) -> JobSheets:
    """Return the page model of job sheets. Raises: Conflict where a line is no work, or none is."""
    wanted = tuple(line for line in order.lines if line.counts) if lines is None else tuple(lines)
    work = tuple(line for line in wanted if line.agreed.is_work)
    if not work or (lines is not None and len(work) < len(wanted)):
        raise Conflict(
            f"{order.number} has no such work. A line has a job sheet where minutes of work are given."
        )
    return JobSheets(
        lang="en",
        title=f"Job sheet {order.number}, {shop.name}",
        shop_name=shop.name,
        jobs=tuple(_job(order, line) for line in work),
    )


def _job(order: Order, line: OrderLine) -> Job:
    agreed = line.agreed
    about = (
        ("For", order.customer_name),
        ("Number", str(agreed.number) if agreed.number > 1 else ""),
        ("Due", day(order.due) if order.due else ""),
        ("Time", minutes_text(line)),
    )
    return Job(
        number=f"{order.number}, line {line.number}",
        what=agreed.what,
        about=tuple((name, text) for name, text in about if text),
        note=tuple(each.strip() for each in agreed.note.splitlines() if each.strip()),
    )


def minutes_text(line: OrderLine) -> str:
    """Say how long it takes, to the whole minute: "45 min"; "" for what is no work."""
    return f"{round(line.agreed.minutes)} min" if line.agreed.is_work else ""
