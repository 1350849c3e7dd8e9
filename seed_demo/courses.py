"""What becomes of a quote of the sample: when it is ordered, cut, framed, collected, or not.

Owns the shares of each fate and the days between. Everything is counted back from the last day, so that the
sample always stands in the middle of its work: some orders late, some due, some left uncollected.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from enum import Enum
from random import Random

from app.orders import Stage, StageChange
from seed_demo.days import moment, open_day
from seed_demo.shop import PEOPLE

VALID_DAYS = 30
GIVEN_UP_AFTER = 75
"""Days after which a quote that nobody answered is put down as declined."""


class Fate(Enum):
    """How a quote ends, in time."""

    MADE = "made"
    DECLINED = "declined"
    UNANSWERED = "unanswered"
    CANCELLED = "cancelled"


_FATES = ((Fate.MADE, 76), (Fate.DECLINED, 11), (Fate.UNANSWERED, 10), (Fate.CANCELLED, 3))


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """The way of one quote up to the last day.

    changes: for each piece, in time. promised: what was said when it was ordered. left_waiting: framed long
    ago and never fetched.
    """

    quoted_at: datetime
    by: str
    changes: tuple[tuple[StageChange, ...], ...]
    ordered_at: datetime | None = None
    promised: date | None = None
    left_waiting: bool = False

    def reached(self, stage: Stage) -> datetime | None:
        """When the last piece came to a stage to stay; None where none did."""
        stays = [piece[-1].at for piece in self.changes if piece and piece[-1].new is stage]
        return max(stays, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A quote to be followed. number: counts the quotes. last: the last day on which anything happens."""

    number: int
    quoted_on: date
    pieces: int
    rush: bool
    last: date


def follow(asked: Asked, random: Random) -> Course:
    """The course of a quote."""
    quoted_at = moment(asked.quoted_on, random)
    by = random.choice(PEOPLE)
    fate = random.choices([fate for fate, _ in _FATES], [share for _, share in _FATES])[0]
    untouched = Course(quoted_at=quoted_at, by=by, changes=((),) * asked.pieces)
    if fate is Fate.UNANSWERED and (asked.last - asked.quoted_on).days < GIVEN_UP_AFTER:
        return untouched
    if fate in (Fate.UNANSWERED, Fate.DECLINED):
        days = GIVEN_UP_AFTER if fate is Fate.UNANSWERED else random.randint(1, 28)
        return _declined(asked, untouched, days, random)
    days = 0 if random.random() < 0.6 else random.randint(1, 9)
    ordered_at = moment(asked.quoted_on + timedelta(days=days), random, after=quoted_at)
    if ordered_at.date() > asked.last:
        return untouched
    return _ordered(asked, untouched, ordered_at, cancelled=fate is Fate.CANCELLED, random=random)


def _declined(asked: Asked, quoted: Course, days: int, random: Random) -> Course:
    at = moment(asked.quoted_on + timedelta(days=days), random, after=quoted.quoted_at)
    if at.date() > asked.last:
        return quoted
    change = StageChange(old=Stage.QUOTED, new=Stage.DECLINED, at=at, by=quoted.by)
    return replace(quoted, changes=((change,),) * asked.pieces)


