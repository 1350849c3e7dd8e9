"""Codes of materials: which row a code means, today's or one that it had before."""

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from app.errors import NotFound, quoted
from app.stock.former_codes import Codes
from app.storage.rows import FormerCodeRow, MaterialRow


def material_row(session: Session, code: str) -> MaterialRow:
    """The material of a code, any case; of a code of today before a former one. Raises: NotFound."""
    now = select(MaterialRow).where(MaterialRow.code == code.strip())
    row = session.scalars(now).one_or_none()
    if row is None:
        before = select(MaterialRow).join(FormerCodeRow).where(FormerCodeRow.code == code.strip())
        row = session.scalars(before).one_or_none()
    if row is None:
        raise NotFound(f"There is no material {quoted(code)} in the price book.")
    return row


def codes_now(session: Session) -> Codes:
    """The codes of today of every material that was called otherwise."""
    found = session.execute(
        select(FormerCodeRow.code, MaterialRow.code)
        .join(MaterialRow, MaterialRow.id == FormerCodeRow.material_id)
        .order_by(FormerCodeRow.code)
    )
    return Codes(now=tuple((old, new) for old, new in found))


def former_codes(session: Session, material_id: int) -> tuple[str, ...]:
    """The codes that a material had before."""
    ours = select(FormerCodeRow.code).where(FormerCodeRow.material_id == material_id)
    return tuple(session.scalars(ours))


def taken(session: Session, code: str) -> None:
    """A code is some material's from now on, so it means no other one any more."""
    session.execute(delete(FormerCodeRow).where(FormerCodeRow.code == code))


def was_called(session: Session, material_id: int, code: str) -> None:
    """A material is called otherwise from now on; this was its code."""
    session.execute(insert(FormerCodeRow).values(code=code, material_id=material_id))
