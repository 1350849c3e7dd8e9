"""What an agreed piece comes to at the bench: cut sizes, depth, weight, notices and cautions.

Sizes are worked out again from what was frozen, never from a later price book or setting. How it may
hang is not agreed with anyone: it follows the shop's rules and the loads of its hanging parts as they
are today, as the bench follows the cutter of today.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from app.framing import Dimensions, Notice, Presentation
from app.framing.notices.artwork_weight import Support
from app.framing.notices.care import CareFacts, Work, WorkFacts, care_notices, cautions_for
from app.framing.notices.weight import (
    Hanging,
    PieceWeight,
    hanging,
    hanging_notices,
    weigh,
    without_wire,
)
from app.lengths import ZERO
from app.orders.artwork_weight import ArtworkWeight, artwork_weight_notices, weigh_artwork
from app.orders.canvas_clips import clip_notices
from app.orders.dimensions_memo import as_cut, worked_out
from app.orders.hanging_parts import (
    NO_HARDWARE,
    Hardware,
    WeakPart,
    bearing_parts,
    bears_of,
    hanging_part_notices,
    loads_not_known,
    weak_parts,
)
from app.orders.order import Agreed, ArtworkKind, ArtworkRecord
from app.orders.piece_weight import masses_of, unweighed
from app.orders.ready_cut import ready_boards, ready_mats
from app.orders.shop import Shop
from app.pricing import Bears, Material, Trait

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
PAPER = frozenset({Support.PAPER, Support.BOARD})
"""What a work on paper is made of; the same picture on metal or wood needs no glazing."""


OWN_FRAME_WEIGHS = Notice(
    code="own-frame-not-weighed",
    message="The customer's own frame is not weighed, so weight and loads are “at least”: weigh the piece "
    "when it is closed, before hanging parts are chosen.",
)
"""Source: D2; nobody knows what a frame weighs that is brought in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """exact: by the rules; cut: in the shop's steps. hanging is None without a frame.

    hanging: how it may hang; hung: the same by the parts that are chosen, without a wire where none of them is one.
    loads_not_known, too_weak: of the parts that it hangs by.
    """

    exact: Dimensions
    cut: Dimensions
    weight: PieceWeight
    artwork: ArtworkWeight
    hanging: Hanging | None
    notices: tuple[Notice, ...]
    cautions: tuple[tuple[Work, str], ...]
    facts: WorkFacts
    loads_not_known: tuple[Material, ...]
    hung: Hanging | None = None
    too_weak: tuple[WeakPart, ...] = ()


def findings(
    artwork: ArtworkRecord, agreed: Agreed, shop: Shop, hardware: Hardware = NO_HARDWARE
) -> Findings:
    """Return everything that pages and tickets say about a piece beside its price.

    hardware: of the price book today; the load of a chosen part that is not in it is the one that it
    was agreed with.
    """
    exact = worked_out(agreed.spec)
    cut = as_cut(agreed.spec, agreed.steps)
    its_own = weigh_artwork(artwork, exact, shop.weights)
    masses = masses_of(agreed.chosen, its_own.kg, shop.weights.fixings_grams)
    no_weight = unweighed(agreed.chosen)
    own_frame = bool(exact.spec.given_frame and exact.spec.given_frame.own)
    less_known = bool(no_weight) or its_own.at_least or own_frame
    weight = weigh(exact, masses, at_least=less_known)
    parts = bearing_parts(agreed.chosen.hardware, hardware)
    may_hang = _hanging(exact, weight, shop)
    hung = _hung(may_hang, weight, shop, parts)
    unit = agreed.spec.unit
    care = care_facts(artwork, agreed)
    facts = replace(
        _work_facts(agreed, exact, heavy=weight.kg > shop.weights.hanging.lift_above_kg),
        hinged=care.on_paper and not care.adhesive,
        noted=bool(artwork.condition.strip()),
        panel=_is_panel(artwork.support or its_own.support),
        ready_mats=ready_mats(agreed, cut),
        ready_boards=ready_boards(agreed, cut),
    )
    return Findings(
        exact=exact,
        cut=cut,
        weight=weight,
        artwork=its_own,
        hanging=may_hang,
        hung=hung,
        notices=(
            *cut.notices,
            *clip_notices(agreed.chosen.hardware, exact, unit),
            *artwork_weight_notices(its_own, weight, unit),
            *(hanging_notices(exact, weight, shop.weights.hanging) if hung else ()),
            *(hanging_part_notices(hung, parts, hardware, unit) if hung else ()),
            *_weight_notices(no_weight),
            *((OWN_FRAME_WEIGHS,) if own_frame else ()),
            *care_notices(care),
        ),
        cautions=cautions_for(facts),
        facts=facts,
        loads_not_known=loads_not_known(parts),
        too_weak=weak_parts(hung, parts, hardware) if hung else (),
    )


