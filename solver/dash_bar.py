"""The dash bar as a beam between its ends, with a node wherever a bolt or a stay meets it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from geometry.fixing import BarEnd, BarStay, DashBar
from geometry.stiffness_ranges import ALL_LOW, HighEnds, end_range, picked, stay_range
from solver.bar_sections import section_of
from solver.beam import BeamSection, beam_stiffness, own_motion
from solver.rigid import Floats, axes_along, turned

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
    ends: Floats
    """(k, k) part of `stiffness` that is its ends' own."""
    stays: Floats
    """(k, k) part of `stiffness` that is its stays' own."""

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
    high: HighEnds = ALL_LOW,
) -> BarModel:
    """Return the model of a bar with nodes at its ends, at its stays and at the stations.

    Ends and stays whose range is in `high` take its high end.

    Raises ValueError if the bar has no length or no wall.
    """
    start, end = np.asarray(bar.from_mm), np.asarray(bar.to_mm)
    length = float(np.linalg.norm(end - start))
    if not length > 0.0:
        raise ValueError(f"{bar.name} starts and ends at the same place: give it a length")
    axes = axes_along(end - start, bar.up)
    section = section_of(bar.section)
    stayed = [stay.station_mm for stay in bar.stays]
    stations = _distinct([0.0, length, *(min(max(s, 0.0), length) for s in (*stations_mm, *stayed))])
    places = start + np.outer(stations, axes[:, 2])
    count = len(stations)
    lengths = tuple(np.diff(stations).tolist())
    elements = _stretches(section, lengths, elastic_modulus_mpa, poisson, tuple(axes.ravel().tolist()))
    whole = np.zeros((6 * count, 6 * count))
    for i, element in enumerate(elements):
        whole[6 * i : 6 * i + 12, 6 * i : 6 * i + 12] += element
    along = np.kron(np.eye(count), turned(axes))
    local = along @ whole @ along.T
    stays = _springs(bar.stays, stations, axes, high)
    ends = np.zeros_like(stays)
    kept = np.ones(6 * count, dtype=bool)
    for number, first in enumerate((0, 6 * (count - 1))):
        held, spring = _end_hold(bar.ends[number], end_range(number), high)
        kept[first : first + 6] = ~held
        ends[first + 3, first + 3] += spring
        ends[first + 4, first + 4] += spring
    back = along.T[:, kept]
    return BarModel(
        stations,
        places,
        tuple(np.asarray(back[6 * i : 6 * i + 6], dtype=float) for i in range(count)),
        (local + ends + stays)[np.ix_(kept, kept)],
        elements,
        section,
        axes,
        ends[np.ix_(kept, kept)],
        stays[np.ix_(kept, kept)],
    )


def bar_direction(bar: DashBar) -> Floats:
    """Return the (3,) unit vector from a bar's first end to its other."""
    span = np.subtract(bar.to_mm, bar.from_mm)
    return np.asarray(span / np.linalg.norm(span))


def station_along_mm(bar: DashBar, at_mm: Floats) -> float:
    """Return how far along a bar from its first end a place is."""
    return float((at_mm - np.asarray(bar.from_mm)) @ bar_direction(bar))


@lru_cache(maxsize=4)
def _stretches(
    section: BeamSection,
    lengths_mm: tuple[float, ...],
    elastic_modulus_mpa: float,
    poisson: float,
    axes: tuple[float, ...],
) -> tuple[Floats, ...]:
    """Return the stiffness of each stretch, for reading alone: both sides of a range ask for the same."""
    frame = np.array(axes).reshape(3, 3)
    return tuple(
        beam_stiffness(section, length, elastic_modulus_mpa, poisson, frame) for length in lengths_mm
    )


def bar_stress_mpa(model: BarModel, nodes: Floats) -> Floats:
    """Return the largest equivalent stress of each stretch, (stretches, columns), MPa.

    Von Mises of the outermost fibre, for the nodes' motions (6 m, columns). The corners of a rectangular tube
    carry both bendings at once; those of an open section are looked at one by one.
    """
    return np.array([_stress_mpa(model.section, ends).max(axis=0) for ends in _end_forces(model, nodes)])


def node_stress_mpa(model: BarModel, nodes: Floats) -> Floats:
    """Return the same at each node, on whichever side of it is stressed more, (m, columns), MPa."""
    found = np.zeros((len(model.stations_mm), nodes.shape[1]))
    for i, ends in enumerate(_end_forces(model, nodes)):
        found[i : i + 2] = np.maximum(found[i : i + 2], _stress_mpa(model.section, ends))
    return found


