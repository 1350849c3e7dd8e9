"""Which addresses a paired phone may ask for, and which any screen that is turned to a customer. Whatever is not declared here is refused.

A phone of the bench is given tickets, steps, stages, plans and stock. A route that is new is declared as one of the two, and
until then no such phone is given it. What a customer may look at is declared besides.
"""

import re
from collections.abc import Collection, Hashable, Iterable
from dataclasses import dataclass, replace
from typing import Self
from urllib.parse import urlsplit

from fastapi.routing import iter_route_contexts
from starlette.requests import HTTPConnection
from starlette.routing import BaseRoute, compile_path

from app.errors import AppError
from app.web.kit.visitor import Turned, Visitor, visitor_of

_PIECE = "/orders/{order_id}/pieces/{number}"
_PLAN = "/plans/{plan_id}"
_PRINT = "/prints/{print_id}"

AT_THE_BENCH: frozenset[tuple[str, str]] = frozenset(
    {
        ("GET", "/"),
        ("GET", "/static/css/all.css"),
        ("POST", "/who"),
        ("GET", "/handbook/work"),
        ("GET", _PIECE),
        ("POST", f"{_PIECE}/steps"),
        ("POST", f"{_PIECE}/measured"),
        ("POST", f"{_PIECE}/spoiled"),
        ("POST", f"{_PIECE}/cut-anew"),
        ("POST", f"{_PIECE}/not-spoiled"),
        ("POST", f"{_PIECE}/stage"),
        ("POST", f"{_PIECE}/take-back"),
        ("GET", f"{_PIECE}/photo"),
        ("POST", f"{_PIECE}/photo"),
        ("GET", f"{_PIECE}/photo/straighten"),
        ("POST", f"{_PIECE}/photo/straighten"),
        ("GET", "/pictures/{picture_id}"),
        ("GET", f"{_PIECE}/ticket.pdf"),
        ("GET", f"{_PIECE}/windows.svg"),
        ("GET", f"{_PIECE}/windows.dxf"),
        ("GET", "/orders/{order_id}/tickets.pdf"),
        ("GET", "/orders/{order_id}/jobs.pdf"),
        ("GET", "/orders/{order_id}/lines/{number}/job.pdf"),
        ("GET", "/bench/together"),
        ("GET", "/bench/together/choose"),
        ("POST", "/bench/together/steps"),
        ("GET", "/bench/together/list.pdf"),
        ("GET", _PRINT),
        ("GET", f"{_PRINT}/paper.pdf"),
        ("POST", f"{_PRINT}/stop"),
        ("GET", "/plans"),
        ("GET", _PLAN),
        ("POST", f"{_PLAN}/ticks"),
        ("POST", f"{_PLAN}/spoiled"),
        ("POST", f"{_PLAN}/whole"),
        ("POST", f"{_PLAN}/bins/{{section}}/{{number}}/book"),
        ("POST", f"{_PLAN}/bins/{{section}}/{{number}}/take-back"),
        ("POST", f"{_PLAN}/book"),
        ("GET", f"{_PLAN}/plan.pdf"),
        ("GET", "/stock"),
        ("GET", "/stock/items"),
        ("GET", "/stock/items/{item_id}"),
        ("POST", "/stock/items/{item_id}/take"),
        ("POST", "/stock/items/{item_id}/movements/{movement_id}/take-back"),
        ("GET", "/materials/find"),
        ("GET", "/stock/offcuts/new"),
        ("POST", "/stock/offcuts/new"),
        ("GET", "/stock/count"),
        ("POST", "/stock/count"),
        ("GET", "/stock/count/sheet.pdf"),
        ("GET", "/stock/labels"),
    }
)
"""What a phone of the bench may ask for: method and path, as its route has them."""

