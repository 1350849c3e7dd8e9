"""How large a ticket is set: the sizes of its letters and the heights of its lines, from a metre's reading to the least.

Owns these numbers. The style sheet of a ticket is written from them and its heights are foreseen with them, so that
both are the same. No level has cut sizes below 14 pt, or letters below 9; those of one small page have 8 at the least.
"""

from dataclasses import dataclass

from app.documents.kit.faces import POINT_MM, SANS

CLEAR = 0.9
"""What is free between words across a column and the box to tick below them, which is higher than its line, mm."""

UNDER_REMARK = 0.6
"""What is free under a notice, mm."""

UNDER_NAME = 0.4
"""The same under the name of a group, whose rows are higher than their letters, mm."""

RING = 5.0
"""The ring around the number of a setting, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Letters in points, heights in mm.

    figure: cut sizes and settings of the guide, row: the least height of their line. text, line: what is read with
    them. mark: what is set at a stop and marked on a board. small, small_line: cautions, tables, check values. title,
    above: headings, and what is free above one. between: free between two paragraphs. front, plan: the least height of the front drawing and of a mat's.
    dense: whether the piece is drawn in the head, checks follow one another in one paragraph and cautions run on behind
    their steps, as small paper has no room else.
    """

    figure: float
    row: float
    text: float
    line: float
    mark: float
    small: float
    small_line: float
    title: float
    above: float
    between: float
    front: float
    plan: float
    dense: bool = False

    @property
    def aside(self) -> float:
        """The letters of what stands beside a heading or under a drawing, points."""
        return min(9.5, self.small + 0.45)

    @property
    def heading(self) -> float:
        """The height of a heading of one line, with its rule and what is free around it."""
        return self.above + self.title_line + 0.35 + 0.8

    @property
    def mark_line(self) -> float:
        """The height of a line with figures to set or mark, which are larger than the words beside them."""
        return round(self.mark * POINT_MM * 1.04, 2)

    @property
    def listed(self) -> float:
        """The letters of figures in tables, points: those of marks but at the tightest, where dozens of windows are listed."""
        return self.mark if self.mark > 12.05 else 10.0

    @property
    def listed_line(self) -> float:
        """The height of the line of such a figure."""
        return round(self.listed * POINT_MM * 1.04, 2)

    @property
    def title_line(self) -> float:
        """The height of the line of a heading."""
        return round(self.title * POINT_MM * 1.15, 2)

    @property
    def tick(self) -> float:
        """The size of a box to tick, points: no larger than steps of one line leave it room below each other."""
        return min(self.text * 1.35, 16, 1.2 * (self.line + self.between) / POINT_MM)

    @property
    def hang(self) -> float:
        """How far words stand in from the box before them, mm."""
        return round(self.tick * 0.46, 2)

    @property
    def rail(self) -> float:
        """The letters of rails' sizes, of which two stand in a row, points."""
        return max(14.05, min(self.figure, 20))

    @property
    def style(self) -> str:
        """The rules of style that heights are foreseen with."""
        text, small = self.text, self.small
        upon = round((self.row - RING) / 2, 2)
        rules = {
            ".ticket": f"font-size: {text}pt; line-height: {self.line}mm",
            "h2": f"font-size: {self.title}pt; line-height: {self.title_line}mm; margin-top: {self.above}mm",
            "h2 span, .under": f"font-size: {self.aside}pt",
            ".tick, .n": f"font-size: {self.tick:.2f}pt",
            ".tick": f"margin-right: {self.hang - SANS.width('☐', self.tick):.2f}mm",
            ".l, .part": f"padding-left: {self.hang}mm; text-indent: -{self.hang}mm",
            ".l.window": "text-indent: 0",
            ".part, .said": f"padding-bottom: {self.between}mm",
            ".behind": f"margin-left: {self.hang}mm",
            ".group": f"padding: {self.above / 3:.2f}mm 0 {UNDER_NAME}mm",
            ".l, .what": f"min-height: {self.row}mm",
            ".one": f"line-height: {self.row}mm",
            ".f": f"font-size: {self.figure}pt; line-height: {self.row}mm",
            ".stop": f"font-size: {self.mark}pt",
            ".long.f, .short.f": f"font-size: {self.rail}pt",
            ".small, .check, .remark, .caution, .over, .stays": f"font-size: {small}pt",
            ".small, .remark, .caution, .over": f"line-height: {self.small_line}mm",
            ".small td + td": f"font-size: {self.listed}pt; line-height: {self.listed_line}mm",
            ".arm, .stopped": f"line-height: {self.mark_line}mm",
            ".over.short": f"margin-top: -{self.small_line}mm",
            ".clear": f"margin-bottom: {CLEAR}mm",
            ".remark.clear": f"margin-bottom: {CLEAR + UNDER_REMARK}mm",
            ".n, .set": f"line-height: {self.row}mm; height: {self.row}mm; margin-bottom: -{self.row}mm",
            ".ring": f"margin: {upon}mm 0 {-self.row - upon + self.row - RING:.2f}mm {self.hang}mm",
            ".set": f"font-size: {self.figure}pt",
        }
        return "\n".join(f"{which} {{ {what} }}" for which, what in rules.items())


