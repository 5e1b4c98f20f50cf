"""What a bolt goes through and how much the side of each hole bears: plates, and the wall of a dash bar."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geometry.bar_section import Round
from geometry.bolt_tables import BoltSize
from geometry.bracket import Bracket
from geometry.fixing import DashBar
from geometry.materials import UnknownMaterialError, material
from geometry.placing import BoltPlace
from solver.joint_rules import HoleFit, bearing_allowable_n, single_row_bearing_n
from solver.thin_sheet import BELOW_MM, thin_bearing_n
from solver.thin_sheet import SOURCE as THIN_SOURCE


@dataclass(frozen=True)
class Ply:
    """One metal that a bolt goes through."""

    name: str
    thickness_mm: float
    tensile_mpa: float
    """0 where it is not known."""
    hole_mm: float
    edge_mm: float
    """From the middle of the hole to the nearest edge."""
    pitch_mm: float
    """From the middle of the hole to the nearest other bolt's."""
    fit: HoleFit

    def bears_n(self, size: BoltSize, bolt_mpa: float) -> tuple[float, str]:
        """Return what the side of the hole bears for a force in any direction, N, and by which rule.

        The rule is empty where it is that of EN 1993-1-8.
        """
        if not self.tensile_mpa > 0.0:
            return 0.0, ""
        allowed = bearing_allowable_n(
            bolt_mpa,
            self.tensile_mpa,
            size.diameter_mm,
            self.thickness_mm,
            self.hole_mm,
            e1_mm=self.edge_mm,
            e2_mm=self.edge_mm,
            p1_mm=self.pitch_mm,
            p2_mm=self.pitch_mm,
            fit=self.fit,
        )
        row = single_row_bearing_n(self.tensile_mpa, size.diameter_mm, self.thickness_mm)
        allowed = min(allowed, row)
        if self.thickness_mm < BELOW_MM:
            thin = thin_bearing_n(self.tensile_mpa, size.diameter_mm, self.thickness_mm, self.edge_mm)
            # the milder of the two never counts: EN 1993-1-8 stays with what the whole program stands on
            if thin < allowed:
                return thin, THIN_SOURCE
        return allowed, ""


def bar_ply(bracket: Bracket, place: BoltPlace, places: Sequence[BoltPlace], fit: HoleFit) -> Ply | None:
    """Return the wall of the dash bar under a bolt, its hole as wide as the plate's.

    None for a bolt that goes elsewhere, for a bar whose strength is not known (a finding tells), and where
    the bolt stands on the bar's very edge.
    """
    bar = bracket.dash_bar
    if place.partner != "dash bar" or bar is None or place.station_mm is None:
        return None
    try:
        strength = material(bar.material, bracket.materials).tensile_mpa(bar.section.wall_mm)
    except UnknownMaterialError:
        return None
    edge = _to_edge_mm(bar, place)
    if strength is None or not edge > 0.0:
        return None
    others = [p for p in places if p.partner == "dash bar" and p.bolt != place.bolt]
    pitch = min((math.dist(p.partner_mm, place.partner_mm) for p in others), default=math.inf)
    hole = 2.0 * place.hole_radius_mm
    return Ply(f"the wall of {bar.name}", bar.section.wall_mm, strength, hole, edge, pitch, fit)


def _to_edge_mm(bar: DashBar, place: BoltPlace) -> float:
    """Return how far the bolt is from the ends of the bar, and from the sides of the face it goes through."""
    start, end = np.asarray(bar.from_mm, dtype=float), np.asarray(bar.to_mm, dtype=float)
    length = float(np.linalg.norm(end - start))
    along = (end - start) / length
    station = float((place.mating_mm - start) @ along)
    least = min(station, length - station)
    if isinstance(bar.section, Round):
        return least  # it has no sides
    beside = np.cross(along, place.axis)
    beside /= max(float(np.linalg.norm(beside)), 1e-300)
    up = np.asarray(bar.up, dtype=float)
    upright = up - (up @ along) * along
    upright /= max(float(np.linalg.norm(upright)), 1e-300)
    across = bar.section.height_mm if abs(float(beside @ upright)) > math.sqrt(0.5) else bar.section.width_mm
    return min(least, across / 2.0 - abs(float((place.mating_mm - start) @ beside)))
