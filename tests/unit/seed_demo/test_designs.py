"""What the sample's counter proposes can be made, costs a believable price and earns something."""

from collections import Counter
from datetime import date
from random import Random

import pytest

from app.framing import Presentation, work_out
from app.framing.notice import Concern
from app.lengths import Unit, mm
from app.orders import Agreed, ArtworkKind, ArtworkRecord
from app.orders.piece_report import findings
from app.orders.quoting.agreement import agree
from app.orders.quoting.form import PIECE_FIELDS
from app.pricing import Kind
from app.services.open_work import cut_of
from app.stock.planning.fitting import too_large
from app.stock.planning.parts import PieceRef, parts_to_cut
from seed_demo.artworks import artworks, brought_in
from seed_demo.designs import Fields, design
from seed_demo.given_frames import OUTSIDE, READY_MADE, REGLAZED
from seed_demo.price_book import price_book
from seed_demo.quoting import designs, finder
from seed_demo.shop import euro, quillmoor
from tests.builders.specs import size

SHOP = quillmoor()
BOOK = price_book()
FIND = finder(BOOK)
DAY = date(2026, 11, 25)
PIECE = PieceRef(piece_id=1, order_id=1, order_number="2026-0001", number=1)


def typed_pieces(seed: int) -> list[Fields]:
    """Each artwork of the table once, and a hundred of the ones that are made up after it."""
    random = Random(seed)
    arriving = brought_in(random)
    return [design(next(arriving), random) for _ in range(len(artworks()) + 100)]


TYPED = typed_pieces(1)
GIVEN = (REGLAZED, READY_MADE, OUTSIDE)


def test_no_title_stammers() -> None:
    """Places such as "the salt pans" bring their article with them."""
    titles = [
        typed["artwork.title"].casefold() for seed in range(5) for typed in typed_pieces(seed)
    ]
    assert [title for title in titles if "the the" in title] == []


def agreed(typed: Fields) -> tuple[ArtworkRecord, Agreed]:
    return agree(typed, SHOP, FIND, today=DAY)


def test_only_fields_of_the_quote_page_are_typed() -> None:
    assert {field for typed in TYPED for field in typed} <= set(PIECE_FIELDS)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_every_piece_can_be_made_and_earns_more_than_its_materials_cost(seed: int) -> None:
    for typed in typed_pieces(seed):
        _, piece = agreed(typed)
        price = piece.price
        assert price.to_pay > euro("20.00"), typed
        assert price.margin > euro("10.00"), typed
        assert not any(line.below_cost for line in price.lines), typed
        assert not any(line.notice for line in price.lines), typed
        parts = parts_to_cut(PIECE, piece, cut_of(piece))
        assert too_large(parts, (), SHOP, piece.spec.unit) == (), typed


def test_no_piece_is_a_risk_to_the_artwork_or_too_deep_for_its_frame() -> None:
    for typed in TYPED:
        record, piece = agreed(typed)
        risks = [
            n.message for n in findings(record, piece, SHOP).notices if n.concern is Concern.RISK
        ]
        assert risks == [], (typed, risks)


def test_every_piece_that_asks_more_of_its_wire_than_it_bears_says_so() -> None:
    """The wire of 15 kg bears 147 N; whichever piece of the sample asks for more is told what would do."""
    hardware = {each.code.casefold(): each for each in BOOK if each.kind is Kind.HARDWARE}
    told, asking = 0, 0
    for typed in TYPED:
        record, piece = agreed(typed)
        found = findings(record, piece, SHOP, hardware)
        weak = [n.message for n in found.notices if n.code == "hanging-part-too-weak"]
        assert found.hanging is not None
        if "WIRE15" in typed.values():
            too_much = found.hanging.load > 147
            asking += too_much
            told += too_much and any("(WIRE15)" in message for message in weak)
    assert told == asking > 0


