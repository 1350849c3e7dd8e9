"""Routes of a kept cutting plan: its page, and every act on it: tick, book, note what was spoiled, drop."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.counting import counted
from app.documents.cutting_plan.cutting_plan import PlanPrinting, cutting_plan_pdf
from app.documents.cutting_plan.stations import station_of
from app.documents.cutting_plan.totals import offcuts_of
from app.errors import Conflict, Fault, Invalid
from app.forms.reader import whole_number
from app.services import plan_bench, plans
from app.services.booked_bin import BELOW_ZERO, Booked, below_zero
from app.services.plan_bookings import NotOnRack, book_bin, book_bins, take_back_booking
from app.services.plan_fallouts import fallouts_on_offer
from app.services.plans import BinAtPlan, LookedPlan, PlanAt
from app.stock.planning.plans import BinAt, CuttingPlan, PlanStage, standing
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.templating import render, render_part, see, wants_part
from app.web.papers.printing import printed
from app.web.plans.bench_page import (
    PlanPage,
    RefusedBooking,
    done_of,
    parts_meant,
    place_of,
    plan_fields,
    usual_keep,
)
from app.web.plans.form import read_bins, read_part, read_tick, read_to_keep
from app.web.stock.parts import StockPage

router = APIRouter(prefix="/plans/{plan_id}")

PAGE = "pages/plans/show.html"
PART = "pages/plans/_ticked.html"

ANYWAY = "anyway"
"""The field that says that what is not on the rack is booked all the same."""


@router.get("")
def show(here: Here, plan_id: Id) -> HTMLResponse:
    """Show a plan with everything to cut. open: the number of a material that is shown unfolded."""
    number = whole_number(here.request.query_params.get("open", ""), digits=4)
    unfolded = frozenset() if number is None else frozenset({number})
    return render(here, PAGE, _page(here, plan_id, unfolded=unfolded))


@router.post("/ticks")
def tick(here: Here, form: TypedForm, plan_id: Id) -> Response:
    """Tick a part as cut, or all of a stick, a material or a station; or take the ticks back.

    A page that renews itself in place gets what changed alone.
    """
    named, ticked = read_tick(form)
    meant: list[str] = []

    def act() -> None:
        meant.extend(parts_meant(plans.look(here.store, plan_id), named))
        plans.tick_parts(here.store, plan_id, meant, here.act, ticked=ticked)

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    plan = plans.get(here.store, plan_id)
    bins = frozenset(plan.bin_of(part) for part in meant)
    if wants_part(here):
        return render_part(PART, _page(here, plan_id, ticked=bins))
    kind = named.partition(".")[0]
    if kind == "station" or not bins:
        return see(f"/plans/{plan_id}#{named.replace('.', '-')}")
    return see(place_of(plan_id, min(bins)))


@router.post("/spoiled")
def spoil(here: Here, form: TypedForm, plan_id: Id) -> Response:
    """Note a part as spoiled: it is open work again."""

    def act() -> None:
        part = read_part(form)
        plans.spoil_part(here.store, plan_id, part, here.act, note=form.get("note", ""))

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    return see(
        _place_of_part(here, plan_id, form["part"]),
        "Saved; the part waits to be planned and cut again.",
    )


@router.post("/whole")
def whole(here: Here, form: TypedForm, plan_id: Id) -> Response:
    """Take back that a part was spoiled: it is whole after all."""

    def act() -> None:
        plans.take_back_spoiled(here.store, plan_id, read_part(form), here.act)

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    return see(_place_of_part(here, plan_id, form["part"]), "Undone; the part is whole.")


@router.post("/bins/{section}/{number}/book")
def book(here: Here, form: TypedForm, plan_id: Id, section: Id, number: Id) -> Response:
    """Book a stick or sheet as cut: it leaves the stock, and what is kept of it comes in under labels of its own."""
    which = BinAtPlan(plan_id=plan_id, at=BinAt(section=section, bin=number))
    booked: list[Booked] = []

    def act() -> None:
        plan = plans.get(here.store, plan_id)
        offered = [each.id for each in fallouts_on_offer(here.store, which)]
        offcuts = offcuts_of(plan.opened(which.at))
        keep = read_to_keep(form, here.shop, which.at, offcuts, offered)
        booked.append(book_bin(here.store, which, here.act, keep, anyway=ANYWAY in form))

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    plan = plans.get(here.store, plan_id)
    return see(place_of(plan_id, which.at), _said(plan, _named(plan, which.at), booked))


@router.post("/book")
def book_several(here: Here, form: TypedForm, plan_id: Id) -> Response:
    """Book all that is cut at a station in one act; what is worth keeping is kept where its stick or sheet was."""
    booked: list[Booked] = []

    def act() -> None:
        bins = read_bins(form.get("bins", ""))
        at = plan_bench.at_bench(here.store, plan_id)
        keeps = {where: usual_keep(at, where) for where in bins}
        booked.extend(book_bins(here.store, plan_id, keeps, here.act, anyway=ANYWAY in form))

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    plan = plans.get(here.store, plan_id)
    bins = read_bins(form["bins"])
    named = _named(plan, bins[0]) if len(bins) == 1 else f"{len(bins)} sticks and sheets"
    station = station_of(plan.section(bins[0].section))
    return see(f"/plans/{plan_id}#station-{station}", _said(plan, named, booked))


@router.post("/bins/{section}/{number}/take-back")
def take_back(here: Here, form: TypedForm, plan_id: Id, section: Id, number: Id) -> Response:
    """Take a booking back that was a slip: everything goes back."""
    which = BinAtPlan(plan_id=plan_id, at=BinAt(section=section, bin=number))

    def act() -> None:
        take_back_booking(here.store, which, here.act)

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    return see(
        place_of(plan_id, which.at),
        "The booking is undone; the stock stands as it did before it.",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class DropPage(StockPage):
    """Asks before a plan is dropped. left: sticks and sheets that are not booked. by_hand: those of them that parts were
    cut from by hand, as "Stick 2 of LIN-20"; dropping takes none of them off the rack.
    """

    part: str = "Plans"
    id: int
    version: int
    number: str
    left: int
    booked: int
    by_hand: tuple[str, ...]


@router.get("/drop")
def ask_to_drop(here: Here, plan_id: Id) -> Response:
    """Say what will happen where a plan is dropped. Raises: NotFound."""
    looked = plans.look(here.store, plan_id)
    plan = looked.plan
    if plan.stage is not PlanStage.OPEN:
        return see(f"/plans/{plan_id}", f"{plan.number} is {plan.stage.word} already.")
    bins = sum(1 for _ in plan.bins())
    booked = len(standing(plan).booked)
    page = DropPage(
        title=f"Delete {plan.number}",
        id=plan_id,
        version=plan.version,
        number=plan.number,
        left=bins - booked,
        booked=booked,
        by_hand=_cut_by_hand(looked),
    )
    return render(here, "pages/plans/drop.html", page)


def _cut_by_hand(looked: LookedPlan) -> tuple[str, ...]:
    """Name the sticks and sheets that are not booked and that parts were cut from by hand."""
    plan = looked.plan
    places = sorted(
        {plan.bin_of(part_id) for part_id in looked.by_hand} - set(looked.standing.booked)
    )
    return tuple(_named(plan, at) for at in places)


def _named(plan: CuttingPlan, at: BinAt) -> str:
    section = plan.section(at.section)
    return f"{section.form.value.capitalize()} {at.bin} of {section.material.code}"


@router.post("/drop")
def drop(here: Here, form: TypedForm, plan_id: Id) -> Response:
    """Give a plan up; what was cut by hand of it and does not leave the rack is told."""
    by_hand = _cut_by_hand(plans.look(here.store, plan_id))

    def act() -> None:
        plans.drop_plan(here.store, PlanAt(id=plan_id, version=read_version(form)))

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    said = "The plan is deleted. What it had not cut is open work and free stock."
    if by_hand:
        said += (
            f" Nothing left the rack for what was cut by hand of {', '.join(by_hand)}: correct its "
            "count where it is wrong."
        )
    return see(f"/plans/{plan_id}", said)


@router.get("/plan.pdf")
def give_pdf(here: Here, plan_id: Id) -> Response:
    """Give the plan on the shop's paper."""
    at = plan_bench.at_bench(here.store, plan_id, offers=False)
    looked = at.looked
    printing = PlanPrinting(
        paper=here.shop.paper,
        steps=here.shop.steps,
        currency=here.shop.currency,
        mat_word=here.shop.mat_word.value,
        phone_url=here.context.phone_url,
        today=here.today,
        cutter=here.shop.cutter_in(here.shop.unit),
        done=done_of(at),
        costs=here.visitor.sees_money,
    )
    make = partial(cutting_plan_pdf, looked.plan, looked.sources, printing)
    return printed(here, make, f"{looked.plan.number}.pdf")


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingPage(StockPage):
    """Asks before sticks or sheets are booked that are not on the rack.

    missing: these by material, "23 sticks of LIN-20"; count: how many. typed: the fields of the form that was posted.
    receive: the address where they are received.
    """

    title: str = "Take off stock what was never received?"
    part: str = "Plans"
    missing: tuple[str, ...]
    count: int
    action: str
    anyway: str = ANYWAY
    typed: tuple[tuple[str, str], ...]
    receive: str
    back: str


