"""Plates that were solved, kept for as long as nothing they are made from changes.

A change of the loads, of a bolt's torque or of another plate leaves a plate's first mesh, stiffness and modes
as they were; its refined mesh too, if the same elements are marked for refinement. Taking them again gives
the same figures as solving anew, to the last digit, for nothing.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from geometry.bracket import Bracket
from geometry.placing import BoltPlace
from geometry.solid_mesh import SolidMesh, scaled_through
from geometry.weld_mark import weld_marks
from geometry.weld_places import WeldBody, weld_bodies
from solver.mesh_stage import MeshedPlate, finer_mesh, first_mesh, marked_elements, meshed_plate
from solver.plate_beds import partner_modulus
from solver.rigid import Floats
from solver.same_plates import felt_by_plate, weld_felt

FIRST, REFINED = 6, 3
"""Plates kept on their first mesh, some 25 MB each, and on refined ones, some 60 MB."""


class KeptPlates:
    """The plates solved last; safe to ask from several threads."""

    def __init__(self, first: int = FIRST, refined: int = REFINED) -> None:
        self._first, self._refined, self._thinner = _Newest(first), _Newest(refined), _Newest(first)

    def first_meshes(self, bracket: Bracket, places: Sequence[BoltPlace]) -> tuple[SolidMesh, ...]:
        """Return the first mesh of every plate of the bracket; SolverError as `first_mesh`."""
        found = []
        for index, own in enumerate(_own_places(bracket, places)):
            known = self._first.known(_made_from(bracket, own, index))
            found.append(
                first_mesh(bracket.plates[index], places, weld_marks(bracket, index))
                if known is None
                else known.condensed.mesh
            )
        return tuple(found)

    def first(
        self, bracket: Bracket, places: Sequence[BoltPlace], meshes: Sequence[SolidMesh] | None = None
    ) -> tuple[MeshedPlate, ...]:
        """Return every plate of the bracket on its first mesh; SolverError as `first_mesh` and its kin.

        `meshes` is what `first_meshes` says of it, where that is known already.
        """
        meshes = meshes or self.first_meshes(bracket, places)
        return tuple(
            self._first.take(
                _made_from(bracket, own, index),
                own,
                weld_bodies(bracket, index),
                partial(meshed_plate, bracket, index, mesh, places, study=True),
            )
            for index, (own, mesh) in enumerate(zip(_own_places(bracket, places), meshes, strict=True))
        )

    def thinner(self, bracket: Bracket, index: int, meshed: MeshedPlate, share: float) -> MeshedPlate:
        """Return a plate on the mesh that it has in `meshed`, of a share of its thickness."""
        own = meshed.condensed.places
        mesh = scaled_through(meshed.condensed.mesh, share)
        solve = partial(meshed_plate, bracket, index, mesh, own)
        welds = meshed.condensed.welds
        return self._thinner.take((_made_from(bracket, own, index), share), own, welds, solve)

    def finer(
        self,
        bracket: Bracket,
        places: Sequence[BoltPlace],
        before: Sequence[MeshedPlate],
        amounts: Sequence[Floats],
    ) -> tuple[MeshedPlate, ...]:
        """Return every plate on a mesh finer than `before` where the error is largest.

        It is judged under the amounts of modes (k, columns) of each plate. SolverError as `finer_mesh`.
        """
        found = []
        for index, own in enumerate(_own_places(bracket, places)):
            coarse = before[index]
            marked = marked_elements(coarse, amounts[index])
            marks = (*coarse.marks, marked.tobytes())
            solve = partial(_solve_finer, bracket, index, places, coarse, marked)
            welds = weld_bodies(bracket, index)
            plate = self._refined.take((_made_from(bracket, own, index), marks), own, welds, solve)
            found.append(replace(plate, marks=marks))
        return tuple(found)


class _Newest:
    """The plates asked for last, at most so many."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[Hashable, MeshedPlate] = OrderedDict()
        self._lock = threading.Lock()

    def known(self, key: Hashable) -> MeshedPlate | None:
        """Return the plate of a key as it was solved, which makes it the newest; None if it is not there."""
        with self._lock:
            known = self._kept.get(key)
            if known is not None:
                self._kept.move_to_end(key)
        return known

    def take(
        self,
        key: Hashable,
        own: tuple[BoltPlace, ...],
        welds: tuple[WeldBody, ...],
        solve: Callable[[], MeshedPlate],
    ) -> MeshedPlate:
        """Return the plate of a key, solved if it is not there; what its bolts join may stand elsewhere."""
        known = self.known(key)
        if known is not None:
            return replace(known, condensed=replace(known.condensed, places=own, welds=welds))
        meshed = solve()
        with self._lock:
            self._kept[key] = meshed
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return meshed


def _solve_finer(
    bracket: Bracket,
    index: int,
    places: Sequence[BoltPlace],
    coarse: MeshedPlate,
    marked: NDArray[np.bool_],
) -> MeshedPlate:
    mesh = finer_mesh(coarse, places, marked, welds=weld_marks(bracket, index))
    return meshed_plate(bracket, index, mesh, places)


def _own_places(bracket: Bracket, places: Sequence[BoltPlace]) -> list[tuple[BoltPlace, ...]]:
    """Return the places of each plate's own bolts."""
    return [tuple(p for p in places if p.plate_index == i) for i in range(len(bracket.plates))]


def _made_from(bracket: Bracket, own: Sequence[BoltPlace], index: int) -> Hashable:
    """Return all that a plate's first mesh, condensed stiffness and survey are made from."""
    felt = tuple((felt_by_plate(place), partner_modulus(bracket, place)) for place in own)
    welds = tuple(weld_felt(bracket, body) for body in weld_bodies(bracket, index))
    return bracket.plates[index], bracket.materials, bracket.limits.yield_factor, index, felt, welds
