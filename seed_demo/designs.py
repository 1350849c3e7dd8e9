"""A frame design for an artwork, as the fields that would be typed on the quote page.

Owns the habits of the sample's counter: what is proposed for a watercolour, a canvas, a medal. Every
choice comes from the `Random` that is passed in.
"""

from collections.abc import Callable
from random import Random

from app.lengths import Size, Unit, mm, parse_size
from app.orders import ArtworkKind
from seed_demo.artworks import Artwork
from seed_demo.palettes import (
    CANVAS_FRAMES,
    DEEP_FRAMES,
    FILLETS,
    PALETTES,
    PHOTOGRAPH_FRAMES,
    SLIPS,
    TRAYS,
)

type Fields = dict[str, str]
type Design = Callable[[Artwork, Random], Fields]

PLACES = (
    *(f"Rack {letter}{number}" for letter in "ABC" for number in range(1, 7)),
    *(f"Plan chest {number}" for number in range(1, 9)),
    "Shelf by the window",
    "Wall hooks, left",
    "Safe",
)

LARGE, SMALL = mm(1100), mm(420)
"""Width and height together: above the first acrylic is the usual choice; up to the second a strut
or a single ring may do."""


def design(artwork: Artwork, random: Random) -> Fields:
    """The typed fields of a piece for an artwork."""
    fields = _brought(artwork, random) | _DESIGNS[artwork.kind](artwork, random)
    fields |= _fillet(fields, random)
    fields |= _rows("hardware", _hanging(artwork, fields, random))
    return fields | _rows("extras", _extras(artwork, fields, random))


def _brought(artwork: Artwork, random: Random) -> Fields:
    """What is noted of the artwork itself."""
    said = {
        "artwork.size": artwork.size,
        "artwork.title": artwork.title,
        "artwork.kind": artwork.kind.value,
        "artwork.thickness": f"{artwork.thickness} mm",
        "artwork.support": artwork.support,
        "artwork.weight": artwork.weight,
        "artwork.condition": artwork.condition,
        "artwork.declared_value": artwork.value,
        "artwork.place": random.choice(PLACES),
        "unit": "in" if artwork.in_inches else "mm",
    }
    return {field: text for field, text in said.items() if text}


def _rows(name: str, taken: list[tuple[str, int]]) -> Fields:
    fields: Fields = {}
    for row, (code, count) in enumerate(taken):
        fields[f"{name}.{row}.material"] = code
        if count > 1:
            fields[f"{name}.{row}.count"] = str(count)
    return fields


def size_of(artwork: Artwork) -> Size:
    """The artwork's size, exact."""
    return parse_size(artwork.size, unit=Unit.MM)


def _in_unit(artwork: Artwork, metric: str, imperial: str) -> str:
    return imperial if artwork.in_inches else metric


def _window(artwork: Artwork, random: Random) -> Fields:
    """One to three mats over the artwork, borders by its size, often more at the bottom."""
    palette = random.choice(PALETTES)
    layers = random.choices((1, 2, 3), (35, 52, 13))[0]
    mats = (random.choice(palette.tops), *random.sample(palette.unders, layers - 1))
    fields = {"presentation": "window", "frames.0.material": random.choice(palette.frames)}
    for row, mat in enumerate(mats):
        fields[f"mats.{row}.material"] = mat
    if layers > 1 and random.random() < 0.3:
        fields["mats.1.reveal"] = random.choice(
            ("3/16", "3/8") if artwork.in_inches else ("5", "8", "10")
        )
    return fields | _borders(artwork, random) | _behind(artwork, random)


def _fillet(fields: Fields, random: Random) -> Fields:
    """At times, in a window, a fillet that goes with the frame."""
    material = FILLETS.get(fields.get("frames.0.material", ""))
    if fields["presentation"] != "window" or material is None or random.random() > 0.3:
        return {}
    return {"fillet.material": material, "fillet.depth": "2.5 mm"}


