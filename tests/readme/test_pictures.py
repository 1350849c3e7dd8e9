"""The README shows the pictures that the script takes, each as large as it says, and says what is seen on each."""

import re
from pathlib import Path

from PIL import Image

from tests.readme.pictures import HERE, PICTURES

ROOT = Path(__file__).resolve().parents[2]

MOST, MOST_IN_ALL = 150_000, 700_000
"""Bytes: whoever opens the README fetches all of them. Source: ours."""

LEAST_SAID = 60
"""Letters of a text that says what is seen; a name alone does not. Source: ours."""


def shown() -> dict[str, str]:
    """What is said of each picture of the README, by its path."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    plain = {path: said for said, path in re.findall(r"!\[([^\]]*)\]\(([^)]+)\)", text)}
    sized = dict(re.findall(r'<img src="([^"]+)" width="\d+%" alt="([^"]*)">', text))
    assert len(plain) + len(sized) == text.count("![") + text.count("<img")
    return plain | sized


def test_the_readme_shows_what_the_script_takes() -> None:
    taken = {each.file.relative_to(ROOT).as_posix() for each in PICTURES}
    assert set(shown()) == taken
    assert set(HERE.glob("*.png")) == {each.file for each in PICTURES}


def test_each_is_said_in_words() -> None:
    assert {path: said for path, said in shown().items() if len(said) < LEAST_SAID} == {}


def test_each_is_as_large_as_the_script_says_and_holds_nothing_but_the_picture() -> None:
    for picture in PICTURES:
        with Image.open(picture.file) as image:
            assert (image.format, image.mode, image.size) == ("PNG", "P", picture.size)
            assert image.info == {}, picture.name


def test_they_are_small() -> None:
    sizes = {each.name: each.file.stat().st_size for each in PICTURES}
    assert {name: size for name, size in sizes.items() if size > MOST} == {}
    assert sum(sizes.values()) < MOST_IN_ALL
