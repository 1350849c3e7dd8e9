"""A window that is measured at the bench: the form, and what is told of it (B12).

Nothing of it is kept: it is a question. What follows from it is kept where a part is noted as spoiled,
whose note it fills in.
"""

from dataclasses import dataclass, replace

from app.bench import CureKind, Edge, MeasuredWindow, Slip, SlipJob, slip_of
from app.errors import Fault, Invalid
from app.forms.kinds import ABOVE_ZERO, FieldKind, Options, optional
from app.forms.reader import Reader
from app.forms.table import Field, Form, Typed
from app.framing import Notice
from app.lengths import Unit, show
from app.orders import Shop
from app.services.bench import AtBench
from app.services.spoiling import PartAtBench
from app.web.kit.fields import Fields, FormView, OfShop

ROOT = "measured"
"""The path beneath which the form stands."""

_MOST_READ = 200


@dataclass(frozen=True, slots=True)
class OfWindows(OfShop):
    """The windows that a form is about, and its shop; lengths are in the ticket's unit."""

    job: SlipJob

    @property
    def unit(self) -> Unit:
        """The unit of the ticket, in which the work is measured."""
        return self.job.unit

    @property
    def windows(self) -> Options:
        """(value, what it is called) of every window, mat by mat."""
        return tuple(
            (f"{mat.layer}/{window.name}", _called(self.job, mat.layer, window.name))
            for mat in self.job.mats
            for window in mat.windows
        )


def _called(job: SlipJob, layer: int, window: str) -> str:
    """Return what tells a window from the others: "mat 2", "window A", "mat 2, window A"."""
    several = any(len(mat.windows) > 1 for mat in job.mats)
    mat = job.mat(layer) if len(job.mats) > 1 or not several else ""
    return ", ".join(each for each in (mat, f"window {window}" if several else "") if each)


def _window(read: Reader, path: str, _usual: object) -> tuple[int, str]:
    """Read layer and name of a window; whether the piece has it is known where it is measured."""
    layer, _, name = read.text(path, _MOST_READ).partition("/")
    return (int(layer) if layer.isdecimal() and len(layer) < 3 else 0, name)


def _choices(known: OfWindows) -> Options:
    return (("", "Choose the window"), *known.windows)


def _asked(edge: str) -> Field[OfWindows]:
    """Return the field of a border, by its name on the back; the one window's border stands in it."""

    def hint(known: OfWindows) -> str:
        if len(known.windows) > 1:
            return ""
        (mat,) = known.job.mats
        return show(mat.border(mat.windows[0], Edge(edge).mirrored), known.unit)

    return Field(
        edge,
        f"{edge.capitalize()} border",
        optional(ABOVE_ZERO),
        hint,
        beside=edge in ("right", "bottom"),
    )


def _size(what: str) -> Field[OfWindows]:
    def hint(known: OfWindows) -> str:
        if len(known.windows) > 1:
            return ""
        return show(getattr(known.job.mats[0].windows[0], what), known.unit)

    return Field(what, f"Window, {what}", optional(ABOVE_ZERO), hint, beside=what == "height")


MEASURED = Form[OfWindows](
    Field(
        "window",
        "Which window",
        FieldKind(
            control="select", read=_window, text=lambda value, _known: "/".join(map(str, value))
        ),
        needed=True,
        options=_choices,
        wish="Choose the window that was measured.",
        part="window",
    ),
    *(_asked(edge) for edge in ("left", "right", "top", "bottom")),
    _size("width"),
    _size("height"),
).under(ROOT)


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipFound:
    """What was measured, told.

    called: the window. verdict: the first sentence. test_cut: the address of the cutter's test cut. spoil: (key of the
    part, note) where the mat is to be cut anew and can be noted as spoiled here; else None. of_one: whether others
    that are alike are to be measured for themselves.
    """

    called: str
    verdict: str
    holds: bool
    effects: tuple[Notice, ...]
    cure: str
    hint: str
    test_cut: str
    spoil: tuple[str, str] | None
    of_one: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipView:
    """The form, and what was found.

    only: the value of the window where the piece has a single one, which nobody has to choose.
    """

    form: FormView[OfWindows]
    only: str
    unit_name: str
    found: SlipFound | None
    unfolded: bool


