"""How near two ovals about one middle come to each other (G3, G20).

An oval that is smaller by the same amount in both axes does not run parallel: long ovals come nearer
to each other at their shoulders than at the ends of their axes.
"""

from fractions import Fraction
from math import isqrt

from app.lengths import Length, mm

_FINEST = 1000
"""Answers are whole thousandths of a mm."""


def least_between(outer: tuple[Length, Length], inner: tuple[Length, Length]) -> Length:
    """Return the least distance between two ellipses about one middle, the inner one lying within the outer.

    outer, inner: half axes across and down. Down to 1/1000 mm.
    Source: of convex outlines, one within the other, the least distance is the least difference of
    their support functions (convex geometry, textbook); of an ellipse that is √(a²c + b²(1 - c)) for c
    from 0 to 1. It is least at an end of the axes, or where its derivative vanishes: there the inner
    function is k times the outer one, k = (A² - B²)/(a² - b²), and the distance squared is
    (1 - k)(b² - B²/k). By hand for 300 × 50 and 294 × 44: k = 338/350, 16.98056, 4.1207.
    """
    (a, b), (c, d) = ((across.mm, down.mm) for across, down in (outer, inner))
    squares = [(a - c) ** 2, (b - d) ** 2]
    spread, within = a * a - b * b, c * c - d * d
    k = within / spread if spread else Fraction(1)
    if 0 < k < 1:
        share = (k * k * b * b - d * d) / (k * (1 - k) * spread)
        if 0 < share < 1:
            squares.append((1 - k) * (b * b - d * d / k))
    least = min(squares) * _FINEST**2
    return mm(Fraction(isqrt(least.numerator // least.denominator), _FINEST))
