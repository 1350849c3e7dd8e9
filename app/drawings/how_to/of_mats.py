"""How mats and fillets are made, drawn step by step. Sections lie as the mat lies on the cutter, back up."""

from app.drawings.canvas.boxes import Box
from app.drawings.how_to.strokes import (
    Sketch,
    board,
    dashed,
    dashed_box,
    marks,
    moves,
    oval,
    ruled,
    slab,
    solid,
    spans,
    strokes,
    turns,
    word,
)

SIZE_BLANKS = Sketch(
    title="Cutting a blank",
    desc="A board lies against the squaring arm; the head runs along the bar from edge to edge.",
    parts=(
        slab(Box(30, 18, 176, 88)),
        ruled(Box(18, 106, 204, 9), Box(150, 6, 10, 128)),
        moves(((144, 24), (144, 100))),
        word("squaring arm", (22, 130)),
        word("bar", (168, 14)),
    ),
)

MARK = Sketch(
    title="Marking the back",
    desc="A line runs along each edge on the back of the board; where two cross is a corner of the window.",
    parts=(
        ruled(Box(34, 14, 172, 112)),
        strokes(
            ((72, 14), (72, 126)),
            ((168, 14), (168, 126)),
            ((34, 44), (206, 44)),
            ((34, 94), (206, 94)),
        ),
        marks((72, 44), (168, 44), (72, 94), (168, 94)),
        word("back", (120, 74), anchor="middle"),
    ),
)

FIX_BEHIND = Sketch(
    title="Fixing a board behind the cut mat",
    desc="In section: the upper mat lies face down with its fallout in the window; the under board is laid on "
    "it with adhesive clear of the window, in the middle of it.",
    parts=(
        board((24, 84), (98, 84), (90, 94), (24, 94)),
        board((216, 84), (142, 84), (150, 94), (216, 94)),
        dashed(((100, 84), (140, 84), (148, 94), (92, 94), (100, 84))),
        slab(Box(24, 48, 192, 10)),
        solid(Box(34, 80, 34, 3), Box(172, 80, 34, 3)),
        moves(((60, 62), (60, 76)), ((180, 62), (180, 76))),
        word("under board", (120, 40), anchor="middle"),
        word("fallout", (120, 110), anchor="middle"),
    ),
)

CUT_WINDOW = Sketch(
    title="Cutting an edge of the window",
    desc="At the left in section: the slanting blade is pressed through the board into a waste slip. At the right "
    "from above: the head runs from the start line to the end line.",
    parts=(
        slab(Box(14, 66, 92, 12)),
        dashed_box(Box(14, 78, 92, 10)),
        strokes(((86, 26), (44, 82)), ((94, 32), (44, 82)), ((86, 26), (94, 32))),
        moves(((62, 26), (42, 52))),
        word("waste slip", (60, 104), anchor="middle"),
        ruled(Box(132, 14, 92, 112)),
        strokes(((166, 14), (166, 126)), ((132, 38), (224, 38)), ((132, 102), (224, 102))),
        moves(((160, 38), (160, 102))),
        word("start", (176, 33)),
        word("end", (176, 115)),
    ),
)

CUT_CURVES = Sketch(
    title="Cutting an oval",
    desc="The board is fixed in its middle; the arm turns around it and cuts the oval in several light turns.",
    parts=(
        ruled(Box(24, 12, 192, 116)),
        oval((120, 70), 66, 42),
        strokes(((114, 70), (126, 70)), ((120, 64), (120, 76)), ((120, 70), (171, 43))),
        turns((120, 70), 78, 52),
        word("middle", (120, 90), anchor="middle"),
    ),
)

DROP_OUT = Sketch(
    title="The window drops out",
    desc="In section, back up: the mat is lifted off and the fallout stays lying, since the hole is larger beneath; the "
    "corners are looked at.",
    parts=(
        board((24, 48), (96, 48), (86, 58), (24, 58)),
        board((216, 48), (144, 48), (154, 58), (216, 58)),
        board((98, 92), (142, 92), (152, 102), (88, 102)),
        moves(((40, 86), (40, 66)), ((200, 86), (200, 66))),
        marks((91, 53), (149, 53)),
        word("back", (28, 40)),
        word("mat", (160, 40)),
        word("fallout", (120, 120), anchor="middle"),
    ),
)

MATS_TOGETHER = Sketch(
    title="Mats with even reveals",
    desc="The window of the under mat stands in the middle of the one above; what shows of it is the same at all edges.",
    parts=(
        ruled(Box(24, 10, 192, 120), Box(62, 36, 116, 68), Box(78, 52, 84, 36)),
        spans(
            ((62, 70), (78, 70)),
            ((162, 70), (178, 70)),
            ((120, 36), (120, 52)),
            ((120, 88), (120, 104)),
        ),
        word("reveal", (120, 74), anchor="middle"),
    ),
)

FILLET_RAILS = Sketch(
    title="A rail of a fillet",
    desc="A narrow rail with both ends slanting inwards; it is measured from long point to long point.",
    parts=(
        board((24, 58), (216, 58), (194, 80), (46, 80)),
        strokes(((31, 65), (209, 65))),
        spans(((24, 46), (216, 46))),
        word("long point to long point", (120, 38), anchor="middle"),
        word("towards the window", (120, 98), anchor="middle"),
    ),
)

FILLET_IN = Sketch(
    title="A fillet behind the window",
    desc="In section, face up: the flat part of the fillet is glued behind the edge of the mat, its bead stands in the window.",
    parts=(
        board((20, 52), (116, 52), (126, 62), (20, 62)),
        board((92, 66), (130, 66), (130, 52), (152, 52), (152, 76), (92, 76)),
        solid(Box(94, 63, 30, 2)),
        moves(((108, 104), (108, 82))),
        word("mat", (24, 46)),
        word("fillet", (160, 68)),
        word("tuck", (118, 100)),
    ),
)
