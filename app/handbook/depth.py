"""Rules of depth, weight, hanging and care (D)."""

from app.handbook.rule import COMMON, DERIVED, MEMORY, PUBLISHED, Rule, Source, WorkedExample

RULES = (
    Rule(
        number="D1",
        title="The stack must fit the rebate",
        text="Glass, spacers, mats, fillet, artwork, mount board and backing lie behind each other. Together they may be as deep "
        "as the rebate, less the room that the fixing points take. Where it is deeper, the page says by how much.",
        formulas=(
            "stack = glass + spacers + mats + artwork + mount board + backing",
            "stack ≤ depth of the rebate − 2 mm",
        ),
        sources=(Source(COMMON, "2 mm for the points"),),
        example=WorkedExample(
            text="Glass of {glass}, two mats of {mat}, an artwork of {artwork} and a backing of {backing} are {stack}; a rebate of "
            "{rebate} has {free} to spare.",
            figures={
                "glass": "2 mm",
                "mat": "1.4 mm",
                "artwork": "0.3 mm",
                "backing": "3 mm",
                "stack": "8.1 mm",
                "rebate": "14 mm",
                "free": "3.9 mm",
            },
        ),
        drawing="stack",
    ),
    Rule(
        number="D2",
        title="What a piece weighs",
        text="Each sheet weighs its area times its thickness times its density, each rail its length times its weight by the metre; "
        "hardware and artwork are added. What has no weight in the price book is named. A weight is always an estimate.",
        formulas=("glass: 2.5 kg for each m² and mm",),
        sources=(
            Source(
                PUBLISHED,
                "glass 2500 kg/m³: EN 572-1, as quoted publicly; acrylic 1190 kg/m³: public data on cast PMMA",
            ),
            Source(MEMORY, "mat board 700, MDF 750, pine 500, oak 700 kg/m³"),
        ),
        example=WorkedExample(
            text="A glass of {size}, {thickness} thick, weighs {weight}.",
            figures={"size": "400 × 500 mm", "thickness": "2 mm", "weight": "1 kg"},
        ),
    ),
    Rule(
        number="D3",
        title="A wire pulls harder than the piece weighs",
        text="The flatter a wire hangs, the harder it pulls. Every hanging part must bear the greater of weight and pull times a factor.",
        formulas=("pull = weight / (2 × sin α)", "α: the angle of the wire from the horizontal"),
        sources=(
            Source(PUBLISHED, "statics"),
            Source(MEMORY, "the factor 4; a web article asks for at least 2"),
        ),
        example=WorkedExample(
            text="A piece of {weight} whose wire rises by {angle} pulls with {pull}.",
            figures={"weight": "5 kg", "angle": "30°", "pull": "49 N"},
        ),
        settings=(
            "weight.factor",
            "weight.fixings_down",
            "weight.wire_below_top",
            "weight.least_drop",
        ),
        drawing="wire",
    ),
    Rule(
        number="D4",
        title="When no wire is offered",
        text="Over a weight or a width no wire is offered: two straps or a wooden cleat, and two fixings in the wall. A heavy piece "
        "needs a competent person for wall and fixings, and local codes apply.",
        settings=(
            "weight.no_wire_above_kg",
            "weight.no_wire_above_width",
            "weight.competent_person_above_kg",
        ),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="No wire is offered over {weight} or over {width}; from {competent} a competent person is asked for.",
            figures={"weight": "10.0 kg", "width": "1000 mm", "competent": "20.0 kg"},
        ),
    ),
    Rule(
        number="D5",
        title="Cautions stand where they belong",
        text="Blades, edges of glass, the saw or chopper, dust, adhesives and solvents, lifting, glass in a child's room or by a door, "
        "hanging over a bed: one short caution at the step and on the page. They do not replace makers' instructions, local codes "
        "or licensed practice.",
        settings=("weight.lift_above_kg",),
        sources=(
            Source(
                PUBLISHED,
                "HSE on wood dust and on handling glass; safety glazing: 16 CFR 1201, EN 12600, AS 1288",
            ),
        ),
    ),
    Rule(
        number="D6",
        title="Care of the artwork",
        text="Glass that touches the artwork, boards that are not acid-free beside paper of value, glue on an original, no filter for "
        "ultraviolet light over works on paper, missing spacers: the page advises and never stops you.",
        sources=(
            Source(
                PUBLISHED,
                "Canadian Conservation Institute, Notes 11/5; Library of Congress, guide to preservation matting; State Library Victoria and Western Australian Museum on framing",
            ),
        ),
    ),
    Rule(
        number="D7",
        title="An object says how deep its box is",
        text="The depth from the glass to the mount board is always said for an object, with the depth of rebate that holds all of it and the "
        "mouldings of the price book that have it.",
        sources=(Source(COMMON),),
    ),
    Rule(
        number="D8",
        title="What an artwork weighs",
        text="The weight that you type counts. Without it, paper, cloth and canvas are estimated by their area, a stretcher by the metre of its bars, "
        "a panel by its thickness and density; an estimate says that it is one. An object is never guessed: its weight is asked for, and until it is "
        "known the page says “at least”.",
        formulas=(
            "panel = area × thickness × density",
            "canvas = area × weight of the cloth + bars × weight by the metre",
        ),
        settings=("weight.paper", "weight.canvas", "weight.bar", "weight.mdf", "weight.wood"),
        sources=(
            Source(
                PUBLISHED,
                "glass 2500 kg/m³: EN 572-1, as quoted publicly; acrylic 1190 kg/m³: public data on cast PMMA",
            ),
            Source(MEMORY, "all others"),
        ),
        example=WorkedExample(
            text="A panel of MDF of {panel}, {thickness} thick, weighs {weight}.",
            figures={"panel": "900 × 900 mm", "thickness": "18 mm", "weight": "10.94 kg"},
        ),
    ),
    Rule(
        number="D9",
        title="Hinges of a work on paper",
        text="A work on paper behind a mat hangs from its top edge by T-hinges that the mat hides; a float by hinges folded behind it. There are "
        "two, a tenth of the width from the corners to their middles, and further ones evenly between them where it is wide. They are of "
        "Japanese paper and starch paste, thinner than the work, so that they give way before it does; self-adhesive tape is never put on an "
        "original. Corners or strips that need no paste are better still where they do not show. Whoever has not learned to hinge, and "
        "anything of value, goes to a conservator.",
        formulas=(
            "from a corner = width ÷ 10, at least 25 mm (1 in), at most 50 mm (2 in), never more than width ÷ 4",
            "between neighbours at most 380 mm (15 in)",
        ),
        sources=(
            Source(
                PUBLISHED,
                "two for a small work, more and larger ones with size and weight, T-hinges where a mat hides them and folded ones for a float: Library "
                "of Congress, research guide to matting and hinging works of art on paper; Northeast Document Conservation Center, Preservation Leaflet 7.4",
            ),
            Source(
                COMMON,
                "1 to 2 in from the corners, a hinge every 10 to 15 in; the tenth between them is ours",
            ),
        ),
        example=WorkedExample(
            text="A work {width} wide hangs by {count} hinges, {inset} from its corners; one that is {wide} wide by {more}.",
            figures={
                "width": "420 mm",
                "count": "2",
                "inset": "42 mm",
                "wide": "700 mm",
                "more": "3",
            },
        ),
    ),
    Rule(
        number="D10",
        title="How long a wire is cut",
        text="The taut wire runs from one fixing up to its hook and down to the other. To that comes what goes through each fixing and is wound "
        "around itself. The fixings are measured from the top edge of the outermost frame, and from the middle of one to that of the other.",
        formulas=("wire = √(distance of the fixings² + (2 × drop)²) + 2 × wound at each end",),
        settings=("weight.wire_wound",),
        sources=(
            Source(DERIVED, "Pythagoras"),
            Source(COMMON, "what is wound at each end: how-tos have 50 to 130 mm, 2 to 5 in"),
        ),
        example=WorkedExample(
            text="Fixings {apart} apart, a drop of {drop} and {wound} wound at each end take a wire of {wire}.",
            figures={"apart": "160 mm", "drop": "60 mm", "wound": "100 mm", "wire": "400 mm"},
        ),
    ),
)
