"""From the cutter of a request to a `Cutter`, as the usual one where nothing is said."""

from dataclasses import replace

from app.bench import Cutter, Scale, Stops, contradictions, usual_cutter, usual_scale
from app.errors import Invalid
from app.lengths import Unit
from app.web.api.reading import RequestReader
from app.web.api.requests_bench import CutterAsked, StopsAsked

_WITHIN = {
    "guide_correction": "corrections.guide",
    "start_offset": "corrections.start",
    "end_offset": "corrections.end",
}
"""Where a length of a cutter stands in a request, if not under its name."""

_OF_STOPS = {
    "stops.near_correction": "stops.corrections.near",
    "stops.far_correction": "stops.corrections.far",
}

_ONE_SCALE = ("unit", "step", "pins")
_OF_ONE_SCALE = {f"scales.0.{path}": path for path in ("unit", "step", "pins.first", "pins.pitch")}
"""Where a request without `scales` has what is said of the one scale."""


def read_cutter(asked: CutterAsked | None, unit: Unit) -> Cutter:
    """Return the cutter, read on its scale of the request's unit where it has one (B8).

    unit: of the request. Raises: Invalid with every fault, at its path.
    """
    if asked is None:
        return usual_cutter(unit)
    read = RequestReader(unit)
    scales = _scales(read, asked)
    within = {
        name: read.length(f"cutter.{path}", said)
        for name, path in _WITHIN.items()
        if (said := _said(asked, path)) is not None
    }
    own = {"scales": scales, "stops": _stops(read, asked.stops), **within}
    usual = usual_cutter(scales[0].unit if scales else unit)
    fields = read.fields(Cutter, asked, "cutter", usual, **own)
    read.faults.finish()
    paths = _WITHIN | _OF_STOPS | ({} if asked.scales else _OF_ONE_SCALE)
    try:
        cutter = Cutter(**fields)
        # Only of stops: holes that are never reached were taken before, and mean nothing.
        if at_odds := [each for each in contradictions(cutter) if each.path.startswith("stops.")]:
            raise Invalid(at_odds)
        return cutter.read_in(unit)
    except Invalid as invalid:
        raise Invalid(
            replace(fault, path=paths.get(fault.path, fault.path)) for fault in invalid.faults
        ).under("cutter") from invalid


def _scales(read: RequestReader, asked: CutterAsked) -> tuple[Scale, ...]:
    """Return the scales of a request in either form; both together are a fault."""
    if asked.scales is None:
        usual = usual_scale(Unit(asked.unit) if asked.unit else read.unit)
        return (read.part(Scale, asked, "cutter", usual),)
    for name in _ONE_SCALE:
        if getattr(asked, name) is not None:
            read.faults.add(
                f"cutter.{name}",
                f"The request describes the cutter's scales by scales and by {name} as well; give "
                "scales, or unit, step and pins of the only one.",
            )
    return tuple(
        read.in_unit(Unit(each.unit)).part(
            Scale, each, f"cutter.scales.{row}", usual_scale(Unit(each.unit))
        )
        for row, each in enumerate(asked.scales)
    )


def _stops(read: RequestReader, asked: StopsAsked) -> Stops:
    at, corrections = "cutter.stops.corrections", asked.corrections
    return Stops(
        near=asked.near,
        far=asked.far,
        near_correction=read.length(f"{at}.near", corrections.near),
        far_correction=read.length(f"{at}.far", corrections.far),
        guide_on_right=asked.guide == "right",
    )


def _said(asked: CutterAsked, path: str) -> str | None:
    """Return what stands at a path; None where there is nothing above it."""
    above, name = path.split(".")
    return getattr(getattr(asked, above), name, None)