def test_a_frame_is_brought_in_one_is_ready_made_and_one_has_its_outside_given() -> None:
    """G23, G24: 400 × 302 less 3; 302 × 402 less 3; 500 × 400 less 2 × (20 − 6) and 3."""
    reglazed, ready_made, outside = (agreed(typed)[1] for typed in GIVEN)
    assert work_out(reglazed.spec).package == size("397", "299")
    assert not reglazed.spec.frames
    assert ready_made.chosen.ready_made is not None
    assert work_out(ready_made.spec).package == size("299", "399")
    profile = outside.chosen.frames[0].profile
    assert profile is not None
    less = (profile.face - profile.lip) * 2 + mm(3)
    assert work_out(outside.spec).package.width == mm(500) - less


@pytest.mark.parametrize("typed", GIVEN, ids=["reglazed", "ready-made", "outside"])
def test_pieces_in_given_sizes_earn_and_are_no_risk(typed: Fields) -> None:
    record, piece = agreed(typed)
    assert piece.price.margin > euro("10.00")
    notices = findings(record, piece, SHOP).notices
    assert [each.message for each in notices if each.concern is Concern.RISK] == []


def test_no_sample_artwork_is_left_unweighed() -> None:
    for typed in TYPED:
        record, piece = agreed(typed)
        assert not findings(record, piece, SHOP).weight.at_least, typed


def test_all_presentations_occur_and_inches_beside_millimetres() -> None:
    pieces = [agreed(typed)[1] for typed in (*TYPED, *GIVEN)]
    assert {piece.spec.presentation for piece in pieces} == set(Presentation)
    units = Counter(piece.spec.unit for piece in pieces)
    assert units[Unit.MM] > units[Unit.IN] > 0
    assert any(len(piece.spec.frames) > 1 for piece in pieces)
    assert {len(piece.spec.mats) for piece in pieces} == {0, 1, 2, 3}
    assert any(piece.spec.spacer for piece in pieces)
    assert any(piece.spec.fillet for piece in pieces)


def test_every_kind_of_artwork_but_the_unnamed_comes_in() -> None:
    assert {artwork.kind for artwork in artworks()} == set(ArtworkKind) - {ArtworkKind.OTHER}


@pytest.mark.parametrize("frame", ["C18-INK", "B20-OAK", "D14-CHE", "M10-PEW"])
def test_a_watercolour_of_420_by_297_in_a_double_mat_costs_100_to_180(frame: str) -> None:
    """Source: what such a piece is sold for in a small shop, common practice, from memory."""
    typed = {
        "artwork.size": "420 x 297",
        "artwork.kind": "watercolour",
        "presentation": "window",
        "mats.0.material": "SALT14",
        "mats.1.material": "SLATE14",
        "borders.left": "60",
        "frames.0.material": frame,
        "glazing.material": "CLEAR2",
        "mount_board.material": "MOUNT14",
        "backing.material": "BACK2/A",
        "hardware.0.material": "RING2",
        "hardware.0.count": "2",
        "hardware.1.material": "WIRE15",
    }
    _, piece = agreed(typed)
    assert euro("100.00") < piece.price.to_pay < euro("180.00")
    assert piece.price.to_pay.minor % 10 == 0


def test_a_set_shares_its_frame_and_its_mats() -> None:
    random = Random(5)
    arriving = designs(random)
    several = [pieces for pieces in (next(arriving) for _ in range(200)) if len(pieces) > 1]
    alike = [
        pieces
        for pieces in several
        if len({piece["frames.0.material"] for piece in pieces}) == 1
        and all(piece["presentation"] == "window" for piece in pieces)
    ]
    assert alike
    for pieces in alike:
        for piece in pieces:
            agreed(piece)


def test_titles_go_on_after_the_table_is_used_up() -> None:
    arriving = brought_in(Random(9))
    titles = [next(arriving).title for _ in range(600)]
    assert len(set(titles)) > 400
    assert all(title == title.strip() and title[0].isupper() for title in titles)
