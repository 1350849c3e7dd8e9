"""Which material a typed text means, remembered only while the price book stands as it does."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from sqlalchemy import event

from app.orders.quoting.reader import Several
from app.pricing import Kind, Material
from app.storage import Store, UnitOfWork, empty
from tests.builders.kept import GLASS, MOULDING, NOW, TOP_MAT


def meant(store: Store, text: str, kind: Kind = Kind.MOULDING) -> str | None:
    """The name of the material that is meant in a reading of its own."""
    with store.reading() as work:
        material = work.materials.meant(text, kind)
        return material.name if isinstance(material, Material) else None


def test_a_code_a_whole_name_and_the_only_match_are_meant(store: Store) -> None:
    assert meant(store, "lin-20") == MOULDING.name
    assert meant(store, MOULDING.name.upper()) == MOULDING.name
    assert meant(store, "limewash") == MOULDING.name
    assert meant(store, "lin-20", Kind.MAT) is None


def test_a_text_that_fits_several_says_how_many_are_on_offer(store: Store) -> None:
    with store.writing() as work:
        for row in range(3):
            one = replace(MOULDING, code=f"BIRCH-{row}", name=f"Birch {row}", active=row < 2)
            work.materials.add(one, now=NOW)
    with store.reading() as work:
        assert work.materials.meant("birch", Kind.MOULDING) == Several(2)
        assert work.materials.meant("oak of nowhere", Kind.MOULDING) is None


def test_what_was_found_is_not_looked_up_again(store: Store) -> None:
    meant(store, "lin-20")
    statements: list[str] = []

    def note(*told: object) -> None:
        statements.append(str(told[2]))

    event.listen(store._readers, "before_cursor_execute", note)
    assert meant(store, "lin-20") == MOULDING.name
    assert statements == []


def _renamed(work: UnitOfWork) -> None:
    work.materials.save("LIN-20", replace(MOULDING, name="Linden, oiled"), 1, now=NOW)


def _recoded(work: UnitOfWork) -> None:
    work.materials.save(
        "LIN-20", replace(MOULDING, code="LIN-21", name="Linden, waxed"), 1, now=NOW
    )


def _removed(work: UnitOfWork) -> None:
    work.materials.remove("LIN-20", 1)


@pytest.mark.parametrize(
    ("change", "then"), [(_renamed, "Linden, oiled"), (_recoded, "Linden, waxed"), (_removed, None)]
)
def test_a_change_of_the_price_book_is_seen_at_once(
    store: Store, change: Callable[[UnitOfWork], None], then: str | None
) -> None:
    assert meant(store, "LIN-20") == MOULDING.name
    with store.writing() as work:
        change(work)
    assert meant(store, "LIN-20") == then


def test_a_text_that_meant_nothing_means_what_was_added_since(store: Store) -> None:
    assert meant(store, "ASH-9") is None
    with store.writing() as work:
        work.materials.add(replace(MOULDING, code="ASH-9", name="Ash"), now=NOW)
    assert meant(store, "ASH-9") == "Ash"


def test_a_second_match_makes_a_text_mean_none(store: Store) -> None:
    assert meant(store, "limewash") == MOULDING.name
    with store.writing() as work:
        work.materials.add(replace(MOULDING, code="LIN-30", name="Linden, wide"), now=NOW)
    assert meant(store, "limewash") is None


def _renamed_and_lost(store: Store) -> None:
    with store.writing() as work:
        _renamed(work)
        inside = work.materials.meant("LIN-20", Kind.MOULDING)
        assert inside is not None
        assert inside.name == "Linden, oiled"
        raise RuntimeError("the power went")


def test_a_change_is_seen_within_its_own_write_and_forgotten_with_it(store: Store) -> None:
    assert meant(store, "LIN-20") == MOULDING.name
    with pytest.raises(RuntimeError, match="power"):
        _renamed_and_lost(store)
    assert meant(store, "LIN-20") == MOULDING.name


def test_a_reading_from_before_a_change_does_not_bring_the_old_book_back(store: Store) -> None:
    with store.reading() as before:
        assert before.materials.meant(TOP_MAT.code, Kind.MAT) == TOP_MAT  # it has begun
        with store.writing() as work:
            _renamed(work)
        late = before.materials.meant("LIN-20", Kind.MOULDING)
        assert late == MOULDING  # as it stood when the reading began
    assert meant(store, "LIN-20") == "Linden, oiled"


def test_an_emptied_shop_means_nothing(store: Store) -> None:
    assert meant(store, GLASS.code, Kind.GLAZING) == GLASS.name
    empty(store)
    assert meant(store, GLASS.code, Kind.GLAZING) is None


def test_answers_are_kept_for_a_thousand_texts_at_most(store: Store) -> None:
    with store.reading() as work:
        for number in range(1200):
            assert work.materials.meant(f"no such code {number}", Kind.MAT) is None
        assert work.materials.meant("M-101", Kind.MAT) is not None
    assert store._memory.size("meant") <= 1000
