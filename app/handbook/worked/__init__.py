"""The worked examples of the handbook, computed by the program's own arithmetic.

The rules carry their figures as they were worked by hand; here stands what a test holds them to, and what the page
shows for a shop with other allowances.
"""

from collections.abc import Callable, Mapping

from app.handbook.worked import bench, cutting, depth, geometry, lengths, money, price, printed
from app.handbook.worked.figures import Figures, Given

__all__ = ["WORKED", "Figures", "Given"]

WORKED: Mapping[str, Callable[[Given], Figures]] = {
    "L1": lengths.exact,
    "L2": lengths.in_steps,
    "L3": lengths.two_scales,
    "L4": lengths.as_said,
    "G1": geometry.window,
    "G2": geometry.floated,
    "G3": geometry.reveal,
    "G4": geometry.package,
    "G5": geometry.centred,
    "G6": geometry.window_that_follows,
    "G7": geometry.under_mats,
    "G8": geometry.bevel,
    "G9": geometry.several_windows,
    "G10": geometry.mirror,
    "G11": geometry.rebate,
    "G12": geometry.rails,
    "G13": geometry.seen_border,
    "G14": geometry.spacers,
    "G15": geometry.close_fit,
    "G16": geometry.canvas,
    "G17": geometry.tray,
    "G18": geometry.frame_in_frame,
    "G19": geometry.fillet,
    "G21": geometry.turned,
    "G22": geometry.box,
    "G23": geometry.outside,
    "G24": geometry.given_frame,
    "G25": geometry.place,
    "D1": depth.stack,
    "D2": depth.weight,
    "D3": depth.wire,
    "D4": depth.limits,
    "D8": depth.panel,
    "D9": depth.hinges,
    "D10": depth.wire_length,
    "B1": bench.setting,
    "B2": bench.pin,
    "B3": bench.fewest_settings,
    "B4": bench.limit,
    "B5": bench.marks,
    "B7": bench.trial_cut,
    "B8": bench.both_scales,
    "B9": bench.between_stops,
    "B10": bench.day,
    "B11": bench.blanks,
    "B12": bench.slipped,
    "P1": price.share,
    "P2": price.length,
    "P3": price.area,
    "P4": price.sell_price,
    "P5": price.labour,
    "P6": price.piece,
    "P10": price.designs,
    "P11": price.alike,
    "P12": price.lines,
    "P13": price.target,
    "P14": price.steps,
    "C1": cutting.mitre,
    "C3": cutting.offcuts_first,
    "C5": cutting.fallout,
    "C6": cutting.bound,
    "M1": money.rounding,
    "M2": money.tax_within,
    "M5": money.stated,
    "M6": money.of_document,
    "M7": printed.changed_since,
}
"""By rule: the figures of its example, worked for a shop."""
