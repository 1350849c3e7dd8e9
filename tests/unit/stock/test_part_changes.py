"""What stands of parts that were spoiled and cut anew without a plan."""

from datetime import UTC, datetime

from app.orders import Stage
from app.stock.planning.open_work import PartState, parts_standing
from app.stock.planning.part_changes import ChangedPart, PartChange, last_changes, spoiled_parts
from tests.unit.stock.test_planning_open_work import PART

AT = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)


def changed(*changes: PartChange, what: str = PART.what) -> list[ChangedPart]:
    """These changes of the part, one after the other."""
    return [ChangedPart(part=PART.id, what=what, change=each, at=AT, by="Ilse") for each in changes]


def test_the_last_change_that_was_not_taken_back_stands() -> None:
    """Spoiled, cut anew, that taken back: it is spoiled again; that taken back too: nothing stands."""
    spoiled, anew, back = PartChange.SPOILED, PartChange.CUT_ANEW, PartChange.TAKEN_BACK
    key = (PART.id, PART.what)
    assert spoiled_parts(changed(spoiled)) == {key}
    assert spoiled_parts(changed(spoiled, anew)) == frozenset()
    assert spoiled_parts(changed(spoiled, anew, back)) == {key}
    assert last_changes(changed(spoiled, anew, back, back)) == {}


def test_a_spoiled_part_of_a_cut_piece_is_open_until_it_is_cut_anew() -> None:
    spoiled = changed(PartChange.SPOILED)
    stands = parts_standing([PART], Stage.CUT, (), changes=spoiled)[0]
    assert (stands.state, stands.spoiled) == (PartState.OPEN, True)
    anew = changed(PartChange.SPOILED, PartChange.CUT_ANEW)
    assert parts_standing([PART], Stage.CUT, (), changes=anew)[0].state is PartState.CUT


def test_a_part_that_is_another_one_now_is_not_spoiled() -> None:
    spoiled = changed(PartChange.SPOILED, what="OTHER 400")
    assert parts_standing([PART], Stage.CUT, (), changes=spoiled)[0].state is PartState.CUT
