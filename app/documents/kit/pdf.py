"""From a document's HTML to its PDF.

Owns WeasyPrint: it is imported when the first PDF is asked for, so that everything else works on a
machine without Pango. One font configuration lives as long as the program and one render runs at
a time; style sheets are read once. A document reaches nothing but what it carries itself and our
own static files and the pictures that it was handed: no address, no file of this machine.
"""

import gc
import logging
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module
from pathlib import Path
from threading import Lock
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from app.documents.kit.pango import how_to_install
from app.errors import AppError
from app.files import STATIC
from app.orders import Paper

if TYPE_CHECKING:
    from app.documents.kit.merging import Merging

OUR_SCHEME = "bevelbook"
"""Addresses of our own static files inside a document, as "bevelbook:fonts/name.woff2"."""

_TYPES = {
    ".woff2": "font/woff2",
    ".ttf": "font/ttf",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
}
_ONE_AT_A_TIME = Lock()


MOST_PAGES = 400
"""More than this no document of ours has; a layout that goes on so far never ends."""


class Unending(AppError):
    """A layout that does not come to an end; the sentence is for the person who asked for it."""

    code = "layout-unending"

    def __init__(self) -> None:
        super().__init__(
            "This document cannot be laid out on this paper. Choose a larger paper in the settings "
            "and print again."
        )


class PdfUnavailable(AppError):
    """PDFs cannot be made on this machine until something is installed."""

    code = "pdf-unavailable"


@dataclass(frozen=True, slots=True, kw_only=True)
class StyleSheets:
    """Names of the style sheets of a document under static/css/print, in their order."""

    names: tuple[str, ...]


def sheets_for(paper: Paper, *names: str) -> StyleSheets:
    """Return the style sheets of a document on a paper: the common ones, its own, then those for A5."""
    narrow = (f"{names[0]}-a5",) if paper is Paper.A5 else ()
    return StyleSheets(names=("document", f"paper-{paper.value.lower()}", *names, *narrow))


@contextmanager
def _uncollected() -> Iterator[None]:
    """Let cycles lie while a document is laid out or written: looking for them among its many boxes finds none yet, and
    took a tenth of the time.
    """
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


@dataclass(frozen=True, slots=True)
class _Engine:
    """What lives as long as the program. styles: read style sheets by their names; fonts are known."""

    weasyprint: Any
    fonts: Any
    fetcher: Any
    bound: "_Bound"
    styles: dict[tuple[str, ...], Any] = field(default_factory=dict)

    def style(self, *names: str, more: str = "") -> Any:
        """Return style sheets parsed as one, with further rules behind them, each combination only once.

        One sheet is faster: every element is matched against each sheet that there is.
        """
        known = (*names, more)
        if known not in self.styles:
            folder = STATIC / "css" / "print"
            text = "\n".join((folder / f"{name}.css").read_text("utf-8") for name in names)
            self.styles[known] = self.weasyprint.CSS(
                # The browser reads the same sheet from its place under /static.
                string=f"{text.replace('../../', f'{OUR_SCHEME}:')}\n{more}",
                url_fetcher=self.fetcher,
                font_config=self.fonts,
            )
        return self.styles[known]


_PICTURE = f"{OUR_SCHEME}:pictures/"
_PICTURES: ContextVar[Mapping[str, bytes]] = ContextVar("pictures", default=MappingProxyType({}))


def made_with(pictures: Mapping[str, bytes], make: Callable[[], bytes]) -> bytes:
    """Make a document that shows pictures, by their ids; one that is not among them is left out of it."""
    before = _PICTURES.set(pictures)
    try:
        return make()
    finally:
        _PICTURES.reset(before)


def _handed(id: str) -> bytes:
    """Return a picture that the document was handed. Raises: ValueError for any other."""
    if id not in _PICTURES.get():
        raise ValueError("no document may use a picture that it was not handed")
    return _PICTURES.get()[id]


