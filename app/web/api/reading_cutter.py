"""From the cutter of a request to a `Cutter`, as the usual one where nothing is said."""

from app.bench import Cutter, usual_cutter
from app.errors import Fault, Invalid
from app.lengths import Unit
from app.web.api.reading import RequestReader
from app.web.api.requests_bench import CorrectionsAsked, CutterAsked

_PATHS = {
    "first_pin": "pins.first",
    "pin_pitch": "pins.pitch",
    "guide_correction": "corrections.guide",
    "start_offset": "corrections.start",
    "end_offset": "corrections.end",
}
"""Where a field of a cutter stands in a request."""


def read_cutter(asked: CutterAsked | None, unit: Unit) -> Cutter:
    """The cutter. unit: of the request. Raises: Invalid with every fault, at its path."""
    if asked is None:
        return usual_cutter(unit)
    read = RequestReader(unit)
    scale = Unit(asked.unit) if asked.unit else unit
    found = asked.corrections or CorrectionsAsked()
    pins = asked.pins
    fields = read.fields(
        Cutter,
        asked,
        "cutter",
        usual_cutter(scale),
        first_pin=read.length("cutter.pins.first", pins.first) if pins else None,
        pin_pitch=read.length("cutter.pins.pitch", pins.pitch) if pins else None,
        guide_correction=read.length("cutter.corrections.guide", found.guide),
        start_offset=read.length("cutter.corrections.start", found.start),
        end_offset=read.length("cutter.corrections.end", found.end),
    )
    read.faults.finish()
    try:
        return Cutter(**fields)
    except Invalid as invalid:
        raise _at_the_request(invalid) from invalid


def _at_the_request(invalid: Invalid) -> Invalid:
    return Invalid(
        Fault(
            path=f"cutter.{_PATHS.get(fault.path, fault.path)}",
            message=fault.message,
            code=fault.code,
        )
        for fault in invalid.faults
    )
