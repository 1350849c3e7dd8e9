"""What is wrong with the machine or the data, said at the top of every page until it is mended.

Each source looks at one thing; a further alarm is a further source.
"""

from collections.abc import Callable
from dataclasses import dataclass

from app.services import clock as clocks
from app.web.kit.context import AppContext


@dataclass(frozen=True, slots=True, kw_only=True)
class Alarm:
    """One sentence or two. href, link: the page where it can be mended and how it is called, blank where there is none."""

    sentence: str
    href: str = ""
    link: str = ""


Source = Callable[[AppContext], Alarm | None]


def phones_cut_off(context: AppContext) -> Alarm | None:
    """Say that phones do not reach the app though they should."""
    if not context.reach.trouble:
        return None
    return Alarm(sentence=context.reach.trouble, href="/settings/workshop", link="Phones")


def clock_in_doubt(context: AppContext) -> Alarm | None:
    """Say that the clock of this computer was set ahead or back."""
    try:
        reading = clocks.read(context.store, context.now())
    except Exception:  # a page that says that the data cannot be read must not fail on the clock
        return None
    if reading.doubt is None:
        return None
    return Alarm(
        sentence=f"{reading.sentence} If that is wrong, set its clock right before anything is entered.",
        href="/settings/clock",
        link="It is right",
    )


def copy_looked_at(context: AppContext) -> Alarm | None:
    """Say that a copy is shown, in which nothing changes."""
    shown = context.looked_at
    if shown is None:
        return None
    return Alarm(sentence=shown.sentence, href=shown.back, link="End looking at it")


def damaged_pages(context: AppContext) -> Alarm | None:
    """What was found damaged in the file when it was opened."""
    found = context.store.damaged
    if not found:
        return None
    more = (
        f" And so on: {len(found)} in all; `bevelbook check` says each." if len(found) > 1 else ""
    )
    return Alarm(
        sentence=f"The file with the shop's data is damaged. {found[0]}{more} Put the newest whole copy back.",
        href="/settings/data",
        link="Settings, Data",
    )


SOURCES: tuple[Source, ...] = (copy_looked_at, damaged_pages, clock_in_doubt, phones_cut_off)


def alarms_of(context: AppContext) -> tuple[Alarm, ...]:
    """Return what is to be said now."""
    found = (source(context) for source in SOURCES)
    return tuple(alarm for alarm in found if alarm is not None)