def picture_type(content: bytes) -> str:
    """Return the media type of a picture that is kept."""
    return _TYPES[".png" if content.startswith(b"\x89PNG") else ".jpg"]


def to_pdf(html: str, sheets: StyleSheets) -> bytes:
    """Make a PDF of one document. Raises: PdfUnavailable."""
    with _telling_pages():
        return joined([fit((PageSetting(html=html),), sheets)])


def to_fewest_pages(html: str, sheets: StyleSheets) -> bytes:
    """Make a PDF of one document of which a table is the most, set tighter where that saves a page. Raises: PdfUnavailable."""
    setting = (PageSetting(html=html),)
    with _telling_pages():
        made = fit(setting, sheets)
        if len(made.pages) > 1:
            tighter = fit(setting, StyleSheets(names=(*sheets.names, "tighter")))
            made = min(made, tighter, key=lambda each: len(each.pages))
        return joined([made])


@dataclass(frozen=True, slots=True, kw_only=True)
class PageSetting:
    """One way to set a document. pages: how many it is made for. style: rules beside those of its sheets, of which
    there are few, as they are kept once read.
    """

    html: str
    pages: int = 1
    style: str = ""


def fit(tries: Iterable[PageSetting], sheets: StyleSheets, *, most: int = MOST_PAGES) -> Any:
    """Return the first of several settings that takes no more pages than it is made for, else the last one
    of the fewest pages.

    tries: from the roomiest to the tightest; later ones are only asked for where those before did
    not fit. most: pages after which a setting is given up. Raises: PdfUnavailable, Unending.
    """
    with _ONE_AT_A_TIME, _uncollected():
        best = None
        unending = None
        for setting in tries:
            try:
                document = _rendered(setting, sheets, most)
            except Unending as error:
                unending = error
                continue
            if best is None or len(document.pages) <= len(best.pages):
                best = document
            if len(document.pages) <= setting.pages:
                break
    if best is None:
        raise unending or ValueError("a document needs at least one setting to try")
    return best


def joined(documents: Sequence[Any]) -> bytes:
    """Rendered documents as one PDF; title and language are those of the first."""
    return _written(documents, None)


def _written(documents: Sequence[Any], finisher: Callable[[Any, Any], None] | None) -> bytes:
    with _ONE_AT_A_TIME, _uncollected():
        pages = [page for document in documents for page in document.pages]
        pdf = documents[0].copy(pages).write_pdf(pdf_variant="pdf/ua-1", finisher=finisher)
    assert isinstance(pdf, bytes), "write_pdf without a target answers the file itself"
    return pdf


PAGES_AT_ONCE = 6
"""So many pages are written as one part; a longer document is made of such parts, in the memory of one. Source: ours."""

TOLD: ContextVar[Callable[[int, int], None] | None] = ContextVar("told", default=None)
"""Who is told how many pieces of a document are laid out, of how many; of one that is made of none how many pages, of 0."""


@contextmanager
def _telling_pages() -> Iterator[None]:
    """Tell each page of a document that is laid out meanwhile."""
    bound = _engine().bound
    bound.told = TOLD.get()
    try:
        yield
    finally:
        bound.told = None


def in_parts(documents: Iterable[Any], of: int) -> bytes:
    """Return rendered documents as one PDF, each laid out only when those before it are; as `joined`.

    of: how many there are.
    """
    from app.documents.kit.merging import Merging  # noqa: PLC0415 - pydyf comes with WeasyPrint

    told, merging = TOLD.get(), Merging()
    waiting: list[Any] = []
    whole = True
    for done, document in enumerate(documents, 1):
        waiting.append(document)
        if sum(len(each.pages) for each in waiting) >= PAGES_AT_ONCE and done < of:
            _hand_over(waiting, merging)
            waiting, whole = [], False
        if told is not None:
            told(done, of)
    if whole:
        return joined(waiting)
    _hand_over(waiting, merging)
    return merging.pdf()


