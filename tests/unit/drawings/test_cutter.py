"""The drawing of a cutter from above: one image, told in words, with its letters apart from each other."""

from itertools import combinations

from app.drawings import CUTTER_KEY, cutter_from_above
from tests.builders.drawn import read, texts

DRAWN = read(cutter_from_above())


def test_it_is_one_image_that_is_told_in_words_too() -> None:
    assert DRAWN.get("role") == "img"
    title, desc = DRAWN[0].text or "", DRAWN[1].text or ""
    assert title == "A mat cutter from above, and what is measured where"
    assert all(
        f"{letter}: {text}" in desc for letter, text in zip("ABCDEFGHIJ", CUTTER_KEY, strict=True)
    )
    for part in ("bar", "head", "guide", "squaring arm", "stops", "pin"):
        assert part in desc


def test_nothing_in_it_is_inline_style_script_or_identifier() -> None:
    for one in DRAWN.iter():
        assert {"style", "id", "onload", "onclick"}.isdisjoint(one.attrib)
        assert one.tag.rpartition("}")[2] not in {"style", "script", "foreignObject", "use"}


def test_every_letter_of_the_key_stands_on_it_once_and_no_text_lies_on_another() -> None:
    said = [one.text for one in DRAWN.iter() if one.tag.endswith("text")]
    letters = sorted(text for text in said if text and len(text) == 1)
    assert letters == list("ABCDEFGHIJ")
    for one, other in combinations(texts(DRAWN), 2):
        assert not one.overlaps(other), (one, other)


def test_its_letters_can_be_read_on_a_phone() -> None:
    """Shown 340 px wide, as on a phone of 390: at least 9 px, as a letter on a disc."""
    width = float((DRAWN.get("viewBox") or "").split()[2])
    sizes = [float(one.get("font-size", "0")) for one in DRAWN.iter() if one.tag.endswith("text")]
    assert sizes
    assert min(sizes) * 340 / width >= 9
