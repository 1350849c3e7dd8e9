"""From what was typed on the quote page to a spec with its materials.

Pure reading: materials come from a function that is passed in, defaults from the shop. Every fault
is gathered and stands at the field that was typed.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from app.errors import Invalid
from app.framing import (
    Edges,
    Frame,
    Mat,
    ObjectInBox,
    Panel,
    Point,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
)
from app.framing.given_frame import GivenFrame
from app.framing.notices.artwork_weight import Support
from app.framing.spec import Core
from app.lengths import ZERO, Length, Size
from app.orders.box_materials import depth_of_spacer
from app.orders.order import ArtworkKind, ArtworkRecord
from app.orders.quoting.choices import FrameSource, Sizing
from app.orders.quoting.fillet import fillet_material, read_fillet
from app.orders.quoting.form import MOST_MATS, MOST_ROWS, OBJECT_HEIGHT, PHOTO
from app.orders.quoting.frame_fields import MOST_FRAMES
from app.orders.quoting.given_frame import given_frame_of, ready_made_frame
from app.orders.quoting.piece_typed import PieceTyped, is_object
from app.orders.quoting.reader import NEEDED, FindMaterial, PieceReader
from app.orders.quoting.windows import AskedWindows, at_their_places, first_corner, read_windows
from app.orders.shop import Shop
from app.pricing import Adjustments, Chosen, ChosenCount, Material


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRequest:
    """A piece as it was asked for, read but not yet worked out."""

    artwork: ArtworkRecord
    spec: Spec
    chosen: Chosen
    adjustments: Adjustments


def read_piece(
    typed: Mapping[str, str],
    shop: Shop,
    find: FindMaterial,
    *,
    tax_free: bool = False,
    longest: Length | None = None,
) -> PieceRequest:
    """Return the piece that was typed.

    longest: as of `PieceReader`. Raises: Invalid with a fault for every field that cannot be read, and for every
    size that is to be asked about, at its path.
    """
    read = PieceReader(PieceTyped(shop, typed), find, longest)
    artwork = artwork_of(read)
    presentation = read.choice("presentation", Presentation, Presentation.WINDOW)
    read.choice(
        "frame.source", FrameSource, FrameSource.MADE
    )  # what else is typed there is refused
    chosen = _chosen(read, presentation, shop.mat_word.value)
    given = given_frame_of(read, chosen.ready_made)
    _needs_a_mat(read, presentation, shop.mat_word.value)
    adjustments = _adjustments(read, shop, tax_free=tax_free)
    size = _size(read, presentation, given) or Size(width=ZERO, height=ZERO)
    spec = _spec(read, presentation, size, chosen, given)
    if read.faults:
        # What two parts of a spec follow from is read for each; its fault is one.
        raise Invalid(dict.fromkeys(read.faults.faults))
    return PieceRequest(artwork=artwork, spec=spec, chosen=chosen, adjustments=adjustments)


def _size(read: PieceReader, presentation: Presentation, given: GivenFrame | None) -> Size | None:
    """Return the artwork's size; where only window A has one, that; what nobody measured in a frame fills it."""
    if presentation is Presentation.AS_IT_CAME and not read.given("artwork.size"):
        if given is None and not read.known.source.given:
            read.faults.add(
                "frame.source",
                "What goes back as it came is in a frame that is given: say which, ready-made or the customer’s own.",
                NEEDED,
            )
        return None if given is None else given.package
    if not read.given("artwork.size") and read.given("windows.0.size"):
        return read.said_size("windows.0.size", "size of window A")
    return read.said_size("artwork.size", "size of the artwork")


def _needs_a_mat(read: PieceReader, presentation: Presentation, mat: str) -> None:
    mats = (read.given(f"mats.{row}.material") for row in range(MOST_MATS))
    if presentation is Presentation.WINDOW and not any(mats):
        read.faults.add(
            "mats.0.material", f"Choose a {mat}, or show the artwork close in the frame.", NEEDED
        )


