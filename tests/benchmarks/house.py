"""`python -m tests.benchmarks.house [identifier ...]`: how large the house is, and what a change touches.

Prints lines, files and classes of the app by room, the modules that are longer than they should be,
and for named examples the files that speak of one thing: whoever adds its like must look at about
as many. Given identifiers are looked up instead (`core`, or `order_sheet*` for all that start so).

Identifiers are found in the syntax tree of Python and in the expressions and attributes of
templates, never in comments, docstrings or running text. Nothing is asserted.
"""

import argparse
import ast
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from pathlib import Path

from jinja2 import Environment

TOP = Path(__file__).parents[2]
LONG = 400
"""Lines above which a module is to be split."""

EXAMPLES: Mapping[str, str] = {
    "a length of a piece": "overlap",
    "a trait of a material": "grams_per_metre",
    "a setting of the shop": "valid_days",
    "a document": "order_sheet*",
}
"""What stands for each kind of change: something plain of that kind that is there already."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """One package or module right under the app."""

    name: str
    lines: int
    files: int
    classes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoken:
    """How often a file speaks of an identifier.

    declared: as a field, a name that is set, an argument, a keyword, a key or a part of a path: what
    is written by hand for each such thing. read: as a name or an attribute: what makes use of it.
    """

    file: str
    declared: int
    read: int


def rooms(app: Path) -> tuple[Room, ...]:
    """The rooms of the first floor, the largest first."""
    places = [place for place in app.iterdir() if place.suffix == ".py" or any(place.rglob("*.py"))]
    return tuple(sorted(map(_room, places), key=lambda room: (-room.lines, room.name)))


def long_modules(app: Path, most: int = LONG) -> tuple[tuple[str, int], ...]:
    """The modules with more lines than that, the longest first."""
    sizes = [(module.relative_to(app).as_posix(), _lines(module)) for module in app.rglob("*.py")]
    return tuple(sorted((each for each in sizes if each[1] > most), key=lambda each: -each[1]))


def files_that_speak_of(pattern: str, top: Path) -> tuple[Spoken, ...]:
    """The files of `app` and `templates` under a folder that speak of an identifier, in order.

    pattern: an identifier in snake case; `*` stands for any ending. A class of that name in
    capitals, a key with hyphens and a module of that name count as well.
    """
    sources = sorted((top / "app").rglob("*.py")) + sorted((top / "templates").rglob("*.*"))
    found = []
    for source in sources:
        counts = Counter(
            kind
            for kind, word in (("declared", source.stem), *_words_of(source))
            if any(fnmatchcase(form, pattern) for form in _forms(word))
        )
        if counts:
            place = source.relative_to(top).as_posix()
            found.append(Spoken(file=place, declared=counts["declared"], read=counts["read"]))
    return tuple(found)


def _lines(module: Path) -> int:
    return len(module.read_text(encoding="utf-8").splitlines())


def _room(place: Path) -> Room:
    modules = [place] if place.suffix else list(place.rglob("*.py"))
    trees = [ast.parse(module.read_text(encoding="utf-8")) for module in modules]
    return Room(
        name=place.stem,
        lines=sum(map(_lines, modules)),
        files=len(modules),
        classes=sum(isinstance(node, ast.ClassDef) for tree in trees for node in ast.walk(tree)),
    )


def _forms(word: str) -> Iterator[str]:
    """A name in snake case without a leading underscore; of a path, also each of its parts."""
    for part in {word, *re.split(r"[./:\[\]]", word), *re.split(r"[./:\[\]-]", word)}:
        snake = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", part.replace("-", "_")).strip("_")
        yield snake.lower()


type Words = Iterator[tuple[str, str]]
"""Kind ("declared" or "read") and what was written."""


@cache
def _words_of(source: Path) -> tuple[tuple[str, str], ...]:
    text = source.read_text(encoding="utf-8")
    return tuple(_python(text) if source.suffix == ".py" else _template(text))


def _python(source: str) -> Words:
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Name(id=name, ctx=ast.Store()):
                yield "declared", name
            case ast.arg(arg=name) | ast.keyword(arg=str(name)):
                yield "declared", name
            case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
                yield "declared", name
            case ast.ImportFrom(module=str(name)) | ast.alias(name=name):
                yield "read", name
            case ast.MatchClass(kwd_attrs=names):
                yield from (("read", name) for name in names)
            case ast.Attribute(attr=name) | ast.Name(id=name):
                yield "read", name
            case ast.Constant(value=str(text)) if re.fullmatch(r"\S+", text):
                yield "declared", text


def _template(source: str) -> Words:
    data = ""
    for _, token, text in Environment(autoescape=True).lex(source):
        if token == "name":
            yield "read", text
        elif token == "string" and re.fullmatch(r"\S+", text):
            yield "declared", text.strip("'\"")
        elif token == "data":
            data += text
    for value in re.findall(r'="([^"\s]+)"', data):
        yield "declared", value


def house_text(top: Path) -> str:
    """Lines, files and classes by room, then the modules that are too long."""
    app = top / "app"
    each = rooms(app)
    whole = Room(
        name="app",
        lines=sum(room.lines for room in each),
        files=sum(room.files for room in each),
        classes=sum(room.classes for room in each),
    )
    long = long_modules(app)
    return "\n".join(
        [
            f"{'':12}{'lines':>8}{'files':>8}{'classes':>9}",
            *(
                f"{room.name:12}{room.lines:>8,}{room.files:>8,}{room.classes:>9,}"
                for room in (*each, whole)
            ),
            "",
            f"Modules over {LONG} lines: {len(long) or 'none'}",
            *(f"  {place} {lines}" for place, lines in long),
        ]
    )


def spoken_text(what: str, pattern: str, top: Path) -> str:
    """How many files speak of an identifier, and which: those that declare it first."""
    spoken = files_that_speak_of(pattern, top)
    declaring = [each for each in spoken if each.declared]
    reading = [each for each in spoken if not each.declared]
    return "\n".join(
        [
            f"{what}, {pattern}: {len(declaring)} files declare or copy it, {len(reading)} only read it",
            *(f"  declared {each.declared:>3}  {each.file}" for each in declaring),
            *(f"  read     {each.read:>3}  {each.file}" for each in reading),
        ]
    )


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the house and the examples, or the files that speak of what is named."""
    parser = argparse.ArgumentParser(prog="house", description=(__doc__ or "").split("\n")[0])
    parser.add_argument("identifiers", nargs="*", help="default: the house and its examples")
    named: list[str] = parser.parse_args(arguments).identifiers
    if named:
        print("\n\n".join(spoken_text("named", name, TOP) for name in named))
        return
    print(house_text(TOP))
    for what, pattern in EXAMPLES.items():
        print()
        print(spoken_text(what, pattern, TOP))


if __name__ == "__main__":
    main()
