"""The bench of a piece as JSON: settings in the order of work, marks of each mat, limits (B1 to B5)."""

from collections.abc import Mapping
from typing import Any

from app.bench import (
    CutLine,
    Cutter,
    GuidePlan,
    Mark,
    MatToCut,
    Point,
    Setting,
    limit_notices,
    marks_of,
    mats_to_cut,
    plan_settings,
)
from app.errors import Invalid
from app.framing import Concern, Dimensions, Notice
from app.lengths import Length, Unit, exact_text

Tree = dict[str, Any]


def bench_json(cut: Dimensions, cutter: Cutter) -> Tree:
    """The answer's tree. cut: in the shop's steps; what is left of it to cut may be nothing."""
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
    text = _Texts(unit)
    return {
        "cutter": plan.cutter.name,
        "scale": plan.cutter.unit.value,
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
    return [{"code": n.code, "message": n.message, "concern": n.concern.value} for n in notices]


class _Texts:
    """Writes the bench in one unit, exact."""

    def __init__(self, unit: Unit) -> None:
        self.unit = unit

    def of(self, length: Length) -> str:
        return exact_text(length, self.unit)

    def setting(self, setting: Setting) -> Tree:
        return {
            "number": setting.number,
            "at": self.of(setting.at),
            "pin": None if setting.pin is None else self.of(setting.pin),
            "rest": self.of(setting.rest),
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
                {"edge": line.edge.value, "distance": self.of(line.distance)}
                for line in marks.guide_lines
            ],
            "cuts": [self._cut(line) for line in marks.cut_lines],
        }

    def _cut(self, line: CutLine) -> Tree:
        return {
            "window": line.cut.window.name,
            "edge": line.cut.edge_as_it_lies.value,
            "line": self.of(line.cut.distance),
            "start": self._mark(line.from_start),
            "end": self._mark(line.from_end),
            "begins": self._point(line.begins),
            "ends": self._point(line.ends),
        }

    def _mark(self, mark: Mark) -> Tree:
        return {"edge": mark.edge.value, "distance": self.of(mark.distance)}

    def _point(self, point: Point) -> Tree:
        return {"x": self.of(point.x), "y": self.of(point.y)}
