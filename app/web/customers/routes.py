"""Routes of customers: find, add, change and remove them, and give them their data."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Fault, Invalid
from app.forms.table import values_in
from app.orders import Customer
from app.services import customers, invoices, orders
from app.storage import ERASED_NAME, OrderFilter, PageRequest, Stale, Versioned
from app.web.customers import page as page_of
from app.web.customers.form import CUSTOMER, read_customer
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.edit_conflict import two_versions
from app.web.kit.fields import Fields, FormView
from app.web.kit.listing import search_field
from app.web.kit.templating import render, render_part, see
from app.web.orders.invoices_page import invoice_views

router = APIRouter(prefix="/customers")

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
    """Show the matches under a field that finds."""
    return render_part("pages/customers/find.html", page_of.options(customers.find(here.store, q)))


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
def show(here: Here, customer_id: Id) -> HTMLResponse:
    """Show one customer with quotes, orders and sums."""
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
        total=page_of.sums(order.total for order in listed.rows if order.order_number),
        owed=page_of.sums(order.owed for order in listed.rows),
        more=listed.total > len(listed.rows),
        removed=_is_removed(kept.value),
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
    return see(f"/customers/{customer_id}", "Kept.")


@router.get("/{customer_id}/export")
def export(here: Here, customer_id: Id) -> Response:
    """Give everything that is kept about a customer as a file, for that customer."""
    return Response(
        customers.export(here.store, customer_id),
        media_type="application/json",
        headers={
            "content-disposition": f'attachment; filename="customer-{customer_id}.json"',
            "cache-control": "no-store",
        },
    )


@router.get("/{customer_id}/remove")
def ask_to_remove(here: Here, customer_id: Id) -> HTMLResponse:
    """Show what removing means, before it is done."""
    customer = customers.get(here.store, customer_id).value
    listed = orders.listed(
        here.store, OrderFilter(customer_id=customer_id), page=PageRequest(size=1)
    )
    page = page_of.RemoveCustomerPage(
        title=f"Remove {customer.name}",
        id=customer_id,
        customer=customer,
        orders=listed.total,
    )
    return render(here, "pages/customers/remove.html", page)


@router.post("/{customer_id}/remove")
def remove(here: Here, customer_id: Id) -> Response:
    """Remove everything personal; orders and their ledgers stay."""
    customers.erase(here.store, customer_id, here.act)
    return see("/customers", "The customer's name, address and notes are removed.")


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
