"""`work_out`: from a spec to its dimensions, or to every reason why it is impossible."""

from dataclasses import replace

from app.errors import Invalid
from app.framing.checks import faults_of
from app.framing.dimensions import Dimensions, dimensions_of
from app.framing.notices.remarks import remarks_on
from app.framing.spec import Spec


def work_out(spec: Spec) -> Dimensions:
    """Return every dimension of a piece, exact, with the notices that they call for.

    Raises: Invalid with all faults of the spec, each at its path in the JSON contract.
    Source: handbook G1 to G19.
    """
    faults = faults_of(spec)
    if faults:
        raise Invalid(faults)
    dimensions = dimensions_of(spec)
    return replace(dimensions, notices=remarks_on(dimensions))
