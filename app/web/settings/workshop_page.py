"""The page of phones at the bench: where they reach the app, how one is paired, which are."""

from dataclasses import dataclass
from datetime import datetime, timedelta

import segno

from app.counting import counted
from app.errors import Fault, FaultCollector, quoted
from app.forms.kinds import Options
from app.forms.reader import whole_number
from app.forms.table import Typed
from app.services.phones import Access
from app.storage import Phone
from app.web.door.addresses import OwnAddress, own_addresses
from app.web.door.doorkeeper import PAIR, role_of
from app.web.door.pairing import Code, Tries
from app.web.door.workshop import Workshop
from app.web.kit.fields import Fields, FieldView
from app.web.kit.listing import Chip
from app.web.kit.templating import Page
from app.web.kit.visitor import Role
from app.web.settings.page import nav_sections

ROLES: Options = (
    (Role.BENCH.value, "Bench: tickets, steps, stages, plans and stock; no prices, no contacts"),
    (Role.OFFICE.value, "Office: everything but these settings"),
)
ROLE_NAMES = {Role.BENCH: "Bench", Role.OFFICE: "Office"}

LOWEST_PORT, HIGHEST_PORT = 1024, 65535
"""Ports that programs of a user may take. Source: RFC 6335, 6, without the system ports."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PairedPhone:
    """A phone in the list."""

    id: int
    name: str
    role: str
    paired_at: datetime
    seen_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class PairingCode:
    """The code to scan or to type. digits: in two groups. image: of the address with the code."""

    digits: str
    image: str
    address: str
    role: str
    until: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkshopPage(Page):
    """is_on: phones are let in. url: where they reach the app, None while they do not, for the reason in `trouble`.

    public: the address may be reached from all of the internet. https: it is spoken encrypted. none: this
    computer is in no network. lapsed: phones were let in by data that were put back, and are no more. tried: what was tried
    with wrong codes, blank where nothing was.
    """

    title: str = "Phones in the workshop"
    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    is_on: bool
    url: str | None
    trouble: str
    https: bool
    public: bool
    none: bool
    lapsed: bool
    address: FieldView
    port: FieldView
    role: FieldView
    code: PairingCode | None
    tried: str
    phones: tuple[PairedPhone, ...]


def workshop_page(
    workshop: Workshop, typed: Typed, now: datetime, faults: tuple[Fault, ...] = ()
) -> WorkshopPage:
    """Return the page with what was typed."""
    access, ours = workshop.access, own_addresses()
    make = Fields(typed, faults)
    return WorkshopPage(
        faults=faults,
        nav_sections=nav_sections("workshop"),
        is_on=access.is_on,
        url=workshop.url,
        trouble=workshop.trouble,
        https=workshop.scheme == "https",
        public=any(each.is_public for each in ours if each.address in (workshop.url or "")),
        none=not ours,
        lapsed=access.lapsed,
        address=make.field("address", "Address of this computer", options=_options(ours)),
        port=make.field("port", "Port", required=True),
        role=make.field("role", "What the phone is for", options=ROLES),
        code=_code(workshop, workshop.pairing.code),
        tried=_tried(workshop.pairing.tries, now),
        phones=tuple(_paired(workshop, phone) for phone in access.phones),
    )


def begun_with(access: Access, usual_port: int) -> dict[str, str]:
    """Return what the fields begin with."""
    addresses = [each.address for each in own_addresses()]
    address = access.address if access.address in addresses else (addresses or [""])[0]
    port = access.port or usual_port
    return {"address": address, "port": str(port), "role": Role.BENCH.value}


def read_place(typed: Typed) -> tuple[str, int]:
    """Return the address and the port at which phones are to reach the app. Raises: Invalid with every fault."""
    faults = FaultCollector()
    text = typed.get("port", "").strip()
    port = whole_number(text, digits=5) or 0
    if not LOWEST_PORT <= port <= HIGHEST_PORT:
        said = f"The port is {quoted(text)}; a whole number from {LOWEST_PORT} to {HIGHEST_PORT} is allowed."
        faults.add("port", said)
    addresses = [each.address for each in own_addresses()]
    address = typed.get("address", "").strip()
    if not addresses:
        faults.add("address", "This computer is in no network now, so no phone reaches it.")
    elif address not in addresses:
        faults.add("address", f"Choose an address of this computer: {', '.join(addresses)}.")
    faults.finish()
    return address, port


def _options(addresses: tuple[OwnAddress, ...]) -> Options:
    return tuple(
        (each.address, f"{each.address} ({each.network})" if each.network else each.address)
        for each in addresses
    )


def _code(workshop: Workshop, code: Code | None) -> PairingCode | None:
    if code is None or workshop.url is None:
        return None
    # Source: ISO/IEC 18004, 5.3.8: a margin of four modules; dark on light, whatever the page is.
    drawn = segno.make(f"{workshop.url}{PAIR}?code={code.digits}", error="m", micro=False)
    return PairingCode(
        digits=f"{code.digits[:3]} {code.digits[3:]}",
        image=drawn.svg_data_uri(border=4, light="#fff", xmldecl=False, svgns=True, omitsize=True),
        address=f"{workshop.url}{PAIR}",
        role=ROLE_NAMES[code.role],
        until=code.until,
    )


def _tried(tries: Tries, now: datetime) -> str:
    if not tries.wrong:
        return ""
    many = counted(tries.wrong, "wrong code was", "wrong codes were")
    if tries.seconds is None:
        return f"{many} tried."
    # A minute that has begun counts whole, so that what is said holds.
    until = now + timedelta(seconds=tries.seconds + 59)
    return f"{many} tried; no code is looked at until {until:%H:%M}. Make a new code to go on."


def _paired(workshop: Workshop, phone: Phone) -> PairedPhone:
    return PairedPhone(
        id=phone.id,
        name=phone.name,
        role=ROLE_NAMES[role_of(phone.role)],
        paired_at=phone.paired_at,
        seen_at=workshop.seen_at(phone),
    )
