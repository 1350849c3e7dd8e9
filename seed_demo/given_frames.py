"""Pieces of the sample whose frame is not made to them, as they would be typed on the quote page.

A frame that is brought in for new glass, a print in a ready-made frame, and a drawing of which the customer
says how large the whole shall be.
"""

from seed_demo.designs import Fields

_HANGING = {
    "hardware.0.material": "RING1",
    "hardware.0.count": "2",
    "hardware.1.material": "WIRE15",
}

REGLAZED: Fields = {
    "artwork.title": "Wedding at the ferry steps, in its old frame",
    "artwork.kind": "photograph",
    "artwork.condition": "Glass cracked across, frame sound, gilding lost at the left bottom corner",
    "artwork.place": "Shelf by the window",
    "unit": "mm",
    "presentation": "as-it-came",
    "frame.source": "own",
    "given_frame.rebate": "402 x 302",
    "given_frame.opposite": "400 x 302",
    "given_frame.diagonals": "503 x 501",
    "given_frame.depth": "14",
    "glazing.material": "UV2",
    "backing.material": "BACK2/A",
    **_HANGING,
}

READY_MADE: Fields = {
    "artwork.title": "Harbour plan, a print of A4",
    "artwork.kind": "print",
    "artwork.size": "A4",
    "artwork.place": "Plan chest 3",
    "unit": "mm",
    "presentation": "window",
    "mats.0.material": "SALT14",
    "frame.source": "ready-made",
    "given_frame.material": "RM-3040",
    "glazing.material": "CLEAR2",
    "backing.material": "MDF25",
    **_HANGING,
}

OUTSIDE: Fields = {
    "artwork.title": "Kiln Row in the rain",
    "artwork.kind": "drawing",
    "artwork.size": "297 x 210 mm",
    "artwork.place": "Plan chest 5",
    "unit": "mm",
    "presentation": "window",
    "sizing": "outside",
    "outside.size": "50 x 40 cm",
    "mats.0.material": "SALT14",
    "frames.0.material": "B20-OAK",
    "glazing.material": "UV2",
    "backing.material": "BACK2/A",
    **_HANGING,
}

QUOTES: tuple[tuple[int, tuple[Fields, ...]], ...] = ((5, (REGLAZED,)), (9, (READY_MADE, OUTSIDE)))
"""(which quote of the sample, its pieces)."""


def with_given_frames(quotes: tuple[tuple[Fields, ...], ...]) -> tuple[tuple[Fields, ...], ...]:
    """The sample's quotes, a few of them for such pieces, where there are as many."""
    given = dict(QUOTES)
    return tuple(given.get(number, pieces) for number, pieces in enumerate(quotes))
