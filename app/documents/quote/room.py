"""What room a paper has for a quote, and what its style sheets leave free between texts."""

from dataclasses import dataclass

from app.orders import Paper


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteRoom:
    """A paper inside its margins, mm. first, following: how high the first page and any other is.

    The rest is as the style sheets have it. above_wall: free above the wall; around_title: around the title of one piece
    and its line; title: the letters of that, points; name: those of the shop's; heading: those of the paper's;
    beneath_head: free beneath; total: the row of it; balance: of a second one right beneath;
    label: the letters before them, sum_, range_: those of one amount and of two, points; above_closing, above_signing: free above the
    total and above what is signed.
    wanted: how high the wall of one piece is to be, 45 % of a whole sheet and 27 % of half a one.
    names: how wide those of what differs between designs are, with what is free behind them.
    """

    wide: float
    first: float
    following: float
    wanted: float
    above_wall: float = 3
    around_title: float = 6.8
    title: float = 17
    name: float = 20
    heading: float = 13
    beneath_head: float = 6.5
    total: float = 11
    balance: float = 8.2
    label: float = 12
    sum_: float = 26
    range_: float = 15
    above_closing: float = 3
    above_signing: float = 10.1
    names: float = 25


ON_HALF_A_SHEET = QuoteRoom(
    wide=128,
    first=191,
    following=184,
    wanted=57,
    around_title=4.3,
    title=13,
    name=16,
    heading=11.5,
    beneath_head=4.5,
    total=8.9,
    balance=7,
    label=10.5,
    sum_=20,
    range_=11,
    above_closing=2,
    above_signing=9.1,
    names=21,
)

ROOMS = {
    Paper.A4: QuoteRoom(wide=174, first=271, following=262, wanted=134),
    Paper.LETTER: QuoteRoom(wide=179.9, first=253.4, following=244.4, wanted=126),
    Paper.A5: ON_HALF_A_SHEET,
}
