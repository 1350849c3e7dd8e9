"""Rules of the geometry of a piece: windows, mats, package, frame (G)."""

from app.handbook.rule import (
    COMMON,
    DERIVED,
    OURS,
    PUBLISHED,
    Rule,
    Source,
    WorkedExample,
)

_ARITHMETIC = Source(DERIVED, "plain arithmetic")

RULES = (
    Rule(
        number="G1",
        title="A window covers the edges of the artwork",
        text="The window is smaller than the artwork, so that the mat holds its edges: at each edge it "
        "covers the overlap. The size of a window is always the hole at the back of the board, its smallest.",
        formulas=("window = artwork − 2 × overlap",),
        settings=("allowances.overlap",),
        sources=(
            Source(
                PUBLISHED,
                "at least 1/4 in: State Library and Archives of Florida, How to Mat a Piece of Art",
            ),
            Source(PUBLISHED, "5 mm: Wikibooks, How to Frame a Picture"),
            Source(COMMON, "1/8 in among photographers; since they differ, it is a setting"),
        ),
        example=WorkedExample(
            text="An artwork of {artwork} with {overlap} covered at each edge gets a window of {window}.",
            figures={"artwork": "297 × 420 mm", "overlap": "5 mm", "window": "287 × 410 mm"},
        ),
        drawing="overlap",
    ),
    Rule(
        number="G2",
        title="A floated artwork shows all its edges",
        text="Where the artwork floats, the window is larger than the artwork by a gap at each edge.",
        formulas=("window = artwork + 2 × gap",),
        settings=("allowances.gap",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="An artwork of {artwork} floated with {gap} around it gets a window of {window}.",
            figures={"artwork": "297 × 420 mm", "gap": "10 mm", "window": "317 × 440 mm"},
        ),
    ),
    Rule(
        number="G3",
        title="Each mat above shows a reveal of the one below",
        text="The innermost window follows from the artwork. The window of each mat above it is larger by "
        "twice the reveal, so that an even line of the mat below is seen all around.",
        formulas=("window of a mat = window of the mat below + 2 × reveal",),
        settings=("allowances.reveal",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="Above a window of {inner}, with a reveal of {reveal}, the top mat has a window of {outer}.",
            figures={"inner": "287 × 410 mm", "reveal": "6 mm", "outer": "299 × 422 mm"},
        ),
        drawing="reveal",
    ),
    Rule(
        number="G4",
        title="Borders and window make the glass size",
        text="Glass, mats and back are of one size, the glass size; together with the artwork they are called the glass size. "
        "Where borders are given, its size follows from them and the window of the top mat.",
        formulas=("width = left + window + right", "height = top + window + bottom"),
        settings=("allowances.border", "allowances.weighting"),
        sources=(
            Source(
                PUBLISHED,
                "an image of 11 × 13 in with borders of 4 in makes 19 × 21 in: Oral Roberts University, Matting and Framing",
            ),
        ),
        example=WorkedExample(
            text="A window of {window} with borders of {border} makes a glass size of {package}.",
            figures={"window": "299 × 422 mm", "border": "60 mm", "package": "419 × 542 mm"},
        ),
    ),
    Rule(
        number="G5",
        title="A glass size that is given makes the borders",
        text="In a frame of a given size the window is centred from left to right. What is left above and "
        "below is shared, with the weighting more at the bottom. Borders below zero are refused: the page "
        "says by how much the glass size is too small and which standard sizes would do.",
        formulas=(
            "left = right = (width − window) / 2",
            "top = (height − window − weighting) / 2",
            "bottom = top + weighting",
        ),
        settings=("allowances.weighting", "allowances.smallest_border"),
        sources=(
            Source(
                PUBLISHED,
                "a board of 13 1/2 in around a picture of 7 3/4 in leaves 2 7/8 in: a published algebra exercise",
            ),
            Source(COMMON, "more at the bottom: from nothing to a third of the border"),
        ),
        example=WorkedExample(
            text="A window of {window} in a glass size of {package}, with {weighting} more at the bottom, has borders of "
            "{side} left and right, {top} at the top and {bottom} at the bottom.",
            figures={
                "window": "287 × 410 mm",
                "package": "400 × 500 mm",
                "weighting": "10 mm",
                "side": "56.5 mm",
                "top": "40 mm",
                "bottom": "50 mm",
            },
        ),
    ),
    Rule(
        number="G6",
        title="Glass size and borders given: the window follows",
        text="Where both are given, the window is what remains. The page says how much of the "
        "artwork it covers or leaves bare.",
        formulas=("window = glass size − borders", "covered at each edge = (artwork − window) / 2"),
        sources=(_ARITHMETIC,),
        example=WorkedExample(
            text="A glass size of {package} with borders of {border} leaves a window of {window}. It covers {across} of an "
            "artwork of {artwork} at the left and the right, {down} at the top and the bottom.",
            figures={
                "package": "400 × 500 mm",
                "border": "60 mm",
                "window": "280 × 380 mm",
                "artwork": "297 × 420 mm",
                "across": "8.5 mm",
                "down": "20 mm",
            },
        ),
    ),
    Rule(
        number="G7",
        title="An under mat is fixed behind the top mat, or cut for itself",
        text="Attached: the under blank is fixed behind the top mat once that is cut, and its window is "
        "measured from the top mat's edges. Cut for itself: its blank is trimmed at each edge, and its border "
        "is smaller by the trim.",
        formulas=(
            "attached: border = border of the top mat + reveals above it",
            "cut for itself: border = that − trim",
        ),
        settings=("allowances.under_way", "allowances.under_trim"),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="Behind a top border of {border} and with a reveal of {reveal}, an attached under mat is cut at {attached}; "
            "one that is trimmed by {trim} is cut at {own}.",
            figures={
                "border": "60 mm",
                "reveal": "6 mm",
                "attached": "66 mm",
                "trim": "3 mm",
                "own": "63 mm",
            },
        ),
    ),
    Rule(
        number="G8",
        title="A bevel makes the hole larger at the face",
        text="The blade leans, so the hole is larger at the face of the board than at its back, and a strip of "
        "the core is seen. A reverse bevel leans the other way: no core is seen.",
        formulas=(
            "at the face: window + 2 × thickness / tan β",
            "seen of the core: thickness / sin β",
        ),
        sources=(
            Source(
                PUBLISHED,
                "elementary geometry; a board of four plies is 0.050 to 0.060 in: Saitzyk, Art Hardware, 1987",
            ),
        ),
        example=WorkedExample(
            text="In a board of {thickness} cut at 45°, the hole is {wider} wider at the face and {seen} of the core is seen.",
            figures={"thickness": "1.4 mm", "wider": "2.8 mm", "seen": "1.98 mm"},
        ),
        drawing="bevel",
    ),
    Rule(
        number="G9",
        title="Several windows in one mat",
        text="Each window has its size and the place of its left-top corner, seen from the front. Rows and gaps "
        "solve into places. What rounding leaves over goes to the right and the bottom. Windows may not overlap, "
        "nor come closer than the least bridge, nor leave the mat.",
        formulas=("width = left + windows + gaps + right",),
        settings=("allowances.least_bridge",),
        sources=(_ARITHMETIC, Source(COMMON, "the least bridge")),
        example=WorkedExample(
            text="Two windows of {window} side by side, {gap} apart, with borders of {border}, make a glass size of {package}.",
            figures={
                "window": "100 × 150 mm",
                "gap": "30 mm",
                "border": "60 mm",
                "package": "350 × 270 mm",
            },
        ),
    ),
    Rule(
        number="G10",
        title="From the back everything is mirrored",
        text="Mats are marked and cut from the back. Left and right change places there; top and bottom do not.",
        formulas=("from the left, at the back = width − from the left, at the front − window",),
        sources=(_ARITHMETIC,),
        example=WorkedExample(
            text="In a mat {width} wide, a window of {window} that begins {front} from the left is marked {back} from the left on the back.",
            figures={"width": "419 mm", "window": "299 mm", "front": "50 mm", "back": "70 mm"},
        ),
        drawing="mirror",
    ),
    Rule(
        number="G11",
        title="Rebate size and sight size",
        text="The rebate is the step behind the lip of a moulding that glass, mats and back lie in. The rebate size is "
        "the glass size and some play, so that all of it goes in and can swell. The sight size is what is seen inside the lip. "
        "Measure the lip and the depth of the rebate on the stick with a steel rule.",
        formulas=("rebate = glass size + play", "sight = rebate − 2 × lip"),
        settings=("allowances.allowance",),
        sources=(
            Source(PUBLISHED, "1/16 in: Fine Woodworking, a tip in issue 275"),
            Source(COMMON, "1/8 in is usual"),
        ),
        example=WorkedExample(
            text="A glass size of {package} with {allowance} of play needs a rebate of {rebate}; behind a lip of {lip} it shows {sight}.",
            figures={
                "package": "400 × 500 mm",
                "allowance": "3 mm",
                "rebate": "403 × 503 mm",
                "lip": "6 mm",
                "sight": "391 × 491 mm",
            },
        ),
        drawing="rebate",
    ),
    Rule(
        number="G12",
        title="How long a rail is",
        text="A rail is measured along its outside edge, from long point to long point, where a mitre saw cuts "
        "it; along the lip it is shorter by twice the face. There are two rails of each length.",
        formulas=("long point = rebate + 2 × (face − lip)", "short point = long point − 2 × face"),
        sources=(
            Source(
                PUBLISHED,
                "a picture of 8 in, a face of 2 in and a rebate of 1/8 in make 11 3/4 in: a woodworkers' forum",
            ),
        ),
        example=WorkedExample(
            text="A rebate of {rebate}, a face of {face} and a lip of {lip} make rails of {long} over the long points and "
            "{short} over the short points.",
            figures={
                "rebate": "403 × 503 mm",
                "face": "25 mm",
                "lip": "6 mm",
                "long": "441 × 541 mm",
                "short": "391 × 491 mm",
            },
        ),
        drawing="rail",
    ),
    Rule(
        number="G13",
        title="The lip takes some of the border",
        text="The lip covers a part of the mat. Where less than 60 % of a border is still seen, the page says so.",
        formulas=("seen = border + play / 2 − lip",),
        settings=("allowances.allowance",),
        sources=(_ARITHMETIC, Source(OURS, "the 60 %")),
        example=WorkedExample(
            text="Of a border of {border}, a lip of {lip} with {allowance} of play leaves {seen} to be seen.",
            figures={"border": "60 mm", "lip": "6 mm", "allowance": "3 mm", "seen": "55.5 mm"},
        ),
    ),
    Rule(
        number="G14",
        title="Glass, backing and spacers",
        text="Glass and backing are cut to the glass size, less the trim that a shop takes off at each edge. "
        "Two spacers run over the whole width; the two beside them stand between.",
        formulas=(
            "glass as cut = glass size − 2 × trim",
            "spacers: 2 at the width, 2 at the height − 2 × their own width",
        ),
        settings=("allowances.glazing_trim", "allowances.backing_trim", "allowances.spacer_width"),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="In a glass size of {package}, spacers {width} wide are cut {across} and {down}, two of each.",
            figures={
                "package": "400 × 500 mm",
                "width": "5 mm",
                "across": "400 mm",
                "down": "490 mm",
            },
        ),
    ),
    Rule(
        number="G15",
        title="Straight into the frame, without a mat",
        text="The glass is as large as the artwork. The lip covers the edges of both, and the page says by how much, so that nobody loses a signature.",
        formulas=("covered at each edge = lip − play / 2",),
        settings=("allowances.allowance",),
        sources=(_ARITHMETIC,),
        example=WorkedExample(
            text="A lip of {lip} with {allowance} of play covers {covered} at each edge.",
            figures={"lip": "6 mm", "allowance": "3 mm", "covered": "4.5 mm"},
        ),
    ),
    Rule(
        number="G16",
        title="A stretched canvas in an ordinary frame",
        text="The canvas itself lies in the rebate. Where it is deeper than the rebate it stands out at the back, and offset "
        "clips bridge the difference.",
        formulas=(
            "rebate = canvas + play",
            "stands out = depth of the canvas + backing − depth of the rebate",
        ),
        settings=("allowances.allowance",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="A canvas of {canvas}, {depth} deep, with a backing of {backing} in a rebate {rebate} deep stands out by {out}.",
            figures={
                "canvas": "600 × 400 mm",
                "depth": "18 mm",
                "backing": "3 mm",
                "rebate": "14 mm",
                "out": "7 mm",
            },
        ),
    ),
    Rule(
        number="G17",
        title="A stretched canvas in a tray frame",
        text="No lip covers the canvas: it stands in a tray with a gap all around and is screwed on from behind.",
        formulas=("inside of the tray = canvas + 2 × gap",),
        settings=("allowances.canvas_gap",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="A canvas of {canvas} with a gap of {gap} stands in a tray of {inside} inside.",
            figures={"canvas": "600 × 400 mm", "gap": "5 mm", "inside": "610 × 410 mm"},
        ),
    ),
    Rule(
        number="G18",
        title="A frame around a frame",
        text="The inner frame lies in the rebate of the next one, as glass and mats lie in its own.",
        formulas=("what lies in the outer frame = long points of the inner one",),
        settings=("allowances.allowance",),
        sources=(_ARITHMETIC,),
        example=WorkedExample(
            text="Around an inner frame of {inner}, with {allowance} of play, the rebate of the next one is {rebate}.",
            figures={"inner": "441 × 541 mm", "allowance": "3 mm", "rebate": "444 × 544 mm"},
        ),
    ),
    Rule(
        number="G19",
        title="A fillet lines the window",
        text="A fillet is a narrow moulding that is tucked behind the mat. Its rails follow the rule of rails, with "
        "its own face and its own lip.",
        formulas=(
            "outside of the fillet = window + 2 × tuck",
            "seen inside it = outside − 2 × face",
        ),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="In a window of {window}, a fillet with a face of {face} tucked {tuck} behind the mat is {outside} outside and shows {sight}.",
            figures={
                "window": "287 × 410 mm",
                "face": "10 mm",
                "tuck": "4 mm",
                "outside": "295 × 418 mm",
                "sight": "275 × 398 mm",
            },
        ),
    ),
    Rule(
        number="G20",
        title="Round and oval windows",
        text="They are given by their two axes. They need a cutter for ovals: a cutter that runs along a bar cuts "
        "straight lines only, and the ticket says so.",
        sources=(Source(COMMON),),
    ),
    Rule(
        number="G21",
        title="Turning a piece exchanges width and height",
        text="A piece turned by 90° has the same parts with width and height exchanged.",
        sources=(_ARITHMETIC,),
        example=WorkedExample(
            text="Turned, a piece with rails of {upright} has rails of {turned}.",
            figures={"upright": "441 × 541 mm", "turned": "541 × 441 mm"},
        ),
        uncited="It is a law that tests hold every calculation to, not a step of one.",
    ),
    Rule(
        number="G22",
        title="An object stands in its box",
        text="An object stands on the mount board, inside the walls of spacers and mats, so it adds nothing to the stack while it is lower "
        "than they are. Between it and the glass there should be a clearance; where there is less, the page names the spacer that would do, "
        "and where there is none, the glass would lie on it.",
        formulas=(
            "stack = glass + the greater of (mats + spacers, object) + mount board + backing",
        ),
        settings=("allowances.object_clearance",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="Behind a mat of {mat} and spacers of {spacer}, an object {object} high has {clear} to the glass; with glass of {glass} and a mount "
            "board and a backing of {board} each the stack is {stack}.",
            figures={
                "mat": "1.4 mm",
                "spacer": "25 mm",
                "object": "20 mm",
                "clear": "6.4 mm",
                "glass": "2 mm",
                "board": "3 mm",
                "stack": "34.4 mm",
            },
        ),
    ),
    Rule(
        number="G23",
        title="The outside is given",
        text="The outside of the outermost frame may be what is wanted; glass size and borders follow from it. With several frames each is taken "
        "off in turn, the outer one first. Where borders come out uneven, the page says so and names the nearest outside that makes them equal.",
        formulas=("glass size = outside − 2 × (face − lip) − play",),
        sources=(_ARITHMETIC,),
        example=WorkedExample(
            text="An outside of {outside} with a face of {face}, a lip of {lip} and a play of {allowance} leaves a glass size of {package}.",
            figures={
                "outside": "500 × 400 mm",
                "face": "20 mm",
                "lip": "6 mm",
                "allowance": "3 mm",
                "package": "469 × 369 mm",
            },
        ),
    ),
    Rule(
        number="G24",
        title="The frame is given",
        text="A ready-made frame, or one that the customer brings, is measured and not made: width, height and depth of its rebate. Out of square, "
        "of two opposite sides the smaller counts; the diagonals tell how far it leans, and what is cut square goes in only where the play is "
        "no less than that. Borders follow from the glass size. No rails are cut; the outside is said only where it was measured. Without a "
        "frame the piece is handed over as glass, mats, artwork and back bound together.",
        formulas=(
            "glass size = rebate − play",
            "lean = |falling² − rising²| ÷ (4 × longer side), of the two diagonals",
        ),
        sources=(
            Source(COMMON),
            Source(DERIVED, "the lean, and that four sides and one diagonal leave the other"),
        ),
        example=WorkedExample(
            text="A rebate of {first} along the top and the left and {opposite} along the bottom and the right counts as {counted}; less a "
            "play of {allowance} the glass size is {package}.",
            figures={
                "first": "402 × 302 mm",
                "opposite": "400 × 302 mm",
                "counted": "400 × 302 mm",
                "allowance": "3 mm",
                "package": "397 × 299 mm",
            },
        ),
    ),
    Rule(
        number="G25",
        title="Where the artwork lies",
        text="The artwork lies with its middle behind that of its window, or without a mat behind that of the glass size. Its left and its top edge "
        "are measured from those of the board that it lies on, both face up: the mount board, else the backing, else the mat. Several artworks "
        "have a place each; one behind several windows lies with its middle behind that of all of them together, or as near to that as it stays "
        "within the glass size. A canvas is seated in its frame and has none.",
        formulas=(
            "behind a window: left = left border of the inner window − overlap − trim of the board",
            "as a float: left = left border of the window + gap − trim of the board; top likewise",
        ),
        sources=(_ARITHMETIC,),
        example=WorkedExample(
            text="Behind a window with a border of {border}, overlapped by {overlap}, the artwork’s left edge lies {left} from the left edge of a "
            "mount board that is trimmed by {trim} at each edge.",
            figures={"border": "60 mm", "overlap": "5 mm", "trim": "2 mm", "left": "53 mm"},
        ),
    ),
)