def _work_facts(agreed: Agreed, exact: Dimensions, *, heavy: bool) -> WorkFacts:
    """Tell which steps of the work a piece has at which someone can be hurt."""
    return WorkFacts(
        mats=bool(exact.layers),
        glass=_is(agreed.chosen.glazing, Trait.GLASS),
        acrylic=_is(agreed.chosen.glazing, Trait.ACRYLIC),
        frame=bool(exact.frames),
        heavy=heavy,
        fillet=bool(exact.fillets),
        boxed=agreed.spec.boxed is not None,
        apart=bool(exact.spec.given_frame and exact.spec.given_frame.own),
        fitted=exact.spec.given_frame is not None,
        screwed=exact.spec.presentation is Presentation.CANVAS_FLOAT,
    )


def _is_panel(support: Support | None) -> bool:
    return support is not None and support.is_panel


def _is(material: Material | None, trait: Trait) -> bool:
    return bool(material and material.sheet and trait in material.sheet.traits)


def _hung(
    asked: Hanging | None, weight: PieceWeight, shop: Shop, parts: Sequence[Material]
) -> Hanging | None:
    """Return what is asked of the parts that are chosen: straps without a wire carry no pull of one (D3, D4)."""
    if asked is None or any(bears_of(part) is Bears.WIRE for part in parts):
        return asked
    return replace(
        without_wire(asked, weight.kg, shop.weights.hanging),
        unchosen=not parts,
    )


def _hanging(exact: Dimensions, weight: PieceWeight, shop: Shop) -> Hanging | None:
    """Return what is asked of the hanging parts of a framed piece."""
    if not exact.surrounds:
        return None
    given, rules = exact.spec.given_frame, shop.weights.hanging
    face = exact.spec.frames[-1].face if given is None else given.face or ZERO
    return hanging(exact.outside, face, weight.kg, rules, at_least=weight.at_least)


def _weight_notices(no_weight: list[str]) -> tuple[Notice, ...]:
    if not no_weight:
        return ()
    names = ", ".join(f"“{name}”" for name in dict.fromkeys(no_weight))
    return (
        Notice(
            code="weight-not-known",
            message=f"Weight incomplete: no weight entered for {names}.",
        ),
    )


def is_on_paper(kind: str, support: str | None, presentation: str) -> bool:
    """Tell whether an artwork is a work on paper or a photograph. support: what it is made of; None or "" where nobody said."""
    on_canvas = presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)
    return kind in ON_PAPER and not on_canvas and (not support or support in PAPER)


def is_acid_free(board: Material) -> bool:
    """Tell whether a board may lie beside a work on paper for long."""
    return _is(board, Trait.ACID_FREE)


def care_facts(artwork: ArtworkRecord, agreed: Agreed) -> CareFacts:
    """Return what care asks about this artwork behind these materials."""
    chosen, spec = agreed.chosen, agreed.spec
    boards = [(f"“{mat.name}”", is_acid_free(mat)) for mat in chosen.mats]
    next_to_artwork = chosen.mount_board or chosen.backing
    if next_to_artwork is not None:
        boards.append((f"“{next_to_artwork.name}”", is_acid_free(next_to_artwork)))
    as_it_came = spec.presentation is Presentation.AS_IT_CAME
    return CareFacts(
        on_paper=is_on_paper(artwork.kind, artwork.support, spec.presentation),
        loose_surface=artwork.kind is ArtworkKind.PASTEL,
        glazed=chosen.glazing is not None or as_it_came,
        acrylic=_is(chosen.glazing, Trait.ACRYLIC),
        uv_filter=_is(chosen.glazing, Trait.UV_FILTER) or (as_it_came and chosen.glazing is None),
        kept_clear=bool(chosen.mats) or spec.spacer is not None or as_it_came,
        boards=tuple(boards),
        adhesive=any("adhesive" in extra.material.tags for extra in chosen.extras),
        fillet=chosen.fillet is not None,
    )
