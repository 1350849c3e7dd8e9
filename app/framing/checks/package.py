"""What makes borders and package of a spec impossible: rules G4 to G6, G15."""

from itertools import islice

from app.framing.axis import Axis
from app.framing.checks.fault_list import FaultList, by_dimension
from app.framing.openings import artwork_opening, innermost_window, openings_of, window_remains
from app.framing.spec import Presentation, Spec
from app.lengths import ZERO, Length, Size, StandardSize, sizes_that_hold

TOO_SMALL = "package-too-small"
SIZES_OFFERED = 3


def check_borders_and_package(found: FaultList) -> None:
    """Borders or a package where the presentation wants them, and room for the window."""
    spec = found.spec
    if spec.borders is not None:
        _check_borders(found)
    if spec.package is not None:
        _check_package(found, spec.package)
    if spec.mats and spec.borders is None and spec.package is None:
        found.add(
            "borders", "Neither borders nor a package size were given; one of them is needed."
        )
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


def _check_package(found: FaultList, package: Size) -> None:
    spec = found.spec
    if spec.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT):
        found.add(
            "package",
            f"A package of {found.say_size(package)} was given, but a canvas sets the size of "
            "its frame; leave the package out.",
        )
        return
    for name, length in by_dimension(package):
        found.above_zero(f"package.{name}", f"The package's {name}", length)
    if spec.mats and window_remains(spec):
        _check_window_remains(found, package)
    elif spec.mats:
        _check_borders_remain(found, package)
    elif spec.presentation is not Presentation.WINDOW:
        _check_artwork_fits(found, package)


def _check_window_remains(found: FaultList, package: Size) -> None:
    """G6: what borders leave of a package must be a window in every layer."""
    innermost = dict(by_dimension(innermost_window(found.spec, openings_of(found.spec)[0])))
    for name, length in by_dimension(package):
        taken = length - innermost[name]
        if innermost[name] <= ZERO:
            found.add(
                f"package.{name}",
                f"The package is {found.say(length)} in {name}, but its borders and reveals take "
                f"{found.say(taken)} and leave no window; it must be over {found.say(taken)}, or "
                "they smaller.",
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
            found.add(
                f"package.{name}",
                f"The package is {found.say(length)} in {name}, "
                f"{_too_small(found, least[name] - length)} for {_what_lies_in_it(spec)}, "
                f"{found.say(least[name])}.{_offer(sizes)}",
                TOO_SMALL,
                _typed(sizes, needed),
            )
        elif spec.borders is not None:
            _check_borders_are_left(found, name, axes[name])
    above_and_below = package.height - needed.height
    if spec.borders is None and spec.weighting >= above_and_below > ZERO:
        found.add(
            "weighting",
            f"The weighting is {found.say(spec.weighting)}, but only "
            f"{found.say(above_and_below)} of border are left above and below the window; "
            "it must be smaller.",
        )


def _least(axis: Axis) -> Length:
    """What the windows take with their gaps; without them where the gaps were to follow."""
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
            f"package.{name}",
            f"The package is {found.say(axis.whole)} in {name}, but with windows and gaps of "
            f"{found.say(axis.field)} and the borders given one border would be "
            f"{found.say(-short / 2)}; it must be over {found.say(axis.whole + short)}, or they "
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
            found.add(
                f"package.{name}",
                f"The package is {found.say(length)} in {name}, "
                f"{_too_small(found, needed[name] - length)} for the {what}, "
                f"{found.say(needed[name])}.{_offer(sizes)}",
                TOO_SMALL,
                _typed(sizes, content),
            )


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
    """The sizes as they could be typed, turned the way of what they hold."""
    return tuple(one.typed_as(held) for one in sizes)