BESIDE_CUSTOMER: frozenset[tuple[str, str]] = frozenset(
    {
        ("GET", "/static/css/all.css"),
        ("GET", "/turn"),
        ("POST", "/turn"),
        ("GET", "/quotes/new"),
        ("POST", "/quotes"),
        ("POST", "/quotes/materials"),
        ("GET", "/orders/{order_id}"),
        ("GET", "/orders/{order_id}/pieces/new"),
        ("POST", "/orders/{order_id}/pieces"),
        ("POST", _PIECE),
        ("GET", f"{_PIECE}/change"),
        ("GET", f"{_PIECE}/show"),
        ("GET", f"{_PIECE}/designs"),
        ("POST", f"{_PIECE}/designs"),
        ("GET", f"{_PIECE}/designs/new"),
        ("GET", f"{_PIECE}/designs.pdf"),
        ("POST", f"{_PIECE}/designs/{{design}}/take"),
        ("GET", "/orders/{order_id}/quote.pdf"),
        ("GET", "/orders/{order_id}/wall"),
        ("GET", "/orders/{order_id}/wall.png"),
        ("GET", "/pictures/{picture_id}"),
        ("GET", "/orders/{order_id}/receipts/{number}.pdf"),
        ("GET", "/orders/{order_id}/invoices/{number}.pdf"),
        ("GET", _PRINT),
        ("GET", f"{_PRINT}/paper.pdf"),
        ("POST", f"{_PRINT}/stop"),
    }
)
"""What may be asked for while the screen is turned to a customer: method and path, as its route has them. Its pages are made for
that: without costs, stock, suppliers, codes, notices and other customers (`Visitor.sees_costs`). Of a path with an order that is
the order the screen was turned from, and what was begun since; another one is closed (`Turned.shows`)."""

ORDER_ID = "order_id"
"""What the number of an order is called in the path of a route."""

_LINE = "/orders/{order_id}/lines/{number}"

OFFICE_ALONE: frozenset[str] = frozenset(
    {
        "/find",
        "/orders",
        "/orders/{order_id}",
        "/orders/{order_id}/customer",
        "/orders/{order_id}/delete",
        "/orders/{order_id}/entries",
        "/orders/{order_id}/entries/{entry_id}/correct",
        "/orders/{order_id}/hand-over",
        "/orders/{order_id}/invoices",
        "/orders/{order_id}/invoices/correct",
        "/orders/{order_id}/invoices/credit",
        "/orders/{order_id}/invoices/{number}.pdf",
        "/orders/{order_id}/lines",
        "/orders/{order_id}/lines/new",
        _LINE,
        f"{_LINE}/change",
        f"{_LINE}/put-back",
        f"{_LINE}/stage",
        f"{_LINE}/strike",
        f"{_LINE}/take-back",
        "/orders/{order_id}/pieces",
        "/orders/{order_id}/pieces/new",
        _PIECE,
        f"{_PIECE}/change",
        f"{_PIECE}/designs",
        f"{_PIECE}/designs.pdf",
        f"{_PIECE}/designs/leave-open",
        f"{_PIECE}/designs/new",
        f"{_PIECE}/designs/{{design}}/remove",
        f"{_PIECE}/designs/{{design}}/take",
        f"{_PIECE}/price-again",
        f"{_PIECE}/remove",
        f"{_PIECE}/show",
        f"{_PIECE}/split",
        "/orders/{order_id}/quote.pdf",
        "/orders/{order_id}/receipts/{number}.pdf",
        "/orders/{order_id}/reductions",
        "/orders/{order_id}/reductions/{reduction_id}/undo",
        "/orders/{order_id}/stage",
        "/orders/{order_id}/take",
        "/orders/{order_id}/take-back",
        "/orders/{order_id}/target",
        "/orders/{order_id}/terms",
        "/orders/{order_id}/told",
        "/orders/{order_id}/told/{told_id}/take-back",
        "/orders/{order_id}/wall",
        "/orders/{order_id}/wall.png",
        "/days",
        "/handbook",
        "/plans/new",
        "/plans/making/{draft_id}",
        "/plans/making/{draft_id}/discard",
        "/plans/making/{draft_id}/keep",
        "/plans/making/{draft_id}/longer",
        "/plans/making/{draft_id}/stop",
        f"{_PLAN}/drop",
        "/pictures",
        "/sell",
        "/turn",
        "/stock/items/{item_id}/edit",
        "/stock/levels/{code:path}",
        "/stock/receive",
        "/stock/stock.csv",
    }
)
"""Paths whose other methods are the office's alone: sizes that are changed, prices, promises, people, what is owed and paid."""

OFFICE_ALONE_UNDER = (
    "/api",
    "/buying",
    "/customers",
    "/docs",
    "/invoices",
    "/materials",
    "/quotes",
    "/settings",
    "/welcome",
)
"""Parts of the app that are the office's as a whole, with what is added to them. JSON too: no page of the bench asks it.

Copies of the data are the own machine's alone: a phone of the office is refused by their routes (`HereAlone`)."""

STATIC = "/static/"
"""Files of the program, which say nothing of a shop."""


