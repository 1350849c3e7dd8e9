"""The photo of a piece as JSON: sent, read and taken off; refused in the sentences of the pages, and nothing kept then."""

import pytest
from httpx2 import Response
from starlette.testclient import TestClient

from app.services import deleted_quotes, orders, pictures, quotes
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import Machine, Stamp, Store
from app.web.kit.visitor import Role, Turned, Visitor
from tests.builders.photos import HEIC, RED, close, colour_at, photo
from tests.builders.worked import SHOP, TYPED
from tests.web.at_bench import phone_on
from tests.web.conftest import NOW
from tests.web.reading import Page
from tests.web.shown import Counter
from tests.web.test_photos import count

ACT = Stamp(who="Ann", now=NOW)

AT = "/api/orders/1/pieces/1/photo"


@pytest.fixture
def quoted(stocked: Store) -> Store:
    """A shop with one quote of one piece."""
    assert quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT) == 1
    return stocked


@pytest.fixture
def program(quoted: Store, counter: Counter) -> TestClient:
    """A program on this computer."""
    return counter.client


def version(program: TestClient) -> str:
    said = program.get(AT).json()["version"]
    assert isinstance(said, str)
    return said


def send(program: TestClient, file: bytes, at: str = AT, **fields: str) -> Response:
    form = fields or {"version": version(program)}
    return program.post(at, data=form, files={"photo": ("IMG 1.jpg", file, "image/jpeg")})


def refusal(answer: Response) -> tuple[int, str, str]:
    """The status, the code, and what is said."""
    error = answer.json()["error"]
    return answer.status_code, error["code"], error["message"]


def kept(store: Store) -> str:
    return orders.get(store, 1).pieces[0].artwork.photo


def test_a_piece_without_a_photo_shows_none(program: TestClient, quoted: Store) -> None:
    answer = program.get(AT)
    assert answer.status_code == 200
    said = answer.json()
    assert said.pop("version").endswith(".1")
    assert said == {
        "order": orders.get(quoted, 1).quote_number,
        "piece": 1,
        "photo": None,
        "notices": [],
    }


def test_a_photo_that_is_sent_is_shown_by_its_piece(program: TestClient, quoted: Store) -> None:
    answer = send(program, photo(80, 60))
    assert answer.status_code == 200
    id = kept(quoted)
    said = answer.json()
    assert said["photo"] == {
        "id": id,
        "width": 80,
        "height": 60,
        "straightened": False,
        "address": f"/pictures/{id}",
        "small": f"/pictures/{id}?small=1",
    }
    assert said == program.get(AT).json()
    shown = program.get(said["photo"]["address"]).content
    assert close(colour_at(shown, 0.2, 0.2), RED)
    assert pictures.in_tray(quoted, NOW) == ()


def test_a_photo_that_stands_on_a_size_that_lies_is_said(program: TestClient) -> None:
    """The artwork is 410 × 310 mm."""
    (said,) = send(program, photo(60, 120)).json()["notices"]
    assert said["message"].startswith("The photo stands, the size lies across")
    assert send(program, photo(82, 62)).json()["notices"] == []


def test_a_photo_is_taken_off(program: TestClient, quoted: Store) -> None:
    send(program, photo())
    answer = program.delete(AT, params={"version": version(program)})
    assert answer.status_code == 200
    assert answer.json()["photo"] is None
    assert kept(quoted) == ""


@pytest.mark.parametrize(
    ("file", "said"),
    [
        (HEIC, "This is a HEIC photo, which cannot be opened here."),
        (b"words", "The file is no photo that can be opened here: a JPEG, PNG or WebP file is."),
        (photo()[:500], "The photo cannot be read: it breaks off, or is damaged."),
        (b"", "The file is empty. Choose the photo again."),
        (photo() + bytes(26_000_000), "The file has 27 MB; a photo of up to 25 MB is read."),
    ],
    ids=["heic", "words", "damaged", "empty", "27 MB"],
)
def test_a_file_that_is_refused_is_said_at_its_field_and_nothing_is_kept(
    program: TestClient, quoted: Store, file: bytes, said: str
) -> None:
    answer = send(program, file)
    assert answer.status_code == 422
    (fault,) = answer.json()["error"]["fields"]
    assert fault["path"] == "photo"
    assert fault["message"].startswith(said)
    assert count(quoted) == 0


def test_what_is_far_too_large_is_not_read(program: TestClient, quoted: Store) -> None:
    status, code, said = refusal(send(program, bytes(68_000_000)))
    assert (status, code) == (413, "http")
    assert "a photo of up to 25 MB" in said
    assert count(quoted) == 0


