"""What makes borders and package of a spec impossible: rules G4 to G6, G15."""

from dataclasses import dataclass
from itertools import islice

from app.framing.axis import Axis
from app.framing.checks.fault_list import FaultList, by_dimension
from app.framing.openings import (
    artwork_opening,
    frames_take,
    innermost_window,
    openings_of,
    package_asked,
    window_remains,
)
from app.framing.spec import Presentation, Spec
from app.lengths import ZERO, Length, Size, StandardSize, sizes_that_hold

TOO_SMALL = "package-too-small"
SIZES_OFFERED = 3


def check_borders_and_package(found: FaultList) -> None:
    """Borders or a package where the presentation wants them, and room for the window."""
    spec = found.spec
    if spec.borders is not None:
        _check_borders(found)
    package = package_asked(spec)
    if package is not None and _is_one(found):
        _check_package(found, package)
    if spec.mats and spec.borders is None and package is None:
        found.add("borders", "Neither borders nor a glass size were given; give one of them.")
    found.not_negative("weighting", "The weighting", spec.weighting)


def _check_borders(found: FaultList) -> None:
    spec = found.spec
    assert spec.borders is not None
    if not spec.mats:
        found.add(
            "borders",
            f"Borders were given, but a piece shown as “{spec.presentation.value}” "
            "without a mat has none.",
        )
        return
    for side, length in spec.borders.sides():
        found.above_zero(f"borders.{side}", f"The {side} border", length)


_CALLED = {"package": "a glass size", "outside": "an outside"}
"""What the ways to give the package are called: it is as large as the glass."""


def _is_one(found: FaultList) -> bool:
    """Tell whether the package is given in one way; a fault where it is given in two."""
    spec = found.spec
    ways = (("package", spec.package), ("outside", spec.outside))
    given = [(path, size) for path, size in ways if size is not None]
    if spec.given_frame is None:
        given = given[1:]
    other = "the frame" if spec.given_frame is not None else "the glass size"
    for path, size in given:
        found.add(
            path,
            f"{_CALLED[path].capitalize()} of {found.say_size(size)} was given and {other} too; give one of them "
            "and leave the other out.",
        )
    return not given


def _path(spec: Spec) -> str:
    """Return what the package was given by."""
    if spec.given_frame is not None:
        return "given_frame.rebate" if spec.given_frame.own else "given_frame"
    return "package" if spec.outside is None else "outside"


def _is(found: FaultList, name: str, package: Length) -> str:
    """Tell how large the package is in a dimension, and where that is from."""
    spec = found.spec
    if spec.given_frame is not None:
        rebate = dict(by_dimension(spec.given_frame.counted))[name]
        return f"The rebate is {found.say(rebate)} in {name} and leaves a glass size of {found.say(package)}"
    if spec.outside is not None:
        outside = dict(by_dimension(spec.outside))[name]
        return f"The outside is {found.say(outside)} in {name} and leaves a glass size of {found.say(package)}"
    return f"The glass size is {found.say(package)} in {name}"


def _check_package(found: FaultList, package: Size) -> None:
    spec = found.spec
    if spec.presentation in _canvases(spec):
        found.add(_path(spec), _refused_to_canvas(found, package))
        return
    if not _is_above_zero(found, package):
        return
    if spec.mats and window_remains(spec):
        _check_window_remains(found, package)
    elif spec.mats:
        _check_borders_remain(found, package)
    elif spec.presentation is not Presentation.WINDOW:
        _check_artwork_fits(found, package)


def _canvases(spec: Spec) -> tuple[Presentation, ...]:
    """Return the ways of showing a canvas that set the size of the frame: in one that is given only the tray's."""
    trays = (Presentation.CANVAS_FLOAT,)
    return trays if spec.given_frame is not None else (Presentation.CANVAS, *trays)


def _refused_to_canvas(found: FaultList, package: Size) -> str:
    spec = found.spec
    if spec.given_frame is not None:
        return (
            "A canvas floats in a tray that is made to its size; in a frame that is given it is shown in the "
            "rebate."
        )
    size, called = (package, _CALLED["package"])
    if spec.outside is not None:
        size, called = spec.outside, _CALLED["outside"]
    return (
        f"{called.capitalize()} of {found.say_size(size)} was given, but a canvas sets the size of its frame; "
        "leave it out."
    )


def _is_above_zero(found: FaultList, package: Size) -> bool:
    """Tell whether something is left for a package; a fault for each dimension in which nothing is."""
    spec = found.spec
    for name, length in by_dimension(package):
        if length > ZERO:
            continue
        if spec.given_frame is None and spec.outside is not None:
            outside = length + frames_take(spec)
            found.add(
                f"outside.{name}",
                f"The outside is {found.say(outside)} in {name}, but the frame with its play takes "
                f"{found.say(frames_take(spec))} of it and leaves nothing for the glass; it must be larger.",
                TOO_SMALL,
            )
        elif spec.given_frame is None:
            found.above_zero(f"package.{name}", f"The {name} of the glass size", length)
    return min(package.width, package.height) > ZERO or spec.package is not None


