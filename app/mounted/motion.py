"""How what is drawn moves: the plates as solved, times a factor, or a free motion."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from app.mounted.shapes import CASING, Body, Floats
from geometry.footprint import FACES, ring_name
from geometry.placing import BoltPlace
from solver.results import FreeMotion, PlateField, Results

SEEN_SHARE: Final = 0.06
"""The largest movement is drawn as about this share of the bracket's size."""


@dataclass(frozen=True, eq=False)
class Motion:
    """Where everything goes for a factor of one: bodies rigidly, plates point by point."""

    rigid: Mapping[Body, Floats] = field(default_factory=dict)
    """(6,) of each body: shift in mm of the origin and turn in rad."""
    by_points: bool = False
    """Whether plates move by their own displacements."""
    largest_mm: float = 0.0
    """Largest movement of any point at a factor of one."""

    def moved(self, points: Floats, displacement: Floats | None, body: Body, factor: float) -> Floats:
        """Return places (..., 3) after the movement times a factor; the same array where nothing moves."""
        if factor == 0.0:
            return points
        if self.by_points and displacement is not None:
            return np.asarray(points + factor * displacement)
        rigid = self.rigid.get(body)
        if rigid is None:
            return points
        return np.asarray(points + factor * (rigid[:3] + np.cross(rigid[3:], points)))


def movements(results: Results, case: int | None) -> dict[str, Floats]:
    """Return how each plate's vertices move, (n_vertex, 3) mm, in a case of the results.

    None, or results that hold no movement for each case, gives each plate its own worst case.
    """
    found = {}
    for plate in results.plates:
        if case is not None and case < len(plate.case_displacements_mm):
            found[plate.plate] = np.asarray(plate.case_displacements_mm[case], dtype=float)
        else:
            found[plate.plate] = plate.displacement_mm[plate.mesh.vertex_nodes]
    return found


def most_moving_case(results: Results) -> int | None:
    """Return the number of the case with the largest movement while all bolts hold; None if there is none."""
    held = [i for i, case in enumerate(results.cases) if case.state == "stuck"]
    told = all(len(plate.case_displacements_mm) == len(results.cases) for plate in results.plates)
    if not held or not told:
        return None
    return max(held, key=lambda i: results.cases[i].movement_mm)


def deflection(
    results: Results, places: Sequence[BoltPlace], moved: Mapping[str, Floats], case: int | None
) -> Motion:
    """Return the movement the results hold: plates by `moved`, bolts with their plate, the casing.

    Without a case the casing follows the plates' footprints on its bosses.
    """
    fields = {plate.plate: plate for plate in results.plates}
    rigid: dict[Body, Floats] = {}
    for place in places:
        if place.plate in fields and place.side == "head":
            found = _rigid_fit(*_under([place], fields, moved))
            if found is not None:
                rigid["bolt", place.bolt] = found
    on_bosses = [place for place in places if place.partner == "boss" and place.plate in fields]
    if case is not None:
        rigid[CASING] = results.cases[case].casing_motion
    elif on_bosses:
        found = _rigid_fit(*_under(on_bosses, fields, moved))
        if found is not None:
            rigid[CASING] = found
    sizes = [float(np.linalg.norm(plate, axis=1).max()) for plate in moved.values()]
    if case is not None:
        sizes.append(results.cases[case].movement_mm)
    return Motion(rigid, by_points=True, largest_mm=max(sizes, default=0.0))


def swing(motion: FreeMotion, places: Sequence[BoltPlace], points: Mapping[Body, Floats]) -> Motion:
    """Return a free motion; `points` of the bodies say how large it is. Plates move as rigid bodies."""
    rigid: dict[Body, Floats] = {
        (CASING if name == "casing" else ("plate", name)): np.asarray(body, dtype=float)
        for name, body in motion.bodies.items()
    }
    for place in places:
        if ("plate", place.plate) in rigid and place.side == "head":
            rigid["bolt", place.bolt] = rigid["plate", place.plate]
    whole = Motion(rigid)
    sizes = [
        float(np.linalg.norm(whole.moved(at, None, body, 1.0) - at, axis=-1).max())
        for body, at in points.items()
        if len(at)
    ]
    return Motion(rigid, by_points=False, largest_mm=max(sizes, default=0.0))


def automatic_factor(largest_mm: float, size_mm: float) -> float:
    """Return a round factor that makes a movement well seen: 1, 2 or 5 times a power of ten, at least 1."""
    if not largest_mm > 0.0:
        return 1.0
    wanted = SEEN_SHARE * size_mm / largest_mm
    if wanted <= 1.0:
        return 1.0
    power = 10.0 ** np.floor(np.log10(wanted))
    return float(power * max(step for step in (1.0, 2.0, 5.0) if step * power <= wanted * (1.0 + 1e-9)))


def _under(
    places: Sequence[BoltPlace], fields: Mapping[str, PlateField], moved: Mapping[str, Floats]
) -> tuple[Floats, Floats]:
    """Return places and displacements (n, 3) of the plates' vertices under bolts, both faces."""
    points, shifts = [np.zeros((0, 3))], [np.zeros((0, 3))]
    for place in places:
        mesh = fields[place.plate].mesh
        names = [ring_name(place.bolt, face) for face in FACES]
        rings = [mesh.patches[name][:, :3].ravel() for name in names if name in mesh.patches]
        nodes = np.unique(np.concatenate([np.zeros(0, dtype=np.int64), *rings]))
        vertices = np.searchsorted(mesh.vertex_nodes, nodes)
        points.append(mesh.points[mesh.vertex_nodes[vertices]])
        shifts.append(moved[place.plate][vertices])
    return np.concatenate(points), np.concatenate(shifts)


def _rigid_fit(points: Floats, moved: Floats) -> Floats | None:
    """Return the rigid motion (6,) about the origin nearest to the displacements; None for too few points."""
    if len(points) < 3:
        return None
    middle = points.mean(axis=0)
    x, y, z = (points - middle).T
    zero, one = np.zeros_like(x), np.ones_like(x)
    # shift + turn x place, one row for each component.
    rows = np.concatenate(
        [
            np.stack([one, zero, zero, zero, z, -y], axis=1),
            np.stack([zero, one, zero, -z, zero, x], axis=1),
            np.stack([zero, zero, one, y, -x, zero], axis=1),
        ]
    )
    fitted, *_ = np.linalg.lstsq(rows, moved.T.ravel(), rcond=None)
    fitted[:3] -= np.cross(fitted[3:], middle)
    return np.asarray(fitted, dtype=float)
