"""The requests of `POST /api/cutting/sticks` and `/api/cutting/sheets`: stock on offer, parts wanted."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from app.cutting.problem import MOST_PARTS, MOST_STOCK
from app.web.api.requests_lengths import LengthText, RequestModel, SizeAsked, whole_numbers_are_text

LONGEST_ID = 100
MOST_COPIES = 1_000_000
"""Of one kind of stock; far more than any rack holds."""

Id = Annotated[str, Field(min_length=1, max_length=LONGEST_ID)]

CostText = Annotated[
    str,
    BeforeValidator(whole_numbers_are_text),
    Field(max_length=30, examples=["1", "0", "48.50"]),
    WithJsonSchema(
        {
            "anyOf": [{"type": "string", "maxLength": 30}, {"type": "integer"}],
            "examples": ["1", "0", "48.50"],
        }
    ),
]

Seconds = Annotated[
    int,
    Field(
        strict=True,
        ge=1,
        le=30,
        description="how long the solver may take; the answer may take longer while another plan "
        "is being made",
    ),
]

StockCopies = Annotated[
    int | None,
    Field(strict=True, ge=1, le=MOST_COPIES, description="null for as many as are wanted"),
]
PartCopies = Annotated[int, Field(strict=True, ge=1, le=MOST_PARTS)]
Cost = Annotated[CostText, Field(description="of one, in any one unit; 0 for what is owned")]
Group = Annotated[str, Field(max_length=LONGEST_ID, description="what belongs together")]


class StickOffered(RequestModel):
    """Sticks of one length: new ones, or one that is owned."""

    id: Id
    length: LengthText
    copies: StockCopies = None
    cost: Cost = "1"


class StickPartAsked(RequestModel):
    """Parts of one length, as rails by their long points."""

    id: Id
    length: LengthText
    copies: PartCopies = 1
    group: Group = ""


class SticksRequested(RequestModel):
    """Parts to be cut from sticks."""

    unit: Literal["mm", "in"]
    kerf: Annotated[LengthText, Field(description="lost at each cut between neighbours")] = "0"
    end_trim: Annotated[LengthText, Field(description="cut off at each end of every stick")] = "0"
    keep: Annotated[
        LengthText, Field(description="the shortest offcut worth keeping; 0 for any at all")
    ] = "0"
    together: Annotated[
        Literal["no-matter", "preferred", "always"],
        Field(
            description="whether parts of one group come from one stick: not at all, where that "
            "costs no more, or even where it does"
        ),
    ] = "preferred"
    stock: Annotated[tuple[StickOffered, ...], Field(max_length=MOST_STOCK)]
    parts: Annotated[tuple[StickPartAsked, ...], Field(max_length=MOST_PARTS)]
    seconds: Seconds = 2


class SheetOffered(RequestModel):
    """Sheets of one size: new ones, or an offcut that is owned."""

    id: Id
    width: LengthText
    height: LengthText
    copies: StockCopies = None
    cost: Cost = "1"


class SheetPartAsked(RequestModel):
    """Parts of one size."""

    id: Id
    width: LengthText
    height: LengthText
    copies: PartCopies = 1
    turn: bool = Field(
        default=True, strict=True, description="whether they may lie turned by 90 degrees"
    )
    group: Group = ""


class SheetsRequested(RequestModel):
    """Parts to be cut from sheets, from edge to edge only."""

    unit: Literal["mm", "in"]
    kerf: Annotated[LengthText, Field(description="lost at each cut")] = "0"
    trim: Annotated[LengthText, Field(description="cut off at each edge of every sheet")] = "0"
    stages: Annotated[
        int | None,
        Field(
            strict=True,
            ge=2,
            le=5,
            description="how many directions of cuts may follow one another, a last cut that only "
            "trims a part uncounted; null for any number",
        ),
    ] = 3
    keep: Annotated[
        SizeAsked | None,
        Field(description="the smallest offcut worth keeping, either way round; null for any"),
    ] = None
    stock: Annotated[tuple[SheetOffered, ...], Field(max_length=MOST_STOCK)]
    parts: Annotated[tuple[SheetPartAsked, ...], Field(max_length=MOST_PARTS)]
    seconds: Seconds = 2