def _hand_over(documents: Sequence[Any], merging: "Merging") -> None:
    """Give rendered documents to what they are merged in, unwritten."""

    def taken(_document: object, pdf: Any) -> None:
        merging.add(pdf)
        del pdf.objects[1:]  # what is left to be written here

    _written(documents, taken)


def prepare() -> None:
    """Have all in memory that the first document needs. Raises: PdfUnavailable."""
    _engine().style("fonts")


def _rendered(setting: PageSetting, sheets: StyleSheets, most: int) -> Any:
    engine = _engine()
    engine.bound.most = most
    source = engine.weasyprint.HTML(
        string=setting.html, url_fetcher=engine.fetcher, base_url=f"{OUR_SCHEME}:"
    )
    return source.render(
        font_config=engine.fonts,
        stylesheets=[engine.style("fonts"), engine.style(*sheets.names, more=setting.style)],
        pdf_variant="pdf/ua-1",
    )


@cache
def _engine() -> _Engine:
    """Return WeasyPrint with our fetcher. Raises: PdfUnavailable, with what to install."""
    try:
        weasyprint = import_module("weasyprint")
        fonts = import_module("weasyprint.text.fonts")
        urls = import_module("weasyprint.urls")
    except (ImportError, OSError) as missing:
        if isinstance(missing, OSError) and missing.errno is not None:
            raise  # a disk that is full or fails, not a library that is not there
        raise PdfUnavailable(
            f"PDFs cannot be made here yet: WeasyPrint does not find Pango. {how_to_install()}. "
            "Everything else works without it."
        ) from missing
    return _Engine(
        weasyprint=weasyprint,
        fonts=fonts.FontConfiguration(),
        fetcher=_fetcher_of(urls),
        bound=_bound_on_pages(),
    )


class _Bound(logging.Filter):
    """Ends a layout that has come to too many pages.

    WeasyPrint 70 has no bound of its own, and some floats that run over a page keep it laying out
    pages for ever. It tells its progress page by page, and that is where it can be stopped.
    """

    most = MOST_PAGES
    told: Callable[[int, int], None] | None = None

    def filter(self, record: logging.LogRecord) -> bool:
        """Stop at the page after the last that is allowed. Raises: Unending."""
        if "layout" in str(record.msg) and isinstance(record.args, tuple):
            pages = [number for number in record.args if isinstance(number, int)]
            if pages and pages[-1] > self.most:
                raise Unending
            if pages and self.told is not None:
                self.told(pages[-1], 0)
        return True


def _bound_on_pages() -> _Bound:
    """Limit the pages by listening to the progress that WeasyPrint logs; nothing of that is printed."""
    bound = _Bound()
    progress = logging.getLogger("weasyprint.progress")
    progress.setLevel(logging.INFO)
    progress.propagate = False
    progress.addFilter(bound)
    return bound


def _fetcher_of(urls: Any) -> Any:
    """Return a fetcher that opens data addresses, our own static files and the pictures that a document was handed, and
    refuses the rest.
    """

    class OnlyOurs(urls.URLFetcher):  # type: ignore[misc]
        def __init__(self) -> None:
            super().__init__(allowed_protocols=("data",), allow_redirects=False)

        def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
            if url.startswith(_PICTURE):
                content = _handed(url.removeprefix(_PICTURE))
                return urls.URLFetcherResponse(
                    url, content, {"Content-Type": picture_type(content)}
                )
            if url.lower().startswith(f"{OUR_SCHEME}:"):
                path = static_file(url)
                return urls.URLFetcherResponse(
                    url, path.read_bytes(), {"Content-Type": _TYPES[path.suffix]}
                )
            return super().fetch(url, headers)

    return OnlyOurs()


def static_file(url: str) -> Path:
    """Return the file that an address of ours names.

    Raises: ValueError for one that leaves the static folder or is of a kind no document needs.
    """
    path = (STATIC / url.split(":", 1)[1].split("?", maxsplit=1)[0]).resolve()
    if not path.is_relative_to(STATIC.resolve()) or path.suffix not in _TYPES:
        raise ValueError(f"no document may use {url}")
    return path
