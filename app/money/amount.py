"""The exact amount and the one rounding policy.

Owns arithmetic on money. What money buys is for `pricing`. Source: M1.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from app.money.currency import Currency


def round_half_up(value: Fraction) -> int:
    """Return the nearest whole number; half-way goes away from zero.

    So a refund mirrors its charge: 2.5 becomes 3 and -2.5 becomes -3.
    Source: M1; HMRC internal manual VATREC12030 (below half down, half and more up).
    """
    return _half_up(value.numerator, value.denominator)


def _half_up(over: int, under: int) -> int:
    rounded = (2 * abs(over) + under) // (2 * under)
    return rounded if over >= 0 else -rounded


@dataclass(frozen=True, slots=True)
class Money:
    """A whole number of minor units of one currency, negative for what goes back.

    Amounts of different currencies never meet: adding or comparing them raises ValueError. Only
    `times` rounds. Floats are refused with TypeError.
    """

    minor: int
    currency: Currency

    def __post_init__(self) -> None:
        if type(self.minor) is not int:
            raise TypeError(f"money is whole minor units, not {type(self.minor).__name__}")

    @classmethod
    def zero(cls, currency: Currency) -> "Money":
        """Nothing, in a currency."""
        return cls(0, currency)

    def with_all(self, others: Iterable["Money"]) -> "Money":
        """Return this amount and all others together, of many sooner than by adding one after the other."""
        minors = [
            other.minor if other.currency is self.currency else self._minor_of(other)
            for other in others
        ]
        return Money(self.minor + sum(minors), self.currency)

    def __add__(self, other: "Money") -> "Money":
        if not isinstance(other, Money):
            return NotImplemented
        return Money(self.minor + self._minor_of(other), self.currency)

    def __sub__(self, other: "Money") -> "Money":
        if not isinstance(other, Money):
            return NotImplemented
        return Money(self.minor - self._minor_of(other), self.currency)

    def __neg__(self) -> "Money":
        return Money(-self.minor, self.currency)

    def __abs__(self) -> "Money":
        return Money(abs(self.minor), self.currency)

    def __mul__(self, count: int) -> "Money":
        if not isinstance(count, int):
            return NotImplemented
        return Money(self.minor * count, self.currency)

    __rmul__ = __mul__

    def times(self, factor: Fraction | int) -> "Money":
        """Return the amount times a factor, rounded half up (away from zero) to the minor unit."""
        if not isinstance(factor, Fraction | int):
            raise TypeError(f"money is multiplied by exact numbers, not {type(factor).__name__}")
        product = _half_up(self.minor * factor.numerator, factor.denominator)
        return Money(product, self.currency)

    def __bool__(self) -> bool:
        return bool(self.minor)

    def __lt__(self, other: "Money") -> bool:
        if not isinstance(other, Money):
            return NotImplemented
        return self.minor < self._minor_of(other)

    def __le__(self, other: "Money") -> bool:
        if not isinstance(other, Money):
            return NotImplemented
        return self.minor <= self._minor_of(other)

    def __gt__(self, other: "Money") -> bool:
        if not isinstance(other, Money):
            return NotImplemented
        return self.minor > self._minor_of(other)

    def __ge__(self, other: "Money") -> bool:
        if not isinstance(other, Money):
            return NotImplemented
        return self.minor >= self._minor_of(other)

    def _minor_of(self, other: "Money") -> int:
        if other.currency != self.currency:
            raise ValueError(
                f"{self.currency.code} and {other.currency.code} cannot be added or compared"
            )
        return other.minor


def round_to_step(money: Money, step: Money) -> Money:
    """Return the nearest multiple of a step, half-way away from zero; a zero step changes nothing.

    Raises: ValueError for a step below zero or in another currency. Source: P6.
    """
    if step.currency != money.currency or step.minor < 0:
        raise ValueError("a rounding step is zero or more, in the currency of the amount")
    if not step:
        return money
    return step * _half_up(money.minor, step.minor)
