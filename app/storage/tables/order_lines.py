"""Keeps the lines of orders without a piece: what was agreed for each, struck or not, and its changes of stage.

What was agreed is only added; the row beside it says what lists and searches ask for.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from sqlalchemy import ColumnElement, ForeignKey, Index, column, func, select, table
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import NotFound
from app.orders import LEFT_THE_WAY, LineAgreed, LineEntry, OrderLine, Stage, StageChange
from app.stock.buying.goods import GoodsOrdered, LineRef
from app.storage.journal import Journal, JournalRow
from app.storage.mapping import STRICT, Row, value_of
from app.storage.paging import Stamp
from app.storage.snapshots import LINE
from app.storage.tables.customers import CustomerRow
from app.storage.tables.materials import MaterialRow, material_row


class OrderLineRow(Row):
    """A line as it stands. what: as it was agreed last."""

    __tablename__ = "order_lines"
    __table_args__ = (
        Index("order_lines_by_order", "order_id", "number", unique=True),
        Index("order_lines_by_material", "material_id"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    order_id: Mapped[int] = mapped_column(ForeignKey("orders.id"))
    number: Mapped[int]
    what: Mapped[str]
    material_id: Mapped[int | None] = mapped_column(ForeignKey("materials.id", ondelete="SET NULL"))
    stage: Mapped[str]
    struck: Mapped[bool]


class LineAgreementRow(JournalRow, Row):
    """What holds of a line from then on, written once."""

    __tablename__ = "line_agreements"
    __table_args__ = (Index("line_agreements_by_line", "line_id"), STRICT)
    line_id: Mapped[int] = mapped_column(ForeignKey("order_lines.id"))
    struck: Mapped[bool]
    agreed: Mapped[str]


class LineStageChangeRow(JournalRow, Row):
    """One change of a line's stage, written once."""

    __tablename__ = "line_stage_changes"
    __table_args__ = (Index("line_stage_changes_by_line", "line_id"), STRICT)
    line_id: Mapped[int] = mapped_column(ForeignKey("order_lines.id"))
    old: Mapped[str]
    new: Mapped[str]
    takes_back: Mapped[bool]
    note: Mapped[str]
    count: Mapped[int | None]


_ORDERS = table(
    "orders",
    column("id"),
    column("order_number"),
    column("quote_number"),
    column("customer_id"),
    column("due"),
)
_NUMBER = func.coalesce(_ORDERS.c.order_number, _ORDERS.c.quote_number)
_OPEN = frozenset(Stage) - LEFT_THE_WAY - {Stage.COLLECTED}


