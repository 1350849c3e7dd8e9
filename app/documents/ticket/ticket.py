"""The workshop ticket: one page a piece, from which every part can be cut right.

Owns the ticket's page model. All figures are in the piece's one unit; cut sizes in the shop's
steps (L2, L3); only what is set and marked at the cutter is in the unit of its scale. Prices do not stand on a
ticket.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType

from app.documents.kit.arm_rows import arm_rows_for
from app.documents.kit.page_code import page_code
from app.documents.kit.pdf import PageSetting, fit, in_parts, sheets_for
from app.documents.kit.pictures import front_image, in_words
from app.documents.kit.printing import Figures, page_html
from app.documents.ticket.checks import SAID_IN_CHECKS, Check, checks_of, hardware_to_take
from app.documents.ticket.cut_list import CutListBasis, cut_list
from app.documents.ticket.guide_work import GuideWork, guide_work
from app.documents.ticket.layout import Drawn, settings_for
from app.documents.ticket.mat_plans import LyingMats, ends_of, mat_plans, places_of
from app.documents.ticket.page import CutPart, TicketPage, tally_of
from app.documents.ticket.version import UNNOTED, VersionMark, said_of_change, version_mark
from app.documents.ticket.work import FIRST, TOGETHER, TicketPlace, Words, ticked_at, words_by_place
from app.errors import Conflict, NotFound
from app.framing import Notice
from app.orders import Order, Paper, Piece, Shop
from app.orders.artwork_size import artwork_size
from app.orders.hanging_parts import NO_HARDWARE, Hardware
from app.orders.piece_report import Findings, findings
from app.orders.printed import TicketVersion
from app.orders.workbench import Workbench, notices_at_shop, workbench

type Versions = Mapping[int, TicketVersion | None]
"""Which print each ticket is, by the number of its piece."""

SHEETS = ("ticket", "ticket-cut", "ticket-work")
"""Style sheets of a ticket."""

MOST_PAGES = 20
"""More than this no ticket of one piece has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """Whose ticket, where phones reach the app (None: they do not), and the day it is printed.

    hardware: of the price book. versions: which print each piece's ticket is, by its number; None of one that could not
    be noted, and none where prints are not noted at all.
    """

    shop: Shop
    phone_url: str | None
    today: date
    hardware: Hardware = NO_HARDWARE
    versions: Versions = MappingProxyType({})

    def mark(self, number: int) -> VersionMark | None:
        """Tell which print the ticket of a piece is, as it stands at its head."""
        if number not in self.versions:
            return None
        version = self.versions[number]
        return version_mark(version, self.today) if version else UNNOTED


def ticket_pdf(  # noqa: PLR0913 - each is one plain word of what is printed, and where
    order: Order,
    shop: Shop,
    pieces: Sequence[int] | None,
    *,
    paper: Paper,
    phone_url: str | None,
    today: date,
    hardware: Hardware = NO_HARDWARE,
    versions: Versions = MappingProxyType({}),
) -> bytes:
    """Return the tickets of an order's pieces, in their order; None is every piece still on the way.

    phone_url: where phones reach the app, None while they do not. hardware: of the price book today.
    versions: as `Printing` has them. Raises: Conflict where no piece is left to print; NotFound for a number that the order has not;
    Invalid for a piece that cannot be cut in its steps; PdfUnavailable.
    """
    printing = Printing(
        shop=shop, phone_url=phone_url, today=today, hardware=hardware, versions=versions
    )
    sheets = sheets_for(paper, *SHEETS)
    chosen = pieces_to_print(order, pieces)
    laid_out = (
        fit(_settings_of(order, piece, printing, paper), sheets, most=MOST_PAGES)
        for piece in chosen
    )
    return in_parts(laid_out, len(chosen))


def pieces_to_print(order: Order, pieces: Sequence[int] | None) -> tuple[Piece, ...]:
    """Return the pieces asked for. Raises: Conflict, NotFound."""
    if pieces is None:
        chosen = order.counting
        if not chosen:
            raise Conflict(f"{order.number} has no piece that is still to be made; add one first.")
        return chosen
    numbers = {piece.number: piece for piece in order.pieces}
    missing = [number for number in pieces if number not in numbers]
    if missing or not pieces:
        has = ", ".join(map(str, numbers)) or "none"
        asked = ", ".join(map(str, missing)) or "none"
        raise NotFound(f"Piece {asked} of {order.number} was asked for; it has: {has}.")
    return tuple(numbers[number] for number in pieces)


def _settings_of(
    order: Order, piece: Piece, printing: Printing, paper: Paper
) -> Iterator[PageSetting]:
    for page in ticket_pages(order, piece, printing, paper):
        yield PageSetting(html=page_html("ticket.html", page), pages=page.pages, style=page.style)


