"""Meshing, condensing and surveying the plates of a bracket: once coarse, then finer where it matters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from geometry.bracket import Bracket
from geometry.mesh_gmsh import MeshError
from geometry.mesh_refining import refine
from geometry.placing import BoltPlace, footprints_of
from geometry.plate import Plate
from geometry.plate_mesh import mesh_plate
from geometry.solid_mesh import SolidMesh
from geometry.wanted import still_wanted
from geometry.weld_mark import WeldMark, weld_marks
from geometry.weld_places import weld_bodies
from solver.condensed_plate import CondensedPlate, condensed_from
from solver.errors import SolverError
from solver.held_plate import hold_plate
from solver.largest import settled
from solver.memory_room import refuse_too_fine
from solver.net_section import NetSection, net_sections
from solver.other_beds import bed_energy
from solver.plate_study import PlateStudy, study_plate
from solver.rigid import Floats
from solver.stress import element_error
from solver.stress_survey import StressSurvey, survey

RATIO = 1.75
"""How much finer the next mesh is where the error indicator is largest."""
MARKED_ERROR = 0.8
"""Share of the whole error indicator that the marked elements hold."""


@dataclass(frozen=True)
class MeshedPlate:
    """One plate on one mesh, condensed and surveyed."""

    condensed: CondensedPlate
    survey: StressSurvey
    sections: tuple[NetSection, ...]
    stress: Floats
    """(v, 6, modes) at all vertices."""
    bed_energy: Floats | None = None
    """(6 b, 6 b) what of the plate's stiffness is that of its beds; where a study was asked for."""
    study: PlateStudy | None = None
    """Likewise."""
    marks: tuple[bytes, ...] = ()
    """What was marked on each mesh before this one: with what the plate is made from, that is its mesh."""

    @property
    def studied(self) -> PlateStudy:
        """Its study; ValueError if none was asked for."""
        if self.study is None:
            raise ValueError(f"plate {self.condensed.plate.name} was condensed without a study: ask for one")
        return self.study


def first_mesh(plate: Plate, places: Sequence[BoltPlace], welds: Sequence[WeldMark] = ()) -> SolidMesh:
    """Return the coarse mesh of a plate; SolverError if it cannot be meshed or does not fit into memory."""
    try:
        footprints = footprints_of(places, plate.name)
        fits = partial(refuse_too_fine, plate.name, len(places) + len(welds))
        return mesh_plate(plate, footprints, welds=welds, foreseen=fits)
    except MeshError as error:
        raise SolverError(str(error)) from error


def marked_elements(meshed: MeshedPlate, amounts: Floats, share: float = MARKED_ERROR) -> NDArray[np.bool_]:
    """Return whether each element (ne,) is of those where the error indicator is largest.

    They hold `share` of it, judged under the given amounts of modes (k, columns).
    """
    condensed = meshed.condensed
    mesh, metal = condensed.mesh, condensed.metal
    error = np.zeros(len(mesh.tets))
    moved, stress = condensed.modes @ amounts, meshed.stress @ amounts
    for i in range(amounts.shape[1]):
        still_wanted()
        own = element_error(
            mesh, moved[:, i], metal.elastic_modulus_mpa, metal.poisson, np.ascontiguousarray(stress[:, :, i])
        )
        error += own / max(float(own.sum()), 1e-300)
    order = np.argsort(-settled(error), kind="stable")
    held = np.cumsum(error[order]) / max(float(error.sum()), 1e-300)
    marked = np.zeros(len(error), dtype=bool)
    marked[order[: int(np.searchsorted(held, share)) + 1]] = True
    return marked


def finer_mesh(
    meshed: MeshedPlate,
    places: Sequence[BoltPlace],
    marked: NDArray[np.bool_],
    ratio: float = RATIO,
    welds: Sequence[WeldMark] = (),
) -> SolidMesh:
    """Return a mesh finer by `ratio` where it is marked.

    A folded plate goes from one layer to two in its bends and footprints, so that bending through a fold is
    settled as well. SolverError if it cannot be meshed or does not fit into memory.
    """
    plate, mesh = meshed.condensed.plate, meshed.condensed.mesh
    try:
        footprints = footprints_of(places, plate.name)
        fits = partial(refuse_too_fine, plate.name, meshed.condensed.body_count)
        return refine(
            mesh, plate, footprints, marked, ratio, layers=1, double_bends=True, welds=welds, foreseen=fits
        )
    except MeshError as error:
        raise SolverError(str(error)) from error


def meshed_plate(
    bracket: Bracket,
    index: int,
    mesh: SolidMesh,
    places: Sequence[BoltPlace],
    *,
    bed_factor: float = 1.0,
    study: bool = False,
) -> MeshedPlate:
    """Return a plate condensed and surveyed on a mesh, to `study` with its study.

    SolverError if it is not held, or does not fit into memory.
    """
    plate = bracket.plates[index]
    own = tuple(p for p in places if p.plate_index == index)
    welds = weld_bodies(bracket, index)
    refuse_too_fine(plate.name, len(own) + len(welds), 3 * len(mesh.points))
    holds = partial(hold_plate, bracket, plate, mesh, own, welds, bed_factor)
    held = holds()
    condensed = condensed_from(bracket, plate, mesh, own, welds, held)
    still_wanted()
    stress = condensed.stress_modes()
    still_wanted()
    surveyed = survey(condensed, stress, bracket.limits.yield_factor, weld_marks(bracket, index))
    still_wanted()
    made = MeshedPlate(
        condensed, surveyed, net_sections(index, plate, mesh, condensed.places, stress), stress
    )
    if not study:
        return made
    energy = bed_energy(held.beds, (condensed.modes, held.moved))
    return replace(
        made,
        bed_energy=energy[: held.staying, : held.staying],
        study=PlateStudy(held, holds, partial(study_plate, index, condensed, surveyed)),
    )