class OrderLines:
    """Keeps the lines of orders without a piece."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._changes = Journal(
            session, StageChange, LineStageChangeRow, LineStageChangeRow.line_id
        )

    def of(self, order_id: int) -> tuple[OrderLine, ...]:
        """Return the lines of an order by their numbers, struck ones too."""
        ours = select(OrderLineRow).where(OrderLineRow.order_id == order_id)
        rows = self._session.scalars(ours.order_by(OrderLineRow.number)).all()
        if not rows:
            return ()
        ids = [row.id for row in rows]
        entries, changes = self._entries(ids), self._changes.by_owner(ids)
        return tuple(
            value_of(
                OrderLine,
                row,
                entries=tuple(entries[row.id]),
                changes=tuple(each.entry for each in changes[row.id]),
            )
            for row in rows
        )

    def add(self, order_id: int, agreed: LineAgreed, act: Stamp) -> int:
        """Add a line at its stage “quoted”. Returns its number, one that no line of the order ever had."""
        last = self._session.scalars(
            select(func.max(OrderLineRow.number)).where(OrderLineRow.order_id == order_id)
        ).one()
        row = OrderLineRow(
            order_id=order_id,
            number=(last or 0) + 1,
            stage=Stage.QUOTED.value,
            **self._said(agreed, struck=False),
        )
        self._session.add(row)
        self._session.flush()
        self._write(row.id, LineEntry(agreed=agreed, at=act.now, by=act.who))
        return row.number

    def write(self, line_id: int, entry: LineEntry) -> None:
        """Write down what holds of a line from now on."""
        row = self._session.get_one(OrderLineRow, line_id)
        for name, value in self._said(entry.agreed, struck=entry.struck).items():
            setattr(row, name, value)
        self._write(line_id, entry)

    def add_change(self, line_id: int, change: StageChange) -> None:
        """Write a change of stage down; the line stands at its new stage."""
        self._changes.add(line_id, change)
        self._session.get_one(OrderLineRow, line_id).stage = change.new.value
        self._session.flush()

    def material_of(self, line_id: int) -> str | None:
        """Return the code of today of the goods of a line; None where they left the price book."""
        found = (
            select(MaterialRow.code)
            .join(OrderLineRow, OrderLineRow.material_id == MaterialRow.id)
            .where(OrderLineRow.id == line_id)
        )
        return self._session.scalars(found).one_or_none()

    def refs(self, line_ids: Iterable[int]) -> Mapping[int, LineRef]:
        """Return what some lines are called, by their ids."""
        return {ref.line_id: ref for ref in self._refs(OrderLineRow.id.in_(tuple(line_ids)))}

    def goods_ordered(self) -> tuple[GoodsOrdered, ...]:
        """Return the goods that are ordered and not handed over, the first due first."""
        refs = self._refs(
            (OrderLineRow.stage.in_([Stage.ORDERED.value, Stage.FRAMED.value]))
            & OrderLineRow.struck.is_(False)
            & OrderLineRow.material_id.is_not(None)
        )
        entries = self._entries([ref.line_id for ref in refs])
        found = []
        for ref in sorted(refs, key=lambda ref: (ref.due or date.max, ref.order_id, ref.number)):
            code = self.material_of(ref.line_id)
            if code is not None:
                number = entries[ref.line_id][-1].agreed.number
                found.append(GoodsOrdered(material=code, number=number, line=ref))
        return tuple(found)

    def holds(self, material_id: int) -> str:
        """Return why goods have to stay: who waits for them, as the rest of a sentence."""
        waiting = (
            select(_NUMBER)
            .select_from(OrderLineRow)
            .join(_ORDERS, _ORDERS.c.id == OrderLineRow.order_id)
            .where(
                OrderLineRow.material_id == material_id,
                OrderLineRow.struck.is_(False),
                OrderLineRow.stage.in_(sorted(stage.value for stage in _OPEN)),
            )
            .order_by(OrderLineRow.id)
        )
        found = tuple(dict.fromkeys(self._session.scalars(waiting)))
        if not found:
            return ""
        more = f" and {len(found) - 3} more" if len(found) > 3 else ""
        return (
            f"is on a line of {', '.join(found[:3])}{more} that is not handed over, so it stays in the price book. "
            "Discontinue it instead; no new line finds it then."
        )

    def _refs(self, wanted: ColumnElement[bool]) -> Sequence[LineRef]:
        rows = self._session.execute(
            select(
                OrderLineRow.id,
                OrderLineRow.order_id,
                _NUMBER,
                OrderLineRow.number,
                OrderLineRow.what,
                CustomerRow.name,
                _ORDERS.c.due,
            )
            .join(_ORDERS, _ORDERS.c.id == OrderLineRow.order_id)
            .join(CustomerRow, CustomerRow.id == _ORDERS.c.customer_id)
            .where(wanted)
        )
        return tuple(
            LineRef(
                line_id=line_id,
                order_id=order_id,
                order_number=order_number,
                number=number,
                what=what,
                customer=customer,
                due=date.fromisoformat(due) if due else None,
            )
            for line_id, order_id, order_number, number, what, customer, due in rows
        )

    def _said(self, agreed: LineAgreed, *, struck: bool) -> dict[str, object]:
        """Return what a line's row says of what is agreed."""
        material_id = None
        if agreed.goods is not None:
            try:
                material_id = material_row(self._session, agreed.goods.code).id
            except NotFound:
                material_id = None
        return {"what": agreed.what, "material_id": material_id, "struck": struck}

    def _write(self, line_id: int, entry: LineEntry) -> None:
        self._session.add(
            LineAgreementRow(
                line_id=line_id,
                struck=entry.struck,
                agreed=LINE.write(entry.agreed),
                at=entry.at,
                by=entry.by,
            )
        )
        self._session.flush()

    def _entries(self, line_ids: Sequence[int]) -> Mapping[int, list[LineEntry]]:
        ours = select(LineAgreementRow).where(LineAgreementRow.line_id.in_(line_ids))
        found: dict[int, list[LineEntry]] = {}
        for row in self._session.scalars(ours.order_by(LineAgreementRow.id)):
            entry = value_of(LineEntry, row, agreed=LINE.read(row.agreed))
            found.setdefault(row.line_id, []).append(entry)
        return found
