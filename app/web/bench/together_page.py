"""The page of pieces that are cut together: by setting of the guide, each edge named by piece, mat and window."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from app.bench import Setting, SettingOfDay, StandOfDay, StepOfDay, marks_of
from app.documents.kit.arm_rows import ArmRow
from app.documents.kit.printing import Figures
from app.documents.ticket.together import (
    alike_in_words,
    arm_rows_of,
    boards_of,
    cautions_of,
    step_in_words,
)
from app.drawings import back_marks
from app.framing import Notice
from app.framing.layer_names import numbered
from app.orders import Shop
from app.orders.cut_together import (
    CutTogether,
    PieceTogether,
    notices_together,
    proven_in_words,
    saving_in_words,
)
from app.services.bench import AtBench, PieceAt
from app.services.cut_together import AtCutter, StepAt, said_of
from app.web.bench.steps import StepList, StepView, TickLine, capital, steps_of
from app.web.kit.templating import Page
from app.web.pieces.cutter_panel import (
    MatMarks,
    Naming,
    SettingView,
    StopView,
    about_scale,
    edges_by_mat,
    mat_marks,
    setting_view,
    stop_views,
)
from app.web.pieces.together_address import (
    TOGETHER,
    NamedPieces,
    steps_in_box,
    together_at,
)

MOST_LEFT_OUT = 12
"""More sentences about pieces that are left out are only counted. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A box to tick for one step or several. steps: as the form names them. state: "true", "false" or "mixed"."""

    steps: str
    said: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LineTogether:
    """A step of a piece within the list. text: what is done; alike: "20 of these", or empty.

    box: None where the step goes on later, `later` says where. marks: the address that shows the
    marks of the piece; empty where none are made.
    """

    element: str
    name: str
    title: str
    text: str
    alike: str
    step: StepView
    box: Box | None
    later: str
    marks: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StandTogether:
    """What is cut while the stops stay. stops: those to set; none on a cutter without."""

    stops: tuple[StopView, ...]
    lines: tuple[LineTogether, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupTogether:
    """What is done in one go: blanks sized, boards marked, one move of the guide.

    heading: of what is done without the guide; at: where it is set, None else. arm: what is set on the squaring arm
    for it. stands: one, but for a cutter with stops. all: a box for all steps of it, None where there is only one;
    all_words: what that says.
    """

    element: str
    heading: str
    at: SettingView | None
    stands: tuple[StandTogether, ...]
    all: Box | None
    all_words: str
    arm: tuple[ArmRow, ...] = ()

    @property
    def lines(self) -> tuple[LineTogether, ...]:
        """The lines of all its stands."""
        return tuple(line for stand in self.stands for line in stand.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class TogetherPiece:
    """A piece of the list. mats: what is fetched for it. without: the address of the list without it."""

    name: str
    title: str
    customer: str
    href: str
    due: date | None
    place: str
    alike: str
    mats: tuple[str, ...]
    without: str
    marks: str
    marked: bool
    done_before: tuple[TickLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceMarks:
    """The marks of one piece's mats, with the settings of the whole list."""

    name: str
    title: str
    mats: tuple[MatMarks, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TogetherPage(Page):
    """The page of pieces that are cut together.

    left_out: why pieces that were named are not among them, in sentences. saving: what it saves, in words.
    unit, check_unit: of the scale and of its check values. action: where boxes are sent to. next: (element, words) of
    the first group that is not all ticked.
    """

    section: str = "Orders"
    wide: bool = True
    pieces: tuple[TogetherPiece, ...]
    left_out: tuple[str, ...]
    saving: str
    proven: str
    about: str
    cutter: str
    unit: str
    check_unit: str
    check_name: str
    notices: tuple[Notice, ...]
    cautions: tuple[str, ...]
    groups: tuple[GroupTogether, ...]
    marks: PieceMarks | None
    action: str
    paper: str
    more: str
    done: int
    of: int
    next: tuple[str, str] | None


def sentences(named: NamedPieces, at: AtCutter) -> tuple[str, ...]:
    """Return why what was named is not cut, a few sentences and how many more there are."""
    said = (*named.unread, *(each.why for each in at.left_out))
    if len(said) <= MOST_LEFT_OUT:
        return said
    return (*said[:MOST_LEFT_OUT], f"{len(said) - MOST_LEFT_OUT} more are left out.")


def together_fields(
    at: AtCutter, together: CutTogether, shop: Shop, marks: PieceAt | None
) -> dict[str, Any]:
    """Return the page's own fields. marks: the piece of which the marks are drawn."""
    return _Views(at, together, shop, marks).fields()


class _Views:
    """Makes the views of one list."""

    def __init__(
        self, at: AtCutter, together: CutTogether, shop: Shop, marks: PieceAt | None
    ) -> None:
        self.at, self.together, self.shop = at, together, shop
        self.pieces = {piece.name: piece for piece in together.pieces}
        self.places = {name: _place(piece) for name, piece in self.pieces.items()}
        self.marked = marks if marks in self.places.values() else None
        self.lists = {name: self._list(piece) for name, piece in self.pieces.items()}
        self.views = {
            (name, view.id): view for name, its in self.lists.items() for view in its.steps
        }
        self.done_at = {
            (each.piece, each.step.id): at.setting
            for at in together.steps.settings
            for each in at.steps
            if each.done
        }
        self.marks_at = {name: self._marks_at(name) for name in self.pieces}

    def fields(self) -> dict[str, Any]:
        day, steps = self.together.day, self.together.steps
        cutter = day.guide.cutter
        boxed = {(each.piece, each.step.id) for each in steps.all()}
        groups = tuple(self._groups())
        named = tuple(self.places.values())
        return {
            "pieces": tuple(self._piece(piece) for piece in self.pieces.values()),
            "saving": saving_in_words(self.together.day),
            "proven": proven_in_words(self.together.day),
            "about": about_scale(cutter),
            "cutter": cutter.name,
            "unit": cutter.unit.value,
            "check_unit": cutter.scale.other.value,
            "check_name": Figures(steps=self.shop.steps).check_name,
            "notices": notices_together(self.together),
            "cautions": cautions_of(self.together),
            "groups": groups,
            "marks": self._marks(),
            "action": together_at(named, self.marked, "/steps"),
            "paper": together_at(named, path="/list.pdf"),
            "more": together_at(named, path="/choose"),
            "done": sum(self.views[key].ticked for key in boxed),
            "of": len(boxed),
            "next": _next(groups),
        }

    def _list(self, piece: PieceTogether) -> StepList:
        lying = AtBench(
            order=piece.order,
            piece=piece.piece,
            found=piece.found,
            bench=piece.bench,
            ticks=self.at.ticks[piece.name],
        )
        return steps_of(lying, Figures(steps=piece.piece.agreed.steps), self._naming(piece))

    def _naming(self, piece: PieceTogether) -> Naming:
        word, count = self.shop.mat_word.value, len(piece.bench.mats)
        return lambda layer: numbered(word, layer, count)

    def _groups(self) -> Iterator[GroupTogether]:
        """Yield the groups in the order of the work; those in which nothing is done are left out."""
        steps = self.together.steps
        sizing, marking = "Size the blanks", "Mark the boards"
        sized = self._without_guide("size", sizing, "All blanks are sized", steps.sizing)
        yield replace(sized, arm=arm_rows_of(self.together, self.shop.mat_word.value))
        yield self._without_guide("mark", marking, "All boards are marked", steps.marking)
        for at in steps.settings:
            yield self._setting(at)
        if steps.after:
            yield self._without_guide("after", "Without the guide", "", steps.after)

    def _without_guide(
        self, name: str, heading: str, all_words: str, steps: Sequence[StepOfDay]
    ) -> GroupTogether:
        return GroupTogether(
            element=f"do-{name}",
            heading=heading,
            at=None,
            stands=(
                StandTogether(stops=(), lines=tuple(self._line(each, name) for each in steps)),
            ),
            all=self._box(steps) if all_words and len(steps) > 1 else None,
            all_words=all_words,
        )

    def _setting(self, at: SettingOfDay) -> GroupTogether:
        guide, setting = self.together.day.guide, at.setting
        stands = enumerate(at.stands, start=1)
        cuts = [each for each in at.steps if each.cuts and each.done]
        boards = sum(self.pieces[each.piece].piece.copies for each in cuts)
        return GroupTogether(
            element=f"setting-{setting.number}",
            heading="",
            at=setting_view(guide, setting, (), str),
            stands=tuple(self._stand(at.setting, number, stand) for number, stand in stands),
            all=self._box(cuts) if len(cuts) > 1 else None,
            all_words=f"All {boards} boards are cut at {guide.text(setting.at)}",
        )

    def _stand(self, setting: Setting, number: int, stand: StandOfDay) -> StandTogether:
        place = f"{setting.number}" if number == 1 else f"{setting.number}-{number}"
        return StandTogether(
            stops=stop_views(self.together.day.guide, stand.places),
            lines=tuple(self._line(each, place, setting) for each in stand.steps),
        )

    def _line(self, each: StepOfDay, place: str, setting: Setting | None = None) -> LineTogether:
        piece, at = self.pieces[each.piece], self.places[each.piece]
        return LineTogether(
            element=f"at-{place}-{at.order_id}-{at.number}-{each.step.id}",
            name=each.piece,
            title=piece.title,
            text=self._text(each, setting),
            alike=alike_in_words(piece),
            step=self.views[each.piece, each.step.id],
            box=self._box([each]) if each.done else None,
            later="" if each.done else self._done_at(each, setting),
            marks=self.marks_at[each.piece] if each.step.layers and not each.cuts else "",
        )

    def _text(self, each: StepOfDay, setting: Setting | None) -> str:
        guide, piece = self.together.day.guide, self.pieces[each.piece]
        if setting is None or not each.cuts:
            return step_in_words(each, piece, guide.cutter.scale.steps)
        found = edges_by_mat(each.cuts, self._naming(piece))
        return "; ".join(f"{capital(mat)}: {edges}" for mat, edges in found)

    def _done_at(self, each: StepOfDay, setting: Setting | None) -> str:
        """Tell where a step that is made at several stands is done."""
        at = self.done_at[each.piece, each.step.id]
        return "when the stops are set next" if at == setting else f"at setting {at.number}"

    def _box(self, steps: Iterable[StepOfDay]) -> Box:
        steps = tuple(steps)
        ticked = {self.views[each.piece, each.step.id].ticked for each in steps}
        return Box(
            steps=steps_in_box(
                StepAt(piece=self.places[each.piece], step=each.step.id) for each in steps
            ),
            said=said_of(each.step for each in steps),
            state="mixed" if len(ticked) > 1 else "true" if ticked == {True} else "false",
        )

    def _piece(self, piece: PieceTogether) -> TogetherPiece:
        at = self.places[piece.name]
        others = tuple(other for other in self.places.values() if other != at)
        return TogetherPiece(
            name=piece.name,
            title=piece.title,
            customer=piece.order.customer_name,
            href=f"/orders/{at.order_id}/pieces/{at.number}",
            due=piece.order.due,
            place=piece.piece.artwork.place,
            alike=alike_in_words(piece),
            mats=tuple(
                boards_of(
                    piece,
                    self.shop.mat_word.value,
                    self.together.day.guide.cutter.scale.steps,
                )
            ),
            without=together_at(others, self.marked) if others else TOGETHER,
            marks=self.marks_at[piece.name],
            marked=at == self.marked,
            done_before=self.lists[piece.name].before,
        )

    def _marks_at(self, name: str) -> str:
        return f"{together_at(self.places.values(), self.places[name])}#marks"

    def _marks(self) -> PieceMarks | None:
        found = next((n for n, at in self.places.items() if at == self.marked), None)
        if found is None:
            return None
        piece, guide = self.pieces[found], self.together.day.guide
        name = self._naming(piece)
        return PieceMarks(
            name=found,
            title=piece.title,
            mats=tuple(
                mat_marks(
                    mat,
                    guide.cutter,
                    piece.unit,
                    name=name(mat.layer),
                    drawing=back_marks(marks_of(mat, guide.cutter), guide, piece.unit),
                )
                for mat in piece.mats
            ),
        )


def _place(piece: PieceTogether) -> PieceAt:
    return PieceAt(order_id=piece.order.id, number=piece.piece.number)


def _next(groups: Sequence[GroupTogether]) -> tuple[str, str] | None:
    """Return the first group with a box that is not ticked."""
    for group in groups:
        if any(line.box and line.box.state != "true" for line in group.lines):
            words = group.heading if group.at is None else f"set the guide to {group.at.at}"
            return group.element, words
    return None
