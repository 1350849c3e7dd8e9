"""The examples of the rules of cutting plans, worked."""

from fractions import Fraction

from app.cutting import Stick, StickPart, StickProblem
from app.cutting.sticks.simple import simple_stick_plan
from app.handbook.worked.figures import Figures, Given
from app.pricing.rules import loss_at_saw


def mitre(given: Given) -> Figures:
    """C1."""
    kerf = given.length("3", "1/8")
    return {"kerf": given.say(kerf), "loss": given.say(loss_at_saw(kerf))}


def offcuts_first(given: Given) -> Figures:
    """C3."""
    offcut, rail, stick = (
        given.length("1100", "44"),
        given.length("500", "20"),
        given.length("3000", "118"),
    )
    plan = simple_stick_plan(
        StickProblem(
            unit=given.unit,
            stock=(
                Stick(id="offcut", length=offcut, copies=1, cost=Fraction(0)),
                Stick(id="new", length=stick),
            ),
            parts=(StickPart(id="rail", length=rail, copies=2),),
            kerf=given.length("8.5", "11/32"),
        )
    )
    opened = plan.opened.get("new", 0)
    return {"offcut": given.say(offcut), "rail": given.say(rail), "opened": str(opened)}


def fallout(given: Given) -> Figures:
    """C5."""
    piece = given.worked()
    return {
        "window": given.say(piece.windows[0].size),
        "fallout": given.say(piece.fallouts[0].sound),
    }


def bound(given: Given) -> Figures:
    """C6."""
    rail, stick, count = given.length("1000", "40"), given.length("2100", "84"), 7
    asked = StickProblem(
        unit=given.unit,
        stock=(Stick(id="new", length=stick),),
        parts=(StickPart(id="rail", length=rail, copies=count),),
    )
    return {
        "count": str(count),
        "rail": given.say(rail),
        "least": str(simple_stick_plan(asked).lower_bound),
        "stick": given.say(stick),
    }
