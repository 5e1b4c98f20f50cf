"""One plate, condensed to its bolts and welds.

Bodies, beds and heads are those of `held_plate`; *modes* are how the plate moves when one freedom of one body
moves by one and all others stay.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geometry.bracket import Bracket
from geometry.materials import Material, material
from geometry.placing import BoltPlace
from geometry.plate import Plate
from geometry.solid_mesh import SolidMesh
from geometry.weld_places import WeldBody
from solver.held_plate import HeldPlate
from solver.load_cases import weight_n
from solver.rigid import Floats, carry
from solver.stress import vertex_stress


@dataclass(frozen=True)
class CondensedPlate:
    """A plate as its bolts and welds feel it, with what gives the rest back.

    Its b bodies are those of `places`, then those of `welds`.
    """

    plate: Plate
    metal: Material
    mesh: SolidMesh
    places: tuple[BoltPlace, ...]
    stiffness: Floats
    """(6 b, 6 b) over the bodies, X, Y, Z about the middle of each; six zero eigenvalues."""
    weight_wrench: Floats
    """(6 b, 3): what the plate's own weight along X, Y, Z puts on bodies that stay."""
    modes: Floats
    """(3 n, 6 b + 3) displacement of every node, mm: a unit of each body's freedom, then weight along X, Y,
    Z."""
    mass_kg: float
    mass_centre_mm: Floats
    welds: tuple[WeldBody, ...] = ()

    @property
    def body_count(self) -> int:
        """Return the number of its bodies."""
        return len(self.places) + len(self.welds)

    def stress_modes(self) -> Floats:
        """Return (v, 6, 6 b + 3) stress at mesh.vertex_nodes in MPa for every mode.

        Components are in the order of solver.stress.
        """
        return vertex_stress(self.mesh, self.modes, self.metal.elastic_modulus_mpa, self.metal.poisson)


def condensed_from(
    bracket: Bracket,
    plate: Plate,
    mesh: SolidMesh,
    places: tuple[BoltPlace, ...],
    welds: Sequence[WeldBody],
    held: HeldPlate,
) -> CondensedPlate:
    """Return the plate that was factored for these places and welds, condensed to them."""
    # Heads follow: they are eliminated from the small system, mating bodies and welds stay.
    count, whole = held.staying, held.whole
    onto_heads = whole[:count, count:]
    follow, sag = held.moved[count:, :count], held.moved[count:, count:]
    condensed = whole[:count, :count] + onto_heads @ follow
    mass, centre = _mass(mesh, held.weight)
    return CondensedPlate(
        plate,
        material(plate.material or "", bracket.materials),
        mesh,
        places,
        0.5 * (condensed + condensed.T),
        held.wrench[:count] - onto_heads @ sag,
        held.modes(),
        mass,
        centre,
        tuple(welds),
    )


def rigid_modes(plate: CondensedPlate) -> Floats:
    """Return the (6 b, 6) motions of the bodies when the plate moves as a rigid body about the origin."""
    at = [place.mating_mm for place in plate.places] + [body.segment.at_mm for body in plate.welds]
    return np.vstack([carry(np.zeros(3), place) for place in at])


def _mass(mesh: SolidMesh, weight: Floats) -> tuple[float, Floats]:
    along = weight[::3, 0]
    total = float(along.sum())
    return total / weight_n(1.0), np.asarray(along @ mesh.points / total)
