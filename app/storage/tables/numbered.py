"""Papers that are found by their number: invoices, cutting plans, orders to suppliers."""

from dataclasses import dataclass
from enum import StrEnum

from sqlalchemy import ColumnElement, func, literal, or_, select, union_all
from sqlalchemy.orm import InstrumentedAttribute, Session

from app.orders.invoices.invoice import InvoiceKind
from app.storage.tables.invoices import InvoiceRow
from app.storage.tables.plans import CuttingPlanRow
from app.storage.tables.supplier_orders import SupplierOrderRow


class PaperKind(StrEnum):
    """What bears a number and is neither a quote nor an order."""

    INVOICE = InvoiceKind.INVOICE.value
    CREDIT_NOTE = InvoiceKind.CREDIT_NOTE.value
    PLAN = "plan"
    SUPPLIER_ORDER = "supplier-order"


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedPaper:
    """A paper with its number.

    id: of the paper; that of its order for an invoice or a credit note. supplier: to whom it goes, else
    blank.
    """

    kind: PaperKind
    number: str
    id: int
    supplier: str


class NumberedPapers:
    """Finds papers by their number."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def found(self, text: str) -> tuple[NumberedPaper, ...]:
        """Return all papers in whose number or supplier's name a text stands, the highest number first."""
        typed = text.strip().casefold()
        if not typed:
            return ()

        def within(*columns: InstrumentedAttribute[str]) -> ColumnElement[bool]:
            return or_(*(func.instr(func.lower(column), typed) > 0 for column in columns))

        invoice, plan, supplied = InvoiceRow, CuttingPlanRow, SupplierOrderRow
        everything = union_all(
            select(invoice.kind, invoice.number, invoice.order_id, literal("")).where(
                within(invoice.number)
            ),
            select(literal(PaperKind.PLAN.value), plan.number, plan.id, literal("")).where(
                within(plan.number)
            ),
            select(
                literal(PaperKind.SUPPLIER_ORDER.value),
                supplied.number,
                supplied.id,
                supplied.supplier,
            ).where(within(supplied.number, supplied.supplier)),
        )
        rows = self._session.execute(everything.order_by(invoice.number.desc()))
        return tuple(
            NumberedPaper(kind=PaperKind(kind), number=number, id=paper_id, supplier=supplier)
            for kind, number, paper_id, supplier in rows
        )
