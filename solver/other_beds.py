"""A plate whose beds are all softer or stiffer by one factor, without factoring it again.

Between half and twice the usual beds the plate moves in its usual modes and in how these change as the beds
do: their *drifts*, first and second, each one more back-substitution with the same factor. Within these ways
the energy is made least. tests/solver/test_other_beds.py holds that against factoring anew.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.wanted import still_wanted
from solver.plate_beds import Beds
from solver.rigid import Floats

DRIFTS = 2
"""Measured on the samples: one leaves stresses beside a footprint 2 % off, two less than 0.5 %."""
_NOTHING = 1e-10
"""A combination of ways with less than this share of the largest energy is none: the six rigid motions do not
drift at all."""

Ways = tuple[Floats, Floats]
"""How nodes (3 n, k) and bodies (12 b, k) move, mm, or the forces on both, N."""


@dataclass(frozen=True)
class OtherBeds:
    """Energies of a plate's m = 6 b + 3 usual modes and of their drifts, in that order."""

    usual: Floats
    """(w, w) with the usual beds; w is m for the modes and m for each drift."""
    beds: Floats
    """(w, w) the beds' own part of it."""
    weight: Floats
    """(w, 3) work of the plate's weight along X, Y, Z."""

    def at(self, factor: float) -> tuple[Floats, Floats, Floats]:
        """Return the plate with its beds stiffer by a factor.

        Its stiffness (6 b, 6 b), the weight's wrench (6 b, 3) and how much of each usual mode and drift
        (w, m) makes each of its modes.
        """
        energy = self.usual + (factor - 1.0) * self.beds
        bodies = len(energy) // (1 + DRIFTS) - 3
        give = _inverse(energy[bodies:, bodies:])
        mix = np.zeros((len(energy), bodies + 3))
        mix[:bodies, :bodies] = np.eye(bodies)
        mix[bodies:, :bodies] = -give @ energy[bodies:, :bodies]
        mix[bodies:, bodies:] = give @ self.weight[bodies:]
        stiffness = mix[:, :bodies].T @ energy @ mix[:, :bodies]
        return 0.5 * (stiffness + stiffness.T), mix[:, :bodies].T @ self.weight, mix


def drifts_of(
    beds: Beds, modes: Ways, weight: Floats, stiffness: Floats, answer: Callable[[Ways], Ways]
) -> tuple[Floats, OtherBeds]:
    """Return the drifts of the nodes (3 n, DRIFTS m), one after the other, and the energies.

    `weight` (3 n, 3) is the plate's along X, Y, Z, `stiffness` (6 b, 6 b) its own; `answer` gives the ways
    that hold against forces while the mating bodies stay.
    """
    touched = _touched(beds)
    ways, forces = [modes], [_bed_forces(beds, modes)]
    for _ in range(DRIFTS):
        still_wanted()
        ways.append(answer((-forces[-1][0], -forces[-1][1])))
        forces.append(_bed_forces(beds, ways[-1]))
    nodes, bodies = (np.hstack([way[i] for way in ways]) for i in (0, 1))
    on_touched, on_bodies = np.hstack([f[0][touched] for f in forces]), np.hstack([f[1] for f in forces])
    of_beds = nodes[touched].T @ on_touched + bodies.T @ on_bodies
    work = nodes.T @ weight
    count, kept = modes[0].shape[1], len(stiffness)
    usual = np.zeros_like(of_beds)
    usual[:kept, :kept] = stiffness
    usual[kept:, kept:count] = work[kept:]
    # A drift answers the forces that the beds have in the way before it.
    usual[kept:, count:] = -of_beds[kept:, :-count]
    usual[kept:count, count:] = work[count:].T
    usual[count:, count:] = 0.5 * (usual[count:, count:] + usual[count:, count:].T)
    return nodes[:, count:], OtherBeds(usual, of_beds, work)


def bed_energy(beds: Beds, ways: Ways) -> Floats:
    """Return the energy (k, k) of the beds in ways that nodes and bodies move."""
    touched = _touched(beds)
    on_nodes, on_bodies = _bed_forces(beds, ways)
    return np.asarray(ways[0][touched].T @ on_nodes[touched] + ways[1].T @ on_bodies)


def _touched(beds: Beds) -> NDArray[np.int64]:
    """Return the unknowns that beds touch: they are few."""
    return np.unique(beds.on_nodes.nonzero()[0])


def _bed_forces(beds: Beds, ways: Ways) -> Ways:
    nodes, bodies = ways
    return (
        np.asarray(beds.on_nodes @ nodes + beds.to_bodies @ bodies),
        np.asarray(beds.to_bodies.T @ nodes + beds.on_bodies @ bodies),
    )


def _inverse(energy: Floats) -> Floats:
    """Return the inverse of an energy on all that has any."""
    size = np.sqrt(np.maximum(np.diag(energy), 1e-300))
    values, vectors = np.linalg.eigh(energy / np.outer(size, size))
    kept = values > _NOTHING * values[-1]
    vectors = vectors[:, kept] / size[:, None]
    return np.asarray((vectors / values[kept]) @ vectors.T)
