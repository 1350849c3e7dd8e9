"""Memory of the serving process: after its start, and while it prints tickets."""

from itertools import cycle, islice

from tests.benchmarks.sample import Plan, shop_of
from tests.benchmarks.serving import Server, serving
from tests.benchmarks.table import Row, Section

DIFFERENT = 50
"""Orders whose tickets come round again; what is kept of a piece is kept by then."""

MOST_MB = 200


def measure(plan: Plan) -> Section:
    """Told by /proc; on a system without it there is nothing to print."""
    with serving(shop_of(plan.data, plan.few)) as server:
        server.get("/")
        rows = tuple(_rows(server, plan)) if server.resident_mb is not None else ()
    return Section(
        title="Resident memory of the server",
        base="the same after the first of these prints",
        note="" if rows else "not told by this system",
        rows=rows,
    )


def _rows(server: Server, plan: Plan) -> list[Row]:
    rows = [_row("after the first page", server, None)]
    addresses = cycle(f"/orders/{order}/pieces/1/ticket.pdf" for order in range(1, DIFFERENT + 1))
    step, base = plan.tickets // 5, None
    for printed in range(step, plan.tickets + 1, step):
        for address in islice(addresses, step):
            server.get(address)
        rows.append(_row(f"after {printed} tickets", server, base))
        base = base or rows[-1].measured
    return rows


def _row(what: str, server: Server, base: float | None) -> Row:
    return Row(
        what=what,
        measured=server.resident_mb or 0,
        unit="MB",
        base=base,
        most=MOST_MB,
        most_ratio=1.05 if base else None,
    )
