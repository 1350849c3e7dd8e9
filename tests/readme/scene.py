"""What the README's pictures show: the sample shop with a quote, designs, an order and a plan that are the same every time."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date, timedelta

from app.orders import Shop
from app.orders.quoting.form import PHOTO
from app.services import bench, designs, orders, pictures, quotes
from app.services import stages as progress
from app.services.bench import PieceAt
from app.services.open_work import WorkFilter, problems_for
from app.services.picture_making import made_of
from app.services.plans import keep_plan
from app.services.who_is_meant import CustomerRequest
from app.storage import NewPiece, Stamp, Store
from seed_demo.build import build_demo
from seed_demo.paintings import BOATS, SALT_PANS, painted
from tests.browser.clock import NOW
from tests.builders.order_now import order_at
from tests.storage.plan_work import solved

TODAY = NOW.date()

ACT = Stamp(who="Tobin", now=NOW - timedelta(hours=1))

STEPS_DONE = 2
"""At the bench, of the piece whose page is shown; the text beside its picture says so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """The ids of what is looked at: a quote of one design, one of several, an order and its cutting plan."""

    quote: int
    designs: int
    order: int
    plan: int

    def named(self) -> Mapping[str, int]:
        """By the names that addresses have them under."""
        return asdict(self)


BEHIND_A_WINDOW: Mapping[str, str] = {
    "unit": "mm",
    "artwork.kind": "watercolour",
    "artwork.thickness": "0.3",
    "presentation": "window",
    "sizing": "borders",
    "mount_board.material": "MOUNT14",
    "backing.material": "BACK2/A",
    "glazing.material": "UV2",
    "hardware.0.material": "RING2",
    "hardware.0.count": "2",
    "hardware.1.material": "WIRE30",
}

BOATS_IN_OAK: Mapping[str, str] = {
    **BEHIND_A_WINDOW,
    "artwork.size": "420 x 297",
    "artwork.title": "Boats at low water",
    "artwork.place": "Rack B2",
    "mats.0.material": "FLOUR14",
    "mats.1.material": "FJORD14",
    "borders.left": "65",
    "borders.bottom": "75",
    "frames.0.material": "B20-OAK",
}

EVENING: Mapping[str, str] = {
    **BEHIND_A_WINDOW,
    "artwork.size": "400 x 300",
    "artwork.title": "Salt pans, evening",
    "artwork.place": "Rack C6",
    "mats.0.material": "BONE14",
    "mats.1.material": "MADD14",
    "borders.left": "65",
    "frames.0.material": "S45-GLD",
}

OTHER_FRAMES: tuple[Mapping[str, str], ...] = (
    {"frames.0.material": "B25-WAL", "mats.0.material": "FLOUR14", "mats.1.material": "FJORD14"},
    {
        "frames.0.material": "C28-INK",
        "mats.0.material": "GULL14",
        "mats.1.material": "SOOT14",
        "glazing.material": "CALM2/UV",
    },
)
"""In what the further designs of the evening differ from the first."""


def set_out(store: Store, *, orders_before: int, today: date = TODAY) -> Scene:
    """Build the sample shop and put the scene into it. orders_before: how many the sample itself has."""
    build_demo(store, orders=orders_before, today=today)
    shop = store.current_shop()
    assert shop is not None
    boats = BOATS_IN_OAK | {PHOTO: photo_of(store, BOATS, 420, 297)}
    evening = EVENING | {PHOTO: photo_of(store, SALT_PANS, 400, 300)}
    order = ordered(store, shop, boats, evening | {"mats.0.material": "FLOUR14"} | _OAK)
    begin(store, shop, PieceAt(order_id=order, number=2))
    return Scene(
        quote=quoted(store, shop, "Marit Ferris-Lowe", boats),
        designs=with_designs(store, shop, evening),
        order=order,
        plan=planned(store, order),
    )


_OAK = {"frames.0.material": "B20-OAK"}


def photo_of(store: Store, title: str, width: int, height: int) -> str:
    """Keep a photo of a watercolour of ours, painted in this proportion; its id."""
    return pictures.keep(store, made_of(painted(title, width, height)), by=ACT).id


def quoted(store: Store, shop: Shop, name: str, typed: Mapping[str, str]) -> int:
    """A quote of one piece; its id."""
    return quotes.save_new(store, CustomerRequest(name=name), typed, shop, ACT)


def piece(store: Store, shop: Shop, typed: Mapping[str, str]) -> NewPiece:
    """A piece at today's prices."""
    return quotes.worked_out(store, typed, shop, today=ACT.today)


def with_designs(store: Store, shop: Shop, typed: Mapping[str, str]) -> int:
    """A quote of one artwork in several designs; its id."""
    order = quoted(store, shop, "Ansel Brightwater", typed)
    for other in OTHER_FRAMES:
        designs.add(store, order_at(store, order), 1, piece(store, shop, typed | other), ACT)
    return order


def ordered(store: Store, shop: Shop, first: Mapping[str, str], second: Mapping[str, str]) -> int:
    """An order of two pieces, due in a fortnight; its id."""
    order = quoted(store, shop, "Odile Marchbanks", first)
    orders.add_piece(store, order_at(store, order), piece(store, shop, second), ACT)
    terms = progress.Terms(due=ACT.today + timedelta(days=14))
    progress.take_order(store, order_at(store, order), terms, ACT)
    return order


def begin(store: Store, shop: Shop, piece: PieceAt) -> None:
    """Tick the first steps of a piece at the bench."""
    for step in bench.at_bench(store, piece, shop).bench.steps[:STEPS_DONE]:
        bench.tick(store, piece, step.id, ACT, ticked=True)


def planned(store: Store, order: int) -> int:
    """A cutting plan of all pieces of an order, by the simple rule, which every machine has; its id."""
    pieces = frozenset(each.id for each in orders.get(store, order).pieces)
    found = problems_for(store, WorkFilter(pieces=pieces))
    return keep_plan(store, [solved(each) for each in found], ACT)
