"""Opens the shop, or the sample of one, on this computer, and serves it."""

import logging
import shlex
import socket
import sys
import tempfile
import threading
import webbrowser
from pathlib import Path

from app.days import show_moment
from app.errors import Conflict
from app.services import backups, phones
from app.settings import Settings, check_certificate
from app.storage import Store, claimed, damage_of, keys_of
from app.web import ending, serving
from app.web.app import create_app, local_now
from app.web.beside import socket_at
from app.web.door.own_machine import OwnMachine
from app.web.door.workshop import Certificate, Wanted, Workshop
from app.web.kit import log_file
from app.web.rescue import Rescue, serve_rescue


def serve(settings: Settings, *, browser: bool) -> int:
    """Serve the shop until the process is asked to stop. Returns the exit code. Raises: Conflict, DataInUse, UnusableCertificate."""
    if not _can_be_read(settings):
        return 2
    with claimed(settings.database), Store.open(settings.database) as store:
        return _run(store, settings, browser=browser)


def demo(settings: Settings, *, browser: bool) -> int:
    """Serve the sample shop in the same way, from a folder that is gone afterwards."""
    from seed_demo.build import build_demo  # noqa: PLC0415 - the shop never needs the sample

    listen(settings).close()  # a port that is taken is said now, not after the sample was made
    with tempfile.TemporaryDirectory(prefix="bevelbook-demo-") as folder:
        sample = settings.model_copy(update={"data": Path(folder)})
        with Store.open(sample.database) as store:
            print("Setting up the sample shop …", flush=True)
            build_demo(store)
            return _run(store, sample, browser=browser)


def _run(store: Store, settings: Settings, *, browser: bool) -> int:
    workshop = _workshop(store, settings)
    own = OwnMachine(keys_of(store.path))
    listening = listen(settings)
    base = f"http://{settings.own_name}:{listening.getsockname()[1]}/"
    print(f"Bevelbook is open at {own.address(base)}  (stop it with Ctrl+C)", flush=True)
    print(f"Its data is in {settings.database.parent}", flush=True)
    if browser:
        opening = threading.Timer(0.8, _open_browser, [own.address_once(base)])
        opening.daemon = True
        opening.start()
    app = create_app(
        store,
        hosts=(*settings.hosts, settings.own_name),
        own=own,
        workshop=workshop,
        keeps_copies=True,
        readies_papers=True,
    )
    with log_file.kept_in(settings.database.parent):
        serving.serve(app, listening, log_level=settings.log_level.lower())
    return 0


def _workshop(store: Store, settings: Settings) -> Workshop:
    """How phones reach the shop. Raises: Conflict, UnusableCertificate where that was asked for and cannot be."""
    certificate = at = None
    if settings.tls_cert is not None and settings.tls_key is not None:
        check_certificate(settings.tls_cert, settings.tls_key)
        certificate = Certificate(certificate=settings.tls_cert, key=settings.tls_key)
    if settings.for_phones is not None:
        if not phones.access(store).is_on:
            raise Conflict(
                f"Phones are not turned on in these data, so Bevelbook does not listen at {settings.for_phones}, "
                "where others reach it. Start it without --host, turn phones on under Settings > Workshop, "
                "and start it so again."
            )
        at = Wanted(address=settings.for_phones, port=settings.port)
        _at(at.address, at.port).close()
    return Workshop(store, hosts=settings.hosts, certificate=certificate, at=at)


def _can_be_read(settings: Settings) -> bool:
    """Tell whether the shop can be opened, now or since a copy was put in the place of a file that cannot be read.

    While there is a whole copy, a page and the terminal offer it; without one the opening itself says what is wrong.
    """
    with claimed(settings.database):
        damage = damage_of(settings.database)
    now = local_now()
    newest = backups.newest_whole(settings.database, now) if damage else None
    if newest is None or newest.best.note is None:
        if damage:
            print(f"bevelbook: {damage[0]} There is no whole copy of it here.", file=sys.stderr)
        return not damage
    copy = newest.best.path
    rescue = Rescue(
        database=settings.database,
        problem=damage[0],
        copy=copy,
        made=show_moment(newest.best.made_at),
        orders=newest.best.note.orders,
        command=f"bevelbook --data {shlex.quote(str(settings.data))} restore {shlex.quote(str(copy))}",
    )
    listening = listen(settings)
    own = OwnMachine(keys_of(settings.database))
    base = f"http://{settings.own_name}:{listening.getsockname()[1]}/"
    print(f"bevelbook: {rescue.sentence}", file=sys.stderr)
    print(f"Or restore it at {own.address(base)}  (stop it with Ctrl+C)", flush=True)
    restored = serve_rescue(
        rescue,
        listening,
        hosts=(*settings.hosts, settings.own_name),
        own=own,
        log_level=settings.log_level.lower(),
    )
    ending.leave_in_order()
    return restored


def listen(settings: Settings) -> socket.socket:
    """A socket on the wished address. Raises: Conflict in plain words where it is taken."""
    return _at(settings.own_host, settings.port)


def _at(host: str, port: int) -> socket.socket:
    try:
        return socket_at(host, port)
    except OSError as error:
        raise Conflict(
            f"Port {port} on {host} cannot be used ({error.strerror}). "
            "Perhaps Bevelbook is open already; else choose another with --port."
        ) from error


def _open_browser(address: str) -> None:
    try:
        webbrowser.open(address)
    except webbrowser.Error:
        logging.getLogger("bevelbook").info("no browser was found; open %s yourself", address)
