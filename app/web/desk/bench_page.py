"""The desk of a phone at the bench: open pieces by the day they are due, each a link to its work."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import ClassVar

from app.documents.kit.pictures import in_lists
from app.orders import Stage
from app.storage import KeptPiece
from app.web.desk.page import PrintAgain, due_words
from app.web.kit.listing import ChipRow, Listing, ListQuery, choice
from app.web.kit.templating import Page
from app.web.pieces.together_address import TOGETHER


class ToDo(StrEnum):
    """What is still to be done to a piece, by the stage at which it stands."""

    CUT = "cut"
    FINISH = "finish"

    @property
    def stage(self) -> Stage:
        """The stage before it."""
        return Stage.ORDERED if self is ToDo.CUT else Stage.CUT


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchDeskQuery(ListQuery):
    """What the address of the desk asks for."""

    path: ClassVar[str] = "/"
    todo: ToDo | None = choice(ToDo)

    @property
    def stage(self) -> Stage | None:
        """The stage that is asked for, None for all."""
        return self.todo.stage if self.todo else None

    def chips(self) -> ChipRow:
        """Return the filters: all, to cut, to finish."""
        ways = ((None, "All"), (ToDo.CUT, "To cut"), (ToDo.FINISH, "To finish"))
        return ChipRow(label="What is to be done", chips=self.choices("todo", ways))


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """A piece to work on. photo: the address of a small picture of its artwork, blank where there is none. when: the day it is due as one says it today; late: whether that stands out."""

    href: str
    photo: str
    name: str
    title: str
    customer: str
    when: str
    late: bool
    stage: Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchDeskPage(Page):
    """The open pieces, a page at a time. print_again: those whose printed tickets do not hold any more."""

    title: str = "Desk"
    section: str = "Desk"
    heading: str
    listing: Listing[PieceLine]
    print_again: tuple[PrintAgain, ...]
    together: str = f"{TOGETHER}/choose"


def piece_lines(
    pieces: Iterable[KeptPiece], today: date, photos: Mapping[int, str]
) -> Iterator[PieceLine]:
    """Yield the lines of some pieces. photos: ids of their pictures, by the ids of the pieces."""
    for piece in pieces:
        ref = piece.ref
        photo = photos.get(ref.piece_id)
        yield PieceLine(
            href=f"/orders/{ref.order_id}/pieces/{ref.number}",
            photo=in_lists(photo) if photo else "",
            name=ref.name,
            title=ref.title or "Untitled",
            customer=ref.customer,
            when=due_words(ref.due, today),
            late=ref.due is not None and ref.due < today,
            stage=piece.stage,
        )
