"""How glazing, boards, frames and what closes them are made, drawn step by step."""

from app.drawings.canvas.boxes import Box
from app.drawings.how_to.strokes import (
    Sketch,
    board,
    dashed,
    levels,
    marks,
    moves,
    ring,
    ruled,
    slab,
    solid,
    spans,
    strokes,
    word,
)

_FRAME, _OPENING = Box(34, 12, 172, 116), Box(58, 36, 124, 68)
_MITRES = tuple(zip(_FRAME.corners, _OPENING.corners, strict=True))
_MOULDING = ((20, 20), (110, 20), (110, 40), (70, 40), (70, 120), (20, 120))
"""A moulding in section, its face up: the lip reaches over the rebate."""

TAKE_APART = Sketch(
    title="Taking a frame apart",
    desc="The frame from the back: old points are drawn one by one out of the wood, towards the middle.",
    parts=(
        ruled(_FRAME, _OPENING),
        strokes(*_MITRES),
        strokes(
            ((88, 30), (88, 44)),
            ((152, 30), (152, 44)),
            ((88, 96), (88, 110)),
            ((52, 70), (66, 70)),
        ),
        strokes(((152, 104), (152, 116))),
        strokes(((174, 70), (190, 70))),
        moves(((170, 70), (146, 70))),
        word("back", (120, 74), anchor="middle"),
    ),
)

CLEAN = Sketch(
    title="Cleaning frame and rebate",
    desc="A soft brush sweeps dust out of the corner of a frame; the mitre is looked at.",
    parts=(
        board((34, 24), (206, 24), (176, 54), (64, 54), (64, 126), (34, 126)),
        strokes(((34, 24), (64, 54)), ((72, 62), (176, 62)), ((72, 62), (72, 126))),
        marks((49, 39)),
        board((120, 84), (138, 76), (144, 90), (126, 98)),
        strokes(
            ((138, 76), (196, 98)), ((144, 90), (192, 107)), ((120, 84), (106, 88)), ((123, 91), (108, 96)),
            ((126, 98), (112, 104)),
        ),
        moves(((100, 78), (82, 100))),
    ),
)  # fmt: skip

GLAZING = Sketch(
    title="Scoring and snapping glass",
    desc="At the left from above: the wheel runs once along a straight-edge. At the right in section: the score lies "
    "over the edge of the table and the overhanging part is pressed down.",
    parts=(
        slab(Box(16, 22, 90, 88)),
        ruled(Box(36, 12, 12, 108)),
        dashed(((54, 60), (54, 110))),
        ring((54, 60), 4),
        strokes(((57, 57), (82, 34)), ((60, 61), (86, 38))),
        moves(((64, 72), (64, 104))),
        word("once", (72, 96)),
        strokes(((130, 78), (184, 78), (184, 126))),
        board((130, 70), (184, 70), (184, 76), (130, 76)),
        board((185, 70), (226, 84), (224, 90), (184, 76)),
        marks((184, 70)),
        moves(((214, 48), (214, 72))),
        word("table", (136, 98)),
        word("score", (166, 58), anchor="middle"),
    ),
)

BOARD = Sketch(
    title="Cutting a board along a straight-edge",
    desc="A knife is drawn several times lightly along a straight-edge; the hand that holds it lies behind the edge.",
    parts=(
        slab(Box(24, 16, 192, 108)),
        ruled(Box(84, 8, 22, 124)),
        dashed(((111, 16), (111, 124)), ((114, 16), (114, 124)), ((117, 16), (117, 124))),
        board((112, 74), (122, 62), (162, 30), (170, 40), (128, 70)),
        moves(((134, 84), (134, 116))),
        word("light strokes", (144, 110)),
        word("hand", (36, 74)),
    ),
)

SPACERS = Sketch(
    title="Four strips of spacer",
    desc="Two strips run along the whole width, two stand between them.",
    parts=(
        slab(Box(34, 16, 172, 14)),
        slab(Box(34, 110, 172, 14)),
        slab(Box(34, 32, 14, 76)),
        slab(Box(192, 32, 14, 76)),
        spans(((56, 32), (56, 108))),
        word("between the long ones", (66, 73)),
    ),
)

