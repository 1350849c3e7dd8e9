"""A spec worked out, once for all who ask within one page: pricing, findings, drawings."""

from functools import lru_cache

from app.framing import Dimensions, Spec, in_steps, work_out
from app.lengths import Steps


@lru_cache(maxsize=64)
def worked_out(spec: Spec) -> Dimensions:
    """Return the dimensions of a spec, as `app.framing.work_out` has them. Raises: Invalid as it does.

    Both are frozen and the one follows from the other alone, so the last few are remembered.
    """
    return work_out(spec)


@lru_cache(maxsize=64)
def as_cut(spec: Spec, steps: Steps) -> Dimensions:
    """Return the same in steps, as the shop cuts it. Raises: Invalid as `work_out` does."""
    return in_steps(worked_out(spec), steps)
