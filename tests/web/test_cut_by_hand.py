"""Cut without a cutting plan: what a piece opens leaves the rack, and a part that is spoiled is open work again.

The piece of tests/builders/worked: rails 2 × 630 + 2 × 530 = 2320 with saw and trims of one stick of 3000; a mat
of 600 × 500 of each of two boards of 1200 × 1000; glass of a pane of 1600 × 1200; backing of a board.
"""

import pytest

from app.services import plans, quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Store
from tests.builders.worked import SHOP, TYPED
from tests.documents.reading import text_of
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import ACT, do, filled, quote, record
from tests.web.test_plans import ANYWAY, kept, planner
from tests.web.test_stock import receive

__all__ = ["planner", "quote"]

pytestmark = pytest.mark.slow


def on_hand(store: Store, *codes: str) -> list[int]:
    """How many of some materials the rack has."""
    with store.reading() as work:
        return [
            sum(item.on_hand for item in work.stock.of_material(code, gone=True)) for code in codes
        ]


@pytest.fixture
def order(counter: Counter, quote: str) -> str:
    """The ordered piece; five sticks of its moulding and two panes of its glass are on the rack, no mats."""
    receive(counter, material="LIN-20", count="5", size="")
    receive(counter, material="G-2", count="2", size="")
    do(counter, quote, "take")
    return quote


def spoil(counter: Counter, order: str, part: str, note: str = "") -> Shown:
    """Note a part as spoiled at the bench."""
    form = {"spoiled.part": part, "spoiled.note": note}
    return counter.post(f"{order}/pieces/1/spoiled", form)


def at_bench(counter: Counter, order: str, act: str, part: str) -> Shown:
    """Press one of the buttons beside a spoiled part."""
    return counter.go(f"{order}/pieces/1/{act}", {"part": part})


def test_what_a_piece_opens_leaves_the_rack_when_it_is_cut_and_comes_back(
    counter: Counter, stocked: Store, order: str
) -> None:
    """Of the mats and the backing no stock is kept, so nothing of them is taken."""
    page = do(counter, order, "pieces/1/stage", stage="cut")
    assert "Piece 1 is cut. Took 1 sheet of Float glass 2 mm, 1 stick of Linden, limewashed" in (
        page.main
    )
    assert on_hand(stocked, "LIN-20", "G-2", "M-101") == [4, 1, 0]
    page = do(counter, order, "pieces/1/take-back")
    assert "Put 1 sheet of Float glass 2 mm, 1 stick of Linden, limewashed back on the rack." in (
        page.main
    )
    assert on_hand(stocked, "LIN-20", "G-2") == [5, 2]
    do(counter, order, "pieces/1/stage", stage="cut")
    assert on_hand(stocked, "LIN-20", "G-2") == [4, 1]


def test_what_was_cut_stays_off_the_rack_when_only_framing_is_taken_back(
    counter: Counter, stocked: Store, order: str
) -> None:
    for stage in ("cut", "framed"):
        do(counter, order, "pieces/1/stage", stage=stage)
    do(counter, order, "pieces/1/take-back")
    assert on_hand(stocked, "LIN-20", "G-2") == [4, 1]


def whole_panes(store: Store) -> int:
    """How many panes of the glass lie on the rack, offcuts aside."""
    with store.reading() as work:
        items = work.stock.of_material("G-2", gone=True)
    return sum(each.on_hand for each in items if each.item.whole)


def book_pane(counter: Counter, store: Store, address: str) -> None:
    """Book the one pane of a plan."""
    sections = plans.get(store, int(address.rpartition("/")[2])).sections
    (number,) = (at for at, each in enumerate(sections, 1) if each.material.code == "G-2")
    action = f"{address}/bins/{number}/1/book"
    counter.go(action, counter.get(f"{address}?open={number}").form(action) | ANYWAY)


def test_a_part_of_a_cut_piece_that_is_spoiled_is_open_and_takes_stock_when_it_is_cut_anew(
    counter: Counter, stocked: Store, order: str
) -> None:
    do(counter, order, "pieces/1/stage", stage="cut")
    answer = spoil(counter, order, "glazing", "fell off the bench")
    assert answer.status == 303
    page = counter.get(f"{order}/pieces/1")
    assert "glazing – fell off the bench, to be cut anew" in page.words(id="spoiled")
    assert on_hand(stocked, "G-2") == [1]
    assert "G-2" in counter.get("/plans/new").main
    page = at_bench(counter, order, "cut-anew", "glazing")
    assert "The part is cut anew. Took 1 sheet of Float glass 2 mm off the rack." in page.main
    assert on_hand(stocked, "G-2") == [0]
    assert "G-2" not in counter.get("/plans/new").main


