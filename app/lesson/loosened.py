"""What can move once bolts are loose or out: kinematics alone, so it is there at once."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from geometry.bracket import Bracket
from geometry.placing import place_bolts
from solver.free_motions import free_motions
from solver.linkage import Linkage, linkage_of
from solver.load_cases import load_cases
from solver.results import FreeMotion
from solver.rigid import Floats


@dataclass(frozen=True)
class _Weightless:
    """A plate whose weight is left out: the couple is what is asked about."""

    mass_kg: float = 0.0

    @property
    def mass_centre_mm(self) -> Floats:
        """Return the origin."""
        return np.zeros(3)


@dataclass(frozen=True)
class _PartlyTight(Linkage):
    """A linkage in which some bolts still clamp and the others are pins."""

    tight: frozenset[str] = frozenset()

    def forbidden(self, *, stuck: bool = False) -> Floats:
        """Return the forbidden relative motions: spin too at tight bolts."""
        weights = np.array([1.0, 1.0, 1.0, *([self.radius_mm] * 3)])[:, None]
        rows = [
            (weights * joint.relative)[: 6 if stuck or joint.place.bolt in self.tight else 5]
            for joint in self.joints
        ]
        return np.vstack([*rows, self.column, self.ties]) * self.turn_scale


def motions_of(
    bracket: Bracket, *, loose: Collection[str] | None = None, out: Collection[str] = ()
) -> tuple[FreeMotion, ...]:
    """Return what can move with bolts `out` and bolts `loose` turned into pins; None loosens every one.

    The motion that the couple drives comes first. Empty without a casing or bolts.
    """
    if bracket.casing is None or not bracket.bolts:
        return ()
    whole = linkage_of(bracket, place_bolts(bracket), out=out)
    if not whole.joints and not len(whole.column):
        return ()
    names = {bolt.name for bolt in bracket.bolts}
    tight = frozenset() if loose is None else frozenset(names - set(loose) - set(out))
    linkage = _PartlyTight(
        whole.bodies, whole.origins_mm, whole.joints, whole.column, whole.radius_mm, whole.welded, tight
    )
    plates = [_Weightless() for _ in bracket.plates]
    return free_motions(bracket, linkage, plates, load_cases(bracket))


def casing_motion(motions: Collection[FreeMotion]) -> FreeMotion | None:
    """Return the first motion that moves the casing; None if it is held."""
    return next((motion for motion in motions if motion.moves_casing), None)
