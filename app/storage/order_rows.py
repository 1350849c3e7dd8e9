"""Orders, pieces, changes and entries as rows, and back."""

from collections.abc import Iterable
from fractions import Fraction

from app.framing.notices.artwork_weight import Support
from app.money import CURRENCIES, Money
from app.orders import (
    ArtworkKind,
    ArtworkRecord,
    Entry,
    EntryKind,
    Method,
    NewEntry,
    Order,
    Piece,
    Stage,
    StageChange,
)
from app.orders.reductions import NewReduction, Reduction
from app.storage.rows import (
    LedgerEntryRow,
    OrderRow,
    PieceRow,
    PieceSnapshotRow,
    ReductionRow,
    StageChangeRow,
)
from app.storage.snapshots import AGREED


def order_of(
    row: OrderRow,
    customer_name: str,
    pieces: Iterable[Piece],
    entries: Iterable[Entry],
    reductions: Iterable[Reduction],
) -> Order:
    """The order of a row and of what belongs to it."""
    return Order(
        id=row.id,
        version=row.version,
        customer_id=row.customer_id,
        customer_name=customer_name,
        quote_number=row.quote_number,
        quoted_on=row.quoted_on,
        valid_until=row.valid_until,
        order_number=row.order_number,
        ordered_on=row.ordered_on,
        due=row.due,
        note=row.note,
        pieces=tuple(pieces),
        entries=tuple(entries),
        reductions=tuple(reductions),
    )


def piece_of(row: PieceRow, snapshot: PieceSnapshotRow, changes: Iterable[StageChangeRow]) -> Piece:
    """The piece of a row, of its last snapshot and its changes."""
    return Piece(
        id=row.id,
        number=row.number,
        artwork=_artwork_of(row),
        agreed=AGREED.read(snapshot.agreed),
        stage=Stage(row.stage),
        changes=tuple(map(_change_of, changes)),
    )


def artwork_columns(artwork: ArtworkRecord) -> dict[str, str | int | Fraction | None]:
    """The columns of an artwork in its piece's row."""
    value = artwork.declared_value
    return {
        "title": artwork.title,
        "kind": artwork.kind.value,
        "condition": artwork.condition,
        "declared_minor": value.minor if value is not None else None,
        "declared_currency": value.currency.code if value is not None else None,
        "place": artwork.place,
        "support": artwork.support and artwork.support.value,
        "weight_kg": artwork.weight_kg,
    }


def _artwork_of(row: PieceRow) -> ArtworkRecord:
    value = None
    if row.declared_minor is not None and row.declared_currency is not None:
        value = Money(row.declared_minor, CURRENCIES[row.declared_currency])
    return ArtworkRecord(
        title=row.title,
        kind=ArtworkKind(row.kind),
        condition=row.condition,
        declared_value=value,
        place=row.place,
        support=Support(row.support) if row.support else None,
        weight_kg=row.weight_kg,
    )


def change_row(piece_id: int, change: StageChange) -> StageChangeRow:
    """The row of a change."""
    return StageChangeRow(
        piece_id=piece_id,
        old=change.old.value,
        new=change.new.value,
        at=change.at,
        by=change.by,
        takes_back=change.takes_back,
        note=change.note,
    )


def _change_of(row: StageChangeRow) -> StageChange:
    return StageChange(
        old=Stage(row.old),
        new=Stage(row.new),
        at=row.at,
        by=row.by,
        takes_back=row.takes_back,
        note=row.note,
    )


def entry_row(order_id: int, entry: NewEntry) -> LedgerEntryRow:
    """The row of an entry."""
    return LedgerEntryRow(
        order_id=order_id,
        kind=entry.kind.value,
        amount_minor=entry.amount.minor,
        currency=entry.amount.currency.code,
        at=entry.at,
        by=entry.by,
        method=entry.method.value,
        note=entry.note,
        corrects=entry.corrects,
    )


def entry_of(row: LedgerEntryRow) -> Entry:
    """The entry of a row."""
    return Entry(
        id=row.id,
        entry=NewEntry(
            kind=EntryKind(row.kind),
            amount=Money(row.amount_minor, CURRENCIES[row.currency]),
            at=row.at,
            by=row.by,
            method=Method(row.method),
            note=row.note,
            corrects=row.corrects,
        ),
    )


def reduction_row(order_id: int, reduction: NewReduction) -> ReductionRow:
    """The row of a reduction."""
    return ReductionRow(
        order_id=order_id,
        amount_minor=reduction.amount.minor,
        currency=reduction.amount.currency.code,
        reason=reduction.reason,
        at=reduction.at,
        by=reduction.by,
        undoes=reduction.undoes,
        with_tax=reduction.with_tax,
    )


def reduction_of(row: ReductionRow) -> Reduction:
    """The reduction of a row."""
    return Reduction(
        id=row.id,
        entry=NewReduction(
            amount=Money(row.amount_minor, CURRENCIES[row.currency]),
            reason=row.reason,
            at=row.at,
            by=row.by,
            undoes=row.undoes,
            with_tax=row.with_tax,
        ),
    )