def _borders(artwork: Artwork, random: Random) -> Fields:
    united = size_of(artwork).united
    if united <= SMALL:
        border = _in_unit(artwork, random.choice(("50", "55")), "2")
    elif united <= mm(800):
        border = _in_unit(artwork, random.choice(("55", "60", "65")), "2 1/2")
    else:
        border = _in_unit(artwork, random.choice(("65", "70", "80")), random.choice(("3", "2 3/4")))
    fields = {"borders.left": border}
    if random.random() < 0.4:
        fields["weighting"] = _in_unit(artwork, random.choice(("8", "10", "15")), "3/8")
    return fields


def _behind(artwork: Artwork, random: Random) -> Fields:
    """Glazing, mount board and backing of a work on paper."""
    valued = int(artwork.value or 0)
    large = size_of(artwork).united > LARGE
    if artwork.kind is ArtworkKind.PASTEL:
        glazing = random.choice(("UV2", "CALM2/UV"))
    elif large:
        glazing = random.choices(("ACRYL3", "ACRYL3/UV", "CLEAR2"), (45, 35, 20))[0]
    elif valued >= 250:
        glazing = random.choices(("UV2", "CALM2/UV", "CALM2"), (55, 30, 15))[0]
    else:
        glazing = random.choices(("CLEAR2", "UV2", "CALM2", "ETCH2"), (55, 25, 12, 8))[0]
    fields = {"glazing.material": glazing, "backing.material": "BACK2/A"}
    if valued >= 100:
        fields["mount_board.material"] = "MOUNT14"
    elif random.random() < 0.4:
        fields["backing.material"] = "MDF25"
    return fields


def _standard_frame(artwork: Artwork, random: Random) -> Fields:
    """A window in a package of standard size, for a small print or photograph."""
    size = size_of(artwork)
    package = "400 x 500" if size.height > size.width else "500 x 400"
    return {
        "presentation": "window",
        "sizing": "package",
        "package.size": package,
        "weighting": random.choice(("0", "10")),
        "mats.0.material": "BLANK45",
        "frames.0.material": "Q18-OAK",
        "glazing.material": "CLEAR2",
        "backing.material": "MDF25",
    }


def _float(artwork: Artwork, random: Random) -> Fields:
    """Raised in a window, so that torn edges show; a spacer holds the glazing off."""
    palette = random.choice(PALETTES)
    return {
        "presentation": "float",
        "gap": _in_unit(artwork, random.choice(("8", "10", "12")), "3/8"),
        "mats.0.material": random.choice(palette.tops),
        "frames.0.material": random.choice((*DEEP_FRAMES, "B20-OAK", "B20-CHA")),
        "spacer.material": "SPACE5",
        "spacer.depth": "5 mm",
        "mount_board.material": "MOUNT14",
        "glazing.material": random.choice(("CLEAR2", "UV2", "CALM2/UV")),
        "backing.material": "BACK2/A",
    } | _borders(artwork, random)


def _close(artwork: Artwork, random: Random) -> Fields:
    """To the edges, without a mat, a spacer behind the glazing."""
    large = size_of(artwork).united > LARGE
    return {
        "presentation": "close",
        "frames.0.material": random.choice(PHOTOGRAPH_FRAMES),
        "glazing.material": "ACRYL2" if large else random.choice(("CLEAR2", "CALM2", "ACRYL2")),
        "spacer.material": "SPACE5",
        "spacer.depth": "5 mm",
        "backing.material": "FOAM3",
    }


def _painting(artwork: Artwork, random: Random) -> Fields:
    """A canvas or panel in a rebate, at times within a slip."""
    frame = random.choice(CANVAS_FRAMES)
    frames = (random.choice(SLIPS), frame) if random.random() < 0.4 else (frame,)
    fields = {"presentation": "canvas"}
    fields |= {f"frames.{row}.material": code for row, code in enumerate(frames)}
    if artwork.kind is ArtworkKind.OIL:
        fields["backing.material"] = "CORR3"
    return fields


def _tray(artwork: Artwork, random: Random) -> Fields:
    deep = mm(artwork.thickness) > mm(36)
    return {
        "presentation": "canvas-float",
        "gap": random.choice(("5", "8")),
        "frames.0.material": "T12-WAL" if deep else random.choice(TRAYS),
    }


