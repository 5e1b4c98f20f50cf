"""What a bolt goes through and how much the side of each hole bears: plates, and the wall of a dash bar."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from geometry.bar_face import to_edge_mm
from geometry.bolt_tables import BoltSize
from geometry.bracket import Bracket
from geometry.fixing import DashBar
from geometry.materials import Kind, UnknownMaterialError, material
from geometry.placing import BoltPlace
from solver.joint_rules import HoleFit, bearing_allowable_n, pull_through_allowable_n, single_row_bearing_n
from solver.thin_sheet import BELOW_MM, PULLED_SOURCE, thin_bearing_n, thin_pull_through_n
from solver.thin_sheet import SOURCE as THIN_SOURCE

_NO_EDGE_MM = 1e-6
"""So little metal is left beside a hole on an edge: rules that want some to reckon with make it nothing."""


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

    def pulled_through_n(self, size: BoltSize) -> tuple[float, str]:
        """Return what it bears before the bolt's head is pulled through it, N, and by which rule."""
        if self.thickness_mm < BELOW_MM:
            return thin_pull_through_n(size.head_mean_mm, self.thickness_mm, self.tensile_mpa), PULLED_SOURCE
        return pull_through_allowable_n(size.head_mean_mm, self.thickness_mm, self.tensile_mpa), ""


@dataclass(frozen=True)
class Sheet:
    """A plate that a bolt clamps, or the wall of the dash bar."""

    name: str
    kind: Kind
    tensile_mpa: float
    place: BoltPlace
    """Of the bolt on it."""


def clamped_sheets(bracket: Bracket, sides: Sequence[BoltPlace]) -> list[Sheet]:
    """Return what a bolt's sides lie on; a sheet whose strength nobody knows is left out: a finding tells."""
    sheets = []
    for place in sides:
        plate = bracket.plate(place.plate)
        sheets.append((plate.name, plate.material or "", plate.thickness_mm, place))
    bar = bracket.dash_bar
    if bar is not None and sides[0].partner == "dash bar":
        sheets.append((wall_name(bar), bar.material, bar.section.wall_mm, sides[0]))
    found = []
    for name, metal_name, thickness_mm, place in sheets:
        try:
            metal = material(metal_name, bracket.materials)
        except UnknownMaterialError:
            continue
        strength = metal.tensile_mpa(thickness_mm)
        if strength is not None:
            found.append(Sheet(name, metal.kind, strength, place))
    return found


def wall_name(bar: DashBar) -> str:
    """Return what the metal of a dash bar under a bolt is called."""
    return f"the wall of {bar.name}"


def bar_ply(bracket: Bracket, place: BoltPlace, places: Sequence[BoltPlace], fit: HoleFit) -> Ply | None:
    """Return the wall of the dash bar under a bolt, its hole as wide as the plate's.

    None for a bolt that goes elsewhere, and for a bar whose strength is not known (a finding tells). On the
    bar's very edge, or beyond it, the wall bears nothing.
    """
    bar = bracket.dash_bar
    if place.partner != "dash bar" or bar is None or place.station_mm is None:
        return None
    try:
        strength = material(bar.material, bracket.materials).tensile_mpa(bar.section.wall_mm)
    except UnknownMaterialError:
        return None
    if strength is None:
        return None
    edge = max(to_edge_mm(bar, place.mating_mm, place.axis), _NO_EDGE_MM)
    others = [p for p in places if p.partner == "dash bar" and p.bolt != place.bolt]
    pitch = min((math.dist(p.partner_mm, place.partner_mm) for p in others), default=math.inf)
    hole = 2.0 * place.hole_radius_mm
    return Ply(wall_name(bar), bar.section.wall_mm, strength, hole, edge, pitch, fit)