@pytest.mark.parametrize("method", ["GET", "POST", "DELETE"])
@pytest.mark.parametrize(
    "at",
    [
        "/api/orders/2/pieces/1/photo",
        "/api/orders/1/pieces/2/photo",
        "/api/orders/0/pieces/1/photo",
    ],
)
def test_of_what_is_not_there_nothing_is_kept(
    program: TestClient, quoted: Store, method: str, at: str
) -> None:
    seen = version(program)
    if method == "POST":
        answer = send(program, photo(), at, version=seen)
    else:
        answer = program.request(method, at, params={"version": seen})
    assert answer.status_code == 404
    assert answer.json()["error"]["message"]
    assert count(quoted) == 0


def test_what_was_changed_since_is_not_overwritten(program: TestClient, quoted: Store) -> None:
    seen = version(program)
    assert send(program, photo()).status_code == 200
    first, kept_then = kept(quoted), count(quoted)
    for answer in (
        send(program, photo(kind="PNG"), version=seen),
        program.delete(AT, params={"version": seen}),
        program.delete(AT, params={"version": "never"}),
    ):
        status, code, said = refusal(answer)
        assert (status, code) == (409, "stale")
        assert "changed in the meantime" in said
    assert (kept(quoted), count(quoted)) == (first, kept_then)


def test_what_was_read_before_the_data_were_put_back_changes_nothing(
    program: TestClient, quoted: Store
) -> None:
    seen = version(program)
    Machine(quoted.path).begin_life()
    for answer in (
        send(program, photo(), version=seen),
        program.delete(AT, params={"version": seen}),
    ):
        assert refusal(answer)[:2] == (409, "put-back")
    assert count(quoted) == 0


def test_of_a_deleted_quote_nothing_is_changed(program: TestClient, quoted: Store) -> None:
    deleted_quotes.delete_quote(quoted, OrderAt(id=1, version=1), ACT)
    assert refusal(send(program, photo()))[:2] == (409, "conflict")
    assert count(quoted) == 0


def test_a_form_that_lacks_something_or_says_more_is_told_what(program: TestClient) -> None:
    seen = version(program)
    lacking = program.post(AT, data={"version": seen})
    assert lacking.status_code == 422
    assert [fault["path"] for fault in lacking.json()["error"]["fields"]] == ["photo"]
    more = send(program, photo(), version=seen, order="7")
    assert [fault["path"] for fault in more.json()["error"]["fields"]] == ["order"]
    words = program.post(AT, data={"version": seen, "photo": "words"})
    (fault,) = words.json()["error"]["fields"]
    assert (fault["path"], fault["message"]) == (
        "photo",
        "photo is “words”, which cannot be read here.",
    )
    unseen = program.delete(AT)
    assert [fault["path"] for fault in unseen.json()["error"]["fields"]] == ["version"]


def test_a_form_that_breaks_off_is_said_to(program: TestClient) -> None:
    answer = program.post(
        AT, content=b"no parts", headers={"content-type": "multipart/form-data; boundary=x"}
    )
    assert refusal(answer) == (
        422,
        "invalid",
        "The request is not a form in parts that can be read.",
    )


BENCH = Visitor(role=Role.BENCH, phone="Phone at the cutter")
BESIDE = Visitor(turned=Turned(id="0" * 16, order=1))


@pytest.mark.parametrize(
    ("visitor", "code"), [(BENCH, "not-for-visitor"), (BESIDE, "facing-customer")]
)
def test_neither_the_bench_nor_a_screen_beside_a_customer_is_answered(
    quoted: Store, visitor: Visitor, code: str
) -> None:
    with phone_on(quoted, visitor) as asked:
        for answer in (
            asked.get(AT),
            send(asked, photo(), version=".1"),
            asked.delete(AT, params={"version": ".1"}),
        ):
            assert refusal(answer)[:2] == (403, code)
    assert count(quoted) == 0


def test_a_page_of_another_site_takes_nothing_off(program: TestClient, quoted: Store) -> None:
    send(program, photo())
    answer = program.delete(
        AT, params={"version": version(program)}, headers={"sec-fetch-site": "cross-site"}
    )
    assert answer.status_code == 403
    assert kept(quoted) != ""


def test_it_is_described(program: TestClient) -> None:
    shown = Page(program.get("/docs").text)
    assert "a JPEG, PNG or WebP file of up to 25 MB and 40 megapixels" in shown.text
    assert "photo needed file" in shown.text
    for id in ("", "-get", "-delete"):
        assert f'id="api-orders-order_id-pieces-number-photo{id}"' in program.get("/docs").text