def stresses_of_mpa(model: BarModel, nodes: Floats, others: Sequence[tuple[int, BeamSection]]) -> Floats:
    """Return the largest equivalent stress (others, columns), MPa, of other sections at nodes."""
    found = np.zeros((len(others), nodes.shape[1]))
    forces = _end_forces(model, nodes)
    for row, (node, section) in enumerate(others):
        for i in (node - 1, node):
            if 0 <= i < len(forces):
                found[row] = np.maximum(found[row], _stress_mpa(section, forces[i][[node - i]])[0])
    return found


def stress_near_mpa(model: BarModel, nodes: Floats, station_mm: float, reach_mm: float) -> Floats:
    """Return the largest equivalent stress within a reach of a station, (columns,), MPa.

    Between two nodes forces stay and moments run linearly, so that it is at a node or where the reach ends.
    """
    low, high = station_mm - reach_mm, station_mm + reach_mm
    found = np.zeros(nodes.shape[1])
    stretches = zip(_end_forces(model, nodes), model.stations_mm[:-1], model.stations_mm[1:], strict=True)
    for ends, start, end in stretches:
        if end < low or start > high:
            continue
        # what the near end gets is the other way round what the far end does
        first, last = -ends[0], ends[1]
        shares = [(np.clip(at, start, end) - start) / (end - start) for at in (low, high)]
        within = np.stack([first + share * (last - first) for share in shares])
        found = np.maximum(found, _stress_mpa(model.section, within).max(axis=0))
    return found


def _end_forces(model: BarModel, nodes: Floats) -> list[Floats]:
    """Return (2 ends, 6, columns) forces and moments on each stretch, in the section's own axes."""
    turn = np.linalg.inv(own_motion(model.section, model.axes)).T
    found = []
    for i, element in enumerate(model.elements):
        ends = element @ nodes[6 * i : 6 * i + 12]
        found.append(np.stack([turn @ ends[:6], turn @ ends[6:]]))
    return found


def _stress_mpa(section: BeamSection, local: Floats) -> Floats:
    """Return the (places, columns) equivalent stress of forces and moments (places, 6, columns), MPa."""
    direct = np.abs(local[:, 2]) / section.area_mm2 + _bending_mpa(section, local[:, 3], local[:, 4])
    shear = np.abs(local[:, 5]) / section.torsion_modulus_mm3 + np.hypot(
        local[:, 0] / section.shear_area_1_mm2, local[:, 1] / section.shear_area_2_mm2
    )
    return np.asarray(np.sqrt(direct**2 + 3.0 * shear**2))


def _bending_mpa(section: BeamSection, about_1: Floats, about_2: Floats) -> Floats:
    """Return the largest bending stress anywhere on the section, for moments about its own axes."""
    first, second = about_1 / section.second_moment_1_mm4, about_2 / section.second_moment_2_mm4
    if section.corners_mm:
        at = np.array([np.abs(first * b - second * a) for a, b in section.corners_mm])
        return np.asarray(at.max(axis=0))
    first, second = np.abs(first) * section.outer_2_mm, np.abs(second) * section.outer_1_mm
    return np.asarray(np.hypot(first, second) if section.is_round else first + second)


def _springs(stays: Sequence[BarStay], stations: Floats, axes: Floats, high: HighEnds) -> Floats:
    """Return the (6 m, 6 m) stiffness of the stays, in the bar's axes; each joins the node at its station."""
    springs = np.zeros((6 * len(stations), 6 * len(stations)))
    for number, stay in enumerate(stays):
        direction = np.asarray(stay.direction, dtype=float)
        size = float(np.linalg.norm(direction))
        if not size > 0.0:
            raise ValueError("a stay of the dash bar has a direction of no length: say which way it runs")
        way = axes.T @ direction / size
        first = 6 * int(np.argmin(np.abs(stations - stay.station_mm)))
        stiffness = picked(stay.stiffness_n_per_mm, stay_range(number), high)
        springs[first : first + 3, first : first + 3] += stiffness * np.outer(way, way)
    return springs


def _end_hold(end: BarEnd, name: str, high: HighEnds) -> tuple[np.ndarray, float]:
    """Return which of the six local freedoms are held, and the bending spring in N.mm/rad."""
    if end.kind == "free":
        return np.zeros(6, dtype=bool), 0.0
    bending_free = np.array([True, True, True, False, False, True])
    if end.kind == "pinned":
        return bending_free, 0.0
    if end.kind == "bolted flange":
        return (np.ones(6, dtype=bool), 0.0) if name in high else (bending_free, 0.0)
    if end.kind == "stiffness":
        bending = picked(end.bending_nm_per_deg or (0.0, 0.0), name, high)
        return bending_free, bending * NMM_PER_RAD_OF_NM_PER_DEG
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
