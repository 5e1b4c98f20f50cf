"""The whole bracket as it buckles: what gives way to forces on its plates, and what a load takes off.

Plates on their beds, joined through casing, dash bar, spacers, connections and welds, so that all of it
buckles together. The plates are factored once more for it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property

import numpy as np

from solver.buckling_screen import buckling_states
from solver.condensed_plate import CondensedPlate
from solver.evaluation import Loaded, State
from solver.geometric_stiffness import GeometricStiffness
from solver.held_plate import hold_plate
from solver.load_factors import BLOCK, Buckles, load_factors
from solver.rigid import Floats
from solver.solved import Solved
from solver.structure import solve_stiff


class BucklingSystem:
    """A bracket on its first mesh, ready to be solved for load factors; nothing is factored until then."""

    def __init__(self, solved: Solved, same_plates: BucklingSystem | None = None) -> None:
        """Take the bracket solved.

        `same_plates` is of a bracket with the same plates: what was factored for it is not factored again.
        """
        self._solved, self._same = solved, same_plates

    def factors(self, load: Loaded, columns: Sequence[int], far: float = float("inf")) -> list[Buckles]:
        """Return how the bracket buckles under some columns of a load, whose states must be asked for.

        Above `far` only that it does not.
        """
        asked = [(load.columns[i].taken, load.columns[i].high) for i in columns]
        systems = {
            (state.taken, state.high): self._small_system(state, moving)
            for state, moving in buckling_states(self._solved)
            if (state.taken, state.high) in asked
        }
        small = [systems[state] for state in asked]

        def answer(forces: Floats) -> Floats:
            moved = np.vstack(
                [held(part) for held, part in zip(self._held, self._parts(forces), strict=True)]
            )
            for i, system in enumerate(small):
                own = slice(BLOCK * i, BLOCK * (i + 1))
                moved[:, own] += system(forces[:, own])
            return moved

        return load_factors(answer, [self._taking(load, i) for i in columns], self._ends[-1], far)

    def shapes(self, buckles: Buckles) -> tuple[Floats, ...]:
        """Return per plate (3 n,) how it moves, of any size."""
        return tuple(self._parts(buckles.shape))

    def moves_most(self, shapes: Sequence[Floats]) -> str:
        """Return in words where a shape moves most."""
        sizes = [np.linalg.norm(shape.reshape(-1, 3), axis=1) for shape in shapes]
        plate = int(np.argmax([size.max() for size in sizes]))
        mesh = self._plates[plate].mesh
        x, y, _ = mesh.flat_points[int(np.argmax(sizes[plate]))]
        return f"{self._plates[plate].plate.name}, moves most at ({x:.0f}, {y:.0f})"

    def _taking(self, load: Loaded, column: int) -> Callable[[Floats], Floats]:
        """Return -K_g under one column of a load."""
        matrices = []
        for elements, meshed, amounts in zip(self._elements, self._plates, self._amounts(load), strict=True):
            metal = meshed.metal
            moved = meshed.modes @ amounts[:, column]
            stress = elements.own_stress(moved, metal.elastic_modulus_mpa, metal.poisson)
            matrices.append(elements.of(-stress))

        def taking(moved: Floats) -> Floats:
            parts = zip(self._elements, matrices, self._parts(moved), strict=True)
            return np.vstack([elements.apply(own, part) for elements, own, part in parts])

        return taking

    def _small_system(self, state: State, moving: np.ndarray) -> Callable[[Floats], Floats]:
        """Return how bodies, casing and bar, and the plates with them, answer to forces on the plates."""
        structure = state.structure
        stiffness = structure.stiffness[np.ix_(moving, moving)]
        modes = [
            self._plates[j].modes[:, :-3] @ structure.plate_ways[i][:, moving]
            for j, i in enumerate(self._numbers)
        ]
        whole = np.vstack(modes)
        return lambda forces: np.asarray(whole @ solve_stiff(stiffness, whole.T @ forces))

    def _parts(self, whole: Floats) -> list[Floats]:
        return np.split(whole, self._ends[1:-1])

    def _amounts(self, load: Loaded) -> list[Floats]:
        return [load.amounts[i] for i in self._numbers]

    @cached_property
    def _numbers(self) -> list[int]:
        return [i for i, plate in enumerate(self._solved.plates) if plate.body_count]

    @cached_property
    def _plates(self) -> list[CondensedPlate]:
        return [self._solved.plates[i] for i in self._numbers]

    @cached_property
    def _ends(self) -> Floats:
        return np.cumsum([0, *(3 * len(plate.mesh.points) for plate in self._plates)])

    @cached_property
    def _elements(self) -> list[GeometricStiffness]:
        if self._same is not None:
            return self._same._elements
        return [GeometricStiffness(plate.mesh) for plate in self._plates]

    @cached_property
    def _held(self) -> list[Callable[[Floats], Floats]]:
        if self._same is not None:
            return self._same._held
        bracket = self._solved.bracket
        return [hold_plate(bracket, p.plate, p.mesh, p.places, p.welds).answer_nodes for p in self._plates]