def is_declared(method: str, path: str) -> bool:
    """Tell whether it was said of a route who may ask for it. path: as the route has it."""
    under = any(path == part or path.startswith(f"{part}/") for part in OFFICE_ALONE_UNDER)
    return under or path in OFFICE_ALONE or (method, path) in AT_THE_BENCH


@dataclass(frozen=True, slots=True)
class _Doors:
    """The routes of an app in their order, each with its methods, the pattern of its addresses and its path."""

    routes: tuple[tuple[frozenset[str], re.Pattern[str], str], ...]

    @classmethod
    def of(cls, routes: Iterable[BaseRoute]) -> Self:
        return cls(
            tuple(
                (frozenset(route.methods or ()), compile_path(route.path)[0], route.path)
                for route in iter_route_contexts(tuple(routes))
                if route.path
            )
        )

    def opens(
        self,
        open_ones: Collection[tuple[str, str]],
        method: str,
        path: str,
        turned: Turned | None = None,
    ) -> bool:
        """Tell whether the route that answers an address is one of those that are open; False where none answers.

        turned: what a screen beside a customer shows, where the order of the address counts too.
        """
        if path.startswith(STATIC) and method == "GET" and path != "/static/css/all.css":
            return True
        for methods, pattern, declared in self.routes:
            if method in methods and (found := pattern.match(path)):
                order_id = _number_of_order(found)
                shown = turned is None or order_id == "" or _shows(turned, order_id)
                return shown and (method, declared) in open_ones
        return False

    def order_of(self, path: str) -> int | None:
        """Return the order that an address of ours is about, None where it is about none."""
        for _, pattern, _ in self.routes:
            if (found := pattern.match(path)) and (number := _number_of_order(found)):
                return int(number) if _is_number(number) else None
        return None


def _number_of_order(found: re.Match[str]) -> str:
    """Return what stands for the order in an address; "" where its route names none."""
    return found.groupdict().get(ORDER_ID, "")


def _shows(turned: Turned, number: str) -> bool:
    return _is_number(number) and turned.shows(int(number))


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 20


def _doors_of(request: HTTPConnection) -> _Doors:
    state = request.app.state
    if not hasattr(state, "doors"):
        state.doors = _Doors.of(request.app.routes)
    doors: _Doors = state.doors
    return doors


def may_ask(request: HTTPConnection, method: str, address: str) -> bool:
    """Tell whether who sent a request may ask for an address of ours."""
    visitor = visitor_of(request)
    if visitor.sees_all:
        return True
    open_ones = BESIDE_CUSTOMER if visitor.beside_customer else AT_THE_BENCH
    method = "GET" if method == "HEAD" else method
    return _doors_of(request).opens(open_ones, method, urlsplit(address).path, visitor.turned)


def order_of(request: HTTPConnection, address: str) -> int | None:
    """Return the order that an address of ours is about, None where it is about none."""
    return _doors_of(request).order_of(urlsplit(address).path)


def stays_beside_customer(request: HTTPConnection) -> bool:
    """Tell whether a page may be asked for when the screen is turned to a customer as well."""
    return _doors_of(request).opens(BESIDE_CUSTOMER, "GET", request.url.path)


def is_of(visitor: Visitor, asked_by: Hashable) -> bool:
    """Tell whether a paper that is being made, or was, is a visitor's: that of who asked for it, in the role of then.

    One that was asked for beside a customer stays one's own when the screen is turned back, but neither the other way nor
    once it is turned for somebody else.
    """
    if not isinstance(asked_by, Visitor) or replace(asked_by, turned=visitor.turned) != visitor:
        return False
    of_then = asked_by.turned
    return visitor.turned is None or (of_then is not None and of_then.id == visitor.turned.id)


class FacingCustomer(AppError):
    """Something was asked for that is not shown while the screen is turned to a customer."""

    code = "facing-customer"

    def __init__(self) -> None:
        super().__init__(
            "This page is the shop’s own, so it is not shown while the screen is turned to the customer."
        )


class NotForVisitor(AppError):
    """Somebody asked for what is not theirs to see or do."""

    code = "not-for-visitor"

    def __init__(self, visitor: Visitor) -> None:
        named = f", “{visitor.phone}”," if visitor.phone else ""
        super().__init__(
            f"This phone{named} is paired for the bench; it shows tickets, steps, cutting plans and stock. Prices, "
            "payments and customers are seen at the shop’s computer."
        )
