"""What the sample's customers bring in: a table of artworks, and more of the same kinds after it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

from app.orders import ArtworkKind
from seed_demo.tables import table

PLACES = (
    "Orrenby",
    "Nether Sill",
    "Upper Sill",
    "Lower Sill",
    "Greywick",
    "the salt pans",
    "the Ropewalk",
    "Lantern Hill",
    "Kiln Row",
    "the weir",
    "Customs Quay",
    "Chapel Bank",
    "Wherry Road",
    "the ferry steps",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Artwork:
    """An artwork as it is said at the counter; size, thickness, value, support and weight as they are typed."""

    title: str
    kind: ArtworkKind
    size: str
    thickness: str
    value: str
    condition: str
    support: str = ""
    weight: str = ""

    @property
    def in_inches(self) -> bool:
        """Whether its size was said in inches; the piece is then worked in inches."""
        return self.size.endswith("in")


def artworks() -> tuple[Artwork, ...]:
    """Every artwork of the table, in its order."""
    return tuple(
        Artwork(
            title=line["title"],
            kind=ArtworkKind(line["kind"]),
            size=line["size"],
            thickness=line["thickness"],
            value=line["value"] or "",
            condition=line["condition"] or "",
            support=line["support"] or "",
            weight=line["weight"] or "",
        )
        for line in table("artworks")
    )


def brought_in(random: Random) -> Iterator[Artwork]:
    """Artworks without end: those of the table, shuffled, then others of their kinds and sizes."""
    known = list(artworks())
    random.shuffle(known)
    yield from known
    while True:
        like = random.choice(known)
        yield replace(like, title=_title(like.kind, random), condition=_condition(random))


def _title(kind: ArtworkKind, random: Random) -> str:
    patterns = [line["pattern"] for line in table("titles") if line["kind"] == kind]
    title = random.choice(patterns).format(
        place=random.choice(PLACES), number=random.randint(1, 40)
    )
    return title[0].upper() + title[1:]


def _condition(random: Random) -> str:
    if random.random() < 0.8:
        return ""
    return random.choice(
        (
            "Corner bent, lower right; shown to the customer.",
            "Old hinges left on the back.",
            "Rolled; flatten before measuring again.",
            "Finger marks in the margin.",
            "Slight fading, even all over.",
        )
    )
