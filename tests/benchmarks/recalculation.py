"""Working a piece out while one types, against a request that does nothing."""

from itertools import count

from tests.benchmarks.sample import QUOTE, Plan, shop_of
from tests.benchmarks.serving import Server, serving
from tests.benchmarks.table import Row, Section
from tests.benchmarks.timing import Act, Times, alternating


def measure(plan: Plan) -> Section:
    """The empty request goes the same way: guard, form, shop, thread pool; then it answers 303."""
    with serving(shop_of(plan.data, plan.few)) as server:
        acts = _acts(server)
        typing, nothing = alternating(acts, rounds=plan.requests, warm=30)
        working, resting = alternating(
            acts, rounds=plan.requests // 2, warm=0, clock=server.processor_seconds
        )
    return Section(
        title=f"Recalculation of a quote, {plan.requests} requests",
        base="an empty form posted to the same server, in turn",
        note="two mats, moulding, glazing, backing, hardware from a price book of 183 materials",
        rows=(
            _row("p50", typing, nothing, 50),
            _row("p95", typing, nothing, 95, most=50, most_ratio=5),
            _row("p50 of the processor's time", working, resting, 50),
        ),
    )


def _acts(server: Server) -> tuple[Act, Act]:
    """As one types, each request asks for another piece: a border grows by half a millimetre."""
    borders = (f"{50 + number % 200 / 2}" for number in count())
    return (
        lambda: server.post(
            "/quotes?live=1", {**QUOTE, "borders.left": next(borders)}, x_partial="1"
        ),
        lambda: server.post("/who", {"next": "/quotes/new"}),
    )


def _row(
    what: str,
    typing: Times,
    nothing: Times,
    percent: int,
    *,
    most: float | None = None,
    most_ratio: float | None = None,
) -> Row:
    return Row(
        what=what,
        measured=typing.percentile(percent),
        unit="ms",
        base=nothing.percentile(percent),
        most=most,
        most_ratio=most_ratio,
    )
