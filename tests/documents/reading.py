"""PDFs read back, by two readers that did not make them: pypdf and poppler."""

import re
import subprocess
from dataclasses import dataclass
from io import BytesIO
from itertools import islice
from tempfile import NamedTemporaryFile
from xml.etree import ElementTree

from pypdf import PdfReader


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A run of text and the size of its letters on paper, in points."""

    text: str
    points: float


def runs(pdf: bytes) -> list[Run]:
    """Every run of text with its size, in drawings too, by poppler.

    Poppler tells whole thirds of a point, rounded down.
    """
    tree = ElementTree.fromstring(_poppler(pdf, "pdftohtml", "-xml", "-i", "-zoom", "3", "-stdout"))
    points = {font.attrib["id"]: int(font.attrib["size"]) / 3 for font in tree.iter("fontspec")}
    return [
        Run(text="".join(text.itertext()).strip(), points=points[text.attrib["font"]])
        for text in tree.iter("text")
        if "".join(text.itertext()).strip()
    ]


def page_sizes(pdf: bytes) -> list[tuple[int, int]]:
    """Width and height of each page in whole points."""
    return [
        (round(page.mediabox.width), round(page.mediabox.height))
        for page in PdfReader(BytesIO(pdf)).pages
    ]


def text_of(pdf: bytes) -> str:
    """All text in the order in which the document has it, every run of blanks as one blank."""
    return " ".join(_poppler(pdf, "pdftotext", "-raw").decode().split())


def squeezed(text: str) -> str:
    """A text without blanks, so that line breaks do not matter."""
    return re.sub(r"\s+", "", text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """A word in its place on a page, in points from the left-top corner."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def lies_on(self, other: "Word") -> bool:
        """Whether letters meet: the two share room once line spacing is taken off."""
        slack = 0.28 * min(self.bottom - self.top, other.bottom - other.top)
        return (
            self.left < other.right - 0.5
            and other.left < self.right - 0.5
            and self.top + slack < other.bottom - slack
            and other.top + slack < self.bottom - slack
        )


def words_of(pdf: bytes) -> list[list[Word]]:
    """The words of each page."""
    name = "{http://www.w3.org/1999/xhtml}"
    tree = ElementTree.fromstring(_poppler(pdf, "pdftotext", "-bbox"))
    return [
        [
            Word(
                text=word.text or "",
                left=float(word.attrib["xMin"]),
                top=float(word.attrib["yMin"]),
                right=float(word.attrib["xMax"]),
                bottom=float(word.attrib["yMax"]),
            )
            for word in page.iter(f"{name}word")
        ]
        for page in tree.iter(f"{name}page")
    ]


def overlapping(words: list[Word]) -> list[tuple[str, str]]:
    """Pairs of words that lie on each other, in the order in which the words come."""
    down = sorted(enumerate(words), key=lambda each: each[1].top)
    found = []
    for at, (here, word) in enumerate(down, 1):
        for there, other in islice(down, at, None):
            if other.top >= word.bottom:
                break  # it begins below, as all that follow do
            if word.lies_on(other):
                found.append(sorted((here, there)))
    return [(words[one].text, words[two].text) for one, two in sorted(found)]


def _poppler(pdf: bytes, tool: str, *how: str) -> bytes:
    with NamedTemporaryFile(suffix=".pdf") as file:
        file.write(pdf)
        file.flush()
        arguments = [tool, *how, file.name] + ["-"] * (tool == "pdftotext")
        return subprocess.run(arguments, capture_output=True, check=True).stdout