def test_a_part_that_was_not_spoiled_after_all_is_cut_as_before(
    counter: Counter, stocked: Store, order: str
) -> None:
    do(counter, order, "pieces/1/stage", stage="cut")
    spoil(counter, order, "frame-1.top")
    page = at_bench(counter, order, "not-spoiled", "frame-1.top")
    assert "Undone: the part is not spoiled." in page.main
    assert "LIN-20" not in counter.get("/plans/new").main
    assert on_hand(stocked, "LIN-20") == [4]


def test_a_part_that_is_spoiled_before_the_piece_is_cut_leaves_the_rack_at_once(
    counter: Counter, stocked: Store, order: str
) -> None:
    """One pane for the spoiled glass; another one when the piece is cut. A mistake puts the first one back."""
    spoil(counter, order, "glazing")
    assert on_hand(stocked, "G-2") == [1]
    page = at_bench(counter, order, "not-spoiled", "glazing")
    assert "Put 1 sheet of Float glass 2 mm back on the rack." in page.main
    assert on_hand(stocked, "G-2") == [2]
    spoil(counter, order, "glazing")
    do(counter, order, "pieces/1/stage", stage="cut")
    assert on_hand(stocked, "LIN-20", "G-2") == [4, 0]
    assert "G-2" not in counter.get("/plans/new").main
    assert "to be cut anew" not in counter.get(f"{order}/pieces/1").main


def test_a_spoiled_part_is_not_forgotten_when_all_parts_are_called_cut(
    counter: Counter, stocked: Store, order: str
) -> None:
    """Whoever says that all is cut says it of the spoiled part too; taken back, it is spoiled again, with its reason."""
    before = filled(counter, order, "pieces/1/stage", stage="cut")
    spoil(counter, order, "glazing", "fell off the bench")
    refused = counter.post(f"{order}/pieces/1/stage", before)
    assert refused.status == 409
    assert "1 part is spoiled and not cut anew: glazing." in refused.words("error-summary")
    said = "Mark cut all the same, glazing anew too"  # Both mats and the backing are to buy.
    assert said in counter.get(order).buttons()
    assert said in counter.get(f"{order}/pieces/1").buttons()
    do(counter, order, "pieces/1/stage", stage="cut")
    said = record(counter.get(order))
    assert {"cut", "glazing cut anew", "glazing spoiled – fell off the bench"} <= set(said)
    page = do(counter, order, "pieces/1/take-back")
    assert "1 part is spoiled and not cut anew: glazing." in page.main
    bench = counter.get(f"{order}/pieces/1")
    assert "glazing – fell off the bench, to be cut anew" in bench.words(id="spoiled")
    for said in (record(page), record(bench)):
        assert "glazing spoiled – fell off the bench".lower() in [each.lower() for each in said]
    assert on_hand(stocked, "LIN-20", "G-2") == [5, 1]


def test_a_part_cut_anew_before_its_piece_is_cut_leaves_the_rack_once(
    counter: Counter, stocked: Store, order: str
) -> None:
    """By hand: of two panes one is spoiled; the one that is cut anew is that of the piece, which it takes when it is cut."""
    spoil(counter, order, "glazing")
    assert "The part is cut anew." in at_bench(counter, order, "cut-anew", "glazing").main
    assert on_hand(stocked, "G-2") == [1]
    do(counter, order, "pieces/1/stage", stage="cut")
    assert on_hand(stocked, "G-2") == [0]


