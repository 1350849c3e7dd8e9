"""The pages that a shop looks at all day, with few orders behind them and with many."""

from tests.benchmarks.sample import Plan, shop_of
from tests.benchmarks.serving import Server, serving
from tests.benchmarks.table import Row, Section
from tests.benchmarks.timing import Act, alternating

PAGES = (
    ("desk", "/"),
    ("orders", "/orders"),
    ("quotes", "/quotes"),
    ("orders, found by a word", "/orders?q=oak"),
)


def measure(plan: Plan) -> Section:
    """Each page in turn from both servers; medians."""
    with (
        serving(shop_of(plan.data, plan.few)) as small,
        serving(shop_of(plan.data, plan.many)) as large,
    ):
        rows = tuple(
            _row(what, path, (small, large), plan, aimed=place < 2)
            for place, (what, path) in enumerate(PAGES)
        )
    return Section(
        title=f"Lists at {plan.many} orders, median of {plan.pages}",
        base=f"the same page at {plan.few} orders, in turn",
        rows=rows,
    )


def _row(what: str, path: str, servers: tuple[Server, Server], plan: Plan, *, aimed: bool) -> Row:
    few, many = alternating(
        tuple(_looking(server, path) for server in servers), rounds=plan.pages, warm=5
    )
    return Row(
        what=what,
        measured=many.median,
        unit="ms",
        base=few.median,
        most_ratio=1.5 if aimed else None,
    )


def _looking(server: Server, path: str) -> Act:
    return lambda: server.get(path)
