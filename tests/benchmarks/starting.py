"""From the command to the first page, on a database that is up to date."""

import subprocess
from pathlib import Path

from tests.benchmarks.sample import Plan, shop_of
from tests.benchmarks.serving import environment, python, serving
from tests.benchmarks.table import Row, Section
from tests.benchmarks.timing import alternating

LIBRARIES = "import alembic, fastapi, jinja2, pydantic, sqlalchemy.orm, uvicorn"


def measure(plan: Plan) -> Section:
    """A new process each time; the disk's cache is warm."""
    data = shop_of(plan.data, plan.few)
    started, imported = alternating(
        (lambda: _first_page(data), _import_libraries), rounds=plan.starts, warm=1
    )
    row = Row(
        what="first page",
        measured=started.median / 1000,
        unit="s",
        base=imported.median / 1000,
        most=2,
    )
    return Section(
        title=f"Start of the program, median of {plan.starts}",
        base="a Python that only imports the libraries, in turn",
        rows=(row,),
    )


def _first_page(data: Path) -> None:
    with serving(data) as server:
        server.get("/")


def _import_libraries() -> None:
    subprocess.run(python("-c", LIBRARIES), check=True, env=environment())