@pytest.mark.parametrize(
    ("typed", "status"),
    [
        (("", ""), 422),
        (("lid", ""), 409),
        (("x" * 200, ""), 422),
        (("glazing", "y" * 201), 422),
        (("\N{FRAME WITH PICTURE}", ""), 409),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence_and_nothing_moves(
    counter: Counter, stocked: Store, order: str, typed: tuple[str, str], status: int
) -> None:
    answer = spoil(counter, order, *typed)
    assert answer.status == status
    assert len(answer.words("error-summary")) > 20
    assert on_hand(stocked, "LIN-20", "G-2") == [5, 2]


def test_the_same_form_twice_is_noted_once(counter: Counter, stocked: Store, order: str) -> None:
    assert spoil(counter, order, "glazing").status == 303
    answer = spoil(counter, order, "glazing")
    assert answer.status == 409
    assert "spoiled already" in answer.words("error-summary")
    assert on_hand(stocked, "G-2") == [1]
    assert counter.post(f"{order}/pieces/1/cut-anew", {"part": "mat-1"}).status == 409


def test_nothing_of_a_quote_is_spoiled(counter: Counter, quote: str) -> None:
    assert spoil(counter, quote, "glazing").status == 409
    assert not counter.get(f"{quote}/pieces/1").has(id="spoiled")


def test_of_pieces_that_are_alike_those_take_stock_that_were_cut(
    counter: Counter, stocked: Store
) -> None:
    """Three alike: for two of them a stick each and one pane of 1600 × 1200 for both; for the third a stick and a pane."""
    saved = quotes.save_new(
        stocked, CustomerRequest(name="Bo Reed"), {**TYPED, "copies": "3"}, SHOP, ACT
    )
    order = f"/orders/{saved}"
    receive(counter, material="LIN-20", count="5", size="")
    receive(counter, material="G-2", count="3", size="")
    do(counter, order, "take")
    do(counter, order, "pieces/1/stage", stage="cut", count="2")
    assert on_hand(stocked, "LIN-20", "G-2") == [3, 2]
    do(counter, order, "pieces/1/stage", stage="cut")
    assert on_hand(stocked, "LIN-20", "G-2") == [2, 1]


def test_some_of_those_that_are_alike_are_handed_over_with_a_receipt_of_their_own(
    counter: Counter, stocked: Store
) -> None:
    saved = quotes.save_new(
        stocked, CustomerRequest(name="Bo Reed"), {**TYPED, "copies": "3"}, SHOP, ACT
    )
    order = f"/orders/{saved}"
    do(counter, order, "take")
    for stage in ("cut", "framed"):
        do(counter, order, "pieces/1/stage", stage=stage)
    do(counter, order, "entries")
    page = do(counter, order, "pieces/1/stage", stage="collected", count="1")
    assert "1 of the 3 of piece 1 is collected. The receipt can be printed." in page.main
    assert page.links("hand-over")["Receipt (PDF)"] == f"{order}/receipts/1.pdf"
    assert "Harbour at dusk (2 of 3)" in page.words(id="hand-over")


def test_what_the_rack_has_none_of_is_named_when_a_piece_is_cut(
    counter: Counter, order: str
) -> None:
    """Glass and moulding are taken; of both mats and the backing the rack has none."""
    page = do(counter, order, "pieces/1/stage", stage="cut")
    assert "off the rack. Not taken, not on the rack: Chalk white" in page.main
    said = page.main.split("Not taken, not on the rack: ")[1].split(".")[0]
    assert "Backing board" in said
    assert "Float glass" not in said
    assert "Linden" not in said


def test_it_is_named_as_well_when_all_pieces_are_cut(counter: Counter, order: str) -> None:
    form = filled(counter, order, "pieces/1/stage", stage="cut")
    page = counter.go(f"{order}/stage", form)
    assert "The piece is cut." in page.main
    assert "Not taken, not on the rack: Chalk white" in page.main


def test_a_shop_that_writes_down_no_stock_is_told_nothing_of_its_rack(
    counter: Counter, quote: str
) -> None:
    do(counter, quote, "take")
    page = do(counter, quote, "pieces/1/stage", stage="cut")
    assert "Piece 1 is cut." in page.main
    assert "not on the rack" not in page.main


def test_marking_cut_asks_first_where_a_plan_has_reserved_what_it_takes(
    counter: Counter, stocked: Store, order: str
) -> None:
    """As below: one pane is free for the second piece, none for the third. What to do first is the filled button."""
    number = counter.get(kept(counter)).heading.split()[-1]
    takes = f"reserved by {number}, which then lacks it."
    for title in ("free", "reserved"):
        saved = quotes.save_new(stocked, CustomerRequest(name="Bo Reed"), TYPED, SHOP, ACT)
        do(counter, f"/orders/{saved}", "take")
        for page in (counter.get(f"/orders/{saved}"), counter.get(f"/orders/{saved}/pieces/1")):
            asks = words(page.one("asks"))
            assert "To buy: " in asks
            assert "Mark cut all the same" in asks
            assert (takes in asks) == (title == "reserved"), asks
            assert ("Float glass" in asks) == (title == "reserved"), asks
        filled_ones = [
            words(each) for each in counter.get(f"/orders/{saved}").each("button-primary")
        ]
        assert filled_ones == ["See what to buy"]
        do(counter, f"/orders/{saved}", "pieces/1/stage", stage="cut")


def test_a_shop_that_writes_down_no_stock_is_asked_nothing(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "take")
    assert not page.has("asks")
    assert "Mark cut" in page.buttons()


def test_what_an_open_plan_had_reserved_is_said_when_it_is_taken(
    counter: Counter, stocked: Store, order: str
) -> None:
    """Two panes: a plan takes one for the first piece. One is free for the second piece, none for the third."""
    address = kept(counter)
    number = counter.get(address).heading.split()[-1]
    for title in ("free", "reserved"):
        saved = quotes.save_new(stocked, CustomerRequest(name="Bo Reed"), TYPED, SHOP, ACT)
        do(counter, f"/orders/{saved}", "take")
        page = do(counter, f"/orders/{saved}", "pieces/1/stage", stage="cut")
        said = f"Float glass 2 mm was reserved by {number}, which lacks it now." in page.main
        assert said == (title == "reserved"), page.main
    assert on_hand(stocked, "G-2") == [0]


def test_a_spoiled_part_is_said_on_the_order_and_keeps_the_piece_from_being_framed(
    counter: Counter, order: str
) -> None:
    do(counter, order, "pieces/1/stage", stage="cut")
    framing = filled(counter, order, "pieces/1/stage", stage="framed")
    spoil(counter, order, "glazing")
    said = "1 part is spoiled and not cut anew: glazing"
    for page in (counter.get(order), counter.get(f"{order}/pieces/1")):
        assert f"{said}." in page.main
        assert "Mark finished" not in page.buttons()
    refused = counter.post(f"{order}/pieces/1/stage", framing)
    assert refused.status == 409
    assert f"{said}. Say at the bench that it is cut anew" in refused.words("error-summary")
    spoil(counter, order, "mat-1")
    assert "2 parts are spoiled and not cut anew: " in counter.get(order).main
    at_bench(counter, order, "not-spoiled", "mat-1")
    at_bench(counter, order, "cut-anew", "glazing")
    page = counter.get(order)
    assert "spoiled and not cut anew" not in page.main
    assert "Mark finished" in page.buttons()
    assert "Piece 1 is framed." in do(counter, order, "pieces/1/stage", stage="framed").main


def ticket(counter: Counter, order: str) -> str:
    return text_of(counter.client.get(f"{order}/pieces/1/ticket.pdf").content)


def test_the_ticket_that_is_printed_for_a_spoiled_part_says_so_and_is_no_plain_copy(
    counter: Counter, order: str
) -> None:
    first = ticket(counter, order)
    assert "Version 1" in first
    assert "Copy of version 1" in ticket(counter, order)
    do(counter, order, "pieces/1/stage", stage="cut")
    spoil(counter, order, "glazing")
    again = ticket(counter, order)
    assert "Copy of" not in again
    assert "to cut anew" in again
    assert "Spoiled: glazing" in again
    at_bench(counter, order, "cut-anew", "glazing")
    assert "Copy of version 1" in ticket(counter, order)


def test_of_several_alike_the_others_are_framed_while_one_has_a_spoiled_part(
    counter: Counter, stocked: Store
) -> None:
    saved = quotes.save_new(
        stocked, CustomerRequest(name="Bo Reed"), {**TYPED, "copies": "3"}, SHOP, ACT
    )
    order = f"/orders/{saved}"
    do(counter, order, "take")
    do(counter, order, "pieces/1/stage", stage="cut")
    spoil(counter, order, "glazing")
    page = counter.get(order)
    assert "1 part is spoiled and not cut anew: glazing" in page.main
    page = do(counter, order, "pieces/1/stage", stage="framed", count="2")
    assert "2 of the 3 of piece 1 are framed." in page.main
    form = filled(counter, order, "pieces/1/stage", stage="framed")
    assert counter.post(f"{order}/pieces/1/stage", form).status == 409


def test_what_is_left_over_of_a_hand_cut_is_offered_to_be_kept_and_leaves_the_rack_once(
    counter: Counter, stocked: Store, order: str
) -> None:
    """One of five sticks is cut for the piece; the rest of it comes back as an offcut, and four sticks stay four."""
    page = do(counter, order, "pieces/1/stage", stage="cut")
    assert "Cut by hand. Keep an offcut of" in page.main, page.main[900:2600]
    keep = page.links()["Linden, limewashed"]
    form = counter.get(keep).form("/stock/offcuts/new")
    assert (form["material"], form.get("cut_up", "")) == ("LIN-20", "")
    assert "Saved as" in counter.go("/stock/offcuts/new", form | {"size": "600"}).main
    with stocked.reading() as work:
        held = work.stock.of_material("LIN-20", gone=True)
    assert sorted((item.item.whole, item.on_hand) for item in held) == [(False, 1), (True, 4)]


def test_parts_of_an_open_plan_that_were_cut_by_hand_are_shown_so_and_bought_no_more(
    counter: Counter, stocked: Store, order: str
) -> None:
    """The rack has a stick and a pane for the plan, and no boards: those are to be bought until all is cut by hand."""
    plan = kept(counter)
    assert "M-101" in counter.get("/buying").main
    unticked = counter.get(plan)
    assert "0 of" in unticked.main
    assert "to buy" in unticked.main
    do(counter, order, "pieces/1/stage", stage="cut")
    page = counter.get(plan)
    assert "Cut by hand: 2026-0001/1 was moved on without this plan." in page.main
    assert page.buttons("/plans/1/ticks") == []
    assert not page.has("plan-buy")
    assert "All parts of it were cut by hand. Take it off stock" in page.main
    assert "M-101" not in counter.get("/buying").main
    # The plan's booking takes the stick off the rack, and nothing took it before.
    assert on_hand(stocked, "LIN-20", "G-2") == [5, 2]
    do(counter, order, "pieces/1/take-back")
    assert "M-101" in counter.get("/buying").main
    assert "Cut by hand" not in counter.get(plan).main


def test_a_spoiled_part_that_a_plan_cuts_anew_is_told_of_by_that_plan_alone(
    counter: Counter, stocked: Store, order: str
) -> None:
    """Until it is booked the bench leads there and offers no act that would be refused; then nothing is spoiled."""
    do(counter, order, "pieces/1/stage", stage="cut")
    framing = filled(counter, order, "pieces/1/stage", stage="framed")
    spoil(counter, order, "glazing")
    address = kept(counter)
    told = counter.get(f"{order}/pieces/1")
    assert "to be cut anew by P-2026-0001 ; book it there" in told.words(id="spoiled")
    assert "It is cut anew" not in told.buttons()
    assert "It is not spoiled" not in told.buttons()
    refused = counter.post(f"{order}/pieces/1/stage", framing)
    assert refused.status == 409
    assert "Book what P-2026-0001 cuts anew; then the piece is framed." in (
        refused.words("error-summary")
    )
    book_pane(counter, stocked, address)
    assert "to be cut anew" not in counter.get(f"{order}/pieces/1").main
    assert whole_panes(stocked) == 0


def test_what_is_spoiled_of_a_piece_cut_by_hand_uses_up_what_its_open_plan_reserved(
    counter: Counter, stocked: Store, order: str
) -> None:
    """Two panes: the plan's own went into the spoiled glass, so the glass is cut anew from the other one."""
    address = kept(counter)
    do(counter, order, "pieces/1/stage", stage="cut")
    assert spoil(counter, order, "glazing", "scratched").status == 303
    assert "scratched" in counter.get(address).main
    said = "Next: 1 part is spoiled and not cut anew: glazing. Cut it anew by a plan, then frame"
    assert said in counter.get(order).main
    assert "G-2" in counter.get("/plans/new").main
    again = kept(counter)
    assert "G-2" not in counter.get("/plans/new").main
    for plan in (address, again):
        book_pane(counter, stocked, plan)
    assert whole_panes(stocked) == 0
    assert "G-2" not in counter.get("/plans/new").main
    assert "spoiled and not cut anew" not in counter.get(order).main


def test_the_print_of_a_plan_and_its_dropping_say_what_was_cut_by_hand(
    counter: Counter, stocked: Store, order: str
) -> None:
    address = kept(counter)
    assert "cut by hand" not in text_of(counter.client.get(f"{address}/plan.pdf").content)
    assert "by hand" not in counter.get(f"{address}/drop").main
    do(counter, order, "pieces/1/stage", stage="cut")
    printed = text_of(counter.client.get(f"{address}/plan.pdf").content)
    assert "1 frame, top · 2026-0001/1, cut by hand already" in printed
    assert printed.count("cut by hand already") == 8
    before = on_hand(stocked, "LIN-20", "G-2")
    asked = counter.get(f"{address}/drop")
    assert "Sheet 1 of G-2" in asked.main
    assert "Stick 1 of LIN-20" in asked.main
    assert "Deleting the plan takes nothing off the rack for them." in asked.main
    page = counter.go(f"{address}/drop", asked.form(f"{address}/drop"))
    assert "Nothing left the rack for what was cut by hand of " in page.text
    assert on_hand(stocked, "LIN-20", "G-2") == before
