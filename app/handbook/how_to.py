"""How each kind of step is done, in two sentences, with its caution: for whoever learns it at the bench.

It is a reminder of common practice and no course. The cautions are the usual ones (D5); makers'
instructions, local codes and licensed trades count before them.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from app.bench import StepCode
from app.framing.notices.care import CAUTIONS, Work


@dataclass(frozen=True, slots=True, kw_only=True)
class HowTo:
    """A kind of step. title: the work, as a heading. text: two sentences. caution: what to beware of.

    with_stops: two sentences in its place on a cutter with stops on its bar; empty where nothing differs there.

    Source: common practice.
    """

    title: str
    text: str
    caution: str
    with_stops: str = ""

    def text_at(self, *, stops: bool) -> str:
        """Return how it is done at a cutter with stops, or at one without."""
        return (stops and self.with_stops) or self.text

    def calling_mats(self, word: str) -> "HowTo":
        """Return the same with mats called as the shop does, "mount" for "mat"."""
        texts = (self.title, self.text, self.caution, self.with_stops)
        title, text, caution, with_stops = (_MAT.sub(rf"{word}\1", each) for each in texts)
        return HowTo(title=title, text=text, caution=caution, with_stops=with_stops)


_MAT = re.compile(r"\bmat(s?)\b")


HOW_TO: Mapping[StepCode, HowTo] = {
    StepCode.SIZE_BLANKS: HowTo(
        title="Cut a board to size",
        text="Lay the board against the squaring arm, set its stop to the size, and cut from edge to edge in one even "
        "stroke. Measure the first one, and see that its two diagonals are equal, before you cut the rest.",
        caution=CAUTIONS[Work.MATS],
    ),
    StepCode.MARK: HowTo(
        title="Mark the back",
        text="Lay the board back up and draw a thin pencil line along the guide from each edge. Where two lines cross is a "
        "corner of the window; mark beside it where the cut starts and where it ends.",
        with_stops="Lay the board back up with nothing drawn on it where stops bind a cut: slide each stop along the bar to the "
        "figure of the step, which counts from the squaring arm, and lock it. Only an end without a stop is marked, beside the "
        "line that is drawn along the guide.",
        caution="Soft pencil, little pressure, and on the back only: what is scratched into a board shows on its face.",
    ),
    StepCode.FIX_BEHIND: HowTo(
        title="Fix the under mat behind the cut one",
        text="Lay the cut mat face down with its fallout in the window, put adhesive on its back clear of the window, and lay "
        "the under board on it in the middle: its edges even, or standing back alike all round where it is smaller. Mark and "
        "cut the under mat from the edges of the upper one, so that the reveal comes out even.",
        caution="Use an acid-free adhesive and keep it away from the window: what creeps out reaches the artwork.",
    ),
    StepCode.CUT_WINDOW: HowTo(
        title="Cut an edge of the window",
        text="Lay a waste slip beneath, press the blade through the board at the start line, and run the head in one stroke to "
        "the end line. Then turn the board and cut the next edge with its own edge of the board against the guide, so "
        "that every bevel leans the same way.",
        with_stops="Lay a waste slip beneath, lock each stop at the figure of the step, press the blade through the board with the "
        "head against the one stop, and run it in one stroke until the other holds it. Where a stop is not given the cut goes "
        "by its mark; then turn the board, its next edge against the guide, so that every bevel leans the same way.",
        caution=CAUTIONS[Work.MATS],
    ),
    StepCode.CUT_CURVES: HowTo(
        title="Cut an oval or a round top",
        text="Fix the board by its middle on the cutter for ovals, set both axes, and cut in several light turns, each deeper "
        "than the one before. Begin and end every turn at the same place, low in the window, where a small mark is seen "
        "least.",
        caution="Fresh blade, and both hands out of the way of the arm while it turns.",
    ),
    StepCode.DROP_OUT: HowTo(
        title="Drop the window out",
        text="Lift the mat off as it was cut, face down, or face up where the bevel is a reverse one: the hole is larger on the side "
        "that lies down, so what is cut through at every corner stays lying. Where a corner holds, lay a fine blade into the cut and free it; never tear it out.",
        caution="A loose blade cuts on all sides: hold it in a handle, and cut away from the hand.",
    ),
    StepCode.MATS_TOGETHER: HowTo(
        title="Fix the mats together",
        text="Lay the mats on each other and move the under one until the reveal is the same at all four edges. Hold them with "
        "a weight, turn them over together, and fix them along the outer edges, clear of the windows.",
        caution="Use an acid-free adhesive and keep it away from the windows; no weight on a face without clean paper under it.",
    ),
    StepCode.FILLET_RAILS: HowTo(
        title="Cut the rails of a fillet",
        text="Cut both ends of each rail to a mitre, its flat part along the long side, and measure from long point to long "
        "point. Cut rails of one length against the same stop, and try them behind the cut window before you glue.",
        caution=f"{CAUTIONS[Work.RAILS]} Hold short rails with a block, never with the fingers.",
    ),
    StepCode.FILLET_IN: HowTo(
        title="Glue the fillet in",
        text="Glue the flat part of the fillet to the back of the mat, first top and bottom, then the sides, with the mitres "
        "tight. Lay a flat board and a weight on it until the glue holds, and wipe off at once what comes out.",
        caution=CAUTIONS[Work.JOIN],
    ),
    StepCode.TAKE_APART: HowTo(
        title="Take a frame apart",
        text="Lay the frame face down on something soft, slit the tape, and draw the points one by one out of the wood towards "
        "the middle. Lift backing and artwork out flat, then the glass upright by its edges, and keep the order in which "
        "they lay.",
        caution=CAUTIONS[Work.APART],
    ),
    StepCode.CLEAN: HowTo(
        title="Clean frame and rebate",
        text="Sweep loose dust out of face and rebate with a soft dry brush, and look at each corner from both sides. Note dents "
        "and losses before you mend anything, and glue only what is loose.",
        caution="No water, solvent or sanding on gilding and old paint: it comes off, and old paint may hold lead.",
    ),
    StepCode.GLAZING: HowTo(
        title="Cut the glazing",
        text="Score glass once, from edge to edge along a straight-edge, in one even stroke. Lay the score over the edge of the "
        "table and press the overhanging part down at once; acrylic is scored several times before it is snapped.",
        caution=f"{CAUTIONS[Work.GLASS]} {CAUTIONS[Work.ACRYLIC]}",
    ),
    StepCode.BOARD: HowTo(
        title="Cut mount board and backing",
        text="Hold a heavy straight-edge on the line and draw the knife along it several times lightly, rather than once with "
        "force. Keep the blade upright and the waste on its free side, so that a slip spoils nothing.",
        caution=CAUTIONS[Work.MATS],
    ),
    StepCode.SPACERS: HowTo(
        title="Cut the spacers",
        text="Cut two strips to the whole width, and two that stand between them. Cut strips of one length against the same "
        "stop with their ends square, so that no light comes through at the corners.",
        caution=CAUTIONS[Work.MATS],
    ),
    StepCode.RAILS: HowTo(
        title="Cut the rails of the frame",
        text="Mitre one end, lay it against the stop, and mitre the other so that the lip is on the short side and the long points "
        "are the length. Cut both rails of a length against the same stop, and let the blade stand still before you lift "
        "anything.",
        caution=CAUTIONS[Work.RAILS],
    ),
    StepCode.JOIN: HowTo(
        title="Join the frame",
        text="Put glue on both faces of each mitre, press the corners together and hold them with clamps or a band until the "
        "glue has set. Measure both diagonals while it can still be moved: the frame is square where they are equal.",
        caution=CAUTIONS[Work.JOIN],
    ),
    StepCode.FRAMES_TOGETHER: HowTo(
        title="Fix one frame into another",
        text="Lay the outer frame face down, lay the inner one into its rebate, and make the gap the same all round. Fix it from "
        "the back, from the inner frame out, with screws or points that are shorter than the wood is thick.",
        caution="Bore first in thin wood, and see that no point can come out at the face or into the hand.",
    ),
    StepCode.TREAT: HowTo(
        title="Do what was ordered beside the parts",
        text="Do the work that the step names before anything is closed, and look at the piece again when it is done. Stretch a "
        "canvas from the middles of its sides out to the corners, opposite sides in turn, until it is even and square.",
        caution="Nothing on an original that cannot be undone; where its condition is in doubt, ask a conservator.",
    ),
    StepCode.PLACE: HowTo(
        title="Place the artwork",
        text="With clean hands lay the artwork on its board and move it until the margins are even, or until the window covers "
        "each of its edges alike. Hold works on paper by hinges at the top edge or by corners, so that they can move and "
        "be taken off again.",
        caution="No tape, glue or heat on an original; where its condition is in doubt, ask a conservator.",
    ),
    StepCode.SPACERS_IN: HowTo(
        title="Set the spacers in",
        text="Stand the long strips along top and bottom and the short ones between them, tight against the walls of the rebate. "
        "See from the front that none reaches past the lip, and that they hold glazing and board apart all round.",
        caution=CAUTIONS[Work.FIT],
    ),
    StepCode.FIT: HowTo(
        title="Fit and close the piece",
        text="Clean both faces of the glazing, lay glazing, mats, artwork and back in, and look from the front for dust before you close it. "
        "In a frame drive the points flat along the backing into the wood, or screw what is fixed by screws, evenly on all four "
        "sides, and seal the joint with tape; without a frame bind all of it with tape along the edges, and drive nothing "
        "into it.",
        caution=f"{CAUTIONS[Work.FIT]} {CAUTIONS[Work.SCREW]}",
    ),
    StepCode.HANG: HowTo(
        title="Fix the hanging parts",
        text="Measure the same way down on both sides, about a quarter to a third of the height, and fix both parts level. "
        "Tie a wire with a little slack between them, or use two straps where the piece is heavy or wide.",
        caution=CAUTIONS[Work.HANG],
    ),
    StepCode.LABEL: HowTo(
        title="Label it and look once more",
        text="Write the label before it goes on, and stick it flat and low on the backing, clear of wire and rings. Then look at "
        "glass, mat and corners from the front as the customer will.",
        caution="Nothing is stuck or written on the artwork or on its mount board. Lift a framed piece by both sides.",
    ),
}
"""By kind of step, in the order of the work (B6). Source: common practice."""
