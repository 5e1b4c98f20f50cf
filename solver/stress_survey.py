"""Where the stress of a plate is judged, and what it is there.

On and outside a circle t/3 beyond every footprint the field is judged point by point. Inside it the peak
under a clamped ring has no meaning; the net section does. At a sharp inside corner the peak never settles:
what is taken is the stress beyond t/2, times 2.2 for the radius of t/6 that a cut leaves. Beside a weld the
field is judged from t/3 beyond its toe; the section at the toe is looked at with the weld.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from geometry.flat_pattern import CORNER_REACH, flat_pattern
from geometry.footprint import JUDGED_BEYOND
from geometry.weld_mark import WeldMark
from solver.condensed_plate import CondensedPlate
from solver.rigid import Floats
from solver.stress import deviator, sum_of_products, von_mises

CORNER_RISE = 2.2
"""Stress at an as-cut radius of t/6 over the stress beyond t/2 (own calculation, design figure)."""
_SLACK_MM = 1e-3
_AT_ONCE = 12_000
"""Places times columns looked at together: what they take stays in the processor's own memory."""


@dataclass(frozen=True)
class SharpCorner:
    """A sharp inside corner and the rows of the survey just beyond its reach."""

    flat_mm: tuple[float, float]
    rows: np.ndarray


@dataclass(frozen=True)
class StressSurvey:
    """The stress of one plate's judged places for every mode of the plate."""

    plate: CondensedPlate
    nodes: np.ndarray
    """(v,) node numbers, all vertices outside the judged circles and beyond the sharp corners."""
    modes: Floats
    """(v * 6, 6 b + 3) stress in MPa of every mode."""
    corners: tuple[SharpCorner, ...]
    allowable_mpa: float
    movement_modes: Floats
    """(3 v, 6 b + 3) movement in mm of all vertices for every mode."""
    welds: tuple[WeldMark, ...] = ()

    def von_mises(self, amounts: Floats) -> Floats:
        """Return the (v, columns) equivalent stress in MPa for amounts of every mode (6 b + 3, columns)."""
        found = np.empty((len(self.nodes), amounts.shape[1]))
        for rows, part in von_mises_in_parts(self.modes, amounts):
            found[rows] = part
        return found

    def most_mpa(self, amounts: Floats) -> Floats:
        """Return the largest equivalent stress (columns,) in MPa; 0 where no place is judged."""
        most = np.zeros(amounts.shape[1])
        for _, part in von_mises_in_parts(self.modes, amounts):
            np.maximum(most, part.max(axis=0), out=most)
        return most

    def stress(self, rows: slice, amounts: Floats) -> Floats:
        """Return the (v', 6, columns) stress in MPa of some neighbouring rows."""
        return _stress(self.modes, rows, amounts)

    def at(self, components: np.ndarray, amounts: Floats) -> Floats:
        """Return the (v', columns) equivalent stress of some rows only.

        The rows are given by their components' own numbers (6 v',).
        """
        return von_mises((self.modes[components] @ amounts).reshape(-1, 6, amounts.shape[1]))

    def where(self, row: int) -> str:
        """Return the place of a row in words."""
        x, y, z = self.plate.mesh.flat_points[self.nodes[row]]
        height = z / self.plate.plate.thickness_mm
        face = "front face" if height > 0.75 else "back face" if height < 0.25 else "inside the sheet"
        near = min(
            ((float(np.hypot(x - p.flat_mm[0], y - p.flat_mm[1])), p) for p in self.plate.places),
            key=lambda pair: pair[0],
            default=None,
        )
        beside = ""
        if near is not None and near[0] < 2.0 * (near[1].spread_mm + self.plate.plate.thickness_mm):
            beside = f", beside bolt {near[1].bolt}"
        off = [(float(w.beyond_toe_mm(np.array([[x, y]]))[0]), w.name) for w in self.welds]
        if not beside and off and min(off)[0] < 2.0 * self.plate.plate.thickness_mm:
            beside = f", beside weld {min(off)[1]}"
        return f"{self.plate.plate.name}, {face}, at ({x:.0f}, {y:.0f}){beside}"