def _missing_page(
    here: RequestContext, plan_id: int, form: dict[str, str], asked: NotOnRack
) -> MissingPage:
    plan = plans.get(here.store, plan_id)
    counts = Counter(at.section for at in asked.bins)
    codes = {plan.section(number).material.code for number in counts}
    return MissingPage(
        missing=tuple(
            f"{counted(count, plan.section(number).form.value)} of {plan.section(number).material.code}"
            for number, count in counts.items()
        ),
        count=len(asked.bins),
        action=here.request.url.path,
        typed=tuple(form.items()),
        receive=f"/stock/receive?material={quote(codes.pop())}" if len(codes) == 1 else "/buying",
        back=place_of(plan_id, asked.bins[0]),
    )


def _refused(
    here: RequestContext, plan_id: int, form: dict[str, str], act: Callable[[], None]
) -> HTMLResponse | None:
    """Do something to a plan; where it cannot be done, the page that says why. Raises: NotFound."""
    try:
        act()
    except Invalid as invalid:
        refused = RefusedBooking(typed=form, faults=invalid.faults)
        return render(here, PAGE, _page(here, plan_id, refused), 422)
    except NotOnRack as asked:
        return render(
            here, "pages/plans/missing.html", _missing_page(here, plan_id, form, asked), 409
        )
    except Conflict as conflict:
        fault = Fault(path="", message=conflict.message, code=conflict.code)
        return render(
            here, PAGE, _page(here, plan_id, RefusedBooking(typed=form, faults=(fault,))), 409
        )
    return None


