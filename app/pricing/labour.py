"""The work of a piece: minutes of each operation × the hourly rate (P5)."""

from dataclasses import dataclass
from fractions import Fraction

from app.framing import Dimensions, Presentation, Spec
from app.money import Money, show_money
from app.pricing.chosen import Chosen
from app.pricing.lines import PriceLine, rounded
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
        """How often an operation of that kind is done; 0 where the piece does not need it."""
        return dict(self.times).get(when, 0)


def worked(dimensions: Dimensions, chosen: Chosen) -> Worked:
    """The counts of a piece that its labour follows."""
    presentation, boxed = dimensions.spec.presentation, dimensions.spec.boxed is not None
    artworks = max(len(dimensions.spec.openings), 1)
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
    """How many artworks float: as each opening says, else as the piece is shown (G2)."""
    shown = spec.presentation is Presentation.FLOAT
    if not spec.openings:
        return int(shown)
    return sum(shown if each.floats is None else each.floats for each in spec.openings)


def minutes_of(operation: Operation, work: Worked) -> Fraction:
    """Minutes of one operation: fixed + per metre + per layer + per window + per m², exact.

    The fixed part counts each time it is done; the rest follows the piece's counts once.
    Source: handbook P5.
    """
    times = work.how_often(operation.when)
    if not times:
        return Fraction(0)
    return (
        operation.fixed * times
        + operation.per_metre * work.metres
        + operation.per_layer * work.layers
        + operation.per_window * work.windows
        + operation.per_m2 * work.area
    )


def labour_line(dimensions: Dimensions, chosen: Chosen, rules: PriceRules) -> PriceLine | None:
    """The line for the work, rounded once; None where no operation takes any time.

    Labour has no cost of its own: what an hour brings is its measure (P9).
    """
    work = worked(dimensions, chosen)
    timed = [(each, minutes_of(each, work)) for each in rules.operations]
    minutes = sum((time for _, time in timed), Fraction(0))
    if not minutes:
        return None
    a_minute = Fraction(rules.hourly_rate.minor, 60)
    amount = rounded(minutes * a_minute, rules.currency)
    return PriceLine(
        code="work",
        label="Work",
        group=LineGroup.LABOUR,
        part="work",
        quantity=minutes,
        measure=Measure.MINUTE,
        unit_price=a_minute,
        amount=amount,
        settled=amount,
        cost=Money.zero(rules.currency),
        tax=rules.labour_tax,
        why=(
            *(f"{each.name}: {decimal(time, 1)} min." for each, time in timed if time),
            f"{quantity_text(minutes, Measure.MINUTE, a_minute)} at "
            f"{show_money(rules.hourly_rate)} an hour = {show_money(amount)}.",
        ),
    )
