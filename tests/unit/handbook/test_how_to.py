"""How each step is done, in words: every kind has a title, two sentences and a caution, without figures."""

import re

import pytest

from app.bench import StepCode
from app.framing.notices.care import CAUTIONS, Work
from app.handbook.how_to import HOW_TO

SENTENCE = re.compile(r"[^.]+\.")


def test_every_kind_of_step_is_told_in_the_order_of_the_work() -> None:
    assert list(HOW_TO) == list(StepCode)
    assert len({how.title for how in HOW_TO.values()}) == len(HOW_TO)


@pytest.mark.parametrize("code", StepCode, ids=str)
def test_it_is_told_in_two_sentences_and_a_caution(code: StepCode) -> None:
    how = HOW_TO[code]
    assert len(SENTENCE.findall(how.text)) == 2
    assert how.text == " ".join(each.strip() for each in SENTENCE.findall(how.text))
    assert how.caution.endswith(".")
    assert not how.title.endswith(".")


@pytest.mark.parametrize("code", [StepCode.MARK, StepCode.CUT_WINDOW], ids=str)
def test_at_a_cutter_with_stops_it_is_told_otherwise(code: StepCode) -> None:
    how = HOW_TO[code]
    assert "stop" not in how.text_at(stops=False)
    assert "lock" in how.text_at(stops=True)
    assert len(SENTENCE.findall(how.with_stops)) == 2
    assert "line" not in how.with_stops or "without a stop" in how.with_stops


@pytest.mark.parametrize("code", StepCode, ids=str)
def test_no_figure_stands_in_it(code: StepCode) -> None:
    """Sizes are the piece's; what is told of the work holds in millimetres and in inches."""
    how = HOW_TO[code]
    assert not re.search(r"\d", f"{how.title} {how.text} {how.caution}")


@pytest.mark.parametrize(
    ("code", "work"),
    [
        (StepCode.SIZE_BLANKS, Work.MATS),
        (StepCode.CUT_WINDOW, Work.MATS),
        (StepCode.TAKE_APART, Work.APART),
        (StepCode.GLAZING, Work.GLASS),
        (StepCode.GLAZING, Work.ACRYLIC),
        (StepCode.FILLET_RAILS, Work.RAILS),
        (StepCode.RAILS, Work.RAILS),
        (StepCode.JOIN, Work.JOIN),
        (StepCode.FIT, Work.FIT),
        (StepCode.HANG, Work.HANG),
    ],
)
def test_the_caution_of_the_step_is_the_one_of_its_ticket(code: StepCode, work: Work) -> None:
    """D5."""
    assert CAUTIONS[work] in HOW_TO[code].caution
