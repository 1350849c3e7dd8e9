"""Memory of the serving process after its start and while it prints tickets, and of the child that makes a long print."""

import subprocess
from itertools import cycle, islice

from tests.benchmarks.sample import Plan, shop_of
from tests.benchmarks.serving import ROOT, Server, environment, python, serving
from tests.benchmarks.table import Row, Section

DIFFERENT = 50
"""Orders whose tickets come round again; what is kept of a piece is kept by then."""

MOST_MB = 200

LONG_PRINTS = (10, 100, 300)
"""Tickets in one print. Of the first is the base."""

_PEAK = """
import resource
from tests.benchmarks.tickets import printed
printed({pieces})
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6)
"""


def measure(plan: Plan) -> Section:
    """Told by /proc; on a system without it there is nothing to print."""
    with serving(shop_of(plan.data, plan.few)) as server:
        server.get("/")
        rows = tuple(_rows(server, plan)) if server.resident_mb is not None else ()
        if rows:
            rows += tuple(_long_prints(plan))
    return Section(
        title="Resident memory of the server, and of the child of a long print at its peak",
        base="the same after the first of these prints; of 10 tickets",
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


def _long_prints(plan: Plan) -> list[Row]:
    """The most memory of a process that makes one print and ends, as a child does."""
    peaks = {pieces: _peak_of(pieces) for pieces in LONG_PRINTS if pieces <= plan.tickets}
    return [
        Row(
            what=f"{pieces} tickets in one print",
            measured=peak,
            unit="MB",
            base=peaks[LONG_PRINTS[0]],
            most_ratio=1.6,
        )
        for pieces, peak in peaks.items()
    ]


def _peak_of(pieces: int) -> float:
    told = subprocess.run(
        python("-c", _PEAK.format(pieces=pieces)),
        cwd=ROOT,
        env=environment(),
        check=True,
        capture_output=True,
        text=True,
    )
    return float(told.stdout)
