"""Materials whose code was changed: what was agreed or planned under a former code is of the same material.

Owns the way from any code to the one of today. What was frozen stays as it was written; it is read so.
"""

from dataclasses import dataclass, replace

from app.pricing import Chosen, Material
from app.pricing.chosen import ChosenCount


@dataclass(frozen=True, slots=True, kw_only=True)
class Codes:
    """The codes of today of what was called otherwise. now: (former code, code of today)."""

    now: tuple[tuple[str, str], ...] = ()

    def current(self, code: str) -> str:
        """Return the code of today, the same where it was never another; any case."""
        folded = code.casefold()
        return next((new for old, new in self.now if old.casefold() == folded), code)

    def material(self, material: Material) -> Material:
        """Return a material as it was, under its code of today."""
        code = self.current(material.code)
        return material if code == material.code else replace(material, code=code)

    def chosen(self, chosen: Chosen) -> Chosen:
        """Return a choice as it was made, under the codes of today."""
        materials = [material for _, material in chosen.materials()]
        if all(self.material(each) is each for each in materials):
            return chosen
        return Chosen(
            frames=tuple(map(self.material, chosen.frames)),
            mats=tuple(map(self.material, chosen.mats)),
            glazing=self._maybe(chosen.glazing),
            mount_board=self._maybe(chosen.mount_board),
            backing=self._maybe(chosen.backing),
            spacer=self._maybe(chosen.spacer),
            hardware=tuple(map(self._taken, chosen.hardware)),
            extras=tuple(map(self._taken, chosen.extras)),
            fillet=self._maybe(chosen.fillet),
            ready_made=self._maybe(chosen.ready_made),
        )

    def what(self, what: str) -> str:
        """Return what a part is (`PartToCut.what`) under the code of today."""
        code, space, sizes = what.partition(" ")
        return f"{self.current(code)}{space}{sizes}"

    def _maybe(self, material: Material | None) -> Material | None:
        return None if material is None else self.material(material)

    def _taken(self, taken: ChosenCount) -> ChosenCount:
        return replace(taken, material=self.material(taken.material))


AS_WRITTEN = Codes()
"""Where no code was ever changed."""
