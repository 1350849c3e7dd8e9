"""What an agreed piece comes to at the bench: cut sizes, depth, weight, notices and cautions.

Worked out again from what was frozen, never from a later price book or setting.
"""

from dataclasses import dataclass

from app.framing import Dimensions, Notice, Presentation
from app.framing.care import LIFT_ABOVE_KG, CareFacts, Work, WorkFacts, care_notices, cautions_for
from app.framing.weight import Hanging, Masses, PieceWeight, hanging, hanging_notices, weigh
from app.orders.order import Agreed, ArtworkKind, ArtworkRecord
from app.orders.worked import as_cut, worked_out
from app.pricing import Chosen, Material, Trait

ON_PAPER = frozenset(
    {
        ArtworkKind.WATERCOLOUR,
        ArtworkKind.PRINT,
        ArtworkKind.PHOTOGRAPH,
        ArtworkKind.DRAWING,
        ArtworkKind.PASTEL,
        ArtworkKind.DOCUMENT,
    }
)
ARTWORK_AND_FIXINGS_GRAMS = 150
"""What artwork, points, tape and rings add. Source: from memory, a default."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """exact: by the rules; cut: in the shop's steps. hanging is None without a frame."""

    exact: Dimensions
    cut: Dimensions
    weight: PieceWeight
    hanging: Hanging | None
    notices: tuple[Notice, ...]
    cautions: tuple[tuple[Work, str], ...]


def findings(artwork: ArtworkRecord, agreed: Agreed) -> Findings:
    """Everything that pages and tickets say about a piece beside its price."""
    exact = worked_out(agreed.spec)
    cut = as_cut(agreed.spec, agreed.steps)
    weight = weigh(exact, masses_of(agreed.chosen))
    framed = bool(exact.frames)
    return Findings(
        exact=exact,
        cut=cut,
        weight=weight,
        hanging=hanging(exact.outside, agreed.spec.frames[-1].face, weight.kg) if framed else None,
        notices=(
            *cut.notices,
            *(hanging_notices(exact, weight.kg) if framed else ()),
            *_weight_notices(agreed.chosen),
            *care_notices(care_facts(artwork, agreed)),
        ),
        cautions=cautions_for(_work_facts(agreed, exact, weight)),
    )


def work_facts(agreed: Agreed, found: Findings) -> WorkFacts:
    """Which steps of the work a piece has at which someone can be hurt."""
    return _work_facts(agreed, found.exact, found.weight)


def _work_facts(agreed: Agreed, exact: Dimensions, weight: PieceWeight) -> WorkFacts:
    return WorkFacts(
        mats=bool(exact.layers),
        glass=_is(agreed.chosen.glazing, Trait.GLASS),
        acrylic=_is(agreed.chosen.glazing, Trait.ACRYLIC),
        frame=bool(exact.frames),
        heavy=weight.kg > LIFT_ABOVE_KG,
        fillet=bool(exact.fillets),
        boxed=agreed.spec.boxed is not None,
    )


def _is(material: Material | None, trait: Trait) -> bool:
    return bool(material and material.sheet and trait in material.sheet.traits)


def masses_of(chosen: Chosen) -> Masses:
    """The weights by area and by length of the chosen materials."""
    return Masses(
        mats=tuple(_per_m2(mat) for mat in chosen.mats),
        frames=tuple(_per_metre(moulding) for moulding in chosen.frames),
        glazing=_per_m2(chosen.glazing),
        mount_board=_per_m2(chosen.mount_board),
        backing=_per_m2(chosen.backing),
        fixed_grams=ARTWORK_AND_FIXINGS_GRAMS,
        fillet=_per_metre(chosen.fillet),
    )


def _per_m2(material: Material | None) -> int:
    return material.sheet.grams_per_m2 if material and material.sheet else 0


def _per_metre(material: Material | None) -> int:
    return material.profile.grams_per_metre if material and material.profile else 0


def _weight_notices(chosen: Chosen) -> tuple[Notice, ...]:
    """What weighs nothing only because the price book does not say what it weighs (D2)."""
    sheets = (*chosen.mats, chosen.glazing, chosen.mount_board, chosen.backing)
    unweighed = [sheet.name for sheet in sheets if sheet and not _per_m2(sheet)]
    mouldings = (*chosen.frames, chosen.fillet)
    unweighed += [m.name for m in mouldings if m and not _per_metre(m)]
    if not unweighed:
        return ()
    names = ", ".join(f"“{name}”" for name in dict.fromkeys(unweighed))
    return (
        Notice(
            code="weight-not-known",
            message=f"It weighs more than is said: the price book has no weight for {names}.",
        ),
    )


def care_facts(artwork: ArtworkRecord, agreed: Agreed) -> CareFacts:
    """What care asks about this artwork behind these materials."""
    chosen, spec = agreed.chosen, agreed.spec
    boards = [(f"“{mat.name}”", _is(mat, Trait.ACID_FREE)) for mat in chosen.mats]
    next_to_artwork = chosen.mount_board or chosen.backing
    if next_to_artwork is not None:
        boards.append((f"“{next_to_artwork.name}”", _is(next_to_artwork, Trait.ACID_FREE)))
    on_canvas = spec.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)
    return CareFacts(
        on_paper=artwork.kind in ON_PAPER and not on_canvas,
        loose_surface=artwork.kind is ArtworkKind.PASTEL,
        glazed=chosen.glazing is not None,
        acrylic=_is(chosen.glazing, Trait.ACRYLIC),
        uv_filter=_is(chosen.glazing, Trait.UV_FILTER),
        kept_clear=bool(chosen.mats) or spec.spacer is not None,
        boards=tuple(boards),
        adhesive=any("adhesive" in extra.material.tags for extra in chosen.extras),
        fillet=chosen.fillet is not None,
    )
