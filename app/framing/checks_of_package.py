"""What makes borders and package of a spec impossible: rules G4 to G6, G15."""

from app.framing.fault_list import FaultList, by_dimension
from app.framing.openings import artwork_opening, window_sizes
from app.framing.spec import Presentation
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
    if spec.mats and spec.borders is not None:
        _check_window_remains(found, package)
    elif spec.mats:
        _check_borders_remain(found, package)
    elif spec.presentation is not Presentation.WINDOW:
        _check_artwork_fits(found, package)


def _check_window_remains(found: FaultList, package: Size) -> None:
    """G6: what borders leave of a package must be a window in every layer."""
    innermost = dict(by_dimension(window_sizes(found.spec)[-1]))
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
    """G5: the package must be larger than its top window, in height by more than the weighting."""
    spec = found.spec
    window = window_sizes(spec)[0]
    above_and_below = package.height - window.height
    needed = dict(by_dimension(window))
    for name, length in by_dimension(package):
        if length <= needed[name]:
            found.add(
                f"package.{name}",
                f"The package is {found.say(length)} in {name}, "
                f"{_too_small(found, needed[name] - length)} for the window of the top mat, "
                f"{found.say(needed[name])}.{_sizes_with_a_border(window, spec.weighting)}",
                TOO_SMALL,
            )
    if spec.weighting >= above_and_below > ZERO:
        found.add(
            "weighting",
            f"The weighting is {found.say(spec.weighting)}, but only "
            f"{found.say(above_and_below)} of border are left above and below the window; "
            "it must be smaller.",
        )


def _check_artwork_fits(found: FaultList, package: Size) -> None:
    """G15, and G2 without a mat: the package may not be smaller than what lies in it."""
    spec = found.spec
    content = artwork_opening(spec)
    what = "artwork with its gap" if spec.presentation is Presentation.FLOAT else "artwork"
    needed = dict(by_dimension(content))
    for name, length in by_dimension(package):
        if length < needed[name]:
            found.add(
                f"package.{name}",
                f"The package is {found.say(length)} in {name}, "
                f"{_too_small(found, needed[name] - length)} for the {what}, "
                f"{found.say(needed[name])}.{_offer(sizes_that_hold(content))}",
                TOO_SMALL,
            )


def _too_small(found: FaultList, by: Length) -> str:
    return f"{found.say(by)} too small" if by else "which leaves no border and is too small"


def _sizes_with_a_border(window: Size, weighting: Length) -> str:
    """Standard sizes larger than a window in both dimensions, with its weighting below it."""
    least = Size(width=window.width, height=window.height + max(weighting, ZERO))
    short, long = sorted((least.width, least.height))
    holding = sizes_that_hold(least, limit=SIZES_OFFERED * 3)
    return _offer(
        tuple(one for one in holding if one.size.width > short and one.size.height > long)
    )


def _offer(sizes: tuple[StandardSize, ...]) -> str:
    if not sizes:
        return " No standard size holds it."
    names = ", ".join(one.name for one in sizes[:SIZES_OFFERED])
    return f" Standard sizes that hold it: {names}."