def _check_window_remains(found: FaultList, package: Size) -> None:
    """G6: what borders leave of a package must be a window in every layer."""
    innermost = dict(by_dimension(innermost_window(found.spec, openings_of(found.spec)[0])))
    for name, length in by_dimension(package):
        taken = length - innermost[name]
        if innermost[name] <= ZERO:
            found.add(
                f"{_path(found.spec)}.{name}",
                f"{_is(found, name, length)}, but its borders and reveals take "
                f"{found.say(taken)} and leave no window; make it larger than {found.say(taken)}, or "
                "them smaller.",
                TOO_SMALL,
            )


def _check_borders_remain(found: FaultList, package: Size) -> None:
    """G5, G9: the package must be larger than its windows, in height by more than the weighting."""
    spec, layout = found.spec, found.layout
    if layout is None or layout.across is None or layout.down is None:
        return
    axes = {"width": layout.across, "height": layout.down}
    needed = Size(width=_least(layout.across), height=_least(layout.down))
    least = dict(by_dimension(needed))
    for name, length in by_dimension(package):
        if length <= least[name]:
            sizes = _sizes_with_a_border(needed, spec.weighting)
            windows = _Needed(size=needed, what=_what_lies_in_it(spec), sizes=sizes)
            _add_too_small(found, name, length, windows)
        elif spec.borders is not None:
            _check_borders_are_left(found, name, axes[name])
    above_and_below = package.height - needed.height
    if spec.borders is None and spec.weighting >= above_and_below > ZERO:
        found.add(
            "weighting",
            f"The weighting is {found.say(spec.weighting)}, but only "
            f"{found.say(above_and_below)} of border is left above and below the window; "
            "it must be smaller.",
        )


def _least(axis: Axis) -> Length:
    """Return what the windows take with their gaps; without them where the gaps were to follow."""
    return axis.windows if axis.solved else axis.field


def _what_lies_in_it(spec: Spec) -> str:
    if len(spec.openings) > 1:
        return "the windows of the top mat with their gaps"
    return "the window of the top mat"


def _check_borders_are_left(found: FaultList, name: str, axis: Axis) -> None:
    """G9: borders that the package does not leave room for, where no gap gives way."""
    gap_is_left = axis.gap is None or axis.gap > ZERO
    if gap_is_left and min(axis.start, axis.end) <= ZERO:
        short = -min(axis.start, axis.end) * 2
        found.add(
            f"{_path(found.spec)}.{name}",
            f"{_is(found, name, axis.whole)}, but with windows and gaps of "
            f"{found.say(axis.field)} and the borders given one border would be "
            f"{found.say(-short / 2)}; make it larger than {found.say(axis.whole + short)}, or them "
            "smaller.",
            TOO_SMALL,
        )


def _check_artwork_fits(found: FaultList, package: Size) -> None:
    """G15, and G2 without a mat: the package may not be smaller than what lies in it."""
    spec = found.spec
    content = artwork_opening(spec)
    what = "artwork with its gap" if spec.presentation is Presentation.FLOAT else "artwork"
    needed = dict(by_dimension(content))
    for name, length in by_dimension(package):
        if length < needed[name]:
            sizes = sizes_that_hold(content, limit=SIZES_OFFERED)
            artwork = _Needed(size=content, what=f"the {what}", sizes=sizes)
            _add_too_small(found, name, length, artwork)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Needed:
    """What lies in a package: its size, how it is called, and standard sizes that hold it."""

    size: Size
    what: str
    sizes: tuple[StandardSize, ...]


def _add_too_small(found: FaultList, name: str, length: Length, needed: _Needed) -> None:
    """A package that is too small in a dimension, and what would do: sizes are offered where one was typed."""
    by_package = _path(found.spec) == "package"
    least = dict(by_dimension(needed.size))[name]
    found.add(
        f"{_path(found.spec)}.{name}",
        f"{_is(found, name, length)}, {_too_small(found, least - length)} for {needed.what}, "
        f"{found.say(least)}.{_offer(needed.sizes) if by_package else _would_do(found, least)}",
        TOO_SMALL,
        _typed(needed.sizes, needed.size) if by_package else (),
    )


def _would_do(found: FaultList, least: Length) -> str:
    spec = found.spec
    if spec.given_frame is not None:
        return f" The rebate must be over {found.say(least + spec.given_frame.allowance)}."
    return f" The outside must be over {found.say(least + frames_take(spec))}."


def _too_small(found: FaultList, by: Length) -> str:
    return f"{found.say(by)} too small" if by else "which leaves no border and is too small"


def _sizes_with_a_border(window: Size, weighting: Length) -> tuple[StandardSize, ...]:
    """Standard sizes larger than a window in both dimensions, with its weighting below it."""
    least = Size(width=window.width, height=window.height + max(weighting, ZERO))
    short, long = sorted((least.width, least.height))
    holding = sizes_that_hold(least, limit=SIZES_OFFERED * 3)
    larger = (one for one in holding if one.size.width > short and one.size.height > long)
    return tuple(islice(larger, SIZES_OFFERED))


def _offer(sizes: tuple[StandardSize, ...]) -> str:
    if not sizes:
        return " No standard size holds it."
    names = ", ".join(one.name for one in sizes)
    return f" Standard sizes that hold it: {names}."


def _typed(sizes: tuple[StandardSize, ...], held: Size) -> tuple[str, ...]:
    """Return the sizes as they could be typed, turned the way of what they hold."""
    return tuple(one.typed_as(held) for one in sizes)