def artwork_of(read: PieceReader) -> ArtworkRecord:
    """Return the artwork that was typed; its faults go to the reader's, and those of the note to the piece."""
    value = read.at("artwork.declared_value") if read.given("artwork.declared_value") else None
    weight = read.at("artwork.weight")
    read.at("note")
    made = read.take(
        lambda: ArtworkRecord(
            title=read.text("artwork.title"),
            kind=read.choice("artwork.kind", ArtworkKind, ArtworkKind.OTHER),
            condition=read.text("artwork.condition"),
            declared_value=value,
            place=read.text("artwork.place"),
            support=read.choice("artwork.support", Support, None),
            weight_kg=weight,
            photo=read.text(PHOTO),
        )
    )
    return made or ArtworkRecord()


def _chosen(read: PieceReader, presentation: Presentation, mat: str) -> Chosen:
    made = read.known.source is FrameSource.MADE
    mats: tuple[Material, ...] = ()
    if presentation.matted:
        mats = _rows(read, "mats", MOST_MATS, mat)
    return Chosen(
        frames=_rows(read, "frames", MOST_FRAMES, "frame") if made else (),
        ready_made=ready_made_frame(read),
        mats=mats,
        glazing=read.at("glazing.material"),
        mount_board=read.at("mount_board.material"),
        backing=read.at("backing.material"),
        spacer=read.at("spacer.material"),
        hardware=_counted(read, "hardware"),
        extras=_counted(read, "extras"),
        fillet=fillet_material(read) if presentation.matted else None,
    )


def _rows(read: PieceReader, name: str, most: int, what: str) -> tuple[Material, ...]:
    """Materials of numbered rows; a gap between them is a fault, since the order counts."""
    materials = []
    for row in range(most):
        path = f"{name}.{row}.material"
        if not read.given(path):
            if any(read.given(f"{name}.{later}.material") for later in range(row + 1, most)):
                read.faults.add(
                    path,
                    f"The {what} {row + 1} is empty, but one after it is given; fill it first.",
                )
            break
        material = read.at(path)
        if material is not None:
            materials.append(material)
    return tuple(materials)


def _counted(read: PieceReader, name: str) -> tuple[ChosenCount, ...]:
    counted = []
    for row in range(MOST_ROWS):
        material = read.at(f"{name}.{row}.material")
        if material is not None:
            counted.append(ChosenCount(material=material, count=read.at(f"{name}.{row}.count")))
    return tuple(counted)


def _adjustments(read: PieceReader, shop: Shop, *, tax_free: bool) -> Adjustments:
    discount = read.percent("discount")
    rush = shop.promise.rush if read.given("rush") else Adjustments().rush
    copies = read.at("copies")
    return Adjustments(discount=discount, rush=rush, tax_free=tax_free, copies=copies)


def _spec(
    read: PieceReader,
    presentation: Presentation,
    artwork: Size,
    chosen: Chosen,
    given: GivenFrame | None,
) -> Spec:
    usual = read.known.usual
    tray = presentation is Presentation.CANVAS_FLOAT
    sizing = read.choice("sizing", Sizing, Sizing.BORDERS)
    sized = not read.known.canvas and not read.known.source.given
    by_package = sized and sizing in (Sizing.PACKAGE, Sizing.BOTH)
    borders_follow = sizing in (Sizing.PACKAGE, Sizing.OUTSIDE) or read.known.source.given
    by_borders = bool(chosen.mats) and (sizing is Sizing.BOTH or not borders_follow)
    windows = read_windows(
        read,
        artwork,
        floats=presentation is Presentation.FLOAT,
        gaps_follow=sizing is Sizing.BOTH,
    )
    as_it_came = presentation is Presentation.AS_IT_CAME
    stands = is_object(read.known.typed) and not as_it_came
    boxed = ObjectInBox(clearance=usual.object_clearance) if stands else None
    spec = Spec(
        unit=read.unit,
        artwork=artwork,
        artwork_thickness=read.length(
            "artwork.thickness", ZERO, like=OBJECT_HEIGHT if boxed else None
        ),
        presentation=presentation,
        overlap=read.at("overlap"),
        gap=read.at("gap"),
        mats=_mats(read, chosen.mats),
        borders=_borders(read) if by_borders else None,
        package=read.said_size("package.size", "glass size") if by_package else None,
        outside=read.said_size("outside.size", "outside of the frame")
        if sized and sizing is Sizing.OUTSIDE
        else None,
        weighting=ZERO if by_borders or not borders_follow else read.at("weighting"),
        under=UnderMats(way=usual.under_way, trim=usual.under_trim),
        smallest_border=usual.smallest_border,
        least_bridge=usual.least_bridge,
        frames=_frames(read, chosen.frames, tray=tray),
        glazing=_panel(chosen.glazing, usual.glazing_trim),
        spacer=_spacer(read, chosen),
        mount_board=_panel(chosen.mount_board, usual.backing_trim),
        backing=_panel(chosen.backing, usual.backing_trim),
        openings=windows.openings,
        arrangement=windows.arrangement,
        groove=windows.groove,
        fillet=read_fillet(read, chosen.fillet) if presentation.matted else None,
        boxed=boxed,
        given_frame=given,
    )
    return _placed(read, spec, windows) if windows.places else spec


