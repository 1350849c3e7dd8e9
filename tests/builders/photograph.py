"""A photograph in one mat as it is typed, and the price book that it is looked up in."""

from tests.builders.values import finder
from tests.builders.worked import BOOK

PIECE = {
    "unit": "mm",
    "artwork.size": "100 x 150",
    "presentation": "window",
    "mats.0.material": "M-101",
    "borders.left": "60",
}
"""100 × 150 behind a window of 90 × 140, since the usual overlap is 5; borders 60 all around."""

find = finder(BOOK)
