"""A spec worked out, once for all who ask within one page: pricing, findings, drawings."""

from functools import lru_cache

from app.framing import Dimensions, Spec, work_out


@lru_cache(maxsize=64)
def worked_out(spec: Spec) -> Dimensions:
    """The dimensions of a spec, as `app.framing.work_out` has them. Raises: Invalid as it does.

    Both are frozen and the one follows from the other alone, so the last few are remembered.
    """
    return work_out(spec)
