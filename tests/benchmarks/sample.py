"""What is measured: sample shops of some size, made once and kept, and one piece to work out."""

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from app.storage import DATABASE_NAME, Store
from seed_demo.build import build_demo


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """How much is measured. data: the folder in which samples are kept from run to run."""

    data: Path
    few: int = 500
    many: int = 50_000
    requests: int = 500
    pages: int = 60
    documents: int = 40
    starts: int = 5
    tickets: int = 500
    frames: tuple[int, ...] = (40, 200)
    open_pieces: int = 300
    keys: int = 60

    @classmethod
    def quick(cls, data: Path) -> "Plan":
        """Smaller data and fewer rounds: under half a minute, to see that all is well."""
        return cls(
            data=data,
            few=100,
            many=2000,
            requests=100,
            pages=20,
            documents=8,
            starts=2,
            tickets=100,
            frames=(40,),
            open_pieces=60,
            keys=24,
        )


def shop_of(data: Path, orders: int) -> Path:
    """The folder of a sample shop with so many orders, made where it is missing."""
    folder = data / f"orders-{orders}"
    if not folder.exists():
        data.mkdir(parents=True, exist_ok=True)
        print(f"Making a sample shop of {orders} orders in {folder} …", file=sys.stderr)
        with TemporaryDirectory(dir=data, prefix="making-") as making:
            half_made = Path(making) / "shop"
            half_made.mkdir()
            with Store.open(half_made / DATABASE_NAME) as store:
                build_demo(store, orders=orders)
            half_made.rename(folder)
    return folder


PIECE: Mapping[str, str] = {
    "unit": "mm",
    "artwork.size": "420 x 297",
    "artwork.thickness": "0.3",
    "artwork.title": "Estuary, low tide",
    "artwork.kind": "watercolour",
    "artwork.condition": "Slight cockling at the top edge",
    "artwork.place": "Rack B2",
    "presentation": "window",
    "sizing": "borders",
    "mats.0.material": "SALT14",
    "mats.1.material": "BONE14",
    "mats.1.reveal": "6",
    "borders.left": "70",
    "borders.bottom": "80",
    "frames.0.material": "B20-OAK",
    "glazing.material": "UV2",
    "backing.material": "BACK2/A",
    "hardware.0.material": "RING2",
    "hardware.0.count": "2",
    "hardware.1.material": "WIRE15",
}
"""A window mat of two layers behind glass, from the sample's price book, as it is typed."""

QUOTE: Mapping[str, str] = {"customer": "Amber Quill", "version": "0", "view": "seen", **PIECE}
"""The same with the other fields of the quote page."""
