"""Says that the data cannot be read, while nothing is done with them, and puts the newest whole copy in their place when asked to."""

import socket
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse
from starlette.concurrency import run_in_threadpool

from app.errors import AppError
from app.storage import restore
from app.web.door.doorkeeper import AtOwnMachine
from app.web.door.own_machine import OwnMachine
from app.web.kit.guard import Guard
from app.web.kit.stylesheet import router as stylesheet
from app.web.kit.templating import environment
from app.web.serving import serve_until


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescue:
    """What is wrong, and what helps. database: the file that cannot be read. copy, made, orders: the newest copy that is whole, when it was made, and how many
    orders it has. command: what does the same on the command line.
    """

    database: Path
    problem: str
    copy: Path
    made: str
    orders: int
    command: str

    @property
    def sentence(self) -> str:
        """All of it in words, for the terminal."""
        return (
            f"{self.problem}\nNothing was written to it. The newest whole copy is of {self.made}.\n"
            f"To go on from it, restore this copy: {self.command}"
        )


def serve_rescue(
    rescue: Rescue,
    listening: socket.socket,
    *,
    hosts: tuple[str, ...],
    own: OwnMachine,
    log_level: str,
) -> bool:
    """Show what is wrong until the copy is put in its place, or the process is asked to stop. own: who alone may do that.

    Returns whether it was put there.
    """
    restored = False

    def make_app(leave: Callable[[], None]) -> FastAPI:
        def done() -> None:
            nonlocal restored
            restored = True
            leave()

        return _app(rescue, hosts, own, done)

    serve_until(make_app, listening, log_level=log_level)
    return restored


def _app(
    rescue: Rescue, hosts: tuple[str, ...], own: OwnMachine, done: Callable[[], None]
) -> FastAPI:
    app = FastAPI(docs_url=None, redoc_url=None, openapi_url=None)
    app.include_router(stylesheet)

    @app.post("/restore")
    async def put_back() -> HTMLResponse:
        try:
            await run_in_threadpool(restore, rescue.copy, rescue.database)
        except AppError as error:
            return _page(rescue, 409, said=error.message)
        done()
        return _page(rescue, 200, restored=True)

    @app.api_route("/{path:path}", methods=["GET", "HEAD", "POST", "PUT", "PATCH", "DELETE"])
    async def show(_request: Request) -> HTMLResponse:
        return _page(rescue, 503)

    app.add_middleware(Guard, hosts=hosts, doorkeeper=AtOwnMachine(own))
    return app


def _page(rescue: Rescue, status: int, *, said: str = "", restored: bool = False) -> HTMLResponse:
    html = (
        environment()
        .get_template("errors/rescue.html")
        .render(rescue=rescue, said=said, restored=restored)
    )
    # So that no browser sends its next request into a connection of this app, once it has made room for the shop.
    headers = {"cache-control": "no-store", "connection": "close"}
    return HTMLResponse(html, status_code=status, headers=headers)
