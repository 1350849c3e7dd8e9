"""Clients write at once; each write that was acknowledged is there once, and numbers have no gap."""

import threading
import time
from collections import Counter
from contextlib import closing
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode

from sqlalchemy import select

from app.storage import DATABASE_NAME, Store, problems_of
from app.storage.tables.orders import OrderRow
from seed_demo.build import build_demo
from tests.benchmarks.sample import QUOTE
from tests.storage.processes import OWN_PAGE, Program, serving
from tests.torture.customers import name_of, names_in
from tests.torture.figures import Figures

QUOTE_EVERY = 20
"""Of so many writes one is a quote, which takes a number."""


def tried(folder: Path, *, clients: int, each: int, seed: int) -> Figures:
    """Let so many clients make so many writes each, all at once."""
    del seed  # nothing is chosen by chance
    acknowledged: list[str] = []
    refused: Counter[int] = Counter()
    seconds: list[float] = []
    with Store.open(folder / DATABASE_NAME) as store:
        build_demo(store, orders=20)
        before, quotes = names_in(store), _quotes_in(store)
    with serving("--data", str(folder)) as program:

        def write(client: int) -> None:
            with closing(HTTPConnection("127.0.0.1", program.port, timeout=120)) as connection:
                for number in range(each):
                    name = name_of(client, number)
                    began = time.perf_counter()
                    status = _sent(connection, name, quote=number % QUOTE_EVERY == 0)
                    seconds.append(time.perf_counter() - began)
                    if status == 303:
                        acknowledged.append(name)
                    else:
                        refused[status] += 1

        writers = [threading.Thread(target=write, args=(client,)) for client in range(clients)]
        for each_writer in writers:
            each_writer.start()
        for each_writer in writers:
            each_writer.join()
        _ended(program)
    with Store.open(folder / DATABASE_NAME) as store:
        there, quotes = names_in(store) - before, _quotes_in(store) - quotes
    wrong = [f"{name} was lost" for name in sorted(set(acknowledged) - there)]
    wrong += [
        f"{name} is there and was not acknowledged" for name in sorted(there - set(acknowledged))
    ]
    wrong += [f"{count} writes were refused with {status}" for status, count in refused.items()]
    seconds.sort()
    return Figures(
        counted={
            "writes acknowledged": len(acknowledged),
            "quotes among them": quotes,
            "median ms": round(1000 * seconds[len(seconds) // 2], 1),
            "longest ms": round(1000 * seconds[-1], 1),
        },
        wrong=(*wrong, *problems_of(folder / DATABASE_NAME)),
    )


def _sent(connection: HTTPConnection, name: str, *, quote: bool) -> int:
    path, fields = "/customers", {"name": name}
    if quote:
        path, fields = "/quotes", QUOTE | {"customer": name, "action": "save"}
    connection.request("POST", path, urlencode(fields), OWN_PAGE)
    answer = connection.getresponse()
    answer.read()
    return answer.status


def _ended(program: Program) -> None:
    program.process.terminate()
    program.ended()


def _quotes_in(store: Store) -> int:
    with store.reading() as work:
        return len(set(work.session.scalars(select(OrderRow.quote_number))))
