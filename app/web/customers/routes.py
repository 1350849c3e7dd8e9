"""Routes of customers: find, add, change and remove them, and give them their data."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault, Invalid
from app.forms.table import Typed, values_in
from app.orders import Customer, Order
from app.services import customer_export, customers, invoices, orders, who_is_meant
from app.services.order_transaction import OrderAt
from app.storage import ERASED_NAME, OrderFilter, PageRequest, Stale, Versioned
from app.web.customers import page as page_of
from app.web.customers.form import CUSTOMER, OTHER, read_customer
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.edit_conflict import two_versions
from app.web.kit.fields import Fields, FormView
from app.web.kit.listing import search_field
from app.web.kit.templating import render, render_part, see
from app.web.orders.invoices_page import invoice_views

router = APIRouter(prefix="/customers")
giving = APIRouter(prefix="/orders/{order_id}/customer")

SHOWN_ORDERS = 100


@router.get("")
def show_list(here: Here) -> HTMLResponse:
    """Show customers by name, or those that match."""
    wanted = page_of.CustomerQuery.read(here.request.query_params)
    listed = wanted.part(lambda part: customers.listed(here.store, wanted.text, part))
    search = search_field(wanted.text, "Part of a name, phone, e-mail …")
    page = page_of.CustomersPage(listing=wanted.listing(listed, listed.rows, fields=(search,)))
    return render(here, "pages/customers/list.html", page)


@router.get("/find")
def find(here: Here, q: str = "") -> HTMLResponse:
    """Show the matches under a field that finds. q: as addresses of old have it."""
    return render_part("pages/customers/find.html", page_of.options(customers.find(here.store, q)))


@router.post("/find")
def look(here: Here, form: TypedForm) -> HTMLResponse:
    """Show the matches under a field that finds; what is typed there stands in no address."""
    return find(here, form.get("q", ""))


@router.get("/new")
def new(here: Here) -> HTMLResponse:
    """Show the empty form."""
    return _form(here, {}, None)


@router.post("")
def add(here: Here, form: TypedForm) -> Response:
    """Add a customer."""
    try:
        customer_id = customers.add(here.store, read_customer(form, here.shop), here.act)
    except Invalid as invalid:
        return _form(here, form, None, invalid.faults)
    return see(f"/customers/{customer_id}", "Customer added.")


@router.get("/{customer_id}")
def show(here: Here, customer_id: Id) -> Response:
    """Show one customer with quotes, orders and sums; a record that was joined leads to the other one."""
    into = customers.joined_into(here.store, customer_id)
    if into is not None:
        return see(f"/customers/{into}", "That record was joined with this one.")
    kept = customers.get(here.store, customer_id)
    wanted = OrderFilter(customer_id=customer_id)
    listed = orders.listed(here.store, wanted, page=PageRequest(size=SHOWN_ORDERS))
    page = page_of.CustomerPage(
        title=kept.value.name,
        id=customer_id,
        customer=kept.value,
        facts=page_of.facts_of(kept.value),
        orders=listed.rows,
        invoices=invoice_views(invoices.of_customer(here.store, customer_id))[::-1][:SHOWN_ORDERS],
        today=here.today,
        tally=page_of.tally_of(customers.sums(here.store, customer_id), listed.total),
        more=listed.total > len(listed.rows),
        removed=_is_removed(kept.value),
        joins=customers.joins(here.store, customer_id),
    )
    return render(here, "pages/customers/show.html", page)


@router.get("/{customer_id}/edit")
def edit(here: Here, customer_id: Id) -> HTMLResponse:
    """Show the form of a customer."""
    kept = customers.get(here.store, customer_id)
    return _form(here, _typed_of(here, kept.value), kept)


@router.post("/{customer_id}")
def save(here: Here, customer_id: Id, form: TypedForm) -> Response:
    """Keep what was changed."""
    kept = customers.get(here.store, customer_id)
    if form.get("action") == "edit":
        return _form(here, form, kept)
    try:
        version = read_version(form)
        customers.save(here.store, customer_id, read_customer(form, here.shop), version, here.act)
    except Invalid as invalid:
        return _form(here, form, kept, invalid.faults)
    except Stale as stale:
        return _two_tabs(here, customer_id, form, stale)
    return see(f"/customers/{customer_id}", "Saved.")


@router.get("/{customer_id}/export")
def export(here: Here, customer_id: Id) -> Response:
    """Give everything that is kept about a customer as a file, for that customer."""
    return Response(
        customer_export.export(here.store, customer_id),
        media_type="application/json",
        headers={
            "content-disposition": f'attachment; filename="customer-{customer_id}.json"',
            "cache-control": "no-store",
        },
    )


@router.get("/{customer_id}/join")
def choose_to_join(here: Here, customer_id: Id) -> HTMLResponse:
    """Ask for the other record of a customer."""
    return _joining(here, customers.get(here.store, customer_id), {})


@router.post("/{customer_id}/join")
def join(here: Here, customer_id: Id, form: TypedForm) -> Response:
    """Show what joining two records means, or join them."""
    kept = customers.get(here.store, customer_id)
    other = who_is_meant.CustomerRequest.of(form)
    try:
        if form.get("action") != "join":
            return _joining(here, kept, form, customers.joining(here.store, customer_id, other))
        version = read_version(form)
        done = customers.join(here.store, customer_id, version, other, here.act)
    except Invalid as invalid:
        return _joining(here, kept, form, faults=invalid.faults)
    except (Stale, Conflict) as conflict:
        return _joining(
            here, kept, form, faults=(Fault(path="customer", message=conflict.message),)
        )
    name = done.other.value.name
    return see(f"/customers/{customer_id}", f"The record of {name} is joined with this one.")


def _joining(
    here: RequestContext,
    kept: Versioned[Customer],
    typed: Typed,
    joining: customers.Joining | None = None,
    faults: tuple[Fault, ...] = (),
) -> HTMLResponse:
    path, name = f"/customers/{kept.id}", kept.value.name
    page = page_of.ChooseCustomerPage(
        title=f"Join with {name}",
        text=f"Quotes and orders of the other record come to {name}; what it says more is kept in the notes.",
        faults=faults,
        action=f"{path}/join",
        back=path,
        yes="Show what comes of it",
        version=kept.version,
        field=FormView(OTHER, here.shop, Fields(typed, faults))["customer"],
        joining=joining,
        result=page_of.facts_of(joining.result) if joining else (),
    )
    return render(here, "pages/customers/choose.html", page, 422 if faults else 200)


def _is_removed(customer: Customer) -> bool:
    return customer == Customer(name=ERASED_NAME, tax_free=customer.tax_free)


def _form(
    here: RequestContext,
    typed: dict[str, str],
    kept: Versioned[Customer] | None,
    faults: tuple[Fault, ...] = (),
) -> HTMLResponse:
    """Show the form with what was typed.

    kept: the customer that it changes, if any.
    """
    heading = f"Change {kept.value.name}" if kept else "A new customer"
    path = f"/customers/{kept.id}" if kept else "/customers"
    page = page_of.CustomerFormPage(
        title=heading,
        faults=faults,
        heading=heading,
        action=path,
        back=path,
        version=typed.get("version", str(kept.version if kept else "")),
        fields=FormView(CUSTOMER, here.shop, Fields(typed, faults)),
    )
    return render(here, "pages/customers/edit.html", page, 422 if faults else 200)


def _two_tabs(
    here: RequestContext, customer_id: Id, form: dict[str, str], stale: Stale
) -> HTMLResponse:
    stored = stale.stored
    assert isinstance(stored, Versioned)
    return two_versions(
        here,
        stale,
        _typed_of(here, stored.value),
        form,
        lambda make: FormView(CUSTOMER, here.shop, make),
        title=f"Two versions of {stored.value.name}",
        section="Customers",
        action=f"/customers/{customer_id}",
    )


def _typed_of(here: RequestContext, customer: Customer) -> dict[str, str]:
    return CUSTOMER.typed(values_in(customer), here.shop)


@giving.get("")
def choose_to_give(here: Here, order_id: Id) -> HTMLResponse:
    """Ask for whom a quote or an order is instead."""
    return _giving(here, orders.get(here.store, order_id), {})


@giving.post("")
def give(here: Here, order_id: Id, form: TypedForm) -> Response:
    """Give a quote or an order to another customer."""
    asked, at = (
        who_is_meant.CustomerRequest.of(form),
        OrderAt(id=order_id, version=read_version(form)),
    )
    try:
        customer = customers.give_order(here.store, at, asked, here.act)
    except Invalid as invalid:
        return _giving(here, orders.get(here.store, order_id), form, invalid.faults)
    except Conflict as conflict:
        fault = Fault(path="customer", message=conflict.message)
        return _giving(here, orders.get(here.store, order_id), form, (fault,))
    return see(f"/orders/{order_id}", f"It is for {customer.name} now.")


def _giving(
    here: RequestContext, order: Order, typed: Typed, faults: tuple[Fault, ...] = ()
) -> HTMLResponse:
    page = page_of.ChooseCustomerPage(
        title=f"{order.number} for another customer",
        text=f"It is for {order.customer_name}. Prices and all that was agreed stay as they are.",
        faults=faults,
        action=f"/orders/{order.id}/customer",
        back=f"/orders/{order.id}",
        yes="Give it over",
        version=order.version,
        field=FormView(OTHER, here.shop, Fields(typed, faults))["customer"],
    )
    return render(here, "pages/customers/choose.html", page, 422 if faults else 200)
