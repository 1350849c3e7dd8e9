"""What makes a spec impossible. Every check runs, so that all faults come at once.

A fault says what was given and what is allowed, in the piece's unit, at the path that the JSON
contract gives the field. What is merely unwise is a notice and belongs to `remarks`.
"""

from collections.abc import Iterator

from app.errors import Fault, FaultCollector
from app.framing.openings import (
    artwork_opening,
    grown,
    layer_borders,
    package_size,
    window_sizes,
)
from app.framing.spec import Frame, Mat, Panel, Presentation, Spec, UnderWay
from app.lengths import ZERO, Length, Size, show, show_size
from app.lengths.standard import sizes_that_hold

MOST_LAYERS = 3


def faults_of(spec: Spec) -> tuple[Fault, ...]:
    """Every fault of a spec, in the order in which its fields stand in the contract."""
    check = _Check(spec)
    check.artwork()
    check.presentation()
    check.mats()
    check.borders_and_package()
    check.under_mats()
    check.frames()
    check.panels()
    return check.faults.faults


class _Check:
    """The checks of one spec, collecting into `faults`."""

    def __init__(self, spec: Spec) -> None:
        self.spec = spec
        self.faults = FaultCollector()

    def _say(self, length: Length) -> str:
        return show(length, self.spec.unit, mark=True)

    def _not_negative(self, path: str, what: str, length: Length) -> bool:
        if length < ZERO:
            self.faults.add(path, f"{what} is {self._say(length)}; it cannot be below zero.")
            return False
        return True

    def artwork(self) -> None:
        """A size above zero and a thickness that is not negative."""
        for name, length in _dimensions(self.spec.artwork):
            if length <= ZERO:
                self.faults.add(
                    f"artwork.{name}",
                    f"The artwork's {name} is {self._say(length)}; it must be above zero.",
                )
        self._not_negative(
            "artwork.thickness", "The artwork's thickness", self.spec.artwork_thickness
        )

    def presentation(self) -> None:
        """Overlap and gap, and whether the presentation goes with mats at all."""
        spec = self.spec
        if self._not_negative("overlap", "The overlap", spec.overlap):
            self._overlap_leaves_a_window()
        self._not_negative("gap", "The gap", spec.gap)
        if spec.presentation is Presentation.WINDOW and not spec.mats:
            self.faults.add(
                "mats",
                "A window needs at least one mat and none was given; without a mat "
                "choose a close fit or a float.",
            )
        if spec.mats and not spec.presentation.matted:
            self.faults.add(
                "mats",
                f"{len(spec.mats)} mats were given, but a piece shown as "
                f"“{spec.presentation.value}” has none; mats go with window or float.",
            )

    def _overlap_leaves_a_window(self) -> None:
        spec = self.spec
        given_both = spec.borders is not None and spec.package is not None
        if spec.presentation is not Presentation.WINDOW or given_both:
            return
        shorter = min(spec.artwork.width, spec.artwork.height)
        if ZERO < shorter <= spec.overlap * 2:
            self.faults.add(
                "overlap",
                f"An overlap of {self._say(spec.overlap)} at each edge leaves no window in an "
                f"artwork of {show_size(spec.artwork, spec.unit, mark=True)}; it must be under "
                f"{self._say(shorter / 2)}.",
            )

    def mats(self) -> None:
        """At most three layers, real boards, and a reveal for each under layer."""
        mats = self.spec.mats
        if len(mats) > MOST_LAYERS:
            self.faults.add("mats", f"{len(mats)} mats were given; at most {MOST_LAYERS} fit.")
        for index, mat in enumerate(mats):
            self._mat(index, mat)

    def _mat(self, index: int, mat: Mat) -> None:
        where, layer = f"mats.{index}", index + 1
        if mat.thickness <= ZERO:
            self.faults.add(
                f"{where}.thickness",
                f"The board of layer {layer} is {self._say(mat.thickness)} thick; "
                "it must be above zero.",
            )
        if index == 0 and mat.reveal:
            self.faults.add(
                f"{where}.reveal",
                f"Layer 1 was given a reveal of {self._say(mat.reveal)}; nothing lies above it, "
                "so only the layers under it have one.",
            )
        if index > 0 and (mat.reveal is None or mat.reveal <= ZERO):
            given = "none" if mat.reveal is None else self._say(mat.reveal)
            self.faults.add(
                f"{where}.reveal",
                f"The reveal of layer {layer} is {given}; it must be above zero to show.",
            )

    def borders_and_package(self) -> None:
        """Borders or a package where the presentation wants them, and room for the window."""
        spec = self.spec
        if spec.borders is not None:
            self._borders_given()
        if spec.package is not None:
            self._package_given()
        if spec.mats and spec.borders is None and spec.package is None:
            self.faults.add(
                "borders", "Neither borders nor a package size were given; one of them is needed."
            )
        self._not_negative("weighting", "The weighting", spec.weighting)

    def _borders_given(self) -> None:
        spec = self.spec
        assert spec.borders is not None
        if not spec.mats:
            self.faults.add(
                "borders",
                f"Borders were given, but a piece shown as “{spec.presentation.value}” "
                "without a mat has none.",
            )
            return
        for side, length in spec.borders.sides():
            if length <= ZERO:
                self.faults.add(
                    f"borders.{side}",
                    f"The {side} border is {self._say(length)}; it must be above zero.",
                )

    def _package_given(self) -> None:
        spec = self.spec
        assert spec.package is not None
        if spec.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT):
            self.faults.add(
                "package", "A package size was given, but a canvas sets the size of its frame."
            )
            return
        for name, length in _dimensions(spec.package):
            if length <= ZERO:
                self.faults.add(
                    f"package.{name}",
                    f"The package's {name} is {self._say(length)}; it must be above zero.",
                )
        if spec.borders is not None and spec.mats:
            self._window_remains()
        else:
            self._package_holds_its_content()

    def _window_remains(self) -> None:
        """G6: what borders leave of a package must be a window in every layer."""
        innermost = window_sizes(self.spec)[-1]
        for name, length in _dimensions(innermost):
            if length <= ZERO:
                self.faults.add(
                    f"package.{name}",
                    f"The borders and reveals take up the whole {name} of the package and "
                    f"{self._say(-length)} more; it must be larger, or they smaller.",
                )

    def _package_holds_its_content(self) -> None:
        """G5: the package must be larger than its window, or not smaller than the artwork."""
        spec = self.spec
        assert spec.package is not None
        windows = window_sizes(spec)
        content = windows[0] if windows else artwork_opening(spec)
        what = "window of the top mat" if windows else "artwork with its gap"
        for name, needed in _dimensions(content):
            package = dict(_dimensions(spec.package))[name]
            short = needed - package
            if short > ZERO or (windows and short == ZERO):
                self.faults.add(
                    f"package.{name}",
                    f"The package is {self._say(package)} in {name}, {self._say(short)} too small "
                    f"for the {what}, {self._say(needed)}.{self._sizes_that_hold(content)}",
                    code="package-too-small",
                )
            elif windows and name == "height" and spec.weighting >= -short > ZERO:
                self.faults.add(
                    "weighting",
                    f"The weighting is {self._say(spec.weighting)}, but only "
                    f"{self._say(-short)} of border are left above and below the window.",
                )

    def _sizes_that_hold(self, content: Size) -> str:
        if content.width <= ZERO or content.height <= ZERO:
            return ""
        sizes = sizes_that_hold(content)
        return f" Standard sizes that hold it: {', '.join(s.name for s in sizes)}." if sizes else ""

    def under_mats(self) -> None:
        """A trim that leaves every under layer a border on each side."""
        spec = self.spec
        if not self._not_negative("under_trim", "The trim of the under mats", spec.under.trim):
            return
        if len(spec.mats) < 2 or self.faults:
            return
        own_edges = spec.under.way is UnderWay.OWN_EDGES
        for layer, borders in enumerate(layer_borders(spec)[1:], start=2):
            smallest = min(length for _, length in borders.sides())
            left_of_board = smallest if own_edges else smallest - spec.under.trim
            if left_of_board <= ZERO:
                self.faults.add(
                    "under_trim",
                    f"A trim of {self._say(spec.under.trim)} leaves layer {layer} no border; it "
                    f"must be under {self._say(left_of_board + spec.under.trim)}.",
                )
                return

    def frames(self) -> None:
        """Profiles that exist and leave something to see."""
        for index, frame in enumerate(self.spec.frames):
            for path, message in self._frame_faults(index, frame):
                self.faults.add(path, message)
        self._something_is_seen()

    def _frame_faults(self, index: int, frame: Frame) -> Iterator[tuple[str, str]]:
        where = f"frames.{index}"
        if frame.face <= ZERO:
            yield (
                f"{where}.face",
                f"The moulding's face is {self._say(frame.face)}; it must be above zero.",
            )
        if frame.lip >= frame.face > ZERO:
            yield (
                f"{where}.lip",
                f"The lip is {self._say(frame.lip)}, but the moulding's whole face is "
                f"{self._say(frame.face)}; the lip must be narrower.",
            )
        for name, what, length in (
            ("lip", "The lip", frame.lip),
            ("rebate_depth", "The rebate depth", frame.rebate_depth),
            ("allowance", "The allowance", frame.allowance),
        ):
            if length < ZERO:
                yield (
                    f"{where}.{name}",
                    f"{what} is {self._say(length)}; it cannot be below zero.",
                )

    def _something_is_seen(self) -> None:
        """A lip may not close over the whole package."""
        spec = self.spec
        if not spec.frames or self.faults:
            return
        package = package_size(spec)
        for index, frame in enumerate(spec.frames):
            if index == 0 and spec.presentation is Presentation.CANVAS_FLOAT:
                package = grown(package, frame.face * 2)
                continue
            shorter = min(package.width, package.height) + frame.allowance
            if shorter <= frame.lip * 2:
                self.faults.add(
                    f"frames.{index}.lip",
                    f"A lip of {self._say(frame.lip)} on both sides covers the whole "
                    f"{self._say(shorter)} of the rebate; nothing would be seen.",
                )
                return
            package = grown(package, frame.allowance + (frame.face - frame.lip) * 2)

    def panels(self) -> None:
        """Glazing, mount board, backing and spacers that leave a part to cut."""
        spec = self.spec
        for name, what, panel in (
            ("glazing", "The glazing", spec.glazing),
            ("mount_board", "The mount board", spec.mount_board),
            ("backing", "The backing", spec.backing),
        ):
            if panel is not None:
                self._panel(name, what, panel)
        if spec.spacer is None:
            return
        self._not_negative("spacer", "The spacer's depth", spec.spacer.depth)
        package = package_size(spec)
        if spec.spacer.width * 2 >= min(package.width, package.height) > ZERO:
            self.faults.add(
                "spacer_width",
                f"Spacers {self._say(spec.spacer.width)} wide leave nothing open in a package of "
                f"{show_size(package, spec.unit, mark=True)}.",
            )

    def _panel(self, name: str, what: str, panel: Panel) -> None:
        self._not_negative(f"{name}.thickness", f"{what}'s thickness", panel.thickness)
        package = package_size(self.spec)
        shorter = min(package.width, package.height)
        if self._not_negative(f"{name}.trim", f"{what}'s trim", panel.trim) and (
            ZERO < shorter <= panel.trim * 2
        ):
            self.faults.add(
                f"{name}.trim",
                f"{what} is trimmed by {self._say(panel.trim)} at each edge, which leaves nothing "
                f"of {self._say(shorter)}.",
            )


def _dimensions(size: Size) -> tuple[tuple[str, Length], ...]:
    return (("width", size.width), ("height", size.height))
