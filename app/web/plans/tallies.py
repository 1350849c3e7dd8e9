"""The few numbers above a cutting plan: what is taken and bought, what is lost, what gets a label."""

from collections.abc import Iterator

from app.counting import count_text
from app.documents.cutting_plan.summary import TENTHS
from app.documents.cutting_plan.totals import WholePlan
from app.money import show_money, show_percent
from app.web.kit.tally import Tally


def found_tally(whole: WholePlan) -> tuple[Tally, ...]:
    """Return the numbers of a plan that is not kept yet; how good it is among them."""
    left = whole.materials - whole.least
    good = Tally(
        label="least waste possible",
        number=f"{whole.least} of {whole.materials}",
        note="materials" if not left else "materials; the others may do with less",
    )
    return (*_stock(whole, whole.to_buy), good, _labels(whole, "printed once they are cut", ""))


def kept_tally(whole: WholePlan, *, left: int, to_buy: int, labels: str) -> tuple[Tally, ...]:
    """Return the numbers of a plan that is kept. left: how many sticks and sheets are still to be cut, to_buy: how many
    of them are not on the rack. labels: the address of those of what was kept so far, "" for none.
    """
    rack = Tally(
        label="still to take",
        number=str(left - to_buy),
        note=f"from the rack, of {whole.from_rack + whole.to_buy} sticks and sheets",
    )
    return (rack, *_bought(whole, to_buy), _labels(whole, "printed once they are cut", labels))


def _stock(whole: WholePlan, to_buy: int) -> Iterator[Tally]:
    yield Tally(label="from the rack", number=count_text(whole.from_rack), note="sticks and sheets")
    yield from _bought(whole, to_buy)


def _bought(whole: WholePlan, to_buy: int) -> Iterator[Tally]:
    yield Tally(
        label="to buy first",
        number=count_text(to_buy),
        note="" if to_buy else "nothing more to buy" if whole.to_buy else "all is on the rack",
        act=("see what to buy", "/buying") if to_buy else None,
        late=bool(to_buy),
    )
    share = show_percent(whole.share, TENTHS)
    if whole.waste is None:
        yield Tally(label="waste", number=share, note="of what is cut up")
    else:
        waste = show_money(whole.waste, code=True)
        yield Tally(label="waste, at cost", number=waste, note=f"{share} of what is cut up")


def _labels(whole: WholePlan, later: str, address: str) -> Tally:
    return Tally(
        label="offcuts to label",
        number=count_text(whole.offcuts),
        note="" if address else later if whole.offcuts else "nothing worth keeping",
        act=("print those that are cut", address) if address else None,
    )
