"""Plates solved on their first mesh, kept for as long as nothing they are made from changes.

A change of the loads, of a bolt's torque or of another plate leaves a plate's mesh, stiffness and modes as
they were; taking them again gives the same figures as solving anew, to the last digit, for nothing.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Hashable, Sequence
from dataclasses import replace

from geometry.bracket import Bracket
from geometry.placing import BoltPlace
from solver.mesh_stage import MeshedPlate, first_mesh, meshed_plate
from solver.plate_beds import partner_modulus
from solver.same_plates import felt_by_plate


class FirstPlates:
    """The plates solved last, at most `most` of them; safe to ask from several threads."""

    def __init__(self, most: int = 6) -> None:
        self._most = most
        self._kept: OrderedDict[Hashable, MeshedPlate] = OrderedDict()
        self._lock = threading.Lock()

    def solved(self, bracket: Bracket, places: Sequence[BoltPlace]) -> tuple[MeshedPlate, ...]:
        """Return every plate of the bracket on its first mesh; SolverError as `first_mesh` and its kin."""
        return tuple(self._plate(bracket, index, places) for index in range(len(bracket.plates)))

    def _plate(self, bracket: Bracket, index: int, places: Sequence[BoltPlace]) -> MeshedPlate:
        own = tuple(p for p in places if p.plate_index == index)
        key = _made_from(bracket, index, own)
        with self._lock:
            known = self._kept.get(key)
            if known is not None:
                self._kept.move_to_end(key)
        if known is not None:
            return replace(known, condensed=replace(known.condensed, places=own))
        meshed = meshed_plate(
            bracket, index, first_mesh(bracket.plates[index], places), places, other_beds=True
        )
        with self._lock:
            self._kept[key] = meshed
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return meshed


def _made_from(bracket: Bracket, index: int, own: Sequence[BoltPlace]) -> Hashable:
    """Return all that a plate's mesh, condensed stiffness and survey are made from."""
    felt = tuple((felt_by_plate(place), partner_modulus(bracket, place)) for place in own)
    return bracket.plates[index], bracket.materials, bracket.limits.yield_factor, index, felt
