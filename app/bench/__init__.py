"""The bench: what is set, marked and cut on the shop's mat cutter, and in which order.

Pure arithmetic by the handbook's rules B. It takes a piece that is worked out and a cutter that is
described, and answers settings, marks, limits, the order of work and corrections.
"""

from app.bench.calibration import Correction, Measured, correct
from app.bench.cuts import Cut, Mark, by_stops, cuts_of
from app.bench.cutter import CUT_LENGTHS, Cutter, Reads, Stroke, usual_cutter, usual_scale
from app.bench.day import Apart, DayPlan, plan_day
from app.bench.day_steps import SettingOfDay, StandOfDay, StepOfDay, StepsOfDay, steps_of_day
from app.bench.described import contradictions, doubtful
from app.bench.edge import Edge
from app.bench.limits import Limit, can_cut, limit_notices, limits_of
from app.bench.marks import BoardBox, BoardPoint, CutLine, GuideLine, Marks, marks_of
from app.bench.mats import MatToCut, NamedWindow, mats_to_cut
from app.bench.measured_window import MeasuredWindow, SlipJob, placed_by
from app.bench.scale import PinRow, Scale, rule_in
from app.bench.settings import BY_STRAIGHT_EDGE, GuidePlan, Setting, plan_settings
from app.bench.sizing import ArmSetting, Blank, BlankSides, Side, Sizing, sized_on_arm, sizing
from app.bench.slip import Cure, CureKind, Slip, slip_of
from app.bench.slip_effects import margins_of
from app.bench.step import ExtraWork, StageOffer, Step, StepCode, StepDetail, StepJob, StepPart
from app.bench.stops import StopPlaces, Stops
from app.bench.work import order_of_work, step_after

__all__ = [
    "BY_STRAIGHT_EDGE",
    "CUT_LENGTHS",
    "Apart",
    "ArmSetting",
    "Blank",
    "BlankSides",
    "BoardBox",
    "BoardPoint",
    "Correction",
    "Cure",
    "CureKind",
    "Cut",
    "CutLine",
    "Cutter",
    "DayPlan",
    "Edge",
    "ExtraWork",
    "GuideLine",
    "GuidePlan",
    "Limit",
    "Mark",
    "Marks",
    "MatToCut",
    "Measured",
    "MeasuredWindow",
    "NamedWindow",
    "PinRow",
    "Reads",
    "Scale",
    "Setting",
    "SettingOfDay",
    "Side",
    "Sizing",
    "Slip",
    "SlipJob",
    "StageOffer",
    "StandOfDay",
    "Step",
    "StepCode",
    "StepDetail",
    "StepJob",
    "StepOfDay",
    "StepPart",
    "StepsOfDay",
    "StopPlaces",
    "Stops",
    "Stroke",
    "by_stops",
    "can_cut",
    "contradictions",
    "correct",
    "cuts_of",
    "doubtful",
    "limit_notices",
    "limits_of",
    "margins_of",
    "marks_of",
    "mats_to_cut",
    "order_of_work",
    "placed_by",
    "plan_day",
    "plan_settings",
    "rule_in",
    "sized_on_arm",
    "sizing",
    "slip_of",
    "step_after",
    "steps_of_day",
    "usual_cutter",
    "usual_scale",
]
