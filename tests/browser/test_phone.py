"""A phone beside the cutter, from the code on the computer to being revoked: the program as it is started, two browsers."""

import re
import socket
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from app.services import quotes
from app.services import stages as progress
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import DATABASE_NAME, Store, keys_of
from app.web.door.addresses import own_addresses
from tests.browser.accessible import found_by_axe, too_small_to_touch, wider_than_the_screen
from tests.browser.conftest import DESK, Watch, stock
from tests.browser.test_bench_on_a_phone import ACT, NOW, OURS, PIECE
from tests.browser.until import PATIENCE
from tests.builders.worked import SHOP, TYPED
from tests.storage.processes import Program, serving

PHONE = {"width": 390, "height": 844}

pytestmark = pytest.mark.network


@dataclass(frozen=True)
class Place:
    """A shop that is served, and where phones are to reach it."""

    program: Program
    enter: str
    address: str
    port: int

    @property
    def at_phones(self) -> str:
        return f"http://{self.address}:{self.port}"


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Place]:
    """A shop with the worked piece ordered."""
    database = tmp_path / DATABASE_NAME
    with Store.open(database) as store:
        with store.writing() as work:
            work.shop.add(OURS, now=NOW)
        stock(store)
        order = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, OURS, ACT)
        progress.take_order(store, OrderAt(id=order, version=1), progress.Terms(), ACT)
    address = own_addresses()[0].address
    with closing(socket.create_server((address, 0))) as free:
        port = free.getsockname()[1]
    with serving("--data", str(tmp_path)) as program:
        enter = f"http://127.0.0.1:{program.port}/?enter={keys_of(database).own}"
        yield Place(program, enter, address, port)


@contextmanager
def looking(browser: Browser, address: str, **wishes: object) -> Iterator[Page]:
    """A page of a fresh browser, on which nothing may go wrong but that it is not let in."""
    context = browser.new_context(locale="en-GB", **wishes)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE)
    watch = Watch(address)
    page = context.new_page()
    watch.over(page)
    try:
        yield page
        watch.complaints = [each for each in watch.complaints if " 403 " not in each]
        watch.nothing_happened()
    finally:
        context.close()


def turned_on(computer: Page, place: Place) -> None:
    computer.goto(place.enter)
    assert "enter" not in computer.url
    computer.get_by_role("link", name="Settings").click()
    computer.get_by_role("link", name="Workshop").click()
    computer.get_by_label("Address of this computer").select_option(place.address)
    computer.get_by_label("Port").fill(str(place.port))
    computer.get_by_role("button", name="Turn phones on").click()
    expect(computer.locator(".notice-done")).to_have_text(
        f"Phones reach Bevelbook at {place.at_phones}."
    )


def code_for(computer: Page, role: str) -> str:
    computer.get_by_role("radio", name=re.compile(f"^{role}:")).check()
    computer.get_by_role("button", name=re.compile("pairing code|another code")).click()
    expect(computer.get_by_role("img", name=re.compile("^QR code"))).to_be_visible()
    return computer.locator(".pairing-code").inner_text().replace(" ", "")


