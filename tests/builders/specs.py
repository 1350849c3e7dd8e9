"""Specs in few words for the tests of framing: millimetres, whatever is not said is usual."""

from dataclasses import replace
from typing import Any

from app.errors import Fault, Invalid
from app.framing import (
    DEFAULTS,
    Dimensions,
    Edges,
    Frame,
    Mat,
    Panel,
    Presentation,
    Spec,
    work_out,
)
from app.lengths import Length, Size, Unit, inches, mm


def size(width: str, height: str, unit: Unit = Unit.MM) -> Size:
    return Size(width=Length.of(width, unit), height=Length.of(height, unit))


def edges(left: str, right: str, top: str, bottom: str, unit: Unit = Unit.MM) -> Edges:
    return Edges(
        left=Length.of(left, unit),
        right=Length.of(right, unit),
        top=Length.of(top, unit),
        bottom=Length.of(bottom, unit),
    )


def mat(thickness: str = "1.4", reveal: str | None = None) -> Mat:
    return Mat(thickness=mm(thickness), reveal=None if reveal is None else mm(reveal))


def frame(face: str = "25", lip: str = "6", depth: str = "14", allowance: str = "3") -> Frame:
    return Frame(face=mm(face), lip=mm(lip), rebate_depth=mm(depth), allowance=mm(allowance))


def panel(thickness: str = "3", trim: str = "0") -> Panel:
    return Panel(thickness=mm(thickness), trim=mm(trim))


BARE = Spec(
    unit=Unit.MM,
    artwork=size("297", "420"),
    presentation=Presentation.CLOSE,
    overlap=mm(5),
    gap=mm(10),
)
"""An artwork of 297 x 420 and nothing else."""

MATTED = replace(
    BARE,
    presentation=Presentation.WINDOW,
    mats=(mat(),),
    borders=edges("60", "60", "60", "70"),
    frames=(frame(),),
)
"""One mat: window 287 x 410, package 407 x 540, rebate 410 x 543, sight 398 x 531."""

DOUBLE = replace(MATTED, mats=(mat(), mat(reveal="6")))
"""Two mats: windows 299 x 422 and 287 x 410, package 419 x 552."""


def in_inches(**changes: Any) -> Spec:
    """An artwork of 8 x 10 in with a mat in an inch piece."""
    usual = DEFAULTS[Unit.IN]
    return replace(
        Spec(
            unit=Unit.IN,
            artwork=size("8", "10", Unit.IN),
            presentation=Presentation.WINDOW,
            overlap=usual.overlap,
            gap=usual.gap,
            mats=(Mat(thickness=inches("1/16")),),
            package=size("11", "14", Unit.IN),
        ),
        **changes,
    )


def faults(spec: Spec) -> dict[str, str]:
    """Every fault of a spec, by path; two at one path are joined by a line break."""
    try:
        work_out(spec)
    except Invalid as invalid:
        return _by_path(invalid.faults)
    return {}


def _by_path(found: tuple[Fault, ...]) -> dict[str, str]:
    paths: dict[str, str] = {}
    for fault in found:
        paths[fault.path] = "\n".join(filter(None, (paths.get(fault.path), fault.message)))
    return paths


def notices(worked: Spec | Dimensions) -> dict[str, str]:
    """Every notice by its code, as faults are."""
    dimensions = work_out(worked) if isinstance(worked, Spec) else worked
    codes: dict[str, str] = {}
    for notice in dimensions.notices:
        codes[notice.code] = "\n".join(filter(None, (codes.get(notice.code), notice.message)))
    return codes
