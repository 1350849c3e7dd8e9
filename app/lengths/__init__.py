"""Exact lengths: read as typed, calculated without loss, shown as on a scale.

Owns lengths, sizes, their reading and printing, the doubts about a size as said, shop steps and
standard sizes. Knows nothing of frames, mats or any other part.
"""

from app.lengths.example import Example, Examples, example_at
from app.lengths.grains import GRAINS_PER_MM, from_grains, to_grains
from app.lengths.length import MM_PER_INCH, ZERO, Length, Unit, inches, mm
from app.lengths.printing import (
    as_on_rule,
    exact_text,
    nearest_fraction_text,
    say,
    say_on_rule,
    show,
    show_for_record,
    show_on_rule,
    show_size,
    show_size_on_rule,
)
from app.lengths.reading import LARGEST, parse_length, parse_size
from app.lengths.said import (
    LONGEST_SHEET,
    Doubt,
    doubt_about,
    doubt_about_border,
    mark_bare,
    said_in_other,
    with_mark,
)
from app.lengths.size import Size
from app.lengths.standard import (
    STANDARD_SIZES,
    Family,
    StandardSize,
    sizes_that_hold,
    snap_up,
    standard_size,
)
from app.lengths.steps import ALLOWED_STEPS, DEFAULT_STEP, Steps

__all__ = [
    "ALLOWED_STEPS",
    "DEFAULT_STEP",
    "GRAINS_PER_MM",
    "LARGEST",
    "LONGEST_SHEET",
    "MM_PER_INCH",
    "STANDARD_SIZES",
    "ZERO",
    "Doubt",
    "Example",
    "Examples",
    "Family",
    "Length",
    "Size",
    "StandardSize",
    "Steps",
    "Unit",
    "as_on_rule",
    "doubt_about",
    "doubt_about_border",
    "exact_text",
    "example_at",
    "from_grains",
    "inches",
    "mark_bare",
    "mm",
    "nearest_fraction_text",
    "parse_length",
    "parse_size",
    "said_in_other",
    "say",
    "say_on_rule",
    "show",
    "show_for_record",
    "show_on_rule",
    "show_size",
    "show_size_on_rule",
    "sizes_that_hold",
    "snap_up",
    "standard_size",
    "to_grains",
    "with_mark",
]
