"""Every address that the data of a shop have a page or a paper at.

Ids are read out of the file itself, so that this knows nothing of how the app reads them.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from urllib.parse import quote

PLAIN = (
    "/",
    "/orders",
    "/orders?stage=ordered&sort=due",
    "/orders?stage=collected",
    "/orders?q=wren",
    "/quotes",
    "/quotes/new",
    "/customers",
    "/customers?q=fin",
    "/customers/find?q=a",
    "/customers/new",
    "/find",
    "/find?q=a",
    "/invoices",
    "/materials",
    "/materials?retired=1",
    "/materials/find?q=a",
    "/materials/price-book",
    "/materials/price-book.csv",
    "/materials/new",
    "/materials/start",
    "/materials/raise",
    "/materials/raise?percent=5",
    "/stock",
    "/stock/stock.csv",
    "/stock/items",
    "/stock/items?gone=1",
    "/stock/receive",
    "/stock/offcuts/new",
    "/stock/count",
    "/stock/labels?items=1",
    "/plans",
    "/plans/new",
    "/bench/together",
    "/bench/together/choose",
    "/buying",
    "/buying/orders",
    "/settings",
    "/settings/cutters",
    "/settings/cutters/new",
    "/settings/cutters/1",
    "/settings/cutters/1/remove",
    "/settings/cutters/1/test",
    "/settings/clock",
    "/settings/data",
    *(
        f"/settings/{slug}"
        for slug in ("shop", "allowances", "work", "tax", "prices", "cutting", "promises")
    ),
)
KINDS = ("moulding", "mat", "glazing", "board", "hardware", "extra")
OF_A_KIND = (
    "/materials?kind={}",
    "/materials/new?kind={}",
    "/stock?kind={}",
    "/stock/count?kind={}",
    "/stock/count/sheet.pdf?kind={}",
)

_ORDERS = "SELECT id FROM orders"
_PIECES = "SELECT order_id, number FROM pieces WHERE removed_at IS NULL"
_MATTED = f"{_PIECES} AND id IN (SELECT piece_id FROM piece_snapshots WHERE agreed LIKE '%\"mats.0.material\"%')"
_TO_CUT = f"{_MATTED} AND stage = 'ordered'"
_CUSTOMERS = "SELECT DISTINCT customer_id FROM orders"
_PLANS = "SELECT id FROM cutting_plans"
_SUPPLIER_ORDERS = "SELECT id FROM supplier_orders"
_FEW = "ORDER BY code LIMIT 5"

OF_ROWS: tuple[tuple[str, str], ...] = (
    ("/orders/{}", _ORDERS),
    ("/orders/{}/customer", f"{_ORDERS} LIMIT 2"),
    ("/orders/{}/quote.pdf", _ORDERS),
    ("/orders/{}/tickets.pdf", "SELECT order_id FROM pieces WHERE stage IN ('ordered', 'cut')"),
    ("/orders/{}/wall", f"{_ORDERS} LIMIT 5"),
    ("/orders/{}/pieces/new", "SELECT id FROM orders WHERE stage = 'quoted'"),
    ("/orders/{}/pieces/new?like=1", "SELECT id FROM orders WHERE stage = 'quoted'"),
    ("/orders/{}/pieces/{}", _PIECES),
    ("/orders/{}/pieces/{}?view=measured", _PIECES),
    ("/orders/{}/pieces/{}?view=section", _PIECES),
    ("/orders/{}/pieces/{}/change", _PIECES),
    ("/orders/{}/pieces/{}/price-again", _PIECES),
    ("/orders/{}/pieces/{}/ticket.pdf", _PIECES),
    (
        "/orders/{}/receipts/{}.pdf",
        "SELECT DISTINCT order_id, 1 FROM pieces WHERE removed_at IS NULL AND stage = 'collected'",
    ),
    ("/orders/{}/pieces/{}/windows.svg", _MATTED),
    ("/orders/{}/pieces/{}/windows.dxf", f"{_MATTED} LIMIT 3"),
    ("/orders/{}/invoices/{}.pdf", "SELECT order_id, number FROM invoices"),
    ("/invoices?month={}", "SELECT DISTINCT substr(issued_on, 1, 7) FROM invoices"),
    ("/invoices/month.csv?month={}", "SELECT DISTINCT substr(issued_on, 1, 7) FROM invoices"),
    ("/customers/{}", _CUSTOMERS),
    ("/customers/{}/export", _CUSTOMERS),
    ("/customers/{}/edit", f"{_CUSTOMERS} LIMIT 5"),
    ("/customers/{}/join", f"{_CUSTOMERS} LIMIT 2"),
    ("/customers/{}/remove", f"{_CUSTOMERS} LIMIT 5"),
    ("/quotes/new?customer={}", f"{_CUSTOMERS} LIMIT 2"),
    ("/materials/{}/edit", "SELECT code FROM materials"),
    ("/materials/{}/remove", f"SELECT code FROM materials {_FEW}"),
    ("/materials/new?copy={}", f"SELECT code FROM materials {_FEW}"),
    ("/stock/items/{}", "SELECT id FROM stock_items"),
    ("/stock/items/{}/edit", "SELECT id FROM stock_items LIMIT 10"),
    (
        "/stock/items?material={}",
        "SELECT code FROM materials WHERE id IN (SELECT material_id FROM stock_items)",
    ),
    ("/stock/levels/{}", "SELECT code FROM materials WHERE id % 9 = 0"),
    ("/stock/offcuts/new?item={}", "SELECT id FROM stock_items LIMIT 5"),
    ("/stock/receive?material={}", f"SELECT code FROM materials {_FEW}"),
    ("/bench/together?piece={}.{}", _TO_CUT),
    ("/bench/together/list.pdf?piece={}.{}", f"{_TO_CUT} LIMIT 3"),
    ("/plans/{}", _PLANS),
    ("/plans/{}/plan.pdf", _PLANS),
    ("/plans/{}/drop", "SELECT id FROM cutting_plans WHERE stage = 'open'"),
    ("/buying/orders/{}", _SUPPLIER_ORDERS),
    ("/buying/orders/{}/sheet.pdf", _SUPPLIER_ORDERS),
    ("/buying/orders/{}/sheet.pdf?costs=1", f"{_SUPPLIER_ORDERS} LIMIT 2"),
    ("/buying/orders/{}/order.csv", _SUPPLIER_ORDERS),
    ("/buying/orders/{}/costs", _SUPPLIER_ORDERS),
)
"""An address for each row of a question to the file."""

NOT_OF_THE_DATA = {
    "/days": "tells of a day that is being typed",
    "/docs": "shows examples of its own",
    "/handbook": "is the program's book; a shop's figures in it stand in its settings",
    "/handbook/work": "is the program's book",
    "/api/openapi.json": "describes the JSON",
    "/api/orders/{order_id}/pieces/{number}/photo": "is of the photo of a piece, which came after these shops",
    "/settings/workshop": "is of the computer and its network, and of phones, of which these shops have none",
    "/welcome": "is for a shop that is not set up",
    "/settings/data/remove-sample": "is of a sample alone",
    "/settings/data/copies/{name}": "is a copy, of which a shop that was just opened has none",
    "/settings/data/copies/{name}/restore": "asks before a copy is put back",
    "/orders/{order_id}/delete": "asks before a quote is deleted, by number and titles that its own page shows",
    "/orders/{order_id}/pieces/{number}/split": "is of several that are alike, of which these shops have none",
    "/prints/{print_id}": "is of a paper that is being made, which no file holds",
    "/prints/{print_id}/paper.pdf": "is a paper that another address asked for",
    "/plans/making/{draft_id}": "is of a plan that is being made, which no file holds",
    "/orders/{order_id}/pieces/{number}/designs": "compares designs, of which no kept shop has several",
    "/orders/{order_id}/pieces/{number}/designs/new": "is the form of a piece, which begins as /change",
    "/orders/{order_id}/pieces/{number}/designs/{design}/take": "is of a piece with several designs",
    "/orders/{order_id}/pieces/{number}/designs.pdf": "compares designs, of which no kept shop has several",
    "/orders/{order_id}/wall.png": "is the picture that /wall shows",
    "/static/css/all.css": "is a file of the program",
    "/turn": "says which way the screen faces",
    "/orders/{order_id}/pieces/{number}/show": "shows designs, of which no kept shop has several",
    "/sell": "is empty until something is typed",
    "/pictures": "is of photos of the last day, which these shops have none of",
    "/pictures/{picture_id}": "is a picture, of which these shops have none",
    "/orders/{order_id}/pieces/{number}/photo": "is of the photo of a piece, which came after these shops",
    "/orders/{order_id}/pieces/{number}/photo/straighten": "is of the photo of a piece, which came after these shops",
    "/orders/{order_id}/lines/new": "is empty until something is typed",
    "/orders/{order_id}/lines/{number}/change": "is of lines without a piece, which came after these shops",
    "/orders/{order_id}/lines/{number}/job.pdf": "is of lines without a piece, which came after these shops",
    "/orders/{order_id}/jobs.pdf": "is of lines without a piece, which came after these shops",
}
"""Pages that are none of the data, with the reason."""


def addresses_of(database: Path) -> Iterator[str]:
    """Every address, each once, in an order that stays the same."""
    yield from PLAIN
    yield from (pattern.format(kind) for pattern in OF_A_KIND for kind in KINDS)
    with closing(sqlite3.connect(f"{database.as_uri()}?mode=ro", uri=True)) as connection:
        for pattern, rows in OF_ROWS:
            found = (pattern.format(*map(_in_address, row)) for row in connection.execute(rows))
            yield from dict.fromkeys(found)


def _in_address(value: object) -> str:
    return quote(str(value), safe="")