def _laid(artwork: Artwork, random: Random) -> Fields:
    """A textile or an object on a padded board, deep behind spacers, no mat."""
    size = size_of(artwork)
    room = mm(random.choice((30, 40, 50))) * 2
    width, height = (length + room for length in (size.width, size.height))
    return {
        "presentation": "float",
        "sizing": "package",
        "package.size": f"{width.mm} x {height.mm} mm",
        "gap": "0",
        "frames.0.material": random.choice(DEEP_FRAMES),
        "spacer.material": "SPACE12",
        "spacer.depth": "12 mm",
        "mount_board.material": "FOAM3",
        "glazing.material": random.choice(("UV2", "ACRYL3/UV", "CLEAR2")),
        "backing.material": "BACK2/A",
    }


def _print_or_photograph(artwork: Artwork, random: Random) -> Fields:
    size, chance = size_of(artwork), random.random()
    fits_blank = size.united <= mm(700) and max(size.width, size.height) <= mm(380)
    if fits_blank and not artwork.in_inches and chance < 0.3:
        return _standard_frame(artwork, random)
    if chance < 0.5:
        return _close(artwork, random)
    return (_float if chance < 0.6 else _window)(artwork, random)


def _on_paper(artwork: Artwork, random: Random) -> Fields:
    return (_float if random.random() < 0.15 else _window)(artwork, random)


def _canvas(artwork: Artwork, random: Random) -> Fields:
    return (_tray if random.random() < 0.6 else _painting)(artwork, random)


_DESIGNS: dict[ArtworkKind, Design] = {
    ArtworkKind.WATERCOLOUR: _on_paper,
    ArtworkKind.DRAWING: _on_paper,
    ArtworkKind.PASTEL: _window,
    ArtworkKind.PRINT: _print_or_photograph,
    ArtworkKind.PHOTOGRAPH: _print_or_photograph,
    ArtworkKind.DOCUMENT: _on_paper,
    ArtworkKind.OIL: _painting,
    ArtworkKind.CANVAS: _canvas,
    ArtworkKind.TEXTILE: _laid,
    ArtworkKind.OBJECT: _laid,
}


def _hanging(artwork: Artwork, fields: Fields, random: Random) -> list[tuple[str, int]]:
    """Straps for what is large, rings and wire for the rest, a strut for what may stand."""
    united = size_of(artwork).united
    tray = fields["presentation"] == "canvas-float"
    if united > LARGE or tray:
        hanging = [("STRAP4" if united > mm(1500) else "STRAP2", 2), ("BUMP", 2)]
    elif united <= SMALL and random.random() < 0.3:
        return [("STRUT", 1)]
    else:
        hanging = [(random.choice(("RING1", "RING2")), 2), ("WIRE15", 1), ("BUMP", 2)]
    if fields["presentation"] == "canvas":
        hanging.append(("CLIP12" if artwork.kind is ArtworkKind.OIL else "CLIP20", 4))
    return hanging


def _extras(artwork: Artwork, fields: Fields, random: Random) -> list[tuple[str, int]]:
    extras: list[tuple[str, int]] = []
    valued = int(artwork.value or 0) >= 200
    on_paper = fields["presentation"] == "window"
    if on_paper and valued:
        extras.append(("HINGE", 1))
        if random.random() < 0.35:
            extras.append(("SEAL", 1))
    if artwork.kind is ArtworkKind.TEXTILE:
        extras.append(("LACE", 1))
    if artwork.kind is ArtworkKind.CANVAS and random.random() < 0.3:
        extras.append((random.choice(("STRETCH", "KEYS")), 1))
    if artwork.kind is ArtworkKind.PRINT and not valued and random.random() < 0.12:
        extras.append(("DRYMNT", 1))
    if "Foxing" in artwork.condition and random.random() < 0.5:
        extras.append(("CLEAN", 1))
    if random.random() < 0.1:
        extras.append((random.choice(("LABEL", "BRASS", "WRAP", "BRING")), 1))
    return extras
