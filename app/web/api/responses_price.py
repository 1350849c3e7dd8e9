"""The answer of `POST /api/price`. Amounts are decimals with all their places, lengths exact text."""

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import BeforeValidator, ConfigDict, Field, ValidationInfo

from app.forms.reader import number_text, percent_text
from app.money import Currency, Money
from app.web.api.answer import Exact, JsonAnswer, read_from
from app.web.api.responses import ArtworkWeightAnswered, PartsAnswered
from app.web.api.responses_bench import NoticeAnswered


def amount_text(money: Money) -> str:
    """Return an amount as a plain decimal with all its places: "-12.50"."""
    units, rest = divmod(abs(money.minor), money.currency.minor_per_unit)
    places = f".{rest:0{money.currency.digits}d}" if money.currency.digits else ""
    return f"{'-' if money.minor < 0 else ''}{units}{places}"


def _amount(value: object) -> object:
    return amount_text(value) if isinstance(value, Money) else value


def _number(value: object) -> object:
    return number_text(value) if isinstance(value, Fraction) else value


def _share(value: object) -> object:
    return percent_text(value) if isinstance(value, Fraction) else value


def _minor(value: object, info: ValidationInfo) -> object:
    """Return a number of minor units as one of the currency's units."""
    if not isinstance(value, Fraction):
        return value
    assert isinstance(info.context, Currency), "prices of a unit are said in a currency"
    return number_text(value / info.context.minor_per_unit)


Amount = Annotated[str, BeforeValidator(_amount)]
Number = Annotated[str, BeforeValidator(_number)]


class LineAnswered(JsonAnswer):
    """One line of a price: quantity times unit price, rounded half up, times copies is the amount."""

    label: str
    group: str
    part: str
    quantity: Number
    measure: str = Field(description="what the quantity counts")
    unit_price: Annotated[str, BeforeValidator(_minor)] = Field(description="exact")
    copies: int = Field(description="for how many alike the quantity counts each")
    together: bool = Field(
        description="whether the quantity is that of all alike at once, as of what is done once"
    )
    amount: Amount
    why: tuple[str, ...] = Field(description="how it came about")


class TaxAnswered(JsonAnswer):
    """The tax of one rate."""

    name: str = read_from("rate", "name")
    percent: Annotated[str, BeforeValidator(_share)] = read_from("rate", "percent")
    net: Amount
    tax: Amount


class PriceAnswered(JsonAnswer):
    """The price, itemised; of several alike each amount is that of all, but `each`."""

    currency: str = read_from("total", "currency", "code")
    tax_included: bool = Field(description="whether the lines hold the tax")
    lines: tuple[LineAnswered, ...]
    subtotal: Amount
    by_number: Amount = Field(description="what a price break takes off")
    discount: Amount
    rush: Amount
    rounding: Amount
    copies: int = Field(description="how many are alike")
    each: Amount = Field(
        description="the price of one, with tax as the lines are; times copies it is `all`"
    )
    all: Amount = read_from("total", description="of all, with tax as the lines are")
    net: Amount = read_from("tax", "net")
    taxes: tuple[TaxAnswered, ...] = read_from("tax", "taxes")
    tax: Amount = read_from("tax", "tax")
    total: Amount = read_from("tax", "gross", description="what the customer pays")


class HangingAnswered(JsonAnswer):
    """How the piece may hang; forces in whole newtons."""

    way: str
    at_least: bool = Field(description="the piece weighs more than is known")
    load_newton: int = read_from("load", description="least working load of every part")
    pull_newton: int | None = read_from("pull", description="of the wire, where there is one")
    angle_degrees: int | None = read_from("angle", description="of the wire, from the horizontal")
    fixings_down: Exact = Field(description="from the top edge of the outermost frame")
    fixings_apart: Exact = Field(description="between their middles")
    wire: Exact | None = Field(
        description="how long it is cut, with what is wound at each end; where there is one"
    )


class WeightAnswered(JsonAnswer):
    """What the piece weighs, exact."""

    kg: str
    at_least: bool
    artwork: ArtworkWeightAnswered


class PiecePartsAnswered(PartsAnswered):
    """Exact parts, and the same in the shop's cutting steps."""

    shop: PartsAnswered


class PieceAnswered(JsonAnswer):
    """A piece of the price book: its parts, weight, hanging and price. More members may come."""

    model_config = ConfigDict(extra="allow")

    unit: Literal["mm", "in"]
    dimensions: PiecePartsAnswered
    weight_kg: str = Field(description="to two places")
    weight: WeightAnswered
    hanging: HangingAnswered | None
    notices: list[NoticeAnswered]
    price: PriceAnswered
