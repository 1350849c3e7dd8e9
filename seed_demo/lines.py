"""What the sample sells without artwork: two lines on an order that is in work, and a sale over the counter.

By the app's own services, as somebody at the counter would do it.
"""

from datetime import UTC, date, datetime, time, timedelta

from app.orders import Method, Stage
from app.services import lines
from app.services.lines import LinePosted
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest, label
from app.storage import OrderFilter, Stamp, Store
from seed_demo.days import open_day
from seed_demo.shop import PEOPLE

BESIDE_A_PIECE = (
    {"goods": "HOOKBR", "number": "4"},
    {
        "what": "Brass plate, engraved",
        "price": "24.90",
        "minutes": "40",
        "note": "Two lines, centred; the words are in the order's note",
    },
)

OVER_THE_COUNTER = {"goods": "CARDHERON", "number": "6"}


def sell_without_artwork(store: Store, today: date) -> None:
    """Add lines to the newest order in work, where there is one, and sell some cards over the counter."""
    with store.reading() as work:
        shop = work.shop.get()
        wanted = OrderFilter(stages=frozenset({Stage.ORDERED}))
        found = work.order_lists.listed(wanted).rows
        at = OrderAt(id=found[0].id, version=found[0].version) if found else None
        newest = work.order_lists.listed(OrderFilter()).rows[0]
    if at is not None:
        for minutes, typed in enumerate(BESIDE_A_PIECE):
            lines.add_line(store, at, LinePosted(typed=typed), shop, _act(today, minutes))
            at = OrderAt(id=at.id, version=at.version + 1)
    cards = LinePosted(typed=OVER_THE_COUNTER, paid_by=Method.CASH)
    lines.save_new(
        store,
        CustomerRequest(name=label(newest.customer_id, newest.customer_name)),
        cards,
        shop,
        _act(today, 30),
    )


def _act(today: date, minutes: int) -> Stamp:
    day = open_day(today - timedelta(days=1))
    at = datetime.combine(day, time(15), UTC) + timedelta(minutes=minutes)
    return Stamp(who=PEOPLE[0], now=at)
