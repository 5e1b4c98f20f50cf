"""The dash bar as a beam between its ends, with a node wherever a bolt meets it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from geometry.fixing import BarEnd, DashBar
from solver.beam import BeamSection, beam_stiffness, section_of
from solver.rigid import Floats, axes_along, turned

Stiffness = Literal["low", "high"]
NMM_PER_RAD_OF_NM_PER_DEG = 1000.0 * 180.0 / np.pi


@dataclass(frozen=True)
class BarModel:
    """A dash bar ready to be joined to plates. Its unknowns are the freedoms its ends leave."""

    stations_mm: Floats
    """(m,) along the bar, ends included, rising."""
    places_mm: Floats
    """(m, 3) of the nodes."""
    motions: tuple[Floats, ...]
    """Per node, (6, k) from the unknowns to its motion in X, Y, Z."""
    stiffness: Floats
    """(k, k)."""
    elements: tuple[Floats, ...]
    """(12, 12) stiffness of each stretch between neighbouring nodes, in X, Y, Z."""
    section: BeamSection
    axes: Floats

    def node_motions(self, unknowns: Floats) -> Floats:
        """Return the (6 m, columns) motions of the nodes in X, Y, Z for unknowns (k, columns)."""
        return np.vstack([motion @ unknowns for motion in self.motions])

    def node_at(self, station_mm: float) -> int:
        """Return the number of the node nearest to a station."""
        return int(np.argmin(np.abs(self.stations_mm - station_mm)))


def bar_model(
    bar: DashBar,
    stations_mm: Sequence[float],
    elastic_modulus_mpa: float,
    poisson: float,
    stiffness: Stiffness,
) -> BarModel:
    """Return the model of a bar with nodes at its ends and at the stations.

    Ends with a range take its `stiffness` side.

    Raises ValueError if the bar has no length or no wall.
    """
    start, end = np.asarray(bar.from_mm), np.asarray(bar.to_mm)
    length = float(np.linalg.norm(end - start))
    if not length > 0.0:
        raise ValueError(f"{bar.name} starts and ends at the same place: give it a length")
    axes = axes_along(end - start, bar.up)
    section = section_of(bar.section)
    stations = _distinct([0.0, length, *(min(max(s, 0.0), length) for s in stations_mm)])
    places = start + np.outer(stations, axes[:, 2])
    count = len(stations)
    elements = tuple(
        beam_stiffness(section, stations[i + 1] - stations[i], elastic_modulus_mpa, poisson, axes)
        for i in range(count - 1)
    )
    whole = np.zeros((6 * count, 6 * count))
    for i, element in enumerate(elements):
        whole[6 * i : 6 * i + 12, 6 * i : 6 * i + 12] += element
    along = np.kron(np.eye(count), turned(axes))
    local = along @ whole @ along.T
    kept = np.ones(6 * count, dtype=bool)
    for first, end_hold in ((0, bar.ends[0]), (6 * (count - 1), bar.ends[1])):
        held, spring = _end_hold(end_hold, stiffness)
        kept[first : first + 6] = ~held
        local[first + 3, first + 3] += spring
        local[first + 4, first + 4] += spring
    back = along.T[:, kept]
    return BarModel(
        stations,
        places,
        tuple(np.asarray(back[6 * i : 6 * i + 6], dtype=float) for i in range(count)),
        local[np.ix_(kept, kept)],
        elements,
        section,
        axes,
    )


def bar_stress_mpa(model: BarModel, nodes: Floats) -> Floats:
    """Return the largest equivalent stress of each stretch, (stretches, columns), MPa.

    Von Mises of the outermost fibre, for the nodes' motions (6 m, columns). The corners of a rectangular tube
    carry both bendings at once.
    """
    section = model.section
    turn = turned(model.axes)
    found = []
    for i, element in enumerate(model.elements):
        ends = element @ nodes[6 * i : 6 * i + 12]
        local = np.stack([turn @ ends[:6], turn @ ends[6:]])
        about_1 = np.abs(local[:, 3]) * section.outer_2_mm / section.second_moment_1_mm4
        about_2 = np.abs(local[:, 4]) * section.outer_1_mm / section.second_moment_2_mm4
        bending = np.hypot(about_1, about_2) if section.is_round else about_1 + about_2
        direct = np.abs(local[:, 2]) / section.area_mm2 + bending
        shear = np.abs(local[:, 5]) / section.torsion_modulus_mm3 + np.hypot(
            local[:, 0] / section.shear_area_1_mm2, local[:, 1] / section.shear_area_2_mm2
        )
        found.append(np.sqrt(direct**2 + 3.0 * shear**2).max(axis=0))
    return np.array(found)


def _end_hold(end: BarEnd, stiffness: Stiffness) -> tuple[np.ndarray, float]:
    """Return which of the six local freedoms are held, and the bending spring in N.mm/rad."""
    if end.kind == "free":
        return np.zeros(6, dtype=bool), 0.0
    bending_free = np.array([True, True, True, False, False, True])
    if end.kind == "pinned":
        return bending_free, 0.0
    if end.kind == "bolted flange":
        return (bending_free, 0.0) if stiffness == "low" else (np.ones(6, dtype=bool), 0.0)
    if end.kind == "stiffness":
        low, high = end.bending_nm_per_deg or (0.0, 0.0)
        return bending_free, (low if stiffness == "low" else high) * NMM_PER_RAD_OF_NM_PER_DEG
    return np.ones(6, dtype=bool), 0.0


def _distinct(stations_mm: list[float]) -> Floats:
    """Return the stations rising, those nearer than a tenth of a millimetre to a neighbour made one."""
    rising = np.sort(np.asarray(stations_mm, dtype=float))
    kept = [rising[0]]
    for station in rising[1:-1]:
        if station - kept[-1] > 0.1 and rising[-1] - station > 0.1:
            kept.append(station)
    kept.append(rising[-1])
    return np.asarray(kept)