def _placed(read: PieceReader, spec: Spec, windows: AskedWindows) -> Spec:
    """Return the spec with its windows in free places, which say what blank borders are."""
    openings = at_their_places(spec, windows.places)
    if not openings:
        return spec
    borders = spec.borders and _borders(read, first_corner(openings))
    return replace(spec, openings=openings, arrangement=None, borders=borders)


def _mats(read: PieceReader, materials: tuple[Material, ...]) -> tuple[Mat, ...]:
    mats = []
    for row, material in enumerate(materials):
        reveal = read.at(f"mats.{row}.reveal") if row else None
        core = read.choice(f"mats.{row}.core", Core, Core.WHITE)
        mats.append(Mat(thickness=_thickness(material), reveal=reveal, core=core))
    return tuple(mats)


def _thickness(material: Material) -> Length:
    return material.sheet.thickness if material.sheet else ZERO


def _borders(read: PieceReader, placed: Point | None = None) -> Edges:
    """Return the four borders; a blank one is as the left, the bottom as the top plus the weighting.

    placed: the left-top corner of windows in free places, for a left or a top border left blank.
    """
    size = read.raw("artwork.size") or read.raw("windows.0.size")
    for side in ("left", "right", "top", "bottom"):
        read.ask_of_border(f"borders.{side}", size)
    left = read.length("borders.left", placed.x) if placed else read.at("borders.left")
    top = read.length("borders.top", placed.y if placed else left)
    weighting = read.at("weighting")
    return Edges(
        left=left,
        right=read.length("borders.right", left),
        top=top,
        bottom=read.length("borders.bottom", top + weighting),
    )


def _frames(read: PieceReader, materials: tuple[Material, ...], *, tray: bool) -> tuple[Frame, ...]:
    """Return the profiles as used; a tray, which is the inner frame, has no lip and no allowance (G17)."""
    allowance = read.at("allowance")
    frames = []
    for number, profile in enumerate(m.profile for m in materials if m.profile):
        bare = tray and number == 0
        frames.append(
            Frame(
                face=profile.face,
                lip=ZERO if bare else profile.lip,
                rebate_depth=profile.rebate_depth,
                allowance=ZERO if bare else allowance,
            )
        )
    return tuple(frames)


def _panel(material: Material | None, trim: Length) -> Panel | None:
    return None if material is None else Panel(thickness=_thickness(material), trim=trim)


def _spacer(read: PieceReader, chosen: Chosen) -> Spacer | None:
    """Return the spacers; a blank depth is that of the material, where the price book knows it."""
    own = depth_of_spacer(chosen.spacer) if chosen.spacer else None
    depth = read.length("spacer.depth", own or ZERO, zero_ok=chosen.spacer is None)
    if not depth and chosen.spacer is None:
        return None
    if not read.given("spacer.depth") and own is None:
        read.faults.add(
            "spacer.depth",
            "Spacers were chosen, and the price book does not say how deep these are; type it, as "
            f"{read.such_as('spacer.depth')}.",
            NEEDED,
        )
    if chosen.spacer is None and not read.given("spacer.material"):
        read.faults.add(
            "spacer.material", "A depth of spacers is given; choose what they are cut from."
        )
    return Spacer(depth=depth, width=read.known.usual.spacer_width)
