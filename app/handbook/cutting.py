"""Rules of cutting plans: sticks, sheets, offcuts, and how good a plan is (C)."""

from app.handbook.rule import COMMON, DERIVED, MEMORY, OURS, Rule, Source, WorkedExample

RULES = (
    Rule(
        number="C1",
        title="Rails on a stick",
        text="A profile cannot be flipped, so rails follow one another long point to long point. Between neighbours a mitre saw loses the "
        "width of its cut across the slant, twice where each end is cut for itself. The rails of one frame come from one stick where that costs no further one.",
        formulas=("least loss = kerf × √2", "usual loss = 2 × kerf × √2"),
        settings=("prices.saw_loss", "cutting.together"),
        sources=(
            Source(DERIVED, "from the geometry of the mitre"),
            Source(MEMORY, "2 mm at a chopper"),
        ),
        example=WorkedExample(
            text="A saw whose cut is {kerf} wide loses {loss} with each rail.",
            figures={"kerf": "3 mm", "loss": "8.5 mm"},
        ),
        drawing="mitre",
    ),
    Rule(
        number="C2",
        title="Sheets are cut from edge to edge",
        text="Every cut runs over the whole of the piece that it divides. Parts may be turned unless the board has a grain. The trim at "
        "the edges of a sheet is a setting.",
        settings=("cutting.sheet_trim", "cutting.stages"),
        sources=(Source(COMMON),),
        drawing="edge_to_edge",
    ),
    Rule(
        number="C3",
        title="Your own offcuts first",
        text="Offcuts that fit are used before a new stick or sheet is opened. Among plans that are equally cheap, the one that leaves the most useful single "
        "offcut wins. What is smaller than you keep is waste.",
        settings=("cutting.keep", "cutting.keep_length"),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="With an offcut of {offcut} on the rack, two rails of {rail} open {opened} new sticks.",
            figures={"offcut": "1100 mm", "rail": "500 mm", "opened": "0"},
        ),
    ),
    Rule(
        number="C4",
        title="A plan is checked by a part of the app that did not make it",
        text="Every part once, none over another, inside the stock, every cut from edge to edge, every loss counted. A plan that fails is never shown.",
        sources=(Source(OURS),),
    ),
    Rule(
        number="C5",
        title="Fallouts worth keeping",
        text="What drops out of a window goes back on the rack as an offcut of its board, where it is at least as large as you keep.",
        settings=("cutting.keep",),
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="Out of a window of {window} drops a board of {fallout}.",
            figures={"window": "287 × 410 mm", "fallout": "287 × 410 mm"},
        ),
    ),
    Rule(
        number="C6",
        title="How good a plan is",
        text="Beside each plan stands the least stock that any plan needs, and whether this one needs no more.",
        sources=(Source(DERIVED, "what the parts need at the least"),),
        example=WorkedExample(
            text="{count} rails of {rail} need at least {least} sticks of {stick}, whatever the plan.",
            figures={"count": "7", "rail": "1000 mm", "least": "4", "stick": "2100 mm"},
        ),
    ),
)
