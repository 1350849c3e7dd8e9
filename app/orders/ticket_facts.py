"""What a workshop ticket says of a piece, by which something is cut or taken: sizes, materials, settings, marks (M7).

Sizes are those of the ticket, in the shop's steps and the piece's unit; settings and marks as the cutter's scale of that
unit reads, or its only one (B8).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from app.bench import Cut, CutLine, GuidePlan, Mark, Setting, marks_of
from app.framing import Dimensions, Layer, Presentation, Shape, Window
from app.framing.placing import carrying_board, placed_artworks
from app.framing.spec import Core
from app.lengths import Size, Unit, show_for_record, show_on_rule
from app.orders.dimensions_memo import as_cut
from app.orders.order import Agreed, Order, Piece
from app.orders.printed import FactKind, TicketFact, TicketFacts
from app.orders.shop import Shop
from app.orders.workbench import mats_and_settings
from app.pricing import ChosenCount, Material


def ticket_facts(agreed: Agreed, shop: Shop) -> TicketFacts:
    """Return everything that a ticket of an agreed piece says at the shop's cutter of today (M7).

    Raises: Invalid where it cannot be cut in the shop's steps.
    """
    cut = as_cut(agreed.spec, agreed.steps)
    cutter = shop.cutter_in(cut.spec.unit)
    mats, plan = mats_and_settings(cut, cutter)
    facts = _PieceFacts(agreed, cut, shop.mat_word.value)
    at_cutter: list[TicketFact] = []
    if plan is not None:
        at_cutter += (fact for setting in plan.settings for fact in facts.guide(plan, setting))
        at_cutter += facts.by_straight_edge(plan)
        for mat in mats:
            for line in marks_of(mat, cutter).cut_lines:
                at_cutter += facts.mark(plan, line)
    of_piece = TicketFacts((*facts.parts(), *at_cutter))
    return of_piece.and_of(FactKind.PLACE, facts.places())


def facts_of(order: Order, agreed: Agreed, shop: Shop) -> TicketFacts:
    """Return the same with what a ticket bears of its order: the number, the day it is due and the note (M7).

    Raises: as `ticket_facts` does.
    """
    return with_order(ticket_facts(agreed, shop), head_of(order))


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderHead:
    """What a ticket bears of its order."""

    number: str
    due: date | None
    note: str


def head_of(order: Order) -> OrderHead:
    """Return what a ticket bears of an order."""
    return OrderHead(number=order.number, due=order.due, note=order.note)


def with_order(facts: TicketFacts, head: OrderHead) -> TicketFacts:
    """Return facts of a piece with those of its order."""
    return facts.and_of(FactKind.ORDER, _of_order(head))


def printed_facts(order: Order, piece: Piece, shop: Shop) -> TicketFacts:
    """Return everything that stands on the ticket of a piece and can change: of it, its order and its artwork (M7).

    Raises: as `ticket_facts` does.
    """
    facts = facts_of(order, piece.agreed, shop)
    return facts.and_of(FactKind.PIECE, _of_piece(order, piece))


def _of_piece(order: Order, piece: Piece) -> Iterator[TicketFact]:
    artwork = piece.artwork
    for part, name, side, says in (
        ("of-pieces", "which of the order", "", order.called(piece)),
        ("customer", "customer", "", order.customer_name),
        ("title", "title", "", artwork.title),
        ("artwork-kind", "kind of artwork", "", artwork.kind.value),
        ("kept-at", "place", "", artwork.place),
        ("rush", "rush", "", "Rush" if piece.agreed.price.rush else ""),
        ("condition", "condition", "of the artwork", artwork.condition),
    ):
        if said := " ".join(says.split()):
            yield TicketFact(part=part, name=name, side=side, says=said, kind=FactKind.PIECE)


def _of_order(head: OrderHead) -> Iterator[TicketFact]:
    note = " ".join(head.note.split())
    due = f"{head.due:%a} {head.due.day} {head.due:%b %Y}" if head.due else ""
    for part, name, side, says in (
        ("number", "order", "", head.number),
        ("due", "due day", "", due),
        ("order-note", "notes", "to the order", note),
    ):
        if says:
            yield TicketFact(part=part, name=name, side=side, says=says, kind=FactKind.ORDER)


@dataclass(frozen=True, slots=True)
class _PieceFacts:
    """Says the facts of one piece."""

    agreed: Agreed
    cut: Dimensions
    word: str

    @property
    def unit(self) -> Unit:
        return self.agreed.steps.unit

    def parts(self) -> Iterator[TicketFact]:
        """Sizes and materials, in the order of the work."""
        unit = "millimetres" if self.unit is Unit.MM else "inches"
        yield _fact("unit", "figures", f"in {unit}")
        if self.agreed.copies > 1:
            yield _fact("copies", "how many", f"{self.agreed.copies} alike")
        yield _fact("artwork", "artwork", _size(self.agreed.spec.artwork, self.unit))
        for layer in self.cut.layers:
            yield from self._mat(layer)
        yield from self._fillet()
        yield from self._panels()
        yield from self._spacers()
        yield from self._frames()
        chosen = self.agreed.chosen
        for part, taken in (("hardware", chosen.hardware), ("extras", chosen.extras)):
            if taken:
                yield _fact(part, part, _counted(taken))
        if self.agreed.note:
            # With a side, so that paper only says that they are new: they stand on it in full.
            yield _fact("note", "notes", " ".join(self.agreed.note.split()), side="to the piece")

    def _mat(self, layer: Layer) -> Iterator[TicketFact]:
        number = layer.layer
        mat, part = self._named(number), f"mat-{number}"
        of = f" of {mat}" if len(self.cut.layers) > 1 else ""
        core = self.cut.spec.mats[number - 1].core
        board = _material(self.agreed.chosen.mats[number - 1])
        cored = board if core is Core.WHITE else f"{board}, {core} core"
        yield _fact(f"{part}-board", f"board of {mat}", cored)
        yield _fact(part, mat.removeprefix("the "), _size(layer.blank, self.unit))
        for side, border in layer.borders.sides():
            text = show_for_record(border, self.unit)
            yield _fact(f"{part}-border-{side}", f"borders{of}", text, side=side)
        windows = self.cut.windows_of(number)
        for window in windows:
            yield self._window(window, of, part, several=len(windows) > 1)

    def _window(self, window: Window, of: str, part: str, *, several: bool) -> TicketFact:
        name = f"window {window.name}" if several else "window"
        shaped = "" if window.shape is Shape.RECTANGLE else f", {window.shape}"
        rise = "" if window.rise is None else f" rising {show_for_record(window.rise, self.unit)}"
        says = _size(window.size, self.unit) + shaped + rise
        return _fact(f"{part}-window-{window.name if several else ''}", f"{name}{of}", says)

    def _fillet(self) -> Iterator[TicketFact]:
        material = self.agreed.chosen.fillet
        if material is not None and self.cut.fillets:
            yield _fact("fillet-moulding", "fillet", _material(material))
            lengths = ((rails.long, rails.count) for rails in self.cut.fillet_rails)
            says = " / ".join(
                f"{count} × {show_for_record(long, self.unit)}" for long, count in lengths
            )
            yield _fact("fillet", "rails of the fillet", says)

    def _panels(self) -> Iterator[TicketFact]:
        cut, chosen = self.cut, self.agreed.chosen
        for part, material, size in (
            ("glazing", chosen.glazing, cut.glazing),
            ("mount board", chosen.mount_board, cut.mount_board),
            ("backing", chosen.backing, cut.backing),
        ):
            if material is not None and size is not None:
                yield _fact(f"{part}-sheet", f"sheet of the {part}", _material(material))
                yield _fact(part, part, _size(size, self.unit))

    def _spacers(self) -> Iterator[TicketFact]:
        material, spacer = self.agreed.chosen.spacer, self.agreed.spec.spacer
        if material is not None and spacer is not None:
            deep, wide = (
                show_for_record(spacer.depth, self.unit),
                show_for_record(spacer.width, self.unit),
            )
            strip = f"{_material(material)}, {deep} deep, {wide} wide"
            yield _fact("spacers-strip", "strip of the spacers", strip)
            strips = self.cut.spacers
            says = " / ".join(
                f"{count} × {show_for_record(length, self.unit)}" for length, count in strips
            )
            yield _fact("spacers", "spacers", says)

    def _frames(self) -> Iterator[TicketFact]:
        tray = self.agreed.spec.presentation is Presentation.CANVAS_FLOAT
        frames = zip(self.cut.frames, self.agreed.chosen.frames, strict=True)
        for number, (sizes, material) in enumerate(frames, start=1):
            if tray and number == 1:
                of = " of the tray"
            else:
                of = f" of frame {number}" if len(self.cut.frames) > 1 else ""
            says = " / ".join(show_for_record(long, self.unit) for long in sizes.long_points)
            yield _fact(f"frame-{number}-moulding", f"moulding{of}", _material(material))
            yield _fact(f"frame-{number}", f"rails{of}", says)

    def places(self) -> Iterator[TicketFact]:
        """Yield where artworks lie on their board, equal places of several together (G25)."""
        placed = placed_artworks(self.cut)
        if not placed:
            return
        board, _ = carrying_board(self.cut)
        nearest = self.agreed.steps.nearest
        says = "; ".join(
            f"{each.name} left {show_on_rule(nearest(each.left), self.unit)}, "
            f"top {show_on_rule(nearest(each.top), self.unit)}".lstrip()
            for each in placed
        )
        yield TicketFact(
            part="artwork-place",
            name="place of the artwork",
            says=f"{says} on the {board}",
            kind=FactKind.PLACE,
        )

    def guide(self, plan: GuidePlan, setting: Setting) -> Iterator[TicketFact]:
        """Yield where the guide stands for each edge that is cut at a setting (B1, B2)."""
        says = plan.text(setting.at) + self._other_unit(plan)
        if setting.pin is not None:
            rest = plan.rest_text(setting)
            says += f" (pin {plan.text(setting.pin)}{rest and f' + {rest}'})"
        for cut in setting.cuts:
            yield self._at_edge(cut, FactKind.GUIDE, "guide for", says)

    def by_straight_edge(self, plan: GuidePlan) -> Iterator[TicketFact]:
        """Yield each edge for which the guide is not set, since the cutter cannot make it (B4)."""
        for cut in plan.by_straight_edge:
            yield self._at_edge(cut, FactKind.GUIDE, "guide for", "by straight-edge")

    def mark(self, plan: GuidePlan, line: CutLine) -> Iterator[TicketFact]:
        """Yield where the line of a cut runs, where it starts and ends (B5), and where stops bind it (B9).

        A cut that stops bind at both ends has no marks.
        """
        scale, cut = plan.marked_on(self.unit), line.cut

        def place(mark: Mark, *, to_mark: bool) -> str:
            return f"{scale.text(mark.distance)} from the {mark.edge}" if to_mark else "the stop"

        if cut.start_to_mark or cut.end_to_mark:
            start = place(line.from_start, to_mark=cut.start_to_mark)
            end = place(line.from_end, to_mark=cut.end_to_mark)
            says = f"{scale.text(cut.distance)}, {start} to {end}{self._other_unit(plan)}"
            yield self._at_edge(cut, FactKind.MARK, "marks of", says)
        if cut.stops.any_set:
            says = plan.stops_text(cut.stops) + self._other_unit(plan)
            yield self._at_edge(cut, FactKind.STOPS, "stops for", says)

    def _other_unit(self, plan: GuidePlan) -> str:
        """Return the unit of what is set and marked, where it is not the ticket's (L3)."""
        unit = plan.marked_on(self.unit).unit
        return "" if unit is self.unit else f" {unit}"

    def _at_edge(self, cut: Cut, kind: FactKind, what: str, says: str) -> TicketFact:
        """Return a fact of one cut, its edge as the mat lies on the cutter."""
        window = cut.window.name if len(cut.mat.windows) > 1 else ""
        edge = cut.edge_as_it_lies
        return TicketFact(
            part=f"{kind}-{cut.mat.layer}-{window}-{edge}",
            name=f"{what} {self._named(cut.mat.layer)}",
            side=f"{window} {edge}".strip(),
            says=says,
            kind=kind,
        )

    def _named(self, layer: int) -> str:
        return f"{self.word} {layer}" if len(self.cut.layers) > 1 else f"the {self.word}"


def _fact(part: str, name: str, says: str, *, side: str = "") -> TicketFact:
    return TicketFact(part=part, name=name, says=says, side=side)


def _material(material: Material) -> str:
    return f"{material.code} {material.name}"


def _counted(taken: Iterable[ChosenCount]) -> str:
    return ", ".join(f"{each.count} × {_material(each.material)}" for each in taken)


def _size(size: Size, unit: Unit) -> str:
    return f"{show_for_record(size.width, unit)} × {show_for_record(size.height, unit)}"
