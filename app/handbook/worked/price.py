"""The examples of the rules of prices, worked. Amounts are in a currency of hundredths."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from app.framing import Presentation, frame_around, work_out
from app.handbook.worked.figures import Figures, Given
from app.lengths import Length, Size, Unit, mm
from app.money import (
    Money,
    Taxed,
    TaxPolicy,
    TaxRate,
    TaxRounding,
    currency,
    parse_money,
    show_money,
    show_percent,
    taxed_parts,
)
from app.orders import Agreed, ArtworkRecord, Design, Order, Piece, usual_shop
from app.orders.designs import with_taken
from app.orders.target_price import met
from app.orders.totals import account_of, range_of
from app.pricing import (
    Adjustments,
    Charge,
    ChargeBy,
    Chosen,
    ChosenCount,
    CostPer,
    Kind,
    LineGroup,
    Material,
    PriceRules,
    Profile,
    Selling,
    SheetStock,
    SizeBand,
    Use,
    charged_in,
    handbook_length,
    price_order,
    price_piece,
    unit_price,
)
from app.pricing.adjusting import adjust
from app.pricing.lines import material_line
from app.pricing.quantities import CuttingBasis, quantity_of
from app.pricing.sheetshare import smallest_share
from app.pricing.sold import Sale, price_sale
from app.pricing.steps import steps_of
from app.pricing.wording import decimal

EUR = currency("EUR")


def amount(text: str) -> Money:
    """Return an amount of the examples."""
    return parse_money(text, EUR, path="")


def _moulding(given: Given) -> Material:
    frame = given.profile
    return Material(
        code="moulding",
        name="Moulding",
        kind=Kind.MOULDING,
        cost=amount("15.00"),
        per=CostPer.STICK,
        charge=Charge(by=ChargeBy.LENGTH),
        selling=Selling(markup=Fraction(5, 2)),
        profile=Profile(
            face=frame.face,
            lip=frame.lip,
            rebate_depth=frame.rebate_depth,
            stick=given.length("3000", "120"),
            grams_per_metre=310,
        ),
    )


def _glass(given: Given, **charge: object) -> Material:
    return Material(
        code="glass",
        name="Glass",
        kind=Kind.GLAZING,
        cost=amount("4.00"),
        per=CostPer.SQUARE_METRE if given.unit is Unit.MM else CostPer.SQUARE_FOOT,
        charge=Charge(by=ChargeBy.AREA, **charge),  # type: ignore[arg-type]
        selling=Selling(markup=Fraction(5, 2)),
        sheet=SheetStock(size=Size(mm(1000), mm(1000)), thickness=mm(2), grams_per_m2=5000),
    )


def share(given: Given) -> Figures:
    """P1."""
    sheet = given.size(("1120", "815"), ("40", "32"))
    found = smallest_share(given.package, sheet, Charge(by=ChargeBy.SHEET_SHARE).shares)
    return {"blank": given.say(given.package), "sheet": given.say(sheet), "share": str(found)}


def length(given: Given) -> Figures:
    """P2."""
    frame, loss = given.profile, given.shop.saw_loss
    rails = frame_around(given.package, frame).outside
    use = Use(
        material=_moulding(given),
        group=LineGroup.FRAME,
        part="frame",
        size=given.package,
        runs=((rails.width, 2), (rails.height, 2)),
        sawn=True,
    )
    found = quantity_of(use, CuttingBasis(unit=given.unit, saw_loss=loss))
    return {
        "rails": given.say(rails),
        "loss": given.say(loss),
        "length": given.say(Length(found.quantity * 1000)),
        "package": given.say(given.package),
        "face": given.say(frame.face),
        "thumb": given.say(handbook_length(given.package, frame.face)),
    }


def area(given: Given) -> Figures:
    """P3."""
    waste = Fraction(1, 10)
    use = Use(
        material=_glass(given, waste=waste),
        group=LineGroup.GLAZING,
        part="glazing",
        size=given.package,
    )
    found = quantity_of(use, CuttingBasis(unit=given.unit))
    return {
        "blank": given.say(given.package),
        "waste": show_percent(waste),
        "area": f"{decimal(found.quantity, 3)} {found.measure}",
    }


def sell_price(given: Given) -> Figures:
    """P4."""
    glass = _glass(given)
    found = unit_price(glass, charged_in(glass), _rules(given))
    return {
        "cost": show_money(glass.cost),
        "factor": "2.5",
        "price": show_money(Money(int(found.minor), EUR)),
    }


def labour(_given: Given) -> Figures:
    """P5."""
    minutes, rate = 40, amount("36.00")
    return {
        "minutes": str(minutes),
        "rate": show_money(rate),
        "price": show_money(rate.times(Fraction(minutes, 60))),
    }


def piece(_given: Given) -> Figures:
    """P6."""
    lines, discount, step = amount("129.00"), Fraction(1, 10), amount("0.50")
    found = adjust(lines, Adjustments(discount=discount), step)
    return {
        "lines": show_money(lines),
        "discount": show_percent(discount),
        "step": show_money(step),
        "price": show_money(found.total),
    }


def designs(given: Given) -> Figures:
    """P10."""
    single, choice = ("116.00",), ("104.00", "90.00", "121.50")
    quote = Order(
        id=1,
        version=1,
        customer_id=1,
        customer_name="",
        quote_number="",
        quoted_on=date.min,
        valid_until=date.min,
        pieces=(_piece(given, 1, *single), _piece(given, 2, *choice)),
    )
    found = range_of(quote, Money.zero(EUR))
    taken = account_of(with_taken(quote, {2: 1}), Money.zero(EUR))
    return {
        "one": single[0],
        "first": choice[0],
        "second": choice[1],
        "third": choice[2],
        "least": show_money(found.least.to_pay),
        "most": show_money(found.most.to_pay),
        "taken": show_money(taken.to_pay),
    }


def _piece(given: Given, number: int, *prices: str) -> Piece:
    """Return a piece with a design of each price."""
    offered = (_agreed(given, amount(price)) for price in prices)
    designs = tuple(Design(number=n, agreed=each) for n, each in enumerate(offered, start=1))
    return Piece(id=number, number=number, artwork=ArtworkRecord(), designs=designs)


def _agreed(given: Given, price: Money) -> Agreed:
    """Return what costs so much as a whole."""
    rules = replace(
        given.shop.rules,
        currency=EUR,
        rounding_step=Money.zero(EUR),
        hourly_rate=Money.zero(EUR),
        markup_tables=(),
        tax_policy=TaxPolicy(included=True, rounding=TaxRounding.BY_DOCUMENT),
    )
    whole = Material(
        code="whole",
        name="Whole piece",
        kind=Kind.EXTRA,
        cost=price,
        per=CostPer.EACH,
        charge=Charge(by=ChargeBy.EACH),
        selling=Selling(price=price),
        tax=rules.tax_rates[0].code,
    )
    chosen = Chosen(extras=(ChosenCount(material=whole),))
    spec = given.spec(presentation=Presentation.CLOSE, mats=(), borders=None)
    return Agreed(
        typed={},
        spec=spec,
        steps=given.shop.steps,
        chosen=chosen,
        price=price_piece(work_out(spec), chosen, rules),
        priced_on=date.min,
        tax_policy=rules.tax_policy,
        tax_rates=rules.tax_rates,
    )


def lines(_given: Given) -> Figures:
    """P12."""
    tax, cost, factor, plate = Fraction(1, 5), amount("0.33"), Fraction(5, 2), amount("24.99")
    rules = replace(usual_shop("Lines", Unit.MM, "EUR", tax).rules, markup_tables=())
    hooks = Material(
        code="hooks",
        name="Hooks",
        kind=Kind.GOODS,
        cost=cost,
        per=CostPer.EACH,
        charge=Charge(by=ChargeBy.EACH),
        selling=Selling(markup=factor),
    )
    goods = price_sale(Sale(what="Hooks", number=12, goods=hooks), rules)
    work = price_sale(Sale(what="Plate", number=1, each=plate), rules)
    together = price_order([goods, work], rules.tax_terms)
    return {
        "number": "12",
        "cost": show_money(cost),
        "factor": decimal(factor),
        "goods": show_money(goods.total),
        "work": show_money(work.total),
        "together": show_money(together.total),
        "rate": show_percent(tax),
        "tax": show_money(together.tax.tax),
    }


def target(_given: Given) -> Figures:
    """P13."""
    rate = TaxRate("standard", "Tax", Fraction(1, 5))
    policy = TaxPolicy(included=True, rounding=TaxRounding.BY_DOCUMENT)
    price, asked, minutes = amount("148.00"), amount("130.00"), 90
    charged = Taxed(rounded=taxed_parts([(price, rate)], policy), untaxed=Money.zero(EUR))
    found = met(charged, asked, amount("40.00"), Fraction(minutes))
    assert found.earned_per_hour is not None, "there is work in it"
    return {
        "price": show_money(found.price),
        "asked": show_money(asked),
        "off": show_money(found.off),
        "share": show_percent(found.share),
        "tax": show_percent(rate.percent),
        "net": show_money(found.net),
        "cost": show_money(found.cost),
        "margin": show_money(found.margin),
        "minutes": str(minutes),
        "hourly": show_money(found.earned_per_hour),
    }


def steps(given: Given) -> Figures:
    """P14."""
    blank, limits = (
        given.size(("500", "312"), ("20", "12 1/2")),
        (given.length("800", "32"), given.length("1200", "48")),
    )
    prices = (amount("4.00"), amount("6.00"))
    bands = tuple(
        SizeBand(up_to=up_to, price=price) for up_to, price in zip(limits, prices, strict=True)
    )
    board = replace(
        _glass(given),
        kind=Kind.BOARD,
        charge=Charge(by=ChargeBy.SIZE_BAND, bands=bands),
        selling=Selling(),
    )
    use = Use(material=board, group=LineGroup.BOARDS, part="backing", size=blank)
    line = material_line(use, _rules(given))
    found = steps_of(use, line, given.shop.saw_loss, given.shop.step).smaller
    assert found is not None, "a band lies below it"
    return {
        "blank": given.say(blank),
        "united": given.say(blank.united),
        "limit": given.say(limits[1]),
        "price": show_money(line.amount),
        "by": given.say(found.by),
        "lower": given.say(limits[0]),
        "difference": show_money(found.difference),
    }


def _rules(given: Given) -> PriceRules:
    return replace(
        given.shop.rules,
        currency=EUR,
        rounding_step=Money.zero(EUR),
        hourly_rate=amount("36.00"),
        markup_tables=(),
    )


def alike(_given: Given) -> Figures:
    """P11."""
    number, materials, each, once = 20, amount("30.00"), 20, 6
    rate, step = amount("36.00"), amount("0.50")
    lines = (materials + rate.times(Fraction(each, 60))) * number + rate.times(Fraction(once, 60))
    exact = adjust(lines, Adjustments(copies=number), amount("0.01"))
    found = adjust(lines, Adjustments(copies=number), step)
    return {
        "number": str(number),
        "materials": show_money(materials),
        "each": str(each),
        "rate": show_money(rate),
        "once": str(once),
        "lines": show_money(lines),
        "one": show_money(exact.total.times(Fraction(1, number))),
        "step": show_money(step),
        "price": show_money(found.total.times(Fraction(1, number))),
        "all": show_money(found.total),
    }
