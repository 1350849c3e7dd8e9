"""Copies of the data on their page: seen, restored, downloaded, put into a second folder."""

import asyncio
import re
import stat
import urllib.error
import urllib.request
from datetime import timedelta
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from app.orders import Customer
from app.services import backups, customers
from app.services import shop as shops
from app.storage import Copies, Stamp, Store, Why, back_up, engine
from app.web.app import create_app
from app.web.door import doorkeeper
from app.web.kit.context import AppContext
from app.web.kit.visitor import Visitor
from app.web.rest import keep_copies
from tests.apart import run_apart
from tests.web.conftest import NOW, OWN_ADDRESS, SHOP, Clock
from tests.web.reading import Page
from tests.web.shown import Shown

ACT = Stamp(who="", now=NOW)


def names(store: Store) -> list[str]:
    return [row.name for row in customers.listed(store).rows]


def add(store: Store, name: str) -> int:
    return customers.add(store, Customer(name=name), ACT)


def href_of(page: TestClient, copy: Path) -> str:
    href = f"/settings/data/copies/{copy.name}"
    assert href in page.get("/settings/data").text
    return href


def form_at(page: TestClient, path: str) -> Shown:
    answer = page.get(path)
    return Shown(answer.status_code, "", dict(answer.headers), answer.text)


def context_of(page: TestClient) -> AppContext:
    context: AppContext = page.app.state.context  # type: ignore[attr-defined]
    return context


def test_the_page_lists_copies_with_what_is_known_of_them(page: TestClient, store: Store) -> None:
    assert "No copy was made yet." in Page(page.get("/settings/data").text).text
    backups.make(store, ACT)
    backups.make(store, Stamp(who="", now=NOW + timedelta(days=1)), why=Why.DAILY)
    text = Page(page.get("/settings/data").text).text
    assert re.search(
        r"2 copies .*Thu 26 Nov 2026, 10:30 daily 0 \d+ kB Thu 26 Nov 2026, 10:30 here"
        r".*Wed 25 Nov 2026, 10:30 by hand 0 \d+ kB Wed 25 Nov 2026, 10:30 here",
        text,
    )


def test_a_copy_is_given_as_a_file(page: TestClient, store: Store) -> None:
    copy = backups.make(store, ACT)
    answer = page.get(href_of(page, copy))
    assert answer.content == copy.read_bytes()
    assert f'filename="{copy.name}"' in answer.headers["content-disposition"]
    assert answer.headers["cache-control"] == "no-store"


@pytest.mark.parametrize(
    "name",
    [
        "bevelbook.sqlite3",
        "..%2Fbevelbook.sqlite3",
        "%2e%2e%2fbevelbook.sqlite3",
        "%2Fetc%2Fpasswd",
        "bevelbook-2026-11-25-103000.sqlite3%00",
        "bevelbook-2026-11-25-103001.sqlite3",
        "bevelbook.copies.json",
    ],
)
def test_nothing_but_a_copy_is_given(page: TestClient, store: Store, name: str) -> None:
    backups.make(store, ACT)
    for path in (f"/settings/data/copies/{name}", f"/settings/data/copies/{name}/restore"):
        assert page.get(path).status_code == 404
    for what in ("see", "restore"):
        assert page.post(f"/settings/data/copies/{name}/{what}").status_code == 404


def test_restoring_asks_first_and_says_what_would_be_lost(page: TestClient, store: Store) -> None:
    add(store, "Amber Quill")
    copy = backups.make(store, ACT)
    asked = Page(page.get(f"{href_of(page, copy)}/restore").text).text
    assert "Restore the copy of Wed 25 Nov 2026, 10:30?" in asked
    assert "Nothing was added since." in asked
    add(store, "Boris Fennel")
    asked = Page(page.get(f"{href_of(page, copy)}/restore").text).text
    assert "Not in that copy, because it was added since: 1 customer" in asked
    assert names(store) == ["Amber Quill", "Boris Fennel"]


