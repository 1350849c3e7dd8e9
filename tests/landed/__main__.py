"""`python -m tests.landed`: what changed on the pages and papers of the landed shops, said and kept.

`python -m tests.landed make`: make the shops of a version that lands, under the names in `shops`.
"""

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from app.services.printing import PRINTS
from tests.landed.making import make
from tests.landed.record import record
from tests.landed.shops import SHOPS


def main() -> None:
    """Record, or make first."""
    if sys.argv[1:] == ["make"]:
        with TemporaryDirectory() as folder:
            make(Path(folder))
    PRINTS.moment = (
        120  # a paper is given by the request that asks for it, however busy this machine is
    )
    for shop in SHOPS:
        changed = 0
        for line in record(shop):
            changed += 1
            print(f"{shop.name} {line}")
        print(f"{shop.name}: {changed} differences, recorded in {shop.said.name}")


if __name__ == "__main__":
    main()
