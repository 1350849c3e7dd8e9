"""What an invoice for an order charges, from what was frozen with each of its pieces and lines.

Nothing is priced here: the sums are those of the order's account, shared over lines that each have one
rate of tax (EN 16931, BG-30). A tax-free customer's lines are without tax in either price mode.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from app.errors import Conflict
from app.money import Money, TaxRate, shared
from app.orders.artwork_size import artwork_size
from app.orders.invoices.invoice import Charged, DocumentAllowance, InvoiceLine
from app.orders.order import Order, Piece
from app.orders.order_line import OrderLine
from app.orders.totals import Account, account_of, charged_together
from app.pricing import PriceLine, TaxTerms, price_order

WORDING = 2
"""Which wording of lines this program writes. It goes up when `described` says the same otherwise, so
that an older invoice is not taken for one that differs from its order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """What a piece or a line bears at one rate. weight: in proportion to its share of what that rate comes to.

    what: the labels of its price lines at that rate.
    """

    sold: Piece | OrderLine
    rate: TaxRate | None
    weight: int | Fraction
    what: tuple[str, ...] = ()


def charged_for(order: Order, zero: Money) -> Charged:
    """Return what an invoice for the order as it stands would charge.

    Lines are stated in the price mode of the pieces; with tax where they differ in it.
    Raises: Conflict where nothing is left to charge.
    """
    groups = charged_together(order)
    if not groups:
        what = "Nothing" if order.lines else "No piece"
        raise Conflict(f"{what} of {order.number} is left to charge.")
    account = account_of(order, zero)
    with_tax = account.with_tax
    lines = [line for group in groups.items() for line in _lines(*group, with_tax=with_tax)]
    return Charged(
        currency=account.to_pay.currency,
        with_tax=with_tax,
        lines=tuple(sorted(lines, key=lambda line: line.of)),
        taken_off=_taken_off(account),
        taxes=account.taxes,
        untaxed=account.charged.untaxed,
    )


def _lines(
    terms: TaxTerms, together: list[Piece | OrderLine], *, with_tax: bool
) -> Iterator[InvoiceLine]:
    """Yield one for each piece and rate, and for each line; at each rate they add up to what it comes to."""
    charged = price_order([each.agreed.price for each in together], terms).charged
    comes_to: dict[TaxRate | None, Money] = {
        part.rate: part.gross if with_tax else part.net for part in charged.taxes
    }
    comes_to[None] = charged.untaxed
    parts = [part for each in together for part in _parts(each, terms)]
    amounts = _amounts(parts, comes_to)
    first: set[tuple[int, int]] = set()
    for part, amount in zip(parts, amounts, strict=True):
        sold = part.sold
        name, details = described(sold) if isinstance(sold, Piece) else described_line(sold)
        line = InvoiceLine(
            piece=sold.number if isinstance(sold, Piece) else 0,
            line=0 if isinstance(sold, Piece) else sold.number,
            name=name,
            details=details,
            rate=part.rate,
            amount=amount,
            quantity=sold.copies if isinstance(sold, Piece) else 1,
        )
        yield _further(line, part) if line.of in first else line
        first.add(line.of)


def _further(line: InvoiceLine, part: _Part) -> InvoiceLine:
    """Return the line of a piece at a further rate, called by what bears that: "Work: Harbour at dusk"."""
    sold = part.sold
    if not isinstance(sold, Piece) or not part.what:
        return replace(line, details="")
    title = sold.artwork.title or "untitled"
    return replace(line, name=f"{', '.join(part.what)}: {title}", details="")


def _parts(sold: Piece | OrderLine, terms: TaxTerms) -> Iterator[_Part]:
    price = sold.agreed.price
    weights: dict[TaxRate | None, int | Fraction] = {}
    what: dict[TaxRate | None, dict[str, None]] = {}
    for line in price.lines:
        rate = terms.rate_of(line.tax)
        key = None if price.tax_free else rate
        what.setdefault(key, {})[line.label] = None
        weights[key] = weights.get(key, 0) + _weight(line, rate, terms, free=price.tax_free)
    if not weights:
        yield _Part(sold=sold, rate=None, weight=0)
    for key, weight in weights.items():
        yield _Part(sold=sold, rate=key, weight=weight, what=tuple(what[key]))


def _weight(
    line: PriceLine, rate: TaxRate | None, terms: TaxTerms, *, free: bool
) -> int | Fraction:
    """Return the stated amount; without the tax that it holds where that is not charged."""
    if free and rate is not None and terms.policy.included:
        return line.settled.minor / (1 + rate.percent)
    return line.settled.minor


def _amounts(parts: list[_Part], comes_to: Mapping[TaxRate | None, Money]) -> list[Money]:
    amounts: dict[int, Money] = {}
    for rate, whole in comes_to.items():
        places = [n for n, part in enumerate(parts) if part.rate == rate]
        shares = shared(whole.minor, [parts[n].weight for n in places])
        amounts |= {
            n: Money(share, whole.currency) for n, share in zip(places, shares, strict=True)
        }
    return [amounts[n] for n in range(len(parts))]


def _taken_off(account: Account) -> tuple[DocumentAllowance, ...]:
    """Return each reduction that stands, with tax or without as the lines are."""
    return tuple(
        DocumentAllowance(reason=each.reason, amount=-each.stated(with_tax=account.with_tax))
        for each in account.lowered
    )


def described(piece: Piece) -> tuple[str, str]:
    """Return what a piece is called on an invoice, and what it is made of: the nature of what is sold (BT-153, BT-154)."""
    chosen, spec, artwork = piece.agreed.chosen, piece.agreed.spec, piece.artwork
    name = f"Framing: {artwork.title or 'untitled'}"
    frames = ", inside ".join(each.name for each in chosen.frames)
    mats = ", under it ".join(each.name for each in chosen.mats)
    others = (chosen.glazing, chosen.mount_board, chosen.backing, chosen.fillet)
    parts = (
        f"{artwork.kind.value} {artwork_size(spec)}",
        frames,
        mats,
        *(material.name for material in others if material),
        *(taken.material.name for taken in chosen.extras),
    )
    return name, "; ".join(part for part in parts if part)


def described_line(line: OrderLine) -> tuple[str, str]:
    """Return what a line without a piece is called on an invoice, and how many at what price (BT-153, BT-129, BT-146).

    The price is as the line was agreed, in its own price mode.
    """
    return line.agreed.what, line.agreed.quantity