def _page(
    here: RequestContext,
    plan_id: int,
    refused: RefusedBooking | None = None,
    ticked: frozenset[BinAt] = frozenset(),
    unfolded: frozenset[int] = frozenset(),
) -> PlanPage:
    """Return the page of a plan. ticked: what a tick renews. unfolded: materials that are shown open; that of a refused booking is."""
    at = plan_bench.at_bench(here.store, plan_id, offers=not ticked)
    if refused is not None:
        unfolded |= refused.sections
    return PlanPage(
        title=at.looked.plan.number,
        faults=refused.faults if refused else (),
        ticked=ticked,
        **plan_fields(at, here.shop, refused, unfolded, costs=here.visitor.sees_money),
    )


def _place_of_part(here: RequestContext, plan_id: int, part: str) -> str:
    return place_of(plan_id, plans.get(here.store, plan_id).bin_of(part))


_NAMED = 6
"""So many labels are named one by one; more are counted. Source: ours."""


def _noticed(booked: Sequence[Booked]) -> Iterator[str]:
    """Yield what was noticed at bookings; of what more was cut than was noted, the materials in one sentence."""
    below = dict.fromkeys(
        each.taken.item.material
        for each in booked
        if each.taken and any(notice.code == BELOW_ZERO for notice in each.notices)
    )
    if below:
        yield below_zero(below)
    others = (notice for each in booked for notice in each.notices if notice.code != BELOW_ZERO)
    yield from dict.fromkeys(notice.message for notice in others)


def _said(plan: CuttingPlan, named: str, booked: Sequence[Booked]) -> str:
    """Say what bookings did. named: what was booked."""
    said = [f"{named} {'is' if len(booked) == 1 else 'are'} booked as cut."]
    kept = [item.item.label for each in booked for item in each.kept]
    if kept:
        labels = ", ".join(kept) if len(kept) <= _NAMED else f"{len(kept)} offcuts"
        said.append(f"Stored: {labels}; their labels can be printed.")
    said += _noticed(booked)
    all_cut = dict.fromkeys(ref.name for each in booked for ref in each.all_cut)
    if all_cut:
        said.append(f"All parts of {', '.join(all_cut)} are cut.")
    if booked[-1].done:
        said.append(f"{plan.number} is done.")
    return " ".join(said)