def _ordered(
    asked: Asked, quoted: Course, ordered_at: datetime, *, cancelled: bool, random: Random
) -> Course:
    lead = random.randint(2, 4) if asked.rush else random.randint(10, 21)
    due = open_day(ordered_at.date() + timedelta(days=lead))
    plan = _Plan(asked=asked, ordered_at=ordered_at, due=due)
    whole = tuple(plan.cancelled(random) if cancelled else plan.made(random))
    waits = bool(whole) and whole[-1].new is Stage.FRAMED and plan.waits(whole[-1].at.date())
    return Course(
        quoted_at=quoted.quoted_at,
        by=quoted.by,
        changes=_by_piece(whole, asked, random),
        ordered_at=ordered_at,
        promised=due,
        left_waiting=waits,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    asked: Asked
    ordered_at: datetime
    due: date

    def cancelled(self, random: Random) -> Iterator[StageChange]:
        """Ordered and, some days after, given up."""
        yield self._change(Stage.QUOTED, Stage.ORDERED, self.ordered_at, random)
        day = self.ordered_at.date() + timedelta(days=random.randint(1, 5))
        at = moment(day, random, after=self.ordered_at)
        if at.date() <= self.asked.last:
            yield self._change(Stage.ORDERED, Stage.CANCELLED, at, random)

    def made(self, random: Random) -> Iterator[StageChange]:
        """Ordered, cut, framed, collected, as far as the last day and the shop's lateness let it."""
        yield self._change(Stage.QUOTED, Stage.ORDERED, self.ordered_at, random)
        lead = (self.due - self.ordered_at.date()).days
        cut_at = moment(
            self.ordered_at.date() + timedelta(days=random.randint(lead // 3, max(1, lead - 3))),
            random,
            after=self.ordered_at,
        )
        if cut_at.date() > self.asked.last or (self._held and self.asked.number % 2):
            return
        yield self._change(Stage.ORDERED, Stage.CUT, cut_at, random)
        late = random.randint(1, 5) if random.random() < 0.06 else -random.randint(0, 3)
        ready = max(self.due + timedelta(days=late), cut_at.date())
        framed_at = moment(ready, random, after=cut_at)
        if framed_at.date() > self.asked.last or self._held:
            return
        yield from self._framed_and_after(framed_at, random)

    def _framed_and_after(self, framed_at: datetime, random: Random) -> Iterator[StageChange]:
        yield self._change(Stage.CUT, Stage.FRAMED, framed_at, random)
        if random.random() < 0.03:
            back_at = framed_at + timedelta(minutes=random.randint(3, 30))
            yield StageChange(
                old=Stage.FRAMED,
                new=Stage.CUT,
                at=back_at,
                by=random.choice(PEOPLE),
                takes_back=True,
                note="Dust under the glazing, opened again.",
            )
            framed_at = back_at + timedelta(minutes=random.randint(20, 60))
            yield self._change(Stage.CUT, Stage.FRAMED, framed_at, random)
        days = random.choice((0, 0, 1, 1, 2, 2, 3, 3, 4, 5, 6, 8, 10, 13, 19))
        at = moment(framed_at.date() + timedelta(days=days), random, after=framed_at)
        if at.date() <= self.asked.last and not self.waits(framed_at.date()):
            yield self._change(Stage.FRAMED, Stage.COLLECTED, at, random)

    @property
    def _held(self) -> bool:
        """Late just now: a third of what was due in the last twelve days."""
        return 0 <= (self.asked.last - self.due).days < 12 and self.asked.number % 3 == 0

    def waits(self, framed_on: date) -> bool:
        """Never fetched: one in nine of what was framed between four weeks and four months ago."""
        return 28 <= (self.asked.last - framed_on).days <= 120 and self.asked.number % 9 == 0

    @staticmethod
    def _change(old: Stage, new: Stage, at: datetime, random: Random) -> StageChange:
        return StageChange(old=old, new=new, at=at, by=random.choice(PEOPLE))


def _by_piece(
    whole: tuple[StageChange, ...], asked: Asked, random: Random
) -> tuple[tuple[StageChange, ...], ...]:
    """The order's changes for each piece: at times one is declined, or is behind at the bench."""
    pieces = [whole]
    for _ in range(1, asked.pieces):
        chance = random.random()
        if chance < 0.05:
            first = whole[0]
            turned = StageChange(old=Stage.QUOTED, new=Stage.DECLINED, at=first.at, by=first.by)
            pieces.append((turned,))
        elif chance < 0.4 and _at_the_bench(whole, asked.last):
            pieces.append(whole[:-1])
        else:
            pieces.append(whole)
    return tuple(pieces)


def _at_the_bench(whole: tuple[StageChange, ...], last: date) -> bool:
    """Whether its last piece came on within these days, so that another may be a step behind."""
    newest = whole[-1]
    lately = (last - newest.at.date()).days < 7
    return lately and not newest.takes_back and newest.new in (Stage.CUT, Stage.FRAMED)
