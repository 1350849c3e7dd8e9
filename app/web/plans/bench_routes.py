"""Routes of a kept cutting plan: its page, and every act on it: tick, book, note what was spoiled, drop."""

from collections.abc import Callable
from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.cutting import OpenedSheet
from app.documents.cutting_plan.cutting_plan import PlanPrinting, cutting_plan_pdf
from app.errors import Conflict, Fault, Invalid
from app.services import plan_bench, plans
from app.services.plan_bookings import Booked, book_bin, take_back_booking
from app.services.plan_fallouts import fallouts_on_offer
from app.services.plans import BinAtPlan, LookedPlan, PlanAt
from app.stock.planning.plans import BinAt, CuttingPlan, PlanStage, standing
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.templating import render, render_part, see, wants_part
from app.web.papers.routes import pdf
from app.web.plans.bench_page import PlanPage, RefusedBooking, element_of, plan_fields
from app.web.plans.form import read_part, read_to_keep
from app.web.stock.parts import StockPage

router = APIRouter(prefix="/plans/{plan_id}")

PAGE = "pages/plans/show.html"
PART = "pages/plans/_ticked.html"


@router.get("")
def show(here: Here, plan_id: Id) -> HTMLResponse:
    """Show a plan with everything to cut."""
    return render(here, PAGE, _page(here, plan_id))


@router.post("/ticks")
def tick(here: Here, form: TypedForm, plan_id: Id) -> Response:
    """Tick a part as cut, or take its tick back. A page that renews itself in place gets the parts alone."""
    part = form.get("part", "")

    def act() -> None:
        plans.tick_part(here.store, plan_id, part, here.act, ticked=form.get("ticked") == "1")

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    if wants_part(here):
        ticked = plans.get(here.store, plan_id).bin_of(part)
        return render_part(PART, _page(here, plan_id, ticked=ticked))
    return see(f"/plans/{plan_id}#{_bin_of(here, plan_id, part)}")


@router.post("/spoiled")
def spoil(here: Here, form: TypedForm, plan_id: Id) -> Response:
    """Note a part as spoiled: it is open work again."""

    def act() -> None:
        part = read_part(form)
        plans.spoil_part(here.store, plan_id, part, here.act, note=form.get("note", ""))

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    element = _bin_of(here, plan_id, form["part"])
    return see(
        f"/plans/{plan_id}#{element}", "Written down; the part waits to be planned and cut again."
    )


@router.post("/whole")
def whole(here: Here, form: TypedForm, plan_id: Id) -> Response:
    """Take back that a part was spoiled: it is whole after all."""

    def act() -> None:
        plans.take_back_spoiled(here.store, plan_id, read_part(form), here.act)

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    element = _bin_of(here, plan_id, form["part"])
    return see(f"/plans/{plan_id}#{element}", "Taken back; the part is whole.")


@router.post("/bins/{section}/{number}/book")
def book(here: Here, form: TypedForm, plan_id: Id, section: Id, number: Id) -> Response:
    """Book a stick or sheet as cut: it leaves the stock, and what is kept of it comes in under labels of its own."""
    which = BinAtPlan(plan_id=plan_id, at=BinAt(section=section, bin=number))
    booked: list[Booked] = []

    def act() -> None:
        plan = plans.get(here.store, plan_id)
        offered = [each.id for each in fallouts_on_offer(here.store, which)]
        keep = read_to_keep(form, here.shop, which.at, _offcuts(plan, which.at), offered)
        booked.append(book_bin(here.store, which, here.act, keep))

    refused = _refused(here, plan_id, form, act)
    if refused is not None:
        return refused
    plan = plans.get(here.store, plan_id)
    said = _said(plan, which.at, booked[0])
    return see(f"/plans/{plan_id}#{element_of(which.at)}", said)


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
        f"/plans/{plan_id}#{element_of(which.at)}",
        "The booking is taken back; the stock stands as it did before it.",
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
        return see(f"/plans/{plan_id}", f"{plan.number} is {plan.stage} already.")
    bins = sum(1 for _ in plan.bins())
    booked = len(standing(plan).booked)
    page = DropPage(
        title=f"Drop {plan.number}",
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
    said = "The plan is dropped. What it had not cut is open work and free stock."
    if by_hand:
        said += (
            f" Nothing left the rack for what was cut by hand of {', '.join(by_hand)}: correct its "
            "count where it is wrong."
        )
    return see(f"/plans/{plan_id}", said)


@router.get("/plan.pdf")
def give_pdf(here: Here, plan_id: Id) -> Response:
    """Give the plan on the shop's paper."""
    looked = plans.look(here.store, plan_id)
    printing = PlanPrinting(
        paper=here.shop.paper,
        steps=here.shop.steps,
        phone_url=here.context.phone_url,
        today=here.today,
        cutter=here.shop.cutter_in(here.shop.unit),
        by_hand=looked.by_hand,
    )
    content = cutting_plan_pdf(looked.plan, looked.sources, printing)
    return pdf(content, f"{looked.plan.number}.pdf")


def _refused(
    here: RequestContext, plan_id: int, form: dict[str, str], act: Callable[[], None]
) -> HTMLResponse | None:
    """Do something to a plan; where it cannot be done, the page that says why. Raises: NotFound."""
    try:
        act()
    except Invalid as invalid:
        refused = RefusedBooking(typed=form, faults=invalid.faults)
        return render(here, PAGE, _page(here, plan_id, refused), 422)
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
    ticked: BinAt | None = None,
) -> PlanPage:
    at = plan_bench.at_bench(here.store, plan_id, offers=ticked is None)
    return PlanPage(
        title=at.looked.plan.number,
        faults=refused.faults if refused else (),
        ticked=ticked,
        **plan_fields(at, here.shop, refused),
    )


def _bin_of(here: RequestContext, plan_id: int, part: str) -> str:
    return element_of(plans.get(here.store, plan_id).bin_of(part))


def _offcuts(plan: CuttingPlan, at: BinAt) -> int:
    """Return how many offcuts worth keeping a stick or sheet leaves."""
    opened = plan.opened(at)
    if isinstance(opened, OpenedSheet):
        return len(opened.offcuts)
    return 0 if opened.offcut is None else 1


def _said(plan: CuttingPlan, at: BinAt, booked: Booked) -> str:
    """Say what a booking did."""
    said = [f"{_named(plan, at)} is booked as cut."]
    if booked.kept:
        labels = ", ".join(each.item.label for each in booked.kept)
        said.append(f"Kept: {labels}; their labels can be printed.")
    said += [notice.message for notice in booked.notices]
    if booked.all_cut:
        names = ", ".join(ref.name for ref in booked.all_cut)
        said.append(f"All parts of {names} are cut.")
    if booked.done:
        said.append(f"{plan.number} is done.")
    return " ".join(said)