def test_a_restore_is_taken_back_by_two_presses(page: TestClient, store: Store) -> None:
    add(store, "Amber Quill")
    copy = backups.make(store, ACT)
    add(store, "Boris Fennel")
    assert "Boris Fennel" in page.get("/customers").text
    answer = page.post(f"{href_of(page, copy)}/restore")
    shown = Page(answer.text)
    assert "The shop stands as on Wed 25 Nov 2026, 10:30." in shown.text
    assert "Boris Fennel" not in page.get("/customers").text
    assert names(store) == ["Amber Quill"]
    back = shown.links["Go back to it"]
    assert "before-restore" in back
    page.post(back)
    assert names(store) == ["Amber Quill", "Boris Fennel"]
    assert "Boris Fennel" in page.get("/customers").text


def test_a_page_that_stood_open_over_a_restore_writes_nothing_and_shows_what_was_typed(
    page: TestClient, store: Store
) -> None:
    """After it the id is another customer's: what was typed for the one is not written to the other."""
    copy = backups.make(store, ACT)
    id_ = add(store, "Amber Quill")
    path = f"/customers/{id_}"
    open_form = form_at(page, f"{path}/edit").form(path)
    backups.restore(store, backups.named(store, copy.name), ACT)
    assert add(store, "Boris Fennel") == id_
    answer = page.post(path, data=open_form | {"notes": "Rings at the back door"})
    assert answer.status_code == 409
    said = Page(answer.text).text
    assert "The data were put back to an older state since this page was opened" in said
    assert "Nothing was saved" in said
    assert "notes Rings at the back door" in said
    assert open_form["once"] not in answer.text, "it is not to be sent again as it is"
    with store.reading() as work:
        assert work.customers.get(id_).value == Customer(name="Boris Fennel")
    anew = form_at(page, f"{path}/edit").form(path) | {"notes": "Rings at the back door"}
    assert page.post(path, data=anew, follow_redirects=False).status_code == 303


