"""Keeps the price book: by code, found by a part of anything.

A material may be changed at any time: quotes keep their own copies of what they used. It may be removed
unless something holds it.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import fields, is_dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import (
    ColumnElement,
    ForeignKey,
    Index,
    Select,
    Text,
    and_,
    case,
    delete,
    func,
    insert,
    select,
    true,
)
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import Conflict, Invalid, NotFound, quoted
from app.lengths import Length, Size, from_grains, to_grains
from app.orders.quoting.reader import Several
from app.pricing import Kind, Material
from app.stock.former_codes import Codes
from app.storage.mapping import (
    KEYED,
    STRICT,
    Columns,
    Row,
    write,
)
from app.storage.memo import Memo, OfBook
from app.storage.paging import Stale, Versioned
from app.storage.search_text import typed_words, words_of
from app.storage.snapshots import MATERIAL


class MaterialRow(Row):
    """A material of the price book. says: the JSON of all of it; the other columns are what lists ask for.

    longest_side: of a sheet. words: what it is found by, folded.
    """

    __tablename__ = "materials"
    __table_args__ = (
        Index("materials_by_code", "code", unique=True),
        Index("materials_by_kind", "kind", "code"),
        STRICT | {"sqlite_autoincrement": True},
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    code: Mapped[str] = mapped_column(Text(collation="NOCASE"))
    name: Mapped[str]
    kind: Mapped[str]
    colour: Mapped[str]
    longest_side: Mapped[int | None]
    active: Mapped[bool]
    words: Mapped[str]
    says: Mapped[str]
    updated_at: Mapped[datetime]


class FormerCodeRow(Row):
    """A code that a material had before it was called otherwise."""

    __tablename__ = "former_codes"
    __table_args__ = (Index("former_codes_by_material", "material_id"), KEYED)
    code: Mapped[str] = mapped_column(Text(collation="NOCASE"), primary_key=True)
    material_id: Mapped[int] = mapped_column(ForeignKey("materials.id", ondelete="CASCADE"))


def material_row(session: Session, code: str) -> MaterialRow:
    """Return the row of a material by its code in any case; a present code goes before a former one.
    Raises: NotFound.
    """
    now = select(MaterialRow).where(MaterialRow.code == code.strip())
    row = session.scalars(now).one_or_none()
    if row is None:
        before = select(MaterialRow).join(FormerCodeRow).where(FormerCodeRow.code == code.strip())
        row = session.scalars(before).one_or_none()
    if row is None:
        raise NotFound(f"There is no material {quoted(code)} in the price book.")
    return row


OF_BOOK = "of book"
"""Under what a session has the memory of what follows from its price book."""

NOTHING_OF_BOOK = OfBook(Memo())


def codes_now(session: Session) -> Codes:
    """Return the present code of every material that had another one, by the former code."""

    def read() -> Codes:
        found = session.execute(
            select(FormerCodeRow.code, MaterialRow.code)
            .join(MaterialRow, MaterialRow.id == FormerCodeRow.material_id)
            .order_by(FormerCodeRow.code)
        )
        return Codes(now=tuple((old, new) for old, new in found))

    remembers: OfBook = session.info.get(OF_BOOK, NOTHING_OF_BOOK)
    return remembers.of("codes", None, read, most=1)


def taken(session: Session, code: str) -> None:
    """Note that a code is some material's from now on, so that it means no other one any more."""
    session.execute(delete(FormerCodeRow).where(FormerCodeRow.code == code))


def was_called(session: Session, material_id: int, code: str) -> None:
    """Note that a material is called otherwise from now on; this was its code."""
    session.execute(insert(FormerCodeRow).values(code=code, material_id=material_id))


def columns_of_material(material: Material) -> Columns:
    """Return the columns of a material. Raises: Invalid where a length is too fine for stock to be kept of it."""
    _check_grains(material, "")
    size = material.sheet and material.sheet.size
    return {
        "code": material.code,
        "name": material.name,
        "kind": material.kind.value,
        "colour": material.colour,
        "longest_side": to_grains(max(size.width, size.height)) if size else None,
        "active": material.active,
        "words": _words(material),
        "says": MATERIAL.write(material),
    }


def _words(material: Material) -> str:
    """Return what it is found by: every word with a blank before it, so that beginnings can be told."""
    texts = (material.code, material.name, material.finish, material.supplier, *material.tags)
    return "".join(f" {word}" for text in texts for word in words_of(text))


