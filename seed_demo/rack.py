"""What the sample shop has on the rack: opened two months ago, offcuts kept since, a few things gone.

All days are counted back from the day that the sample leads up to.
"""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta

from app.lengths import Unit, parse_length, parse_size
from app.pricing import Material
from app.services.stock import put_offcut_on_rack, put_on_rack
from app.stock.costs import cost_by_book, usual_length, usual_size
from app.stock.items import Item, StockForm, form_of
from app.stock.levels import Levels
from app.stock.movements import MovementKind, NewMovement
from app.stock.offcuts import Offcut
from app.storage import Stamp, UnitOfWork
from seed_demo.days import open_day
from seed_demo.shop import PEOPLE
from seed_demo.tables import Line, table

COUNTED_DAYS_AGO = 61
"""When all that there was was counted in."""

SPOILED = (
    ("C18-INK", 1, 31, "Split at the nail hole"),
    ("SALT14", 1, 23, "Coffee"),
    ("CLEAR2", 2, 15, "Broken in the crate"),
)
"""(material, how many, days ago, what happened)."""


def fill_rack(work: UnitOfWork, book: Sequence[Material], today: date) -> None:
    """Put the sample's stock on the rack, with its levels, offcuts and what was spoiled."""
    materials = {material.code: material for material in book}
    whole = {
        line["material"]: _put(work, line, materials[line["material"]], today)
        for line in table("stock")
    }
    for line in sorted(table("offcuts"), key=lambda each: -int(each["days_ago"])):
        put_offcut_on_rack(work, _offcut(line, materials), _act(today, int(line["days_ago"])))
    _spoil(work, whole, today)


def _put(work: UnitOfWork, line: Line, material: Material, today: date) -> int:
    work.stock.set_levels(
        material.code,
        Levels(
            reorder_at=int(line["reorder_at"]) if line["reorder_at"] else None,
            pack=int(line["pack"]),
            place=line["place"],
        ),
        0,
    )
    item = Item(
        material=material.code,
        form=form_of(material),
        unit_cost=cost_by_book(material),
        length=usual_length(material),
        size=usual_size(material),
        batch=line["batch"],
        place=line["place"],
    )
    act = _act(today, COUNTED_DAYS_AGO)
    entry = NewMovement(
        kind=MovementKind.BOUGHT,
        change=int(line["count"]),
        at=act.now,
        by=act.who,
        note="What was there when the rack was first written down",
    )
    return put_on_rack(work, item, entry)


def _offcut(line: Line, materials: Mapping[str, Material]) -> Offcut:
    material = materials[line["material"]]
    length = size = None
    if form_of(material) is StockForm.STICK:
        length = parse_length(line["size"], unit=Unit.MM)
    else:
        size = parse_size(line["size"], unit=Unit.MM)
    return Offcut(
        material=material.code,
        unit_cost=cost_by_book(material, length=length, size=size),
        length=length,
        size=size,
        place=line["place"],
    )


def _spoil(work: UnitOfWork, whole: Mapping[str, int], today: date) -> None:
    for code, count, days_ago, note in SPOILED:
        act = _act(today, days_ago)
        entry = NewMovement(
            kind=MovementKind.SPOILED, change=-count, at=act.now, by=act.who, note=note
        )
        work.stock.move(whole[code], entry)


def _act(today: date, days_ago: int) -> Stamp:
    """At half past ten of an open day; the two take turns."""
    day = open_day(today - timedelta(days=days_ago))
    who = PEOPLE[days_ago % len(PEOPLE)]
    return Stamp(who=who, now=datetime.combine(day, time(10, 30), UTC))
