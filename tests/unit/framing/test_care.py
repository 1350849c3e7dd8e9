"""Care notices and cautions: which facts call for which (D5, D6).

Sources of the advice: Library of Congress guide to preservation matting; State Library Victoria and
Western Australian Museum on framing; Canadian Conservation Institute Notes 11/5; HSE on wood dust and
on handling glass.
"""

from dataclasses import replace

import pytest

from app.framing.notice import Concern
from app.framing.notices.care import (
    CAUTIONS,
    CareFacts,
    Work,
    WorkFacts,
    care_notices,
    cautions_for,
)

SOUND = CareFacts(on_paper=True, uv_filter=True, kept_clear=True, boards=(("cotton board", True),))


def codes(facts: CareFacts) -> list[str]:
    return [notice.code for notice in care_notices(facts)]


def test_a_sound_work_on_paper_calls_for_nothing() -> None:
    assert codes(SOUND) == []


@pytest.mark.parametrize(
    ("change", "code", "risk"),
    [
        ({"kept_clear": False}, "glazing-touches-artwork", True),
        ({"loose_surface": True, "acrylic": True}, "acrylic-over-loose-surface", True),
        ({"glazed": False}, "paper-without-glazing", False),
        ({"uv_filter": False}, "no-uv-filter", False),
        ({"boards": (("grey board", False),)}, "board-not-acid-free", False),
        ({"adhesive": True}, "adhesive-on-original", False),
    ],
)
def test_each_fact_calls_for_its_notice(change: dict[str, object], code: str, risk: bool) -> None:
    (notice,) = care_notices(replace(SOUND, **change))  # type: ignore[arg-type]
    assert notice.code == code
    assert (notice.concern is Concern.RISK) is risk
    assert notice.message.endswith(".")


def test_the_boards_that_are_not_acid_free_are_named() -> None:
    facts = replace(
        SOUND, boards=(("grey board", False), ("cotton board", True), ("MDF back", False))
    )
    (notice,) = care_notices(facts)
    assert "grey board, MDF back" in notice.message
    assert "cotton" not in notice.message


def test_without_glazing_nothing_is_said_of_its_touch_or_filter() -> None:
    assert codes(replace(SOUND, glazed=False, kept_clear=False, uv_filter=False)) == [
        "paper-without-glazing"
    ]


def test_glass_over_pastel_and_acrylic_over_prints_are_both_sound() -> None:
    assert codes(replace(SOUND, loose_surface=True)) == []
    assert codes(replace(SOUND, acrylic=True)) == []


def test_paper_rules_leave_other_works_alone() -> None:
    facts = CareFacts(on_paper=False, glazed=False, boards=(("MDF", False),), adhesive=True)
    assert codes(facts) == []


def test_all_that_is_wrong_is_said_together() -> None:
    facts = CareFacts(
        on_paper=True,
        loose_surface=True,
        acrylic=True,
        kept_clear=False,
        boards=(("MDF", False),),
        adhesive=True,
    )
    assert codes(facts) == [
        "glazing-touches-artwork",
        "acrylic-over-loose-surface",
        "no-uv-filter",
        "board-not-acid-free",
        "adhesive-on-original",
    ]


def test_every_step_of_the_work_has_a_caution() -> None:
    assert set(CAUTIONS) == set(Work)


@pytest.mark.parametrize(
    ("facts", "steps"),
    [
        (WorkFacts(mats=False, glass=False, acrylic=False, frame=False, heavy=False), []),
        (
            WorkFacts(mats=True, glass=False, acrylic=False, frame=False, heavy=False),
            [Work.MATS],
        ),
        (
            WorkFacts(mats=True, glass=True, acrylic=False, frame=True, heavy=True),
            [Work.MATS, Work.GLASS, Work.RAILS, Work.JOIN, Work.FIT, Work.LIFT, Work.HANG],
        ),
        (
            WorkFacts(mats=False, glass=False, acrylic=True, frame=True, heavy=False),
            [Work.ACRYLIC, Work.RAILS, Work.JOIN, Work.FIT, Work.HANG],
        ),
    ],
)
def test_cautions_stand_at_the_steps_a_piece_has_in_order(
    facts: WorkFacts, steps: list[Work]
) -> None:
    assert [step for step, _ in cautions_for(facts)] == steps


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (Work.MATS, ("blade",)),
        (Work.GLASS, ("gloves", "eye protection")),
        (Work.RAILS, ("guard", "hands clear", "dust")),
        (Work.JOIN, ("solvents", "air the room")),
        (Work.LIFT, ("two people",)),
        (Work.HANG, ("bed", "safety glazing", "local building rules")),
    ],
)
def test_a_caution_names_its_danger_and_what_to_do(step: Work, words: tuple[str, ...]) -> None:
    for word in words:
        assert word in CAUTIONS[step]
