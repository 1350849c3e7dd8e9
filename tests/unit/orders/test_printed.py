"""What was printed against what a ticket would say now (M7): differences, their words, versions and copies."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from app.lengths import mm
from app.orders import Agreed, Shop, Stage
from app.orders.printed import (
    Difference,
    FactKind,
    TicketFact,
    TicketFacts,
    TicketPrint,
    differences,
    in_brief,
    in_words,
    still_matter,
    version_of,
)
from app.orders.quoting.agreement import agree
from app.orders.ticket_facts import facts_of, printed_facts, ticket_facts
from app.storage.snapshots import TICKET_FACTS
from tests.builders.printed import SKETCH, a_shop, an_order
from tests.builders.values import TODAY, finder
from tests.builders.worked import BOOK, SHOP, TYPED

MORNING = datetime(2026, 11, 25, 7, 2, tzinfo=UTC)
LATER = MORNING.replace(hour=9, minute=10)


def fact(part: str, says: str, side: str = "", kind: FactKind = FactKind.PART) -> TicketFact:
    return TicketFact(part=f"{part}-{side}", name=part, says=says, side=side, kind=kind)


def printed(*facts: TicketFact, version: int = 1, at: datetime = MORNING) -> TicketPrint:
    return TicketPrint(
        at=at, by="Ilse", version=version, snapshot_id=1, cutter="", facts=TicketFacts(facts)
    )


def words(before: Iterable[TicketFact], after: Iterable[TicketFact]) -> tuple[str, ...]:
    return in_words(differences(TicketFacts(tuple(before)), TicketFacts(tuple(after))))


def agreed(shop: Shop = SHOP, **typed: str) -> Agreed:
    """The worked piece with some fields typed otherwise."""
    fields = {name.replace("__", "."): text for name, text in typed.items()}
    return agree({**TYPED, **fields}, shop, finder(BOOK), today=TODAY)[1]


def test_equal_tickets_do_not_differ() -> None:
    facts = TicketFacts((fact("rails", "561 / 438"),))
    assert differences(facts, facts) == ()
    assert in_words(()) == ()


def test_a_size_that_changed_is_said_with_both_figures() -> None:
    assert words([fact("rails", "561 / 438")], [fact("rails", "589 / 466")]) == (
        "rails: 561 / 438 are now 589 / 466",
    )
    assert words([fact("glazing", "526 × 403")], [fact("glazing", "554 × 431")]) == (
        "glazing: 526 × 403 is now 554 × 431",
    )


def test_parts_of_the_same_figures_are_said_together() -> None:
    parts = ("mat", "glazing", "backing")
    before = [fact(part, "526 × 403") for part in parts]
    after = [fact(part, "554 × 431") for part in parts]
    assert words(before, after) == ("mat, glazing, backing: 526 × 403 are now 554 × 431",)


def test_what_is_new_and_what_is_gone_is_said_last_of_all() -> None:
    assert words([fact("spacers", "2 × 526")], [fact("glazing", "526 × 403")]) == (
        "glazing: 526 × 403 is new",
        "spacers: 2 × 526 are no longer there",
    )


def test_sides_are_named_unless_it_is_all_four() -> None:
    def borders(left: str, others: str) -> list[TicketFact]:
        sides = {"left": left, "right": others, "top": others, "bottom": others}
        return [fact("borders", says, side) for side, says in sides.items()]

    assert words(borders("70", "70"), borders("80", "80")) == ("borders: 70 are now 80",)
    assert words(borders("70", "70"), borders("80", "70")) == ("borders left: 70 are now 80",)


def test_of_marks_only_which_ones_are_new_is_said() -> None:
    def marks(says: str) -> list[TicketFact]:
        return [fact("marks of mat 1", says, side, FactKind.MARK) for side in ("left", "top")]

    assert words(marks("70, 70 to 80"), marks("80, 80 to 90")) == (
        "marks of mat 1 left and top are new",
    )


def test_on_paper_what_stands_beside_the_work_is_named_without_figures() -> None:
    sides = (("borders", FactKind.PART), ("guide for mat 1", FactKind.GUIDE))
    before = [fact("rails", "561 / 438"), *(fact(n, "70", "left", kind) for n, kind in sides)]
    after = [fact("rails", "589 / 466"), *(fact(n, "84", "left", kind) for n, kind in sides)]
    found = differences(TicketFacts(tuple(before)), TicketFacts(tuple(after)))
    assert in_brief(found) == (
        "rails: 561 / 438 are now 589 / 466",
        "borders, guide for mat 1 are new",
    )


def test_another_word_for_a_part_is_no_change() -> None:
    """A shop that switches its word for the mat, or a later version of the program."""
    before = fact("mat 1", "562 × 449")
    assert words([before], [replace(before, name="mount 1")]) == ()


def test_the_first_print_is_version_1_and_replaces_nothing() -> None:
    version = version_of((), TicketFacts((fact("rails", "561 / 438"),)), MORNING)
    assert (version.version, version.at, version.copy, version.replaces) == (
        1,
        MORNING,
        False,
        None,
    )


def test_printed_again_unchanged_is_a_copy_of_the_version_that_was_printed() -> None:
    facts = (fact("rails", "561 / 438"),)
    version = version_of((printed(*facts),), TicketFacts(facts), LATER)
    assert (version.version, version.at, version.copy, version.replaces) == (1, MORNING, True, None)


def test_a_change_is_the_next_version_and_says_what_it_replaces() -> None:
    now = TicketFacts((fact("rails", "589 / 466"),))
    version = version_of((printed(fact("rails", "561 / 438")),), now, LATER, ["cut the rails"])
    assert (version.version, version.at, version.copy) == (2, LATER, False)
    assert version.replaces == MORNING
    assert in_words(version.changes) == ("rails: 561 / 438 are now 589 / 466",)
    assert version.done == ("cut the rails",)


def test_a_copy_of_a_version_that_replaced_one_still_says_so() -> None:
    prints = (
        printed(fact("rails", "561 / 438")),
        printed(fact("rails", "589 / 466"), version=2, at=LATER),
    )
    version = version_of(prints, prints[1].facts, LATER + timedelta(hours=1))
    assert (version.version, version.at, version.copy) == (2, LATER, True)
    assert version.replaces == MORNING
    assert in_words(version.changes) == ("rails: 561 / 438 are now 589 / 466",)


def test_changed_back_to_what_an_older_print_said_is_a_further_version() -> None:
    """The last paper is the one that hangs in the shop."""
    prints = (printed(fact("rails", "1")), printed(fact("rails", "2"), version=2, at=LATER))
    version = version_of(prints, prints[0].facts, LATER)
    assert (version.version, version.copy, version.replaces) == (3, False, LATER)


def test_times_are_on_the_clock_of_the_shop() -> None:
    east = timezone(timedelta(hours=1))
    facts = (fact("rails", "561 / 438"),)
    version = version_of((printed(*facts),), TicketFacts(facts), LATER.astimezone(east))
    assert f"{version.at:%H:%M}" == "08:02"


@pytest.mark.parametrize(
    ("stage", "kinds"),
    [
        (Stage.ORDERED, set(FactKind)),
        (Stage.CUT, {FactKind.PART, FactKind.PLACE, FactKind.ORDER, FactKind.PIECE}),
        (Stage.FRAMED, set()),
        (Stage.COLLECTED, set()),
    ],
)
def test_once_all_is_cut_the_cutter_counts_no_more(stage: Stage, kinds: set[FactKind]) -> None:
    found = [Difference(kind=kind, name="x", side="", was="1", now="2") for kind in FactKind]
    assert {each.kind for each in still_matter(stage, found)} == kinds


# By hand in tests.builders.worked: package 600 × 500, mat 2 trimmed by 3 at each edge (G7), rails 630 and 530. The
# guide reads the border at the back line, uncorrected (B1); mat 2 lies attached, its borders are those of mat 1 + 10.
WORKED = {
    "mat-1": "600 × 500",
    "mat-2": "594 × 494",
    "mat-1-window-": "420 × 320",
    "mat-2-window-": "400 × 300",
    "mat-1-border-left": "90",
    "mat-2-border-bottom": "110",
    "glazing": "600 × 500",
    "backing": "600 × 500",
    "frame-1": "630 / 530",
    "frame-1-moulding": "LIN-20 Linden, limewashed",
    "hardware": "2 × R-1 Hanging ring",
    "guide-1--bottom": "100",
    "guide-2--top": "90",
}


def test_what_a_ticket_says_is_what_was_worked_by_hand() -> None:
    said = {fact.part: fact.says for fact in ticket_facts(agreed(), SHOP).facts}
    assert {part: said[part] for part in WORKED} == WORKED


def test_each_fact_has_a_part_of_its_own() -> None:
    facts = ticket_facts(agreed(), SHOP).facts
    assert len({fact.part for fact in facts}) == len(facts)


def test_wider_borders_change_what_follows_from_them_and_nothing_else() -> None:
    """10 more left and right: package 600 + 20, mat 2 594 + 20, rails 630 + 20; heights and windows stay."""
    found = differences(
        ticket_facts(agreed(), SHOP), ticket_facts(agreed(borders__left="100"), SHOP)
    )
    assert in_words(found) == (
        "mat 1, glazing, backing: 600 × 500 are now 620 × 500",
        "borders of mat 1 left and right: 90 are now 100",
        "mat 2: 594 × 494 is now 614 × 494",
        "borders of mat 2 left and right: 100 are now 110",
        "rails: 630 / 530 are now 650 / 530",
        "guide for mat 1 right and left: 90 is now 100",
        "guide for mat 2 right and left: 100 is now 110",
        "place of the artwork: left 95, top 85 on the backing is now left 105, top 85 on the backing",
        "marks of mat 1, marks of mat 2 are new",
    )


def test_a_corrected_scale_changes_settings_alone() -> None:
    """Half a millimetre less: 90 becomes 89.5 (B1)."""
    corrected = replace(SHOP, cutters=(replace(SHOP.cutter, guide_correction=mm("-0.5")),))
    found = differences(ticket_facts(agreed(), SHOP), ticket_facts(agreed(), corrected))
    assert {each.kind for each in found} == {FactKind.GUIDE}
    assert in_words(found) == (
        "guide for mat 1 bottom, guide for mat 2 right and left: 100 are now 99.5",
        "guide for mat 1 top: 80 is now 79.5",
        "guide for mat 1 right and left, guide for mat 2 top: 90 are now 89.5",
        "guide for mat 2 bottom: 110 is now 109.5",
    )


def test_a_ticket_from_before_places_were_printed_does_not_differ_by_them() -> None:
    """The artwork lies 90 + 10 of reveal - 5 of overlap from the left, 80 + 10 - 5 from the top (G25)."""
    now = ticket_facts(agreed(), SHOP)
    (place,) = (fact for fact in now.facts if fact.kind is FactKind.PLACE)
    assert place.says == "left 95, top 85 on the backing"
    before = TicketFacts(tuple(fact for fact in now.facts if fact != place))
    assert before.kinds == (FactKind.PART, FactKind.GUIDE, FactKind.STOPS, FactKind.MARK)
    assert differences(before, now) == ()
    assert differences(now, before) == ()


def test_a_ticket_bears_number_due_day_and_note_of_its_order() -> None:
    """A note without words, and no day, are no facts; what only one of two tickets speaks of is no difference."""
    order = replace(an_order(), note="Ring  the bell", due=date(2026, 12, 10))
    piece = agreed()
    first = facts_of(order, piece, SHOP)
    assert [
        (fact.name, fact.side, fact.says) for fact in first.facts if fact.kind is FactKind.ORDER
    ] == [
        ("order", "", "2026-0148"),
        ("due day", "", "Thu 10 Dec 2026"),
        ("notes", "to the order", "Ring the bell"),
    ]
    later = facts_of(replace(order, due=date(2026, 12, 17)), piece, SHOP)
    assert in_words(differences(first, later)) == (
        "due day: Thu 10 Dec 2026 is now Thu 17 Dec 2026",
    )
    bare = facts_of(replace(order, due=None, note=""), piece, SHOP)
    assert in_words(differences(first, bare)) == (
        "due day: Thu 10 Dec 2026 is no longer there",
        "notes to the order: Ring the bell are no longer there",
    )
    assert differences(first, ticket_facts(piece, SHOP)) == ()


def test_everything_that_stands_on_a_ticket_and_can_change_makes_another_version() -> None:
    """An older print speaks of none of it, and does not differ by it."""
    order = an_order(SKETCH)
    (piece,) = order.pieces
    first = printed_facts(order, piece, a_shop())
    for field, now, told in (
        ("place", "Rack C1", "place: Rack B2 is now Rack C1"),
        ("title", "High water", "title: Estuary, low tide is now High water"),
        (
            "condition",
            "A tear",
            "condition of the artwork: Slight cockling at the top edge is now A tear",
        ),
    ):
        other = replace(piece, artwork=replace(piece.artwork, **{field: now}))
        assert in_words(differences(first, printed_facts(order, other, a_shop()))) == (told,)
    renamed = printed_facts(replace(order, customer_name="Ewan Reed"), piece, a_shop())
    assert in_words(differences(first, renamed)) == ("customer: Mairi Quill is now Ewan Reed",)
    assert not version_of((printed(*first.facts),), first, LATER).changes
    assert differences(facts_of(order, piece.agreed, a_shop()), first) == ()


def test_on_paper_what_is_new_at_the_cutter_says_of_which_mat() -> None:
    names = (
        "guide for mat 1",
        "guide for mat 2",
        "stops for mat 1",
        "stops for mat 2",
        "borders of mat 2",
    )
    found = differences(
        TicketFacts(), TicketFacts(tuple(fact(each, "70", "left") for each in names))
    )
    assert in_brief(found) == ("guide, stops for mat 1 and mat 2, borders of mat 2 are new",)


def test_another_glass_of_the_same_size_is_another_ticket() -> None:
    found = differences(
        ticket_facts(agreed(), SHOP), ticket_facts(agreed(glazing__material="A-3"), SHOP)
    )
    assert in_words(found) == (
        "sheet of the glazing: G-2 Float glass 2 mm is now A-3 Acrylic 3 mm",
    )


def test_a_price_that_changed_alone_is_no_other_ticket() -> None:
    assert not differences(
        ticket_facts(agreed(), SHOP), ticket_facts(agreed(adjust__discount="10"), SHOP)
    )


def test_settings_on_a_scale_in_the_other_unit_say_so() -> None:
    """The ticket is in inches, the scale in millimetres (L3): 2 in is 50.8, on steps of half a millimetre 51."""
    borders = {f"borders__{side}": "2" for side in ("left", "top", "bottom")}
    inches = agreed(unit="in", artwork__size="16 x 12 in", mats__1__reveal="1/4", **borders)
    said = ticket_facts(inches, SHOP).facts
    assert "51 mm" in [fact.says for fact in said if fact.part == "guide-1--left"]
    assert TicketFact(part="unit", name="figures", says="in inches") in said


def test_what_was_printed_is_kept_and_read_again() -> None:
    facts = ticket_facts(agreed(), SHOP)
    assert TICKET_FACTS.read(TICKET_FACTS.write(facts)) == facts


def test_another_note_to_the_piece_makes_another_ticket_and_none_says_nothing() -> None:
    noted, other = agreed(note="Keep the old hook"), agreed(note="Keep hook\nand label")
    none, one, two = (ticket_facts(each, SHOP) for each in (agreed(), noted, other))
    assert not [fact for fact in none.facts if fact.part == "note"]
    assert in_words(differences(none, one)) == ("notes to the piece: Keep the old hook are new",)
    assert in_words(differences(one, two)) == (
        "notes to the piece: Keep the old hook are now Keep hook and label",
    )
    assert in_brief(differences(one, two)) == ("notes are new",)
    assert differences(one, one) == ()


def test_marks_that_stops_make_needless_are_told_as_gone() -> None:
    marks = [
        fact("marks of mat 1", "70, 70 to 80", side, FactKind.MARK) for side in ("left", "top")
    ]
    stops = [fact("stops for mat 1", "near stop 70", "left", FactKind.STOPS)]
    found = differences(TicketFacts(tuple(marks)), TicketFacts(tuple(stops)))
    assert in_words(found) == (
        "stops for mat 1 left: near stop 70 are new",
        "marks of mat 1 left and top are no longer there",
    )
    assert in_brief(found) == ("stops for mat 1 are new", "marks of mat 1 are no longer there")
