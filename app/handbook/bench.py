"""Rules of the bench: from sizes to the mat cutter and the order of work (B)."""

from app.handbook.rule import COMMON, DERIVED, Rule, Source, WorkedExample

_DERIVED = Source(DERIVED, "from the geometry of the mat and of the cutter")

RULES = (
    Rule(
        number="B1",
        title="Where the border guide is set",
        text="The guide is set to the border of the side that is cut, as the cutter's scale reads it: at the back "
        "of the board, or at its face. The correction that a test cut found is added.",
        formulas=(
            "at the back: setting = border + correction",
            "at the face: setting = border − thickness / tan β + correction",
        ),
        settings=("cutters",),
        sources=(_DERIVED,),
        example=WorkedExample(
            text="A border of {border} in a board of {thickness} is set at {back} where the scale reads the back, at {face} "
            "where it reads the face.",
            figures={"border": "60 mm", "thickness": "1.4 mm", "back": "60 mm", "face": "58.6 mm"},
        ),
    ),
    Rule(
        number="B2",
        title="Pin and scale",
        text="A guide with holes is pinned at the hole at or below the setting; what is left is read off the scale.",
        settings=("cutters",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="With holes every {pitch}, a setting of {setting} is the pin at {pin} and then {rest} on the scale.",
            figures={"pitch": "10 mm", "setting": "66 mm", "pin": "60 mm", "rest": "6 mm"},
        ),
    ),
    Rule(
        number="B3",
        title="As few settings as can be",
        text="Each edge of a window is cut with its own edge of the board against the guide, so that the bevel leans "
        "the right way. Edges at the same distance share one setting. Where under mats are attached, the top mat is "
        "cut before the next is fixed behind it. Within that the order has the fewest guide settings, and among "
        "those the least travel. Mats of several pieces may share settings as well (B10).",
        sources=(_DERIVED,),
        example=WorkedExample(
            text="A mat with equal borders is cut with {equal} setting, one with more at the bottom with {weighted}.",
            figures={"equal": "1", "weighted": "2"},
        ),
    ),
    Rule(
        number="B4",
        title="What the cutter cannot do is known at the counter",
        text="A board longer than the cut, a border beyond the reach of the guide, an oval, a board thicker than the "
        "blade is set for: the page says so before the piece is promised, with what can be done.",
        settings=("cutters",),
        sources=(Source(COMMON, "cutters cut 32, 40, 47 or 60 in"),),
        example=WorkedExample(
            text="A board of {board} is longer than a cut of {cut} by {over}.",
            figures={"board": "900 mm", "cut": "810 mm", "over": "90 mm"},
        ),
    ),
    Rule(
        number="B5",
        title="Marks on the back of the board",
        text="For each setting the guide draws a line along its edge of the board. Two lines cross in each corner of "
        "the window. A cut starts before the corner and ends past it by the overcut that the cutter needs for its blade.",
        settings=("cutters",),
        sources=(_DERIVED,),
        example=WorkedExample(
            text="A mat {width} wide has borders of {left} at the left and {right} at the right, seen from the front. On its "
            "back the first line from the left lies at {mark}.",
            figures={"width": "419 mm", "left": "50 mm", "right": "70 mm", "mark": "70 mm"},
        ),
    ),
    Rule(
        number="B6",
        title="The order of work",
        text="Take a frame that is brought in apart, before anything is cut; cut the blanks to size; set the guide, mark the back, cut on a slip of waste, turn, cut, drop the window "
        "out; the next mat; then glass, backing, rails with the longest first; join, fit, hang, label. The same steps stand "
        "on the ticket and on the screen, each with a box to tick.",
        sources=(Source(COMMON),),
    ),
    Rule(
        number="B7",
        title="A test cut finds the corrections",
        text="Cut one window, measure it, and type what you measured. The corrections for the guide and for starts and ends "
        "follow, and are kept only when you say so. What ran past a corner corrects the stop that bound the cut there; where "
        "the cut went by a mark, the overcut. A corner moves with the border of the side that the cut runs towards, and the "
        "guide’s correction brings it back: so what that border came out too wide is first taken off.",
        formulas=(
            "correction = asked for − measured",
            "past the corner asked for = past the corner as cut − (border there − border asked for)",
        ),
        settings=("cutters",),
        sources=(_DERIVED,),
        example=WorkedExample(
            text="Borders of {asked} that measure {measured} ask for a correction of {correction}. Where the cuts then run "
            "{past} past their corners, {off} of that is the corner’s own: they begin {left} later and end {left} sooner.",
            figures={
                "asked": "60 mm",
                "measured": "60.5 mm",
                "correction": "−0.5 mm",
                "past": "1 mm",
                "off": "0.5 mm",
                "left": "0.5 mm",
            },
        ),
    ),
    Rule(
        number="B8",
        title="A ticket takes the scale of its unit",
        text="A cutter may carry a scale in millimetres and one in inches, each with its step and its own row of holes for a "
        "pin. Settings, pins and marks of a piece are read on the scale of the piece’s unit. Only a cutter without that scale "
        "gives them on the other one, and says so. Corrections are lengths, and hold for both scales.",
        settings=("cutters",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="One scale has steps of {step_mm} and holes every {pitch_mm}, the other steps of {step_in} and holes every "
            "{pitch_in}. A border of {border} is set at {setting_mm} for a piece in millimetres, with the pin at {pin_mm}, "
            "and at {setting_in} for one in inches, with the pin at {pin_in}.",
            figures={
                "step_mm": "0.5 mm",
                "pitch_mm": "10 mm",
                "step_in": '1/16"',
                "pitch_in": '1/2"',
                "border": "66.8 mm",
                "setting_mm": "67 mm",
                "pin_mm": "60 mm",
                "setting_in": '2 5/8"',
                "pin_in": '2 1/2"',
            },
        ),
    ),
    Rule(
        number="B9",
        title="Where the stops stand",
        text="One or two stops on the bar bind the way of the head. They are set along the bar from the squaring arm, where "
        "the near edge of the board lies. To which end the start of a cut belongs follows from the stroke. Each stop has a "
        "correction that a test cut finds. A cut between two stops needs no mark at its ends, with one stop one.",
        formulas=(
            "near stop = border at that end − overcut there + correction",
            "far stop = length of that side of the board − border at the other end + overcut there + correction",
        ),
        settings=("cutters",),
        sources=(Source(COMMON, "stops on the bar"), _DERIVED),
        example=WorkedExample(
            text="A board {height} high has a border of {top} at its top and {bottom} at its bottom, and cuts run {overcut} past "
            "their corners. With its left edge against the guide its top lies at the squaring arm: the near stop is set at "
            "{near}, the far stop at {far}.",
            figures={
                "height": "537 mm",
                "top": "60 mm",
                "bottom": "75 mm",
                "overcut": "1.5 mm",
                "near": "58.5 mm",
                "far": "463.5 mm",
            },
        ),
    ),
    Rule(
        number="B10",
        title="The mats of several pieces together",
        text="Mats of several pieces are cut by setting of the guide, and within it by far stop and near stop. The order has "
        "the fewest guide settings, of those the fewest stop settings, of those the least travel. Attached mats "
        "keep their order. Of a piece that is made several times each cut is made as often at the same setting. Beside "
        "that number stands how many the same pieces take one after the other. With at most eight different places of guide "
        "and stops no other order is better; with many more it is a good one, and the page says what another might have fewer of.",
        sources=(Source(COMMON, "mats alike are cut in batches"), _DERIVED),
        example=WorkedExample(
            text="Three pieces have borders of {first}, of {second} and of {third}, each the same on all four sides but for a "
            "bottom of {bottom}. One after the other they take {apart} guide settings, together {together}.",
            figures={
                "first": "60 mm",
                "second": "70 mm",
                "third": "60 mm",
                "bottom": "70 mm",
                "apart": "5",
                "together": "2",
            },
        ),
    ),
    Rule(
        number="B11",
        title="Sizing the blanks",
        text="Each width and height that blanks have is one setting of the stop on the squaring arm, however many parts have "
        "it. The longest comes first; where a cutting plan holds the parts, its cuts give the order. A blank longer than the "
        "arm reaches is named: it is measured and marked, after all that the arm reaches. Only boards are sized here: glass is "
        "cut at a table with a straight-edge of its own. In a cutting plan a length has one figure, in its list, its drawing "
        "and on the arm: rounded to the shop's step as its part asks for (L2), down where a mat and a board of one material "
        "share it; where the arm cannot be set so finely, the plan prints what is set there.",
        settings=("cutters",),
        sources=(_DERIVED,),
        example=WorkedExample(
            text="A mat of {mat}, an under mat of {under} and a backing as large as the mat have {sides} sides and take {moves} "
            "settings: {lengths}.",
            figures={
                "mat": "400 × 500 mm",
                "under": "394 × 494 mm",
                "sides": "6",
                "moves": "4",
                "lengths": "500 mm, 494 mm, 400 mm, 394 mm",
            },
        ),
    ),
    Rule(
        number="B12",
        title="A window that came out otherwise",
        text="A border or a window that is measured after the cut says whether the piece still holds it: the artwork is laid "
        "behind the window anew, in its middle; the reveals, the border inside the lip and the board between windows follow "
        "edge by edge. A window that is too small at an edge is cut again there. One that is too large at an edge is cut "
        "larger by as much at each edge, where the artwork stays covered, by no more than a tenth of its narrowest border, and "
        "showing no more than twice the reveal that was asked for; else its mat is cut anew, or left where it holds. An upper "
        "mat is cut again only before the next is fixed behind it. One slip is a hint for the guide, and a test cut finds the "
        "correction.",
        formulas=(
            "overlap = (artwork − window) / 2",
            "reveal at an edge = reveal + border of the under mat as it is − as it was asked for",
        ),
        sources=(_DERIVED, Source(COMMON, "a window is evened by cutting it larger")),
        example=WorkedExample(
            text="Over an artwork of {artwork} a window of {window} has a border of {asked} that came out as {measured}: the "
            "overlap in width is {now} then. Cut larger by as much at each edge the window is {larger}, and the overlap {then}.",
            figures={
                "artwork": "297 × 420 mm",
                "window": "287 × 410 mm",
                "asked": "60 mm",
                "measured": "58 mm",
                "now": "4 mm",
                "larger": "291 × 414 mm",
                "then": "3 mm",
            },
        ),
    ),
)
