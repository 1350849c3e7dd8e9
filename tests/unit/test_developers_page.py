"""DEVELOPERS.md names what is there: each file and room, and each name of code in its glossary."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
HOUSE = TEXT.partition("## 2. ")[2].partition("## 3. ")[0]
GLOSSARY = TEXT.partition("## 6. Glossary")[2].partition("## 7. ")[0]
SOURCE = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "app").rglob("*.py"))


def rooms() -> list[str]:
    """Every folder of the app that holds modules, as the house writes it."""
    inits = sorted((ROOT / "app").rglob("__init__.py"))
    return [
        str(path.parent.relative_to(ROOT / "app")) for path in inits if path.parent.name != "app"
    ]


def paths() -> list[str]:
    """What stands in backquotes and is a path of ours."""
    quoted = set(re.findall(r"`([^`\n]+)`", TEXT))
    return sorted(
        each for each in quoted if re.fullmatch(r"[\w.*]+(/[\w.*]+)+/?", each) and each[0] != "/"
    )


@pytest.mark.parametrize("room", rooms())
def test_every_room_stands_in_the_house(room: str) -> None:
    name = room.rpartition("/")[2]
    assert re.search(rf"(^|[\s/]){re.escape(name)}/", HOUSE, re.MULTILINE), (
        f"{room} is not in section 2"
    )


@pytest.mark.parametrize("path", paths())
def test_every_path_leads_somewhere(path: str) -> None:
    found = [*ROOT.glob(path), *(ROOT / "app").glob(path), *(ROOT / "app").glob(f"{path}.py")]
    assert found, f"nothing is at {path}"


@pytest.mark.parametrize(
    "name", sorted(set(re.findall(r"`(\w+)`", GLOSSARY.partition("### Names of ours")[2])))
)
def test_every_name_of_the_glossary_is_in_the_code(name: str) -> None:
    assert re.search(rf"\b{name}\b", SOURCE), f"nothing is called {name}"


def test_the_words_of_the_trade_are_said_once_and_in_a_sentence() -> None:
    table = GLOSSARY.partition("### Words of the trade")[2].partition("###")[0]
    rows = [row.strip("| ").split(" | ") for row in table.splitlines() if row.startswith("| ")]
    words = [row[0] for row in rows[2:]]
    assert len(words) == len(set(words)) >= 40
    assert all(row[1].endswith(".") for row in rows[2:])