def _level(  # noqa: PLR0913, PLR0917 - a row of the table below
    figure: float, text: float, mark: float, small: float, loose: float, title: float, above: float,
    between: float, front: float, plan: float, *, dense: bool = False,
) -> Level:  # fmt: skip
    """loose: the height of a line by its letters."""
    return Level(
        figure=figure,
        row=round(figure * POINT_MM * 1.02 + between, 2),
        text=text,
        line=round(text * POINT_MM * loose, 2),
        mark=mark,
        small=small,
        small_line=round(small * POINT_MM * max(loose - 0.06, 1.0), 2),
        title=title,
        above=above,
        between=between,
        front=front,
        plan=plan,
        dense=dense,
    )


LEVELS = (
    _level(28.0, 14.0, 16.0, 11.5, 1.30, 16, 4.0, 1.6, 70, 62),
    _level(25.0, 12.5, 15.0, 10.5, 1.28, 15, 3.6, 1.4, 60, 58),
    _level(22.0, 11.5, 14.05, 10.0, 1.25, 13.5, 3.0, 1.1, 54, 54),
    _level(20.0, 10.5, 14.05, 9.5, 1.22, 12.5, 2.6, 0.9, 46, 46),
    _level(18.0, 10.0, 14.05, 9.2, 1.18, 12, 2.2, 0.6, 42, 42),
    _level(18.0, 9.7, 14.05, 9.1, 1.15, 11.5, 1.8, 0.4, 32, 34),
    _level(16.0, 9.5, 14.05, 9.05, 1.12, 11, 1.5, 0.3, 32, 34),
    _level(14.05, 9.2, 13.0, 9.05, 1.09, 11, 1.2, 0.2, 28, 32),
    _level(14.05, 9.05, 12.05, 9.05, 1.03, 10.5, 0.7, 0.0, 20, 30),
)
"""From the roomiest to the tightest. Source: ours; 28 pt digits are 6.5 mm high and 22 pt ones 5.1, which are read from
a metre, and 14 pt is read at arm's length (common practice)."""

DENSE = (
    _level(18.0, 9.5, 12.05, 9.05, 1.1, 10, 1.0, 0.2, 20, 27, dense=True),
    _level(18.0, 9.05, 12.05, 9.05, 1.06, 10, 1.0, 0.2, 20, 27, dense=True),
    _level(18.0, 8.5, 12.05, 8.5, 1.04, 10, 0.5, 0.0, 20, 25, dense=True),
    _level(18.0, 8.05, 12.05, 8.05, 1.04, 10, 0.5, 0.0, 20, 24, dense=True),
    _level(16.0, 8.05, 12.05, 8.05, 1.02, 10, 0.5, 0.0, 20, 24, dense=True),
    _level(14.05, 8.05, 12.05, 8.05, 1.0, 9.5, 0.3, 0.0, 20, 24, dense=True),
)
"""For a common piece on one small page, which is held in the hand; from the roomiest to the tightest. Its figures to cut
stay large while its words get smaller.
"""

SMALL = (*(level for level in LEVELS if level.figure >= DENSE[0].figure), *DENSE)
"""Of one small page: before figures to cut get smaller than those of the first dense level, it is set densely."""

SEVERAL_PAGES = LEVELS[2:]
"""Over several pages letters are not larger than they need be."""
