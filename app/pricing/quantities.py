"""How much of a material is charged for its use in a piece (P1 to P3).

Owns the charge rules. All quantities are exact fractions of the unit charged. A material that no new
stick or sheet of it holds is priced all the same; that it is so is not for a price to say, since it
knows neither trims nor the rack.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.counting import counted
from app.lengths import ZERO, Length, Size, Steps, Unit, show, show_size
from app.money import Money, show_percent
from app.pricing.book import Charge, ChargeBy, SizeBand
from app.pricing.measure import (
    Measure,
    area_in_measure,
    area_measure,
    in_measure,
    length_measure,
    natural_measure,
    read_in,
)
from app.pricing.opened import OpenedFor, OpenedSheets, OpenedSticks
from app.pricing.sheetshare import sheets_by_area, smallest_share
from app.pricing.uses import Use
from app.pricing.wording import decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """What is charged of one material.

    quantity: in the measure. spent: what the cost is counted on, in the cost's own measure; the same
    as the quantity except by size band. price: of the size band, for one. how: sentences that any
    reader may see. checks: sentences for the shop. notice: what does not go as priced.
    """

    quantity: Fraction
    measure: Measure
    spent: Fraction
    spent_measure: Measure
    how: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
    price: Money | None = None
    notice: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingBasis:
    """What a quantity needs to know of the shop. unit: of the sentences. saw_loss: for each rail.

    opened: for the use in question, where it is charged by what is opened. copies: how many alike that is of.
    """

    unit: Unit
    saw_loss: Length = ZERO
    opened: OpenedFor | None = None
    copies: int = 1


def quantity_of(use: Use, cutting: CuttingBasis) -> Quantity:
    """Return what is charged of a material for its use, by the charge rule of the material. Source: P1."""
    by_rule = {
        ChargeBy.LENGTH: charged_length,
        ChargeBy.AREA: charged_area,
        ChargeBy.SHEET_SHARE: charged_share,
        ChargeBy.SIZE_BAND: charged_band,
        ChargeBy.EACH: charged_each,
        ChargeBy.OPENED: charged_opened,
    }
    return by_rule[use.material.charge.by](use, cutting)


def charged_length(use: Use, cutting: CuttingBasis) -> Quantity:
    """Length by P2: (runs + saw loss) × (1 + waste), at least the minimum, up to the charge step.

    Source: handbook P2. Beside it stands the handbook rule for a frame, for comparison.
    """
    charge, unit = use.material.charge, cutting.unit
    measure = length_measure(use.material.per)
    net, how = _net_length(use, cutting)
    length = net * (1 + charge.waste)
    if charge.waste:
        how.append(f"With {show_percent(charge.waste)} for waste: {show(length, unit, mark=True)}.")
    quantity = in_measure(_at_least_in_steps(length, charge, unit, how), measure)
    return Quantity(
        quantity=quantity,
        measure=measure,
        spent=quantity,
        spent_measure=measure,
        how=tuple(how),
        checks=_handbook_check(use, unit),
    )


def _at_least_in_steps(length: Length, charge: Charge, unit: Unit, how: list[str]) -> Length:
    """Return a length brought to the minimum and up to the charge step, which `how` tells."""
    if length < charge.minimum_length:
        length = charge.minimum_length
        how.append(f"At least {show(length, unit, mark=True)} is charged.")
    if charge.step > ZERO:
        length = Steps(unit=unit, step=charge.step).up(length)
        step = show(charge.step, unit, mark=True)
        how.append(f"Up to the next {step}: {show(length, unit, mark=True)}.")
    return length


def _net_length(use: Use, cutting: CuttingBasis) -> tuple[Length, list[str]]:
    """Return the runs with what the saw takes, before waste."""
    unit = cutting.unit
    runs = " + ".join(
        f"{count * use.count} × {show(length, unit, mark=True)}" for length, count in use.runs
    )
    length = use.length * use.count
    how = [f"{runs} = {show(length, unit, mark=True)}."]
    loss = cutting.saw_loss * use.pieces * use.count if use.sawn else ZERO
    if loss > ZERO:
        each = show(cutting.saw_loss, unit, mark=True)
        how.append(
            f"Lost at the saw: {use.pieces * use.count} × {each} = {show(loss, unit, mark=True)}."
        )
    return length + loss, how


def handbook_length(package: Size, face: Length) -> Length:
    """Return the rule of thumb for a frame's moulding: 2 × (width + height) + 8 × face.

    Source: handbook P2; a moulding supplier's public how-to adds 1/4 in to it.
    """
    return package.united * 2 + face * 8


def _handbook_check(use: Use, unit: Unit) -> tuple[str, ...]:
    if use.face is None:
        return ()
    rule = handbook_length(use.size, use.face)
    more = rule - use.length
    return (
        f"By the rule of thumb 2 × (w + h) + 8 × face it would be {show(rule, unit, mark=True)}, "
        f"{show(abs(more), unit, mark=True)} {'less' if more < ZERO else 'more'} than the long "
        "points (8 × lip − 4 × play).",
    )


def charged_area(use: Use, cutting: CuttingBasis) -> Quantity:
    """Area by P3: blank × (1 + waste), at least the minimum area; each piece for itself."""
    charge, unit = use.material.charge, cutting.unit
    measure = area_measure(use.material.per)
    one, how = _spent_area(use, charge, unit)
    if one < charge.minimum_area:
        one = charge.minimum_area
        how.append(f"At least {area_text(one, measure, unit)} is charged.")
    quantity = area_in_measure(one, measure) * use.count
    return Quantity(
        quantity=quantity,
        measure=measure,
        spent=quantity,
        spent_measure=measure,
        how=tuple(how),
    )


def area_text(area_m2: Fraction, measure: Measure, unit: Unit) -> str:
    """Return an area to a thousandth, as explanations show it: "0.241 m²", in inches "2.589 sq ft"."""
    read = read_in(measure, unit)
    return f"{decimal(area_in_measure(area_m2, read))} {read}"


def _spent_area(use: Use, charge: Charge, unit: Unit) -> tuple[Fraction, list[str]]:
    """Return the area of one blank with its waste, in m²."""
    measure = area_measure(use.material.per)
    area = use.size.area_m2
    how = [f"{show_size(use.size, unit, mark=True)} = {area_text(area, measure, unit)}."]
    if charge.waste:
        area *= 1 + charge.waste
        shown = area_text(area, measure, unit)
        how.append(f"With {show_percent(charge.waste)} for waste: {shown}.")
    return area, how


def charged_share(use: Use, cutting: CuttingBasis) -> Quantity:
    """Return the smallest listed share of the sheet that covers the blank (P1, see `sheetshare`).

    A blank that no sheet covers is charged one sheet, or by its area where that is more.
    """
    sheet = use.material.sheet
    assert sheet is not None, "a sheet material has its sheet"
    blank = show_size(use.size, cutting.unit, mark=True)
    share = smallest_share(use.size, sheet.size, use.material.charge.shares)
    if share is None:
        share = sheets_by_area(use.size, sheet.size)
        how = f"{blank} is larger than a sheet, so it counts as {_sheets(share)}."
    else:
        how = f"{blank} is covered by {_share_name(share)}."
    return Quantity(
        quantity=share,
        measure=Measure.SHEET,
        spent=share,
        spent_measure=Measure.SHEET,
        how=(how,),
    )


def _share_name(share: Fraction) -> str:
    return "one whole sheet" if share == 1 else f"{share} of a sheet"


def charged_band(use: Use, cutting: CuttingBasis) -> Quantity:
    """Return the price of the first band that reaches the united size (P1).

    Above the last band its price stands, with a notice. The cost is counted on what is spent.
    """
    united = use.size.united
    band = _band_for(united, use.material.charge.bands)
    shown = show(united, cutting.unit, mark=True)
    limit = show(band.up_to, cutting.unit, mark=True)
    above = united > band.up_to
    spent, spent_measure = _spent_by_band(use, cutting)
    return Quantity(
        quantity=Fraction(use.count),
        measure=Measure.BAND,
        spent=spent,
        spent_measure=spent_measure,
        price=band.price,
        how=(f"Width + height = {shown}, {'above' if above else 'in'} the band up to {limit}.",),
        notice=f"{shown} of width + height is above the last size band, {limit}; its price is "
        "taken, so look at it."
        if above
        else None,
    )


def _band_for(united: Length, bands: tuple[SizeBand, ...]) -> SizeBand:
    return next((band for band in bands if united <= band.up_to), bands[-1])


def _spent_by_band(use: Use, cutting: CuttingBasis) -> tuple[Fraction, Measure]:
    """Return what a piece uses up, in the unit its cost is quoted in, with waste but no minimum."""
    charge, measure = use.material.charge, natural_measure(use.material.per)
    if measure is Measure.EACH:
        return Fraction(use.count), measure
    if measure in (Measure.METRE, Measure.FOOT):
        net, _ = _net_length(use, cutting)
        return in_measure(net * (1 + charge.waste), measure), measure
    area, _ = _spent_area(use, charge, cutting.unit)
    return area_in_measure(area, measure) * use.count, measure


def charged_each(use: Use, _cutting: CuttingBasis) -> Quantity:
    """As many as are taken (P1)."""
    count = Fraction(use.count)
    return Quantity(quantity=count, measure=Measure.EACH, spent=count, spent_measure=Measure.EACH)


def charged_opened(use: Use, cutting: CuttingBasis) -> Quantity:
    """Return what a plan for the piece alone opens less the offcuts worth keeping; no waste share on top.

    Each use bears its part of it, by length or area; then the minimum and the charge step.
    Source: ours, on P1 and C3.
    """
    part = cutting.opened
    assert part is not None, "what was opened is brought with the use"
    if isinstance(part.opened, OpenedSticks):
        return _opened_length(use, cutting, part.opened, part.share)
    return _opened_sheets(use, cutting, part.opened, part.share)


def _opened_length(
    use: Use, cutting: CuttingBasis, opened: OpenedSticks, share: Fraction
) -> Quantity:
    unit = cutting.unit
    measure = length_measure(use.material.per)

    def say(length: Length) -> str:
        return show(length, unit, mark=True)

    used_up = say(opened.used_up)
    stock = f"{counted(opened.count, 'stick')} of {say(opened.stick)}"
    how = [
        _opens(stock, opened.count, [say(each) for each in opened.kept], used_up, cutting.copies)
    ]
    how += [f"{say(each)} is longer than a stick holds." for each in opened.too_long]
    length = opened.used_up * share
    if share != 1:
        how.append(f"Shared with other parts of the same material, by length: {say(length)}.")
    length = _at_least_in_steps(length, use.material.charge, unit, how)
    quantity = in_measure(length, measure)
    return Quantity(
        quantity=quantity,
        measure=measure,
        spent=quantity,
        spent_measure=measure,
        how=tuple(how),
        checks=_handbook_check(use, unit) if cutting.copies == 1 else (),
    )


def _opened_sheets(
    use: Use, cutting: CuttingBasis, opened: OpenedSheets, share: Fraction
) -> Quantity:
    unit, sheet = cutting.unit, opened.sheet

    def say(size: Size) -> str:
        return show_size(size, unit, mark=True)

    stock = f"{_sheets(Fraction(opened.count))} of {say(sheet)}"
    used_up = _sheets(opened.used_up)
    how = [
        _opens(stock, opened.count, [say(each) for each in opened.kept], used_up, cutting.copies)
    ]
    how += [f"{say(each)} is larger than a sheet holds." for each in opened.too_large]
    quantity = opened.used_up * share
    if share != 1:
        how.append(f"Shared with other parts of the same material, by area: {_sheets(quantity)}.")
    least = use.material.charge.minimum_area / sheet.area_m2
    if quantity < least:
        quantity = least
        how.append(f"At least {_sheets(least)} is charged.")
    return Quantity(
        quantity=quantity,
        measure=Measure.SHEET,
        spent=quantity,
        spent_measure=Measure.SHEET,
        how=tuple(how),
    )


_MOST_NAMED = 3
"""Offcuts that are named one by one; of more it is said how many of each size are kept. Source: ours."""


def _opens(stock: str, count: int, kept: Sequence[str], used_up: str, copies: int) -> str:
    """ "Cut by itself the piece opens 1 stick of 3000 mm; 774 mm is kept: 2226 mm used up." """
    if not count:
        return f"{used_up} counted as used up."
    if len(kept) > _MOST_NAMED:
        kept = [f"{times} × {each}" for each, times in Counter(kept).items()]
    rest = f"{' and '.join(kept)} {'is' if len(kept) == 1 else 'are'} kept" if kept else ""
    opens = "Cut by itself the piece opens"
    if copies > 1:
        opens = f"Cut by themselves the {copies} pieces open"
    return f"{opens} {stock}; {rest or 'nothing is kept'}: {used_up} used up."


def _sheets(quantity: Fraction) -> str:
    """ "1 sheet", "0.251 of a sheet", "2.5 sheets"."""
    if quantity == 1:
        return "1 sheet"
    return f"{decimal(quantity)} {'sheets' if quantity > 1 else 'of a sheet'}"