def test_a_phone_is_paired_works_at_the_bench_and_is_revoked(
    browser: Browser, place: Place
) -> None:
    piece = f"{place.at_phones}{PIECE}"
    with (
        looking(browser, place.enter.partition("/?")[0], viewport=DESK) as computer,
        looking(browser, place.at_phones, viewport=PHONE, has_touch=True) as phone,
    ):
        turned_on(computer, place)

        # Without a code the address of a ticket says how to pair, and nothing of the shop.
        phone.goto(piece)
        expect(phone.locator("h1")).to_have_text("Pair this phone")
        assert SHOP.name not in phone.content()
        assert "Amber" not in phone.content()
        assert found_by_axe(phone) == []
        assert wider_than_the_screen(phone) == ""
        assert too_small_to_touch(phone) == []

        code = code_for(computer, "Bench")
        assert found_by_axe(computer) == []
        computer.set_viewport_size({"width": 320, "height": 640})
        assert wider_than_the_screen(computer) == ""
        computer.set_viewport_size({"width": 1280, "height": 900})
        phone.goto(f"{place.at_phones}/pair?code={code}")
        expect(phone.get_by_label("Pairing code")).to_have_value(code)
        phone.get_by_label("Name of this phone").fill("Beside the cutter")
        phone.get_by_role("button", name="Pair").click()
        expect(phone).to_have_url(f"{place.at_phones}/")

        # The address of the ticket's QR code, as the phone's camera opens it.
        phone.goto(piece)
        phone.locator("#tick-mats-size").click()
        expect(phone.locator("#tick-mats-size")).to_have_attribute("aria-checked", "true")
        expect(phone.locator("#done")).to_have_text("1 of 20 steps")
        phone.reload()
        expect(phone.locator("#tick-mats-size")).to_have_attribute("aria-checked", "true")

        # The piece moves on, and a part of it is spoiled.
        phone.get_by_role("button", name="Mark cut").first.click()
        expect(phone.locator("h1 ~ p .stage")).to_have_text("cut")
        spoiled = phone.locator("#spoiled")
        spoiled.get_by_text("A part is spoiled").click()
        spoiled.get_by_label("Which part").select_option("backing")
        spoiled.get_by_role("button", name="Note it as spoiled").click()
        expect(phone.locator("#spoiled")).to_contain_text("to be cut anew")

        computer.reload()
        listed = computer.locator("article", has_text="Beside the cutter")
        expect(listed).to_contain_text("Paired")
        listed.get_by_role("button", name="Revoke").click()
        expect(computer.locator(".notice-done")).to_have_text("Beside the cutter is revoked.")
        phone.reload()
        expect(phone.locator("h1")).to_have_text("Pair this phone")
        assert SHOP.name not in phone.content()

        # Turned off, nothing answers there any more.
        computer.get_by_role("button", name="Turn phones off").click()
        expect(computer.locator(".notice-done")).to_have_text(
            "No phone reaches Bevelbook any more."
        )
        with pytest.raises(ConnectionRefusedError):
            socket.create_connection((place.address, place.port), timeout=5)


def test_it_is_on_again_at_the_next_start_and_known_by_its_address_alone(
    browser: Browser, place: Place, tmp_path: Path
) -> None:
    with looking(browser, place.enter.partition("/?")[0], viewport=DESK) as computer:
        turned_on(computer, place)
    place.program.process.terminate()
    assert place.program.ended() == 0
    with serving("--data", str(tmp_path)) as program:
        # The own machine by its own name still reaches the shop; by the network's it is a phone.
        assert program.get("/orders").status == 200
        assert asked(place) == 403
        assert asked(place, host="shop.example") == 421
        assert asked(place, host=f"127.0.0.1:{place.port}") == 421


def asked(place: Place, **headers: str) -> int:
    with closing(HTTPConnection(place.address, place.port, timeout=60)) as connection:
        connection.request("GET", "/orders", headers=headers)
        return connection.getresponse().status


def test_a_phone_is_paired_without_scripts(browser: Browser, place: Place) -> None:
    wishes = {"viewport": {"width": 320, "height": 640}, "java_script_enabled": False}
    with (
        looking(browser, place.enter.partition("/?")[0], viewport=DESK) as computer,
        looking(browser, place.at_phones, **wishes) as phone,
    ):
        turned_on(computer, place)
        phone.goto(f"{place.at_phones}{PIECE}")
        phone.get_by_label("Pairing code").fill("12")
        phone.get_by_label("Name of this phone").fill("Bench")
        phone.get_by_role("button", name="Pair").click()
        expect(phone.get_by_role("alert")).to_contain_text("This code does not hold")
        phone.get_by_label("Pairing code").fill(code_for(computer, "Office"))
        phone.get_by_role("button", name="Pair").click()
        expect(phone).to_have_url(f"{place.at_phones}{PIECE}")