def ticket_pages(
    order: Order, piece: Piece, printing: Printing, paper: Paper
) -> Iterator[TicketPage]:
    """Return the ticket of one piece in every setting to try, each made when it is asked for."""
    making = _Making.of(order, piece, printing)
    page = making.page()
    drawn = Drawn(
        front=making.found.exact.outside,
        mats=[mat.reference for mat in making.bench.mats],
        openings=[
            mat.windows[0].size.width if len(mat.windows) == 1 else None
            for mat in making.bench.mats
        ],
    )
    for setting in settings_for(page, drawn, paper):
        plans = mat_plans(making.lying, room=setting.plan)
        yield replace(page, setting=setting, plans=plans)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Making:
    """What a ticket is made of."""

    order: Order
    piece: Piece
    printing: Printing
    found: Findings
    bench: Workbench
    figures: Figures
    lying: LyingMats

    @classmethod
    def of(cls, order: Order, piece: Piece, printing: Printing) -> "_Making":
        found = findings(piece.artwork, piece.agreed, printing.shop, printing.hardware)
        bench = workbench(piece.agreed, found, printing.shop)
        figures = Figures(piece.agreed.steps)
        return cls(
            order=order,
            piece=piece,
            printing=printing,
            found=found,
            bench=bench,
            figures=figures,
            lying=LyingMats(bench=bench, figures=figures, word=printing.shop.mat_word.value),
        )

    @property
    def word(self) -> str:
        return self.printing.shop.mat_word.value

    def page(self) -> TicketPage:
        """Return the ticket without the drawings of its mats, which are made for the room that is left."""
        order, piece, figures, found = self.order, self.piece, self.figures, self.found
        words = words_by_place(self.bench.steps, self._notices())
        guide = guide_work(self.bench, figures, self.word)
        path = f"/orders/{order.id}/pieces/{piece.number}"
        count = order.called(piece)
        return TicketPage(
            lang="en",
            title=f"Workshop ticket {order.number}, {count}",
            number=order.number,
            count=count,
            tally=tally_of(piece.copies),
            customer=order.customer_name,
            artwork=" · ".join(filter(None, (piece.artwork.title, piece.artwork.kind.value))),
            artwork_size=artwork_size(piece.agreed.spec, mark=False, on_rule=True),
            place=piece.artwork.place,
            due=order.due,
            rush=bool(piece.agreed.price.rush),
            unit_name=figures.unit_name,
            unit_line=_unit_line(figures, guide),
            check_name=figures.check_name,
            mats_name=f"{self.word.capitalize()}s at the cutter",
            front=front_image(piece.artwork, piece.agreed.chosen, found.exact),
            front_words=in_words(found.exact),
            exchanged=all(mat.back_up for mat in self.bench.mats),
            plans=(),
            places=places_of(self.lying),
            ends=ends_of(self.lying),
            before=self._before(words[TicketPlace.BEFORE]),
            first=tuple(ticked_at(FIRST, self.bench.steps, words)),
            arm=(
                arm_rows_for(self.bench.sizing.settings, self.bench.cutter.scale, figures.unit)
                if self.bench.sizing
                else ()
            ),
            cuts=tuple(self._cuts(words)),
            guide=guide,
            at_cutter=words[TicketPlace.CUTTER],
            checks=(
                *checks_of(piece.agreed, found, figures),
                *(
                    Check(name=detail.name, text=detail.text)
                    for step in self.bench.steps
                    for detail in step.details
                ),
                *self._reminders(),
            ),
            work=tuple(ticked_at(TOGETHER, self.bench.steps, words)),
            code=page_code(self.printing.phone_url, path),
            version=self.printing.mark(piece.number),
            printed=self.printing.today,
        )

    def _before(self, words: Words) -> Words:
        """Return what is read before the work begins, first of all what has changed (M7)."""
        version = self.printing.versions.get(self.piece.number)
        changed = tuple(said_of_change(version)) if version else ()
        return replace(words, remarks=(*changed, *words.remarks))

    def _notices(self) -> Iterator[Notice]:
        """Return notices of the piece, of the shop's cutter and of its settings.

        What is said loudly, or stands among the checks, is not repeated.
        """
        of_piece = notices_at_shop(self.found, self.printing.shop, self.bench.limits)
        yield from (one for one in of_piece if one.code not in SAID_IN_CHECKS)
        plan = self.bench.plan
        yield from (one for one in (plan.notices if plan else ()) if one.code != "two-scales")

    def _cuts(self, words: dict[TicketPlace, Words]) -> Iterator[CutPart]:
        """Return the cut list; words stand behind the last group of their place."""
        groups = cut_list(
            CutListBasis(
                agreed=self.piece.agreed,
                found=self.found,
                figures=self.figures,
                mat_word=self.word,
                saw_loss=self.printing.shop.saw_loss,
            )
        )
        for group, following in zip(groups, (*groups[1:], None), strict=True):
            here = following is None or following.place is not group.place
            behind = here and group.place is not TicketPlace.CUTTER
            yield CutPart(group=group, words=words[group.place] if behind else Words())

    def _reminders(self) -> Iterator[Check]:
        """Return what to take from the drawers, and what was written down."""
        take = hardware_to_take(self.piece.agreed, self.found, self.printing.hardware)
        for name, text in (
            ("Take", " · ".join(take)),
            ("Condition", self.piece.artwork.condition),
            ("Note to the piece", self.piece.agreed.note),
            ("Note", self.order.note),
        ):
            if text:
                yield Check(name=name, text=text)


def _unit_line(figures: Figures, guide: GuideWork | None) -> str:
    """Say the one unit of the ticket, and that of the guide's scale where it is another (L3)."""
    if guide is None or not guide.loud:
        return f"Every figure on this ticket is in {figures.unit_name}"
    return f"In {figures.unit_name}, but the guide’s settings and marks in {guide.scale}"
