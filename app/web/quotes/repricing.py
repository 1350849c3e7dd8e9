"""Two versions side by side: an old and a new price, or what two tabs saved."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from app.money import Money
from app.orders import Agreed, Order, Piece, Shop
from app.orders.quoting.form import PHOTO, PIECE
from app.orders.quoting.piece_typed import PieceTyped
from app.pricing import PiecePrice, Repricing, compare
from app.services.quotes import PricedAgain
from app.storage import Stale
from app.web.kit.edit_conflict import VersionPair, labels_of, pairs_of
from app.web.kit.fields import Fields, FormView
from app.web.kit.templating import Page
from app.web.pieces.piece_page import PiecePage


@dataclass(frozen=True, slots=True, kw_only=True)
class Between:
    """What stands between the lines and what is to pay, as a discount, in both prices."""

    label: str
    old: Money
    new: Money

    @property
    def difference(self) -> Money:
        """New less old."""
        return self.new - self.old


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceAgainPage(PiecePage):
    """A piece's old price beside today's, line by line; lines + between = to pay, on each side.

    of_design: what the address of a design that does not count is called by, "?design=2".
    """

    section: str = "Quotes"
    of_design: str
    heading: str
    priced_on: date
    repricing: Repricing
    between: tuple[Between, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerChange:
    """What a customer was to pay for a piece, and is to pay for it as it is typed now. seen: as of `ChangeView`."""

    old: Money
    new: Money
    seen: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """The agreed price of a piece beside that of the piece as it is typed now; lines + between = to pay.

    seen: what the form says when it is saved, so that a price is saved that was looked at.
    """

    priced_on: date
    repricing: Repricing
    between: tuple[Between, ...]

    @property
    def seen(self) -> str:
        """The new amount to pay, in minor units."""
        return str(self.repricing.new_to_pay.minor)

    @property
    def for_customer(self) -> CustomerChange:
        """The same for the customer: what is to pay, before and now."""
        return CustomerChange(
            old=self.repricing.old_to_pay, new=self.repricing.new_to_pay, seen=self.seen
        )


def change_view(agreed: Agreed, new: Agreed) -> ChangeView | None:
    """Return old and new price side by side; None where they are in different currencies."""
    if agreed.price.currency != new.price.currency:
        return None
    return ChangeView(
        priced_on=agreed.priced_on,
        repricing=compare(agreed.price, new.price),
        between=_between(agreed.price, new.price),
    )


def price_again_page(priced: PricedAgain, of_design: str = "") -> PriceAgainPage:
    """Return the page of a piece that was priced again."""
    piece = priced.piece
    which = f", design {piece.counted.letter}" if of_design else ""
    return PriceAgainPage(
        title=f"Price again: {priced.order.number}",
        order_id=priced.order.id,
        order_number=priced.order.number,
        version=priced.order.version,
        number=priced.piece.number,
        of_design=of_design,
        heading=f"{piece.artwork.title or f'Piece {piece.number}'}{which}",
        priced_on=priced.piece.agreed.priced_on,
        repricing=priced.repricing,
        between=_between(priced.piece.agreed.price, priced.agreed.price),
    )


def _between(old: PiecePrice, new: PiecePrice) -> tuple[Between, ...]:
    """Return the amounts that are not zero on both sides. Tax that the lines contain is not added once more."""
    none = Money.zero(new.currency)
    pairs = (
        Between(
            label="Discount for many alike", old=old.by_number or none, new=new.by_number or none
        ),
        Between(label="Discount", old=old.discount, new=new.discount),
        Between(label="Rush", old=old.rush, new=new.rush),
        Between(label="Rounding", old=old.rounding, new=new.rounding),
        Between(label="Tax", old=old.to_pay - old.total, new=new.to_pay - new.total),
    )
    return tuple(pair for pair in pairs if pair.old or pair.new)


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoVersionsPage(Page):
    """What is stored now beside what was typed in this tab; either can be kept."""

    section: str = "Quotes"
    action: str
    order_id: int
    message: str
    version: int
    pairs: tuple[VersionPair, ...]
    typed: tuple[tuple[str, str], ...]
    stored_price: Money | None


def two_versions(
    stale: Stale, number: int, form: Mapping[str, str], shop: Shop, design: int | None = None
) -> TwoVersionsPage:
    """Return the page for the second of two tabs. Nothing that was typed is lost.

    design: which of the piece's; the one that counts for None.
    """
    order = stale.stored
    assert isinstance(order, Order)
    piece = next((piece for piece in order.pieces if piece.number == number), None)
    if piece and design in [each.number for each in piece.designs]:
        piece = piece.by_design(design)
    stored = piece.agreed.typed if piece else {}
    typed = {path: form[path] for path in PIECE.paths if path in form}
    return TwoVersionsPage(
        title=f"Two versions of {order.number}",
        action=f"/orders/{order.id}/pieces/{number}" + (f"?design={design}" if design else ""),
        order_id=order.id,
        message=stale.message,
        version=order.version,
        pairs=pairs_of(
            _read_out({path: text for path, text in stored.items() if path in PIECE.at}, typed),
            _read_out(typed, stored, "another photo"),
            labels_of(FormView(PIECE, PieceTyped(shop, typed), Fields(typed))),
        ),
        typed=(
            *typed.items(),
            *((path, text) for path, text in form.items() if path.startswith("new_moulding.")),
        ),
        stored_price=_price(piece),
    )


def _read_out(
    said: Mapping[str, str], other: Mapping[str, str], photo: str = "a photo"
) -> Mapping[str, str]:
    """Return the texts of one version with its photo in words, where the other has not the same one."""
    own = said.get(PHOTO, "")
    return {**said, PHOTO: photo} if own and own != other.get(PHOTO, "") else said


def _price(piece: Piece | None) -> Money | None:
    return piece.agreed.price.to_pay if piece else None
