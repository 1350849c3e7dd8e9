"""Rules of lengths: how they are read, rounded and kept to one scale (L)."""

from app.handbook.rule import COMMON, OURS, PUBLISHED, Rule, Source, WorkedExample

RULES = (
    Rule(
        number="L1",
        title="Millimetres and inches are both exact",
        text="One inch is 25.4 mm exactly. What you type is read exactly, as a decimal, a fraction, in "
        "feet and inches or with a mark (mm, cm, m, in, \", ft, '), and comes back as you typed it. A bare "
        "number is in the unit of the shop or the piece; a mark wins over it. Sums never drift.",
        formulas=("1 in = 25.4 mm",),
        sources=(
            Source(
                PUBLISHED, "International yard and pound agreement of 1959; NIST SP 811, appendix B"
            ),
        ),
        example=WorkedExample(
            text="{typed} is exactly {exact}.", figures={"typed": "15 3/4 in", "exact": "400.05 mm"}
        ),
    ),
    Rule(
        number="L2",
        title="Sizes are cut in steps",
        text="Sizes are printed and cut in one step, such as 1 mm or 1/16 in. Glass and backing are rounded "
        "down so that they go in, rails are rounded up, mat blanks and windows go to the nearest step. What "
        "is left of the play in the rebate after rounding is checked: where less than half is left, the page says so.",
        settings=("allowances.step",),
        sources=(Source(COMMON), Source(OURS, "which way each part is rounded")),
        example=WorkedExample(
            text="At a step of {step}, a glass of {exact} is cut {glass} and a rail of {exact} is cut {rail}.",
            figures={"step": "0.5 mm", "exact": "412.3 mm", "glass": "412 mm", "rail": "412.5 mm"},
        ),
    ),
    Rule(
        number="L3",
        title="One scale for one ticket",
        text="A ticket is cut in one unit from its first line to its last. The other unit stands beside it "
        "only as a check, because round numbers on the two scales are not equal.",
        formulas=("7 cm is not 3 in", "8 cm is not 3 1/4 in", "31 cm is not 12 in"),
        sources=(
            Source(
                COMMON,
                "framers read such pairs off their scales as equals; the differences follow from L1",
            ),
        ),
        example=WorkedExample(
            text="{metric} and {imperial} differ by {difference}.",
            figures={"metric": "7 cm", "imperial": "3 in", "difference": "6.2 mm"},
        ),
    ),
    Rule(
        number="L4",
        title="Sizes as customers say them",
        text="At a counter people say bare numbers in the unit that they think in. Where a bare size is no usual artwork as it is read, "
        "but is one in cm, inches or mm, the page asks which is meant before it keeps it, and draws the likeliest meanwhile: an exact ISO 216, "
        "photographic or frame size first. A size with a mark is never asked about. Beside a size that was said in inches a bare border of 6 or less is asked about in a shop "
        "of millimetres, and taken for inches meanwhile.",
        sources=(Source(COMMON),),
        example=WorkedExample(
            text="Typed in a shop that works in {unit}, {typed} is taken for {likely} until somebody says otherwise.",
            figures={"unit": "mm", "typed": "50x70", "likely": "50x70 cm"},
        ),
    ),
)
