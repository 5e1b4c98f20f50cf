"""What a bolt's hole leaves of a dash bar's section, and the stress there.

EN 1993-1-1 6.2.5 lets a hole in a tension flange pass only where hardly any of it is lost (0.9 A_net f_u /
gamma_M2 against A f_y, a tenth in S235; from memory, to be verified), so holes are always taken off here. A
tube loses the wall that the bolt clamps, a solid bar all of its depth. Holes beside each other are taken off
together. Shear and torsion stay those of the whole section.
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

_LEAST = 1e-6
"""Share of a section that counts as nothing left."""


@dataclass(frozen=True)
class BarNet:
    """The section of a dash bar through one bolt's hole."""

    bolt: str
    node: int
    section: BeamSection


@dataclass(frozen=True)
class BarHole:
    """A bolt's hole in a dash bar, along the section's axes from its middle."""

    diameter_mm: float
    way: tuple[float, float]
    """The bolt's direction into the bar."""
    at_mm: tuple[float, float]
    """Where it meets the bar."""


def bar_nets(bar: DashBar, model: BarModel, places: Sequence[BoltPlace]) -> tuple[BarNet, ...]:
    """Return the sections through the holes of bolts to the bar; none of an open one: it never passes."""
    if isinstance(bar.section, Open):
        return ()
    holes = [
        (place.station_mm, place.bolt, _hole(bar, model, place))
        for place in places
        if place.partner == "dash bar" and place.station_mm is not None
    ]
    found = []
    for station, bolt, hole in holes:
        # those that the section through its middle meets
        beside = [
            other for at, _, other in holes if other is hole or abs(at - station) < other.diameter_mm / 2.0
        ]
        found.append(BarNet(bolt, model.node_at(station), net_of_holes(bar, model.section, beside)))
    return tuple(found)


def _hole(bar: DashBar, model: BarModel, place: BoltPlace) -> BarHole:
    way = model.axes[:, :2].T @ place.axis
    beside = model.axes[:, :2].T @ (place.mating_mm - np.asarray(bar.from_mm))
    # the hole in the wall is taken as wide as the plate's
    return BarHole(
        2.0 * place.hole_radius_mm, (float(way[0]), float(way[1])), (float(beside[0]), float(beside[1]))
    )


def net_of_holes(bar: DashBar, whole: BeamSection, holes: Sequence[BarHole]) -> BeamSection:
    """Return a closed section without holes through its faces, or through all of it if it is solid.

    Holes are taken off one way through after the other. A round section is turned to its bolt.
    """
    section = whole
    for through in (0, 1):
        same = [hole for hole in holes if _runs_along(bar, hole) == through]
        section = _less_holes(bar, section, through, same) if same else section
    return section


def _runs_along(bar: DashBar, hole: BarHole) -> int:
    """Return which of the section's axes a bolt runs along."""
    return 0 if isinstance(bar.section, Round) else int(abs(hole.way[1]) > abs(hole.way[0]))


def _less_holes(bar: DashBar, whole: BeamSection, through: int, holes: Sequence[BarHole]) -> BeamSection:
    solid, turned = isinstance(bar.section, Solid), isinstance(bar.section, Round)
    half, across = (whole.outer_1_mm, whole.outer_2_mm)[:: -1 if through else 1]
    depth = 2.0 * half if solid else bar.section.wall_mm
    width = np.array([hole.diameter_mm for hole in holes])
    lost = width * depth
    # where each lies through the bar and beside, from the middle; a bolt enters from where it comes
    sides = np.array([0.0 if solid else 1.0 if turned else -np.sign(hole.way[through]) for hole in holes])
    middle = sides * (half - depth / 2.0)
    off = np.zeros(len(holes))
    if not turned:
        off = np.array([hole.at_mm[1 - through] for hole in holes])
    area = max(whole.area_mm2 - lost.sum(), _LEAST * whole.area_mm2)
    # second moments by distance through the bar and beside it, about the middle that is left
    by_through = (whole.second_moment_2_mm4, whole.second_moment_1_mm4)[through]
    by_beside = (whole.second_moment_1_mm4, whole.second_moment_2_mm4)[through]
    shifts = abs(lost @ middle) / area, abs(lost @ off) / area
    left_through = by_through - lost @ (middle**2 + depth**2 / 12.0) - area * shifts[0] ** 2
    left_beside = by_beside - lost @ (off**2 + width**2 / 12.0) - area * shifts[1] ** 2
    left = float(max(left_through, _LEAST * by_through)), float(max(left_beside, _LEAST * by_beside))
    outer = float(half + shifts[0]), float(across + shifts[1])
    if through == 1:
        left, outer = left[::-1], outer[::-1]
    if turned:  # its bendings meet in one fibre, whichever way they run
        left, outer = (min(left), min(left)), (max(outer), max(outer))
    return replace(
        whole,
        area_mm2=float(area),
        second_moment_1_mm4=left[1],
        second_moment_2_mm4=left[0],
        outer_1_mm=outer[0],
        outer_2_mm=outer[1],
    )
