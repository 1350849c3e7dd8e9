"""From the cutter of a request to a `Cutter`, as the usual one where nothing is said."""

from dataclasses import replace

from app.bench import Cutter, Scale, usual_cutter
from app.errors import Invalid
from app.lengths import Unit
from app.web.api.reading import RequestReader
from app.web.api.requests_bench import CutterAsked

_WITHIN = {
    "guide_correction": "corrections.guide",
    "start_offset": "corrections.start",
    "end_offset": "corrections.end",
}
"""Where a length of a cutter stands in a request, if not under its name."""

_SCALE_WITHIN = {f"scales.0.{path}": path for path in ("unit", "step", "pins.first", "pins.pitch")}
"""Where a request has what is said of its one scale."""

_PATHS = _WITHIN | _SCALE_WITHIN


def read_cutter(asked: CutterAsked | None, unit: Unit) -> Cutter:
    """Return the cutter. unit: of the request. Raises: Invalid with every fault, at its path."""
    if asked is None:
        return usual_cutter(unit)
    read = RequestReader(unit)
    usual = usual_cutter(Unit(asked.unit) if asked.unit else unit)
    within = {
        name: read.length(f"cutter.{path}", said)
        for name, path in _WITHIN.items()
        if (said := _said(asked, path)) is not None
    }
    scale = read.part(Scale, asked, "cutter", usual)
    fields = read.fields(Cutter, asked, "cutter", usual, scales=(scale,), **within)
    read.faults.finish()
    try:
        return Cutter(**fields)
    except Invalid as invalid:
        raise Invalid(
            replace(fault, path=_PATHS.get(fault.path, fault.path)) for fault in invalid.faults
        ).under("cutter") from invalid


def _said(asked: CutterAsked, path: str) -> str | None:
    """Return what stands at a path; None where there is nothing above it."""
    above, name = path.split(".")
    return getattr(getattr(asked, above), name, None)
