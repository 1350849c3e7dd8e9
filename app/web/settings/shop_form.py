"""The shop's own settings from their forms, and back: who it is, its allowances, its promises."""

from collections.abc import Mapping
from dataclasses import replace

from app.errors import quoted
from app.forms.reader import Reader, length_text, percent_text
from app.framing import UnderWay
from app.lengths import ALLOWED_STEPS, DEFAULT_STEP, Example, Examples, Length, Unit, inches, mm
from app.money import currency
from app.orders import Allowances, MatWord, Paper, Promise, Shop, usual_shop
from app.orders.change_of_currency import shop_in
from app.web.settings.cutter_form import FIRST_EXAMPLES, read_first_cutter
from app.web.settings.tax_form import PriceMode

MOST_PEOPLE = 12
LONGEST_PERSON = 40

LENGTHS = (
    "overlap",
    "gap",
    "canvas_gap",
    "reveal",
    "border",
    "weighting",
    "allowance",
    "spacer_width",
    "object_clearance",
    "under_trim",
    "glazing_trim",
    "backing_trim",
)
"""The lengths among the allowances."""

_TRIM = Example(mm(1), inches("1/32"))


def _usual(name: str) -> Example:
    return Example.of(lambda unit: getattr(Allowances.usual(unit), name))


EXAMPLES: Examples = {name: _usual(name) for name in LENGTHS} | {
    "weighting": Example(mm(10), inches("3/8")),
    "glazing_trim": _TRIM,
    "backing_trim": _TRIM,
    "step": Example.of(DEFAULT_STEP.__getitem__),
}
"""Of each length what is usual; where that is nothing, a figure that a shop may have."""

LIMITS = ("smallest_border", "least_bridge")
"""Lengths below which a notice is given; blank follows the unit."""


def read_first_run(typed: Mapping[str, str]) -> Shop:
    """The shop of the first-run page. Raises: Invalid with every fault, at the page's fields."""
    money = currency("EUR")
    read = Reader(typed, Unit.MM, money, FIRST_EXAMPLES)
    name = read.required("name", "The shop's name is empty; it heads every quote.", 80)
    if read.given("currency"):
        money = read.take(lambda: currency(typed["currency"])) or money
    else:
        sentence = "Type the currency as three letters, as EUR, GBP or USD."
        read.faults.add("currency", sentence, "empty")
    read.currency = money
    unit = read.choice("unit", Unit, Unit.MM)
    shop = usual_shop(name or "?", unit, money.code, read.percent("tax"))
    included = read.choice("stated", PriceMode, PriceMode.WITH) is PriceMode.WITH
    paper = read.choice("paper", Paper, shop.paper)
    rate = read.money("hourly_rate", shop.labour.hourly_rate)
    cutters = read_first_cutter(read, unit)
    read.faults.finish()
    return replace(
        shop,
        paper=paper,
        cutters=cutters,
        tax_policy=replace(shop.tax_policy, included=included),
        labour=replace(shop.labour, hourly_rate=rate),
    )


def read_identity(typed: Mapping[str, str], shop: Shop) -> Shop:
    """The shop with the name, unit, currency and so on of a form.

    Another unit takes that unit's cutting step, and its usual allowances where the shop had the usual
    ones; another currency keeps every figure as far as its decimals go. Raises: Invalid with every fault.
    """
    read = Reader(typed, shop.unit, shop.currency)
    name = read.required("name", "The shop's name is empty; it heads every quote.", 80)
    money = read.take(lambda: currency(typed.get("currency", ""))) or shop.currency
    unit = read.choice("unit", Unit, shop.unit)
    changed = {
        "name": name or shop.name,
        "address": read.text("address", 400),
        "contact": read.text("contact", 200),
        "tax_number": read.text("tax_number", 60),
        "paper": read.choice("paper", Paper, shop.paper),
        "mat_word": read.choice("mat_word", MatWord, shop.mat_word),
        "people": _people(read),
    }
    moved = read.take(lambda: shop_in(shop, money)) or shop
    read.faults.finish()
    return replace(_in_unit(moved, unit), **changed)  # type: ignore[arg-type]