RAILS = Sketch(
    title="Cutting the rails of a frame",
    desc="A rail lies against a stop; the second end is cut by the long point, with the lip at the short side.",
    parts=(
        board((40, 52), (200, 52), (168, 84), (72, 84)),
        strokes(((64, 76), (176, 76))),
        solid(Box(30, 44, 8, 14)),
        dashed(((212, 40), (154, 98))),
        spans(((40, 40), (200, 40))),
        moves(((218, 60), (200, 78))),
        word("stop", (34, 34), anchor="middle"),
        word("long point", (120, 34), anchor="middle"),
        word("lip", (120, 100), anchor="middle"),
    ),
)

JOIN = Sketch(
    title="Joining a frame square",
    desc="Four rails meet at their mitres; the two diagonals are equal where the frame is square.",
    parts=(
        ruled(_FRAME, _OPENING),
        strokes(*_MITRES),
        levels(((34, 12), (206, 128)), ((206, 12), (34, 128))),
        marks((46, 24), (194, 24), (46, 116), (194, 116)),
    ),
)

TREAT = Sketch(
    title="Stretching a canvas",
    desc="The canvas is fixed in the middle of each side first, then out to the corners, opposite sides in turn.",
    parts=(
        ruled(Box(50, 14, 140, 112)),
        slab(Box(62, 26, 116, 88)),
        marks((120, 20), (120, 120), (56, 70), (184, 70)),
        word("canvas", (120, 74), anchor="middle"),
    ),
)

PLACE = Sketch(
    title="Placing the artwork",
    desc="The artwork hangs by two hinges at its top edge on the mount board; the margins beside it are even.",
    parts=(
        ruled(Box(34, 10, 172, 120)),
        slab(Box(74, 34, 92, 76)),
        solid(Box(90, 26, 10, 14), Box(140, 26, 10, 14)),
        spans(((34, 76), (74, 76)), ((166, 76), (206, 76))),
        word("hinge", (120, 28), anchor="middle"),
        word("artwork", (120, 76), anchor="middle"),
    ),
)

SPACERS_IN = Sketch(
    title="A spacer at the wall of the rebate",
    desc="In section: a strip stands between glazing and board, against the wall of the rebate and behind the lip.",
    parts=(
        board(*_MOULDING),
        slab(Box(74, 43, 146, 7)),
        slab(Box(74, 52, 14, 30)),
        slab(Box(74, 84, 146, 9)),
        moves(((116, 67), (93, 67))),
        word("glazing", (130, 36)),
        word("spacer", (122, 71)),
        word("board", (130, 108)),
    ),
)

FIT = Sketch(
    title="Closing the package in its rebate",
    desc="In section: glazing, mat, artwork and backing lie behind the lip; a point is driven flat along the backing into the wood.",
    parts=(
        board(*_MOULDING),
        slab(Box(74, 43, 146, 7)),
        slab(Box(74, 52, 146, 6)),
        slab(Box(74, 60, 146, 4)),
        slab(Box(74, 66, 146, 12)),
        solid(Box(52, 81, 42, 2.5)),
        moves(((136, 82), (100, 82))),
        word("glazing", (130, 36)),
        word("point", (142, 94)),
    ),
)

FRAMES_TOGETHER = Sketch(
    title="A frame in a frame",
    desc="The inner frame lies in the rebate of the outer one with the same gap all round, fixed from the back.",
    parts=(
        ruled(
            Box(30, 10, 180, 120), Box(58, 34, 124, 72), Box(66, 42, 108, 56), Box(88, 58, 64, 24)
        ),
        solid(Box(48, 68, 24, 3), Box(168, 68, 24, 3)),
        marks((62, 38), (178, 38), (62, 102), (178, 102)),
        word("back", (120, 74), anchor="middle"),
    ),
)

HANG = Sketch(
    title="Hanging parts, level",
    desc="The frame from the back: two rings at the same height on both sides, a wire with a little slack between them.",
    parts=(
        ruled(_FRAME, _OPENING),
        levels(((34, 58), (206, 58))),
        ring((46, 58), 5),
        ring((194, 58), 5),
        strokes(((51, 58), (120, 46), (189, 58))),
        spans(((46, 12), (46, 50)), ((194, 12), (194, 50))),
        word("level", (120, 76), anchor="middle"),
    ),
)

LABEL = Sketch(
    title="A label on the backing",
    desc="The frame from the back: the label lies flat and low on the backing, clear of rings and wire.",
    parts=(
        ruled(_FRAME, _OPENING),
        ring((46, 52), 5),
        ring((194, 52), 5),
        strokes(((51, 52), (120, 44), (189, 52))),
        slab(Box(92, 68, 56, 28)),
        strokes(((98, 76), (142, 76)), ((98, 82), (134, 82)), ((98, 88), (142, 88))),
    ),
)