def _check_grains(value: Any, path: str) -> None:
    """Raises: Invalid at the path of the form's field for the first length that is no whole grains."""
    match value:
        case Length():
            to_grains(value, path=path)
        case Size():
            for length in (value.width, value.height):
                to_grains(length, path=path)
        case tuple():
            for index, each in enumerate(value):
                _check_grains(each, f"{path}.{index}")
        case _ if is_dataclass(value):
            for field in fields(value):
                inner = f"{path}.{field.name}" if path else field.name
                _check_grains(getattr(value, field.name), inner)


def material_of(row: MaterialRow, lasting: Memo) -> Material:
    """Return the material of a row, which is read only once for each of its versions."""
    return lasting.of("material", (row.id, row.version), lambda: MATERIAL.read(row.says))


MOST_NAMED = 12
"""Materials that are named where a typed text fits several. Our own choice."""

_MOST_ANSWERS = 1000
"""Texts of which it is remembered which material they mean. Source: ours."""

type HeldBy = Callable[[int], str]
"""Why the material of an id has to stay in the price book, as the rest of a sentence; "" where it need not."""


class Materials:
    """Keeps the price book.

    lasting: materials that were read before, which stay as they are in each version. of_book: what was meant by a
    text, and what else follows from the book. held_by: what keeps a material from being removed.
    changed: whether anything of the book was written.
    """

    def __init__(
        self,
        session: Session,
        lasting: Memo | None = None,
        of_book: OfBook = NOTHING_OF_BOOK,
        held_by: Sequence[HeldBy] = (),
    ) -> None:
        self._session = session
        self._held_by = held_by
        self._lasting = lasting or Memo()
        self.of_book = of_book
        self.changed = False

    def get(self, code: str) -> Versioned[Material]:
        """Return the material with a code, in any case, or with a former one. Raises: NotFound."""
        row = self._row(code)
        return Versioned(id=row.id, version=row.version, value=self._value(row))

    def several(self, codes: Iterable[str]) -> dict[str, Material]:
        """Return the materials of some present codes, by code; codes that the price book does not have
        are left out.
        """
        asked = {code.casefold(): code for code in codes}
        rows = self._session.scalars(select(MaterialRow).where(MaterialRow.code.in_(asked)))
        return {asked[row.code.casefold()]: self._value(row) for row in rows}

    def named(self, text: str, kind: Kind | None = None) -> Material | None:
        """Return the material of a kind, or of any, with this code or whole name, in any case; None where there is none.

        A present code goes before a former one, and that before a name. Of several that share a name an
        active one comes first.
        """
        ours = select(MaterialRow)
        if kind is not None:
            ours = ours.where(MaterialRow.kind == kind.value)
        by_code = self._session.scalars(ours.where(MaterialRow.code == text.strip())).first()
        if by_code is None:
            former = select(FormerCodeRow.material_id).where(FormerCodeRow.code == text.strip())
            by_code = self._session.scalars(ours.where(MaterialRow.id.in_(former))).first()
        if by_code is not None:
            return self._value(by_code)
        words = words_of(text)
        rows = self._session.scalars(
            ours.where(_has(" ".join(words))).order_by(MaterialRow.active.desc(), MaterialRow.code)
        )
        return next((self._value(row) for row in rows if words_of(row.name) == words), None)

    def meant(self, text: str, kind: Kind) -> Material | Several | None:
        """Return the material that a typed text means; else how many it fits, None for none.

        A code or a whole name wins; else the only active material that matches the text. A page asks
        for the same handful with every key that is pressed, so answers are remembered.
        """
        return self.of_book.of(
            "meant", (text, kind), lambda: self._looked_up(text, kind), most=_MOST_ANSWERS
        )

    def _looked_up(self, text: str, kind: Kind) -> Material | Several | None:
        named = self.named(text, kind)
        if named is not None:
            return named
        found = self.find(text, kind=kind, limit=MOST_NAMED)
        if len(found) > 1:
            return Several(self._fitting(text, kind), tuple(each.name for each in found))
        return found[0] if found else None

    def _fitting(self, text: str, kind: Kind) -> int:
        """Count the active materials of a kind that match a text."""
        found = _listed(kind, False).where(*(_has(word) for word in typed_words(text)))
        counted = select(func.count()).select_from(found.subquery())
        return self._session.scalars(counted).one()

    def find(
        self, text: str, *, kind: Kind | None = None, limit: int | None = 20, inactive: bool = False
    ) -> tuple[Material, ...]:
        """Materials with every typed word somewhere in code, name, finish, supplier or tags.

        The best first: the exact code, codes that begin so, words that begin so, the rest.
        Nothing typed finds all; what has no letter or digit finds nothing.
        """
        words = typed_words(text)
        if text.strip() and not words:
            return ()
        found = _listed(kind, inactive).where(*(_has(word) for word in words))
        ranked = found.order_by(_rank(text.strip(), words), MaterialRow.code).limit(limit)
        return tuple(map(self._value, self._session.scalars(ranked)))

    def all(self, kind: Kind | None = None, *, inactive: bool = False) -> tuple[Material, ...]:
        """Return the price book, or the materials of one kind, by code."""
        rows = self._session.scalars(_listed(kind, inactive).order_by(MaterialRow.code))
        return tuple(map(self._value, rows))

    def kept(self) -> tuple[Versioned[Material], ...]:
        """Return the whole price book with its versions, by code."""
        rows = self._session.scalars(_listed(None, inactive=True).order_by(MaterialRow.code))
        return tuple(
            Versioned(id=row.id, version=row.version, value=self._value(row)) for row in rows
        )

    def codes(self) -> Codes:
        """Return the present codes of materials that had another one, by the former code."""
        return codes_now(self._session)

    def counts(self) -> dict[Kind, int]:
        """Return how many active materials there are of each kind."""
        rows = self._session.execute(
            select(MaterialRow.kind, func.count())
            .where(MaterialRow.active.is_(True))
            .group_by(MaterialRow.kind)
        )
        return dict.fromkeys(Kind, 0) | {Kind(kind): count for kind, count in rows}

    def longest_sheet(self) -> Length | None:
        """Return the longest side of any sheet that is on offer; None where there is no sheet."""
        longest = select(func.max(MaterialRow.longest_side)).where(MaterialRow.active.is_(True))
        found = self.of_book.of(
            "longest side", None, lambda: self._session.scalars(longest).one(), most=1
        )
        return None if found is None else from_grains(found)

    def add(self, material: Material, *, now: datetime) -> None:
        """Add a material. Raises: Invalid at "code" where the code is taken, or a length too fine."""
        self.check_free(material.code)
        taken(self._session, material.code)
        self._session.add(MaterialRow(version=1, updated_at=now, **columns_of_material(material)))
        self._flush()

    def add_all(self, materials: Sequence[Material], *, now: datetime) -> None:
        """Add many. Raises: Invalid at "code" where a code is taken; then none is added."""
        for material in materials:
            self.add(material, now=now)

    def save(self, code: str, material: Material, expected_version: int, *, now: datetime) -> None:
        """Replace the material of a code; its code may change. Raises: NotFound, Stale, Invalid."""
        row = self._expected(code, expected_version)
        self.check_free(material.code, but=row.id)
        if material.code != row.code:
            taken(self._session, material.code)
            was_called(self._session, row.id, row.code)
        write(row, columns_of_material(material))
        row.version, row.updated_at = row.version + 1, now
        self._flush()

    def remove(self, code: str, expected_version: int) -> None:
        """Take a material out of the book. Raises: NotFound, Stale, Conflict where it is held."""
        row = self._expected(code, expected_version)
        for reason in (held(row.id) for held in self._held_by):
            if reason:
                raise Conflict(f"{row.code} {reason}")
        self._session.delete(row)
        self._flush()

    def _flush(self) -> None:
        self.changed = True
        self._session.flush()

    def _value(self, row: MaterialRow) -> Material:
        return material_of(row, self._lasting)

    def _row(self, code: str) -> MaterialRow:
        return material_row(self._session, code)

    def _expected(self, code: str, version: int) -> MaterialRow:
        row = self._row(code)
        if row.version != version:
            kept = Versioned(id=row.id, version=row.version, value=self._value(row))
            raise Stale(f"The material {row.code}", kept)
        return row

    def check_free(self, code: str, *, but: int | None = None) -> None:
        """Check that no other material has a code. Raises: Invalid at "code". but: the row that may have it."""
        taken = self._session.scalars(
            select(MaterialRow.id).where(MaterialRow.code == code)
        ).one_or_none()
        if taken is not None and taken != but:
            raise Invalid.at(
                "code", f"The code {quoted(code)} is taken; each material needs its own.", "taken"
            )


def _listed(kind: Kind | None, inactive: bool) -> Select[MaterialRow]:
    rows = select(MaterialRow)
    if kind is not None:
        rows = rows.where(MaterialRow.kind == kind.value)
    return rows if inactive else rows.where(MaterialRow.active.is_(True))


def _has(part: str) -> ColumnElement[bool]:
    return func.instr(MaterialRow.words, part) > 0


def _rank(typed: str, words: tuple[str, ...]) -> ColumnElement[int]:
    """0 for the exact code, then codes, then words that begin with what was typed, then the rest."""
    beginnings = [_has(f" {word}") for word in words]
    return case(
        (MaterialRow.code == typed, 0),
        (MaterialRow.code.istartswith(typed, autoescape=True), 1),
        (and_(true(), *beginnings), 2),
        else_=3,
    )
