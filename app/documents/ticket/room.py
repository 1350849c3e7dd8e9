"""What a ticket says, as far as it takes room on paper."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from app.documents.ticket.cut_list import CutGroup
from app.documents.ticket.layout import Said
from app.documents.ticket.page import TicketPage
from app.documents.ticket.work import Words
from app.lengths import Size

_TALLY = 13.5
"""How high the number of those that are alike and a line of their boxes are, mm; 80 boxes take a line."""

_HEADING = ("First",) * 2
"""As much as a heading takes."""

_LINE = "long point and short point"
"""As much as a line of its own takes."""


def said_on(page: TicketPage, outside: Size, mats: Sequence[Size]) -> Said:
    """outside: of the piece as it is drawn; mats: of each mat as it is drawn."""
    groups = [part.group for part in page.cuts]
    single = [group for group in groups if len(group.rows) == 1 and not group.rails]
    longer = [group for group in groups if group not in single]
    rows = page.guide.rows if page.guide else ()
    firsts = [todo.words for todo in page.first]
    every = (page.before, *firsts, page.at_cutter, *(part.words for part in page.cuts))
    of_work = [todo.words for todo in page.work]
    return Said(
        above=_tally(page),
        figures=sum(len(group.rows) for group in longer),
        groups=[
            *(f"{group.name} {group.take} {group.then}" for group in longer),
            *(_LINE for before, group in pairwise((None, *groups)) if _begins_rails(before, group)),
        ],
        parts=[f"{group.name} {group.take} {group.then}" for group in single],
        settings=[
            " ".join((row.mat, row.text, *(each.says for each in row.stops)))
            for row in rows
            if row.stand
        ],
        steps=[
            *(row.text for row in rows if not row.stand),
            *(todo.text for todo in page.first),
            *(
                [
                    f"Stop on the squaring arm {'; '.join(f'{row.at}: {row.what}' for row in page.arm)}"
                ]
                if page.arm
                else ()
            ),
        ],
        remarks=[
            *(text for words in every for text in _texts(words)),
            *(_HEADING if page.first else ()),
            *([page.guide.loud, page.guide.loud] if page.guide and page.guide.loud else ()),
        ],
        beside=sum(len(table.rows) + 2.5 for table in page.places),
        across=_across(page),
        ends=_ends(page),
        checks=[check.text + check.detail for check in page.checks],
        work=[todo.text for todo in page.work],
        care=[text for words in of_work for text in _texts(words)],
        front=_ratio(outside),
        mats=[_ratio(size) for size in mats],
    )


def _across(page: TicketPage) -> int:
    """Return the rows of the longest table under the columns, or of all where each takes the whole width."""
    rows = [len(table.rows) + 2 for table in page.ends]
    return sum(rows) if any(table.whole for table in page.ends) else max(rows, default=0)


def _ends(page: TicketPage) -> float:
    """Return the rows of the same tables one under the other; 0 where one is too wide for the narrow column."""
    if any(not table.narrow for table in page.ends):
        return 0
    return sum(len(table.rows) + 2.5 for table in page.ends)


def _tally(page: TicketPage) -> float:
    if page.tally is None:
        return 0
    return _TALLY + 5 * (sum(map(len, page.tally.boxes)) // 80)


def _begins_rails(before: CutGroup | None, group: CutGroup | None) -> bool:
    """Tell whether the columns of rails are named above the group."""
    return group is not None and group.rails and not (before is not None and before.rails)


def _texts(words: Words) -> Iterator[str]:
    yield from (remark.text for remark in words.remarks)
    yield from words.cautions


def _ratio(size: Size) -> float:
    return float(size.width.mm / size.height.mm)
