"""The piece of tests/builders/worked, worked by hand there, as it stands in open work; and a rack."""

from collections.abc import Mapping

from app.framing import Dimensions
from app.lengths import Length, Size
from app.orders import Agreed
from app.orders.piece_report import findings
from app.orders.quoting.agreement import agree
from app.pricing import Material
from app.stock.items import Item, StockForm, StockItem
from app.stock.planning.parts import PieceRef
from app.stock.planning.problems import OnRack
from tests.builders.values import TODAY, euro, finder
from tests.builders.worked import BOOK, SHOP, TYPED

REF = PieceRef(piece_id=17, order_id=4, order_number="2026-0148", number=2, title="Harbour at dusk")


def ref(piece_id: int, order_number: str = "2026-0148", number: int = 1) -> PieceRef:
    return PieceRef(piece_id=piece_id, order_id=4, order_number=order_number, number=number)


def made(book: tuple[Material, ...] = BOOK, **typed: str) -> tuple[Agreed, Dimensions]:
    """The piece with some fields typed otherwise ("artwork__size"), and its sizes as they are cut."""
    fields = {name.replace("__", "."): text for name, text in typed.items()}
    artwork, agreed = agree({**TYPED, **fields}, SHOP, finder(book), today=TODAY)
    return agreed, findings(artwork, agreed, SHOP).cut


def by_code(*materials: Material) -> Mapping[str, Material]:
    return {each.code: each for each in materials}


def stick(
    item_id: int, length: Length, *, code: str = "LIN-20", whole: bool = False, available: int = 1
) -> OnRack:
    item = Item(
        material=code,
        form=StockForm.STICK,
        unit_cost=euro("1.00"),
        length=length,
        whole=whole,
        label="" if whole else f"K-{item_id}",
    )
    return OnRack(
        kept=StockItem(id=item_id, version=1, item=item, on_hand=available), available=available
    )


def sheet(
    item_id: int, size: Size, *, code: str = "M-101", whole: bool = False, available: int = 1
) -> OnRack:
    item = Item(
        material=code,
        form=StockForm.SHEET,
        unit_cost=euro("1.00"),
        size=size,
        whole=whole,
        label="" if whole else f"K-{item_id}",
    )
    return OnRack(
        kept=StockItem(id=item_id, version=1, item=item, on_hand=available), available=available
    )
