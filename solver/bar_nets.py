"""What a bolt's hole leaves of a dash bar's section, and the stress there.

EN 1993-1-1 6.2.5 lets a hole in a tension flange pass only where hardly any of it is lost (0.9 A_net f_u /
gamma_M2 against A f_y, a tenth in S235; from memory, to be verified), so holes are always taken off here. A
tube loses the wall that the bolt clamps, a solid bar all of its depth. Shear and torsion stay those of the
whole section.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.bar_section import Open, Round, Solid
from geometry.fixing import DashBar
from geometry.placing import BoltPlace
from solver.beam import BeamSection
from solver.dash_bar import BarModel
from solver.rigid import Floats

_LEAST = 1e-6
"""Share of a section that counts as nothing left."""


@dataclass(frozen=True)
class BarNet:
    """The section of a dash bar through one bolt's hole."""

    bolt: str
    node: int
    section: BeamSection


def bar_nets(bar: DashBar, model: BarModel, places: Sequence[BoltPlace]) -> tuple[BarNet, ...]:
    """Return the sections through the holes of bolts to the bar; none of an open one: it never passes."""
    if isinstance(bar.section, Open):
        return ()
    found = []
    for place in places:
        if place.partner != "dash bar" or place.station_mm is None:
            continue
        # the hole in the wall is taken as wide as the plate's
        hole = 2.0 * place.hole_radius_mm
        way = model.axes[:, :2].T @ place.axis
        beside = model.axes[:, :2].T @ (place.mating_mm - np.asarray(bar.from_mm))
        net = net_of_hole(bar, model.section, hole, (float(way[0]), float(way[1])), beside)
        found.append(BarNet(place.bolt, model.node_at(place.station_mm), net))
    return tuple(found)


def net_of_hole(
    bar: DashBar, whole: BeamSection, hole_mm: float, way: tuple[float, float], at_mm: Floats
) -> BeamSection:
    """Return a closed section without a hole through its face, or through all of it if it is solid.

    `way` is the bolt's direction into the bar, `at_mm` (2,) where it meets it, along the section's axes from
    its middle. A round section is turned to the bolt.
    """
    if isinstance(bar.section, Round):
        through, half, off = 0, whole.outer_1_mm, 0.0
    else:
        through = int(abs(way[1]) > abs(way[0]))
        half = (whole.outer_1_mm, whole.outer_2_mm)[through]
        off = float(at_mm[1 - through])
    depth = 2.0 * half if isinstance(bar.section, Solid) else bar.section.wall_mm
    middle = 0.0 if isinstance(bar.section, Solid) else half - depth / 2.0
    lost = hole_mm * depth
    area = max(whole.area_mm2 - lost, _LEAST * whole.area_mm2)
    # second moments by distance through the bar and beside it, about the middle that is left
    by_through = (whole.second_moment_2_mm4, whole.second_moment_1_mm4)[through]
    by_beside = (whole.second_moment_1_mm4, whole.second_moment_2_mm4)[through]
    shifts = lost * middle / area, lost * abs(off) / area
    left_through = by_through - lost * (middle**2 + depth**2 / 12.0) - area * shifts[0] ** 2
    left_beside = by_beside - lost * (off**2 + hole_mm**2 / 12.0) - area * shifts[1] ** 2
    left = max(left_through, _LEAST * by_through), max(left_beside, _LEAST * by_beside)
    outer = half + shifts[0], (whole.outer_2_mm, whole.outer_1_mm)[through] + shifts[1]
    if through == 1:
        left, outer = left[::-1], outer[::-1]
    if isinstance(bar.section, Round):  # its bendings meet in one fibre, whichever way they run
        left, outer = (min(left), min(left)), (max(outer), max(outer))
    return replace(
        whole,
        area_mm2=area,
        second_moment_1_mm4=left[1],
        second_moment_2_mm4=left[0],
        outer_1_mm=outer[0],
        outer_2_mm=outer[1],
    )