def _is_measured(at: AtBench) -> bool:
    """Tell whether there is something to measure: mats of a piece that is worked on."""
    return at.tickable and bool(at.bench.mats)


def slip_job(at: AtBench, shop: Shop) -> SlipJob:
    """Return the piece as it is measured."""
    return SlipJob(
        cut=at.found.cut,
        mats=at.bench.mats,
        cutter=at.bench.cutter,
        mat_word=shop.mat_word.value,
    )


def read_slip(at: AtBench, shop: Shop, typed: Typed) -> Slip:
    """Return what a posted measure comes to. Raises: Invalid with every fault, at the form's fields."""
    if not _is_measured(at):
        raise Invalid.at(
            "", "Nothing of this piece is measured now: it has no mats, or nobody works on it."
        )
    known = OfWindows(shop, slip_job(at, shop))
    read = MEASURED.reader(typed, known)
    values = MEASURED.values(read, known)
    if not MEASURED.filled(read):
        read.faults.add(
            f"{ROOT}.left",
            "Type what was measured: a border, or the window’s width or height.",
        )
    read.faults.finish()
    layer, window = values["window"]
    borders = {Edge(name).mirrored: values[name] for name in ("left", "right", "top", "bottom")}
    measured = MeasuredWindow(
        layer=layer,
        window=window,
        borders={edge: length for edge, length in borders.items() if length is not None},
        width=values["width"],
        height=values["height"],
    )
    try:
        return slip_of(known.job, measured)
    except Invalid as invalid:
        raise Invalid(map(_at_the_form, invalid.faults)) from invalid


def _at_the_form(fault: Fault) -> Fault:
    """Move a fault of an edge to its field, where edges are named as they lie on the back."""
    edges = {edge.value: edge.mirrored.value for edge in Edge}
    return replace(fault, path=f"{ROOT}.{edges.get(fault.path, fault.path)}")


def slip_view(
    at: AtBench, shop: Shop, typed: Typed, faults: tuple[Fault, ...], found: SlipFound | None
) -> SlipView | None:
    """Return the part of the bench page that is about measuring; None for a piece that is not worked on or has no mats."""
    if not _is_measured(at):
        return None
    known = OfWindows(shop, slip_job(at, shop))
    windows = known.windows
    own = tuple(fault for fault in faults if fault.path.startswith(f"{ROOT}."))
    return SlipView(
        form=FormView(MEASURED, known, Fields(typed, own)),
        only=windows[0][0] if len(windows) == 1 else "",
        unit_name="inches" if known.unit is Unit.IN else "mm",
        found=found,
        unfolded=bool(own) or found is not None,
    )


def slip_found(at: AtBench, shop: Shop, slip: Slip, parts: tuple[PartAtBench, ...]) -> SlipFound:
    """Return what is told of a measured window. parts: of the piece, of which its mat can be noted as spoiled."""
    job = slip_job(at, shop)
    return SlipFound(
        called=_called(job, slip.layer, slip.window),
        verdict=_verdict(slip),
        holds=slip.holds,
        effects=slip.effects,
        cure=slip.cure.message,
        hint=slip.hint.message,
        test_cut="/settings/cutters/1/test" if shop.cutters else "/settings/cutters",
        spoil=_spoil(slip, parts),
        of_one=at.piece.copies > 1,
    )


def _verdict(slip: Slip) -> str:
    if slip.cure.kind is CureKind.NOTHING:
        return "It came out as it was asked for."
    return "The piece still holds it." if slip.holds else "The piece does not hold it as it is."


def _spoil(slip: Slip, parts: tuple[PartAtBench, ...]) -> tuple[str, str] | None:
    """Return the mat and its note where it is to be cut anew; of several alike it is chosen which one."""
    if slip.cure.kind not in (CureKind.ANEW, CureKind.LEAVE):
        return None
    mats = [each for each in parts if each.key == f"mat-{slip.layer}" and not each.spoiled]
    return (mats[0].key, slip.summary) if len(mats) == 1 else None
