"""The bench of a piece as JSON: settings in the order of work, marks of each mat, limits (B1 to B5)."""

from collections.abc import Mapping
from typing import Any

from app.bench import (
    BoardPoint,
    CutLine,
    Cutter,
    GuidePlan,
    Mark,
    MatToCut,
    Scale,
    Setting,
    limit_notices,
    marks_of,
    mats_to_cut,
    plan_settings,
)
from app.errors import Invalid
from app.framing import Concern, Dimensions, Notice
from app.lengths import ZERO, Length, Unit, exact_text
from app.web.api.responses_bench import NoticeAnswered

Tree = dict[str, Any]


def bench_json(cut: Dimensions, cutter: Cutter) -> Tree:
    """The answer's tree, in the unit of the cutter's scale.

    cut: in the shop's steps; what is left of it to cut may be nothing.
    """
    unit = cut.spec.unit
    try:
        mats = mats_to_cut(cut)
    except Invalid as invalid:
        nothing = Notice(code="nothing-to-cut", message=invalid.message, concern=Concern.RISK)
        return _tree((), plan_settings((), cutter), (nothing,), unit)
    plan = plan_settings(mats, cutter, ticket=unit)
    return _tree(mats, plan, limit_notices(mats, cutter, unit), unit)


def _tree(
    mats: tuple[MatToCut, ...], plan: GuidePlan, limits: tuple[Notice, ...], unit: Unit
) -> Tree:
    scale = plan.cutter.scale
    text = _Texts(scale, unit)
    return {
        "cutter": plan.cutter.name,
        "scale": scale.unit.value,
        "check_unit": scale.other.value,
        "begins_at": text.of(plan.begins_at),
        "moves": plan.moves,
        "travel": text.of(plan.travel),
        "proven": plan.proven,
        "settings": [text.setting(setting) for setting in plan.settings],
        "marks": [text.marks(mat, plan.cutter) for mat in mats],
        "limits": notices_json(limits),
        "notices": notices_json(plan.notices),
    }


def notices_json(notices: tuple[Notice, ...]) -> list[Mapping[str, str]]:
    """Notices as the contract has them, with how each is meant."""
    return [NoticeAnswered.of(notice).plain() for notice in notices]


class _Texts:
    """Writes the bench as a scale reads it; coordinates exact. ticket: the unit of the request."""

    def __init__(self, scale: Scale, ticket: Unit) -> None:
        self.scale, self.ticket = scale, ticket

    def of(self, length: Length) -> str:
        """A length in the unit of the scale, exact."""
        return exact_text(length, self.scale.unit)

    def mark(self, length: Length) -> str:
        """A setting or a mark, in the steps of the scale."""
        return self.of(self.scale.nearest(length))

    def check(self, length: Length) -> str:
        """Its check value in the other unit."""
        return exact_text(self.scale.checked(length), self.scale.other)

    def setting(self, setting: Setting) -> Tree:
        return {
            "number": setting.number,
            "at": self.mark(setting.at),
            "check": self.check(setting.at),
            "pin": None if setting.pin is None else self.mark(setting.pin),
            "rest": self.of(setting.at - self.scale.nearest(setting.pin or ZERO)),
            "cuts": [
                {
                    "layer": cut.mat.layer,
                    "window": cut.window.name,
                    "edge": cut.edge_as_it_lies.value,
                    "seen": cut.edge.value,
                }
                for cut in setting.cuts
            ],
        }

    def marks(self, mat: MatToCut, cutter: Cutter) -> Tree:
        marks = marks_of(mat, cutter)
        return {
            "layer": mat.layer,
            "back_up": marks.back_up,
            "width": self.of(marks.size.width),
            "height": self.of(marks.size.height),
            "guide_lines": [
                {
                    "edge": line.edge.value,
                    "distance": self.mark(line.distance),
                    "check": self.check(line.distance),
                }
                for line in marks.guide_lines
            ],
            "cuts": [self._cut(line) for line in marks.cut_lines],
        }

    def _cut(self, line: CutLine) -> Tree:
        return {
            "window": line.cut.window.name,
            "edge": line.cut.edge_as_it_lies.value,
            "line": self.mark(line.cut.distance),
            "start": self._mark(line.from_start),
            "end": self._mark(line.from_end),
            "begins": self._point(line.begins),
            "ends": self._point(line.ends),
        }

    def _mark(self, mark: Mark) -> Tree:
        """With its check value where the request has another unit than the scale (L3)."""
        tree = {"edge": mark.edge.value, "distance": self.mark(mark.distance)}
        if self.ticket is not self.scale.unit:
            tree["check"] = self.check(mark.distance)
        return tree

    def _point(self, point: BoardPoint) -> Tree:
        return {"x": self.of(point.x), "y": self.of(point.y)}