def test_a_form_that_comes_in_during_a_restore_writes_nothing(
    page: TestClient, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The data are put back between the look at the key and the write."""
    copy = backups.make(store, ACT)
    form = form_at(page, "/customers/new").form("/customers") | {"name": "Amber Quill"}
    added = customers.add

    def restored_first(*given: object) -> object:
        backups.restore(store, backups.named(store, copy.name), ACT)
        return added(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(customers, "add", restored_first)
    assert page.post("/customers", data=form).status_code == 409
    assert names(store) == []


def test_forms_of_before_a_restart_and_without_a_life_go_on(page: TestClient, store: Store) -> None:
    form = form_at(page, "/customers/new").form("/customers") | {"name": "Amber Quill"}
    again = TestClient(
        create_app(store, now=lambda: NOW), base_url=OWN_ADDRESS, headers=dict(page.headers)
    )
    assert again.post("/customers", data=form, follow_redirects=False).status_code == 303
    copy = backups.make(store, ACT)
    backups.restore(store, backups.named(store, copy.name), ACT)
    old = form | {"name": "Boris Fennel", "once": "a-key-of-before-lives"}
    assert page.post("/customers", data=old, follow_redirects=False).status_code == 303
    assert names(store) == ["Amber Quill", "Boris Fennel"]


def test_the_question_says_that_numbers_are_given_again(page: TestClient, store: Store) -> None:
    copy = backups.make(store, ACT)
    again = "Numbers in this list are given again, to other work."
    assert again not in page.get(f"{href_of(page, copy)}/restore").text
    add(store, "Amber Quill")
    asked = Page(page.get(f"{href_of(page, copy)}/restore").text).text
    assert f"{again} Where a paper with one of them was handed out" in asked


def test_copies_of_one_minute_are_told_apart_by_their_seconds(
    page: TestClient, store: Store
) -> None:
    first = backups.make(store, ACT)
    assert "Wed 25 Nov 2026, 10:30 by hand" in Page(page.get("/settings/data").text).text
    backups.make(store, Stamp(who="", now=NOW + timedelta(seconds=7)))
    backups.make(store, Stamp(who="", now=NOW + timedelta(minutes=1)))
    text = Page(page.get("/settings/data").text).text
    for made in ("10:30:00", "10:30:07", "10:31"):
        assert f"Wed 25 Nov 2026, {made} by hand" in text
        assert f"the copy of Wed 25 Nov 2026, {made} " in text
    asked = Page(page.get(f"{href_of(page, first)}/restore").text).text
    assert "Restore the copy of Wed 25 Nov 2026, 10:30:00?" in asked


def test_a_damaged_file_kept_aside_is_called_so(page: TestClient, store: Store) -> None:
    copy = backups.make(store, ACT)
    aside = store.path.with_name("bevelbook.before-restore-2026-11-25-090000.sqlite3")
    aside.write_bytes(copy.read_bytes()[:5000])
    context_of(page).keeper.look(NOW)
    assert "09:00 damaged file, kept aside" in Page(page.get("/settings/data").text).text


def test_the_keeper_is_woken_at_once_by_a_change_of_the_second_folder(
    store: Store, tmp_path: Path
) -> None:
    """It would look again after an hour only."""
    keeper = backups.Keeper(store)
    copy = backups.make(store, ACT)

    async def saved() -> None:
        running = asyncio.create_task(keep_copies(keeper, lambda: NOW, look=3600))
        while keeper.state is None:
            await asyncio.sleep(0.01)
        (tmp_path / "stick").mkdir()
        Copies(store.path).use_second(str(tmp_path / "stick"))
        keeper.forget()
        while keeper.state is None:
            await asyncio.sleep(0.01)
        running.cancel()

    run_apart(asyncio.wait_for(saved(), 20))
    assert copy.name in {path.name for path in (tmp_path / "stick").iterdir()}


def test_a_damaged_copy_is_said_so_and_not_offered(page: TestClient, store: Store) -> None:
    copy = backups.make(store, ACT)
    copy.write_bytes(copy.read_bytes()[:-9000])
    context_of(page).keeper.look(NOW)
    text = page.get("/settings/data").text
    assert "not whole" in Page(text).text
    assert f"{copy.name}/see" not in text
    assert page.post(f"/settings/data/copies/{copy.name}/restore").status_code == 400
    assert store.current_shop() == SHOP


# The second folder


def test_a_second_folder_is_a_setting(page: TestClient, store: Store, tmp_path: Path) -> None:
    answer = page.post("/settings/data/second-folder", data={"second_folder": str(tmp_path)})
    assert (
        "Saved. The copies are put there now; the list says of each when it is there."
        in Page(answer.text).text
    )
    assert f'value="{tmp_path}"' in answer.text
    context_of(page).keeper.look(NOW)
    assert "here and second folder" in Page(page.get("/settings/data").text).text
    answer = page.post("/settings/data/second-folder", data={"second_folder": ""})
    assert "on this machine alone" in Page(answer.text).text
    assert Copies(store.path).second is None


def test_a_second_folder_that_cannot_be_used_is_said_and_kept_typed(
    page: TestClient, store: Store
) -> None:
    inside = str(store.path.parent / "backups")
    answer = page.post("/settings/data/second-folder", data={"second_folder": inside})
    assert answer.status_code == 422
    assert "in the folder of the data themselves" in Page(answer.text).text
    assert f'value="{inside}"' in answer.text
    assert Copies(store.path).second is None


def test_the_desk_says_when_copies_are_old_or_the_second_folder_is_away(
    store: Store, clock: Clock, tmp_path: Path
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    with TestClient(create_app(store, now=clock), base_url=OWN_ADDRESS) as page:
        link = "Copies of the data"
        assert link not in page.get("/").text
        Copies(store.path).use_second(str(stick))
        keeper = context_of(page).keeper
        keeper.look(clock())
        assert link not in page.get("/").text
        stick.rename(tmp_path / "away")
        keeper.look(clock())
        assert (
            f"The second folder for copies, {stick}, is away. {link}"
            in Page(page.get("/").text).text
        )
        assert "is away. Copies are made here" in Page(page.get("/settings/data").text).text
        (tmp_path / "away").rename(stick)
        keeper.look(clock())
        clock.time = NOW + timedelta(days=2)
        assert link not in page.get("/").text
        clock.time = NOW + timedelta(days=2, minutes=1)
        said = "The last checked copy of the data is of Wed 25 Nov 2026."
        assert f"{said} {link}" in Page(page.get("/").text).text


def test_copies_are_seen_to_while_the_app_runs(store: Store) -> None:
    keeper = backups.Keeper(store)

    async def run() -> None:
        running = asyncio.create_task(keep_copies(keeper, lambda: NOW, look=0.01))
        while keeper.state is None:
            await asyncio.sleep(0.01)
        running.cancel()

    run_apart(run())
    assert [kept.best.why for kept in backups.listed(store)] == [Why.START]


# Looking at a copy


class Beside:
    """A browser's requests to the address at which a copy is shown."""

    def __init__(self, address: str) -> None:
        self.address = address.rstrip("/")

    def get(self, path: str) -> str:
        with urllib.request.urlopen(f"{self.address}{path}", timeout=20) as answer:
            return str(answer.read().decode())

    def post(self, path: str) -> tuple[int, str]:
        request = urllib.request.Request(
            f"{self.address}{path}", data=b"name=X", headers={"sec-fetch-site": "same-origin"}
        )
        with pytest.raises(urllib.error.HTTPError) as refused:
            urllib.request.urlopen(request, timeout=20)
        return refused.value.code, refused.value.read().decode()


def folders(store: Store) -> list[Path]:
    return list(store.path.parent.glob("looked-at-*"))


@pytest.fixture
def looking(page: TestClient, store: Store) -> tuple[TestClient, Beside, Path]:
    add(store, "Amber Quill")
    copy = backups.make(store, ACT)
    add(store, "Boris Fennel")
    answer = page.post(f"{href_of(page, copy)}/see")
    links = Page(answer.text).links
    return page, Beside(links["See it"]), copy


def test_a_copy_is_looked_at_beside_the_shop(
    looking: tuple[TestClient, Beside, Path], store: Store
) -> None:
    page, beside, copy = looking
    before = copy.read_bytes()
    listed = beside.get("/customers")
    assert "Amber Quill" in listed
    assert "Boris Fennel" not in listed
    for path in ("/", "/customers", "/orders", "/settings/data", "/quotes/new"):
        text = Page(beside.get(path)).text
        assert (
            "You look at the copy of Wed 25 Nov 2026, 10:30; nothing can be changed here." in text
        )
        assert "End looking at it" in text
    assert "Boris Fennel" in page.get("/customers").text
    assert "You look at" not in page.get("/").text
    assert copy.read_bytes() == before
    (folder,) = folders(store)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


@pytest.mark.parametrize(
    "path", ["/customers", "/settings/data/backup", "/quotes/new", "/welcome", "/nowhere"]
)
def test_nothing_is_changed_in_a_copy_that_is_looked_at(
    looking: tuple[TestClient, Beside, Path], path: str
) -> None:
    _, beside, _ = looking
    code, text = looking[1].post(path)
    assert code == 403
    assert "nothing can be changed here" in Page(text).text
    assert "Amber Quill" in beside.get("/customers")


def test_a_program_is_refused_in_the_shape_of_the_json(
    looking: tuple[TestClient, Beside, Path],
) -> None:
    code, text = looking[1].post("/api/price")
    assert code == 403
    assert '"only-looked-at"' in text


def test_looking_ends_and_leaves_nothing(
    looking: tuple[TestClient, Beside, Path], store: Store
) -> None:
    page, beside, _ = looking
    answer = page.post("/settings/data/looking/end")
    assert "The copy is closed." in Page(answer.text).text
    assert folders(store) == []
    with pytest.raises(urllib.error.URLError):
        beside.get("/")
    assert page.post("/settings/data/looking/end").status_code == 200


def test_another_copy_takes_the_place_of_the_one_before(
    looking: tuple[TestClient, Beside, Path], store: Store
) -> None:
    page, beside, copy = looking
    page.post(f"{href_of(page, copy)}/see")
    assert len(folders(store)) == 1
    with pytest.raises(urllib.error.URLError):
        beside.get("/")


def test_looking_ends_with_the_app(store: Store) -> None:
    copy = backups.make(store, ACT)
    own = {"sec-fetch-site": "same-origin"}
    with TestClient(create_app(store, now=lambda: NOW), base_url=OWN_ADDRESS, headers=own) as page:
        page.post(f"{href_of(page, copy)}/see")
        left = folders(store)[0]
    assert folders(store) == []
    left.mkdir()
    (left / "bevelbook.sqlite3").write_text("what a killed app left")
    with TestClient(create_app(store), base_url=OWN_ADDRESS):
        assert folders(store) == []


def test_an_older_copy_is_brought_up_to_date_in_its_own_folder(
    page: TestClient, store: Store
) -> None:
    older = store.path.with_name("bevelbook.schema-0009.sqlite3")
    engine.migrate_new(older, "0009")
    before = older.read_bytes()
    answer = page.post(f"{href_of(page, older)}/see")
    beside = Beside(Page(answer.text).links["See it"])
    assert "You look at the copy of" in Page(beside.get("/welcome")).text
    assert older.read_bytes() == before


def test_what_needs_the_computer_itself_is_refused_to_a_phone(
    page: TestClient, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = backups.make(store, ACT)
    monkeypatch.setattr(doorkeeper, "OWNER", Visitor(phone="Ilse's phone"))
    href = f"/settings/data/copies/{copy.name}"
    shown = page.get("/settings/data").text
    assert f"{href}/see" not in shown
    assert href not in shown, "nor is it given away"
    assert "/settings/data/backup" not in shown
    assert "A second folder" not in shown
    assert (
        "Copies are made, opened, restored and downloaded at the computer itself"
        in Page(shown).text
    )
    for path in (
        f"{href}/see",
        f"{href}/restore",
        "/settings/data/second-folder",
        "/settings/data/backup",
    ):
        assert page.post(path).status_code == 409
    assert page.get(href).status_code == 409
    assert len(backups.listed(store)) == 1


# The first run


def test_a_folder_with_copies_and_no_shop_offers_the_newest(
    first_page: TestClient, bare: Store, tmp_path: Path
) -> None:
    assert "There are copies of a shop here" not in first_page.get("/welcome").text
    with Store.open(tmp_path / "bevelbook.sqlite3") as other:
        shops.set_up(other, SHOP, ACT)
        add(other, "Amber Quill")
        back_up(other, Copies(bare.path).folder, now=NOW)
        add(other, "Boris Fennel")
        newest = back_up(other, Copies(bare.path).folder, now=NOW + timedelta(hours=1))
    spoiled = Copies(bare.path).folder / "bevelbook-2026-11-25-123000.sqlite3"
    spoiled.write_bytes(newest.read_bytes()[:20000])
    context_of(first_page).keeper.look(NOW)
    text = Page(first_page.get("/welcome").text).text
    assert "The newest is of Wed 25 Nov 2026, 11:30, with 0 quotes and orders." in text
    answer = first_page.post("/welcome/restore")
    assert answer.url.path == "/"
    assert "The shop stands as on Wed 25 Nov 2026, 11:30." in Page(answer.text).text
    assert names(bare) == ["Amber Quill", "Boris Fennel"]
    assert first_page.post("/welcome/restore").status_code == 409
    assert len(backups.listed(bare)) == 3, "the empty one is not kept"


def test_a_folder_without_a_whole_copy_says_so(first_page: TestClient, bare: Store) -> None:
    assert first_page.post("/welcome/restore").status_code == 404