def von_mises_in_parts(modes: Floats, amounts: Floats) -> Iterator[tuple[slice, Floats]]:
    """Yield neighbouring places and their equivalent stress (v', columns) in MPa, a part after the other.

    `modes` (6 v, k) is the places' stress for every mode, `amounts` (k, columns) how much there is of each.
    """
    places = modes.reshape(-1, 6, modes.shape[1])
    for rows in in_parts(len(places), max(amounts.shape)):
        # There are fewer modes than columns as a rule, and a deviator has fewer components than a stress.
        part = deviator(places[rows])
        found = (part.reshape(-1, modes.shape[1]) @ amounts).reshape(len(part), 5, -1)
        yield rows, np.sqrt(sum_of_products(found, found))


def largest_movement(modes: Floats, amounts: Floats) -> Floats:
    """Return the largest movement (columns,) of any place, mm.

    `modes` (3 v, k) is how the places move with every mode, `amounts` (k, columns) how much there is of each.
    """
    most = np.zeros(amounts.shape[1])
    for rows in in_parts(len(modes) // 3, amounts.shape[1]):
        moved = movements(modes, rows, amounts)
        np.maximum(most, np.einsum("nik,nik->nk", moved, moved).max(axis=0), out=most)
    return np.asarray(np.sqrt(most))


def movements(modes: Floats, rows: slice, amounts: Floats) -> Floats:
    """Return the (v', 3, columns) movement in mm of some neighbouring places, as `largest_movement`."""
    part = modes[3 * rows.start : 3 * rows.stop] @ amounts
    return np.asarray(part.reshape(-1, 3, amounts.shape[1]))


def _stress(modes: Floats, rows: slice, amounts: Floats) -> Floats:
    part = modes[6 * rows.start : 6 * rows.stop] @ amounts
    return np.asarray(part.reshape(-1, 6, amounts.shape[1]))


def in_parts(rows: int, columns: int) -> Iterator[slice]:
    """Yield slices of rows that are looked at together."""
    step = max(_AT_ONCE // max(columns, 1), 1)
    for first in range(0, rows, step):
        yield slice(first, min(first + step, rows))


def survey(
    plate: CondensedPlate, stress: Floats, yield_factor: float, welds: Sequence[WeldMark] = ()
) -> StressSurvey:
    """Return the survey of a condensed plate; `yield_factor` is yield over allowable.

    `stress` (v, 6, modes) is the stress at all vertices for every mode of the plate, from `stress_modes`.

    Raises ValueError where the material has no yield for the thickness: a finding says so beforehand.
    """
    thickness = plate.plate.thickness_mm
    strength = plate.metal.yield_mpa(thickness)
    if strength is None:
        raise ValueError(f"{plate.metal.name} has no yield strength for {thickness:g} mm in the table")
    vertices = plate.mesh.vertex_nodes
    flat = plate.mesh.flat_points[vertices, :2]
    judged = np.ones(len(vertices), dtype=bool)
    for place in plate.places:
        reach = place.spread_mm + JUDGED_BEYOND * thickness
        judged &= np.linalg.norm(flat - np.asarray(place.flat_mm), axis=1) >= reach - _SLACK_MM
    for weld in welds:
        judged &= weld.beyond_toe_mm(flat) >= weld.judged_mm - weld.toe_mm - _SLACK_MM
    sharp = flat_pattern(plate.plate).sharp_inside_corners()
    distances = [np.linalg.norm(flat - np.asarray(corner.at_mm), axis=1) for corner in sharp]
    for distance in distances:
        judged &= distance >= CORNER_REACH * thickness - _SLACK_MM
    nodes = vertices[judged]
    rows = stress[judged]
    moves = plate.modes.reshape(-1, 3, plate.modes.shape[1])[vertices].reshape(3 * len(vertices), -1)
    corners = tuple(
        SharpCorner(corner.at_mm, np.flatnonzero(distance[judged] <= thickness))
        for corner, distance in zip(sharp, distances, strict=True)
    )
    return StressSurvey(
        plate,
        nodes,
        rows.reshape(len(nodes) * 6, stress.shape[2]),
        corners,
        strength / yield_factor,
        moves,
        tuple(welds),
    )