def _people(read: Reader) -> tuple[str, ...]:
    people = tuple(dict.fromkeys(read.lines("people")))
    for person in people:
        if len(person) > LONGEST_PERSON:
            read.faults.add(
                "people", f"{quoted(person)} is too long; at most {LONGEST_PERSON} characters are."
            )
    if len(people) > MOST_PEOPLE:
        read.faults.add(
            "people", f"{len(people)} people were typed; at most {MOST_PEOPLE} can be named."
        )
    return people


def _in_unit(shop: Shop, unit: Unit) -> Shop:
    if unit is shop.unit:
        return shop
    usual = shop.allowances == Allowances.usual(shop.unit)
    return replace(
        shop,
        unit=unit,
        step=DEFAULT_STEP[unit],
        allowances=Allowances.usual(unit) if usual else shop.allowances,
    )


def identity_typed(shop: Shop) -> dict[str, str]:
    """The text of every field of the form."""
    return {
        "name": shop.name,
        "address": shop.address,
        "contact": shop.contact,
        "tax_number": shop.tax_number,
        "people": "\n".join(shop.people),
        "unit": shop.unit.value,
        "currency": shop.currency.code,
        "paper": shop.paper.value,
        "mat_word": shop.mat_word.value,
    }


def read_allowances(typed: Mapping[str, str], shop: Shop) -> Shop:
    """The shop with the allowances and the cutting step of a form; blank is the usual one.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = Reader(typed, shop.unit, shop.currency, EXAMPLES)
    usual = Allowances.usual(shop.unit)
    lengths = {name: read.length(name, getattr(usual, name)) for name in LENGTHS}
    way = read.choice("under_way", UnderWay, UnderWay.ATTACHED)
    step = _step(read, shop)
    read.faults.finish()
    return replace(
        shop,
        allowances=Allowances(
            under_way=way,
            smallest_border=_limit(read, "smallest_border"),
            least_bridge=_limit(read, "least_bridge"),
            **lengths,
        ),
        step=step,
    )


def _limit(read: Reader, name: str) -> Length | None:
    return read.length(name) if read.given(name) else None


def _step(read: Reader, shop: Shop) -> Length:
    """One of the steps of the shop's unit."""
    step = read.length("step", shop.step)
    if step not in ALLOWED_STEPS[shop.unit]:
        allowed = " or ".join(length_text(each, shop.unit) for each in ALLOWED_STEPS[shop.unit])
        read.faults.add("step", f"The cutting step must be {allowed} {shop.unit.value}.")
    return step


def allowances_typed(shop: Shop) -> dict[str, str]:
    """The text of every field of the form."""
    given = {name: getattr(shop.allowances, name) for name in (*LENGTHS, *LIMITS)}
    typed = {
        name: "" if length is None else length_text(length, shop.unit)
        for name, length in given.items()
    }
    return typed | {
        "under_way": shop.allowances.under_way.value,
        "step": length_text(shop.step, shop.unit),
    }


def read_promises(typed: Mapping[str, str], shop: Shop) -> Shop:
    """The shop with the promises of a form; blank is the usual one. Raises: Invalid."""
    read = Reader(typed, shop.unit, shop.currency)
    usual = Promise()
    promise = Promise(
        valid_days=read.whole("valid_days", "number of days", usual.valid_days, low=1, high=366),
        ready_days=read.whole("ready_days", "number of days", usual.ready_days, high=366),
        deposit=read.percent("deposit", usual.deposit),
        rush=read.percent("rush", usual.rush, high=500),
    )
    read.faults.finish()
    return replace(shop, promise=promise)


def promises_typed(shop: Shop) -> dict[str, str]:
    """The text of every field of the form."""
    promise = shop.promise
    return {
        "valid_days": str(promise.valid_days),
        "ready_days": str(promise.ready_days),
        "deposit": percent_text(promise.deposit),
        "rush": percent_text(promise.rush),
    }
