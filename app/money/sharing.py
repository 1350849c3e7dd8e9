"""A whole number shared by weight into whole numbers that add up to it."""

from collections.abc import Sequence
from fractions import Fraction


def shared(whole: int, weights: Sequence[int | Fraction]) -> list[int]:
    """By largest remainder: each part is within one of its exact share.

    Raises: ValueError where nothing has any weight and there is something to share.
    """
    exact = _exact(whole, weights)
    shares = [share.__floor__() for share in exact]
    by_rest = sorted(range(len(weights)), key=lambda n: (shares[n] - exact[n], n))
    for n in by_rest[: whole - sum(shares)]:
        shares[n] += 1
    return shares


def shared_steadily(whole: int, weights: Sequence[int]) -> list[int]:
    """So that of a larger whole no part is ever smaller; of two parts, by largest remainder.

    Of three parts and more largest remainder does not promise that (23 by 5, 7 and 11 gives the first 3
    of 11 and 2 of 12), so that a tax worked out on what is left could rise as more is taken off. Each
    share is rounded to the nearest; what is then over or missing goes by weight to the parts for which
    it is the least. whole: zero or more. Raises: ValueError as `shared`.
    Source: the method of odd numbers (Webster, Sainte-Laguë), steady as every divisor method is; M. L.
    Balinski and H. P. Young, Fair Representation (1982), on the Alabama paradox.
    """
    exact = _exact(whole, weights)
    shares = [(2 * share + 1).__floor__() // 2 for share in exact]
    while (missing := whole - sum(shares)) != 0:
        n = _first_to_gain(shares, weights) if missing > 0 else _first_to_lose(shares, weights)
        shares[n] += 1 if missing > 0 else -1
    return shares


def _exact(whole: int, weights: Sequence[int | Fraction]) -> list[Fraction]:
    total = sum(weights)
    if total:
        return [Fraction(whole * weight) / total for weight in weights]
    if whole:
        raise ValueError("what is shared by weight needs some weight")
    return [Fraction(0)] * len(weights)


def _first_to_gain(shares: Sequence[int], weights: Sequence[int]) -> int:
    """Return the one that bears a further unit most easily; of equal ones the first."""
    return max(range(len(shares)), key=lambda n: (Fraction(weights[n], 2 * shares[n] + 1), -n))


def _first_to_lose(shares: Sequence[int], weights: Sequence[int]) -> int:
    """Return the one whose last unit was borne least easily; of equal ones the last."""
    given = (n for n in range(len(shares)) if shares[n])
    return min(given, key=lambda n: (Fraction(weights[n], 2 * shares[n] - 1), -n))
