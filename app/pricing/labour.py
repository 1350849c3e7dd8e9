"""The work of a piece: minutes of each operation × the hourly rate (P5), and of several alike (P11)."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from app.framing import Dimensions, Presentation, Spec
from app.money import Money, show_money
from app.pricing.chosen import Chosen
from app.pricing.lines import PriceLine, rounded, times_text
from app.pricing.measure import Measure
from app.pricing.operations import Operation, When
from app.pricing.rules import PriceRules
from app.pricing.uses import LineGroup
from app.pricing.wording import decimal, quantity_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """What a piece asks of the labour table.

    times: how often each kind of operation is done. metres: of all frames, along the outside; of one that is given, of which that was not
    measured, along the rebate.
    area: of the package, in m².
    """

    times: tuple[tuple[When, int], ...]
    metres: Fraction
    layers: int
    windows: int
    area: Fraction

    def how_often(self, when: When) -> int:
        """Tell how often an operation of that kind is done; 0 where the piece does not need it."""
        return dict(self.times).get(when, 0)


def worked(dimensions: Dimensions, chosen: Chosen) -> Worked:
    """Return the counts of a piece that its labour follows."""
    presentation, boxed = dimensions.spec.presentation, dimensions.spec.boxed is not None
    one = dimensions.reaches_behind_all
    artworks = 1 if one else max(len(dimensions.spec.openings), 1)
    given = dimensions.spec.given_frame
    outsides = [frame.outside for frame in dimensions.frames]
    outsides += [dimensions.outside] if given is not None else []
    needed = {
        When.ALWAYS: 1,
        When.FRAME: len(dimensions.frames),
        When.GIVEN_FRAME: given is not None,
        When.OWN_FRAME: given is not None and given.own,
        When.MAT: bool(dimensions.layers),
        When.BEHIND_MAT: artworks if dimensions.layers and not boxed else 0,
        When.FLOAT: 0 if boxed else floating(dimensions.spec),
        When.OBJECT: artworks if boxed else 0,
        When.FILLET: len(dimensions.fillets),
        When.GLAZING: dimensions.glazing is not None,
        When.SPACER: bool(dimensions.spacers),
        When.MOUNT_BOARD: dimensions.mount_board is not None,
        When.BACKING: dimensions.backing is not None,
        When.CANVAS: presentation is Presentation.CANVAS,
        When.TRAY: presentation is Presentation.CANVAS_FLOAT,
        When.HANGING: bool(chosen.hardware),
    }
    return Worked(
        times=tuple((when, int(times)) for when, times in needed.items()),
        metres=sum((size.united.mm * 2 for size in outsides), Fraction(0)) / 1000,
        layers=len(dimensions.layers),
        windows=len(dimensions.windows),
        area=dimensions.package.area_m2,
    )


def floating(spec: Spec) -> int:
    """Tell how many artworks float: as each opening says, else as the piece is shown (G2)."""
    shown = spec.presentation is Presentation.FLOAT
    if not spec.openings:
        return int(shown)
    return sum(shown if each.floats is None else each.floats for each in spec.openings)


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """The minutes of an operation, exact. set_up: of its fixed part. further: of what follows the piece's counts."""

    operation: Operation
    set_up: Fraction
    further: Fraction

    @property
    def for_all(self) -> Fraction:
        """What is done once, however many are alike."""
        return self.set_up if self.operation.once else Fraction(0)

    @property
    def for_each(self) -> Fraction:
        """What is done for each of them."""
        return self.set_up + self.further - self.for_all


def timed(operation: Operation, work: Worked) -> Timed:
    """Return the minutes of one operation: fixed, and per metre + per layer + per window + per m².

    The fixed part counts each time it is done; the rest follows the piece's counts once.
    Source: handbook P5.
    """
    times = work.how_often(operation.when)
    if not times:
        return Timed(operation=operation, set_up=Fraction(0), further=Fraction(0))
    return Timed(
        operation=operation,
        set_up=operation.fixed * times,
        further=operation.per_metre * work.metres
        + operation.per_layer * work.layers
        + operation.per_window * work.windows
        + operation.per_m2 * work.area,
    )


def minutes_of(operation: Operation, work: Worked) -> Fraction:
    """Minutes of one operation for one piece by itself, exact. Source: handbook P5."""
    of = timed(operation, work)
    return of.set_up + of.further


def labour_lines(
    dimensions: Dimensions, chosen: Chosen, rules: PriceRules, copies: int = 1
) -> Iterator[PriceLine]:
    """Yield the line for the work, rounded once; of several alike one for each of them and one for what is done once.

    None where no operation takes any time. Labour has no cost of its own: what an hour brings is its
    measure (P9). Source: handbook P5, P11.
    """
    work = worked(dimensions, chosen)
    done = [timed(each, work) for each in rules.operations]
    if copies == 1:
        yield from _line([(each, each.set_up + each.further) for each in done], rules)
        return
    yield from _line([(each, each.for_each) for each in done], rules, copies=copies)
    yield from _line([(each, each.for_all) for each in done], rules, together=True)


def _line(
    minutes_of_each: Iterable[tuple[Timed, Fraction]],
    rules: PriceRules,
    *,
    copies: int = 1,
    together: bool = False,
) -> Iterator[PriceLine]:
    taken = [(of.operation, time) for of, time in minutes_of_each if time]
    minutes = sum((time for _, time in taken), Fraction(0))
    if not minutes:
        return
    a_minute = Fraction(rules.hourly_rate.minor, 60)
    one = rounded(minutes * a_minute, rules.currency)
    amount = one * copies
    yield PriceLine(
        code="work",
        label="Work done once" if together else "Work",
        group=LineGroup.LABOUR,
        part="setting up" if together else "work",
        quantity=minutes,
        measure=Measure.MINUTE,
        unit_price=a_minute,
        amount=amount,
        settled=amount,
        cost=Money.zero(rules.currency),
        tax=rules.labour_tax,
        why=(
            *(f"{operation.name}: {decimal(time, 1)} min." for operation, time in taken),
            f"{quantity_text(minutes, Measure.MINUTE, a_minute)} at "
            f"{show_money(rules.hourly_rate)} an hour = {show_money(one)}.",
            *times_text(copies, one),
        ),
        copies=copies,
        together=together,
    )
