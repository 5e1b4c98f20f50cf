"""What a spacer bears, and what its ends press on: plates, a boss, the wall of a dash bar."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from geometry.bracket import Bracket
from geometry.fixing import AtBoss, Bolt, Spacer
from geometry.materials import UnknownMaterialError, material
from geometry.placing import BoltPlace
from solver.head_pressure import BOSS_SHARE, borne_n, pressed_area_mm2
from solver.thread_rules import BOSS_TENSILE_MPA

SPACER: Final = "its spacer"


def borne_by_spacer(bracket: Bracket, bolt: Bolt, sides: Sequence[BoltPlace]) -> list[tuple[float, str]]:
    """Return what the spacer of a bolt and each face at its ends bear, N, and which; none without one.

    The spacer bears its yield. What has no known strength is left out: a finding tells of it.
    """
    spacer = bolt.spacer
    if spacer is None:
        return []
    found = []
    for name, metal_name, thickness_mm, inner_mm in _faces(bracket, spacer, sides):
        try:
            metal = material(metal_name, bracket.materials)
        except UnknownMaterialError:
            continue
        strength = metal.tensile_mpa(thickness_mm)
        if strength is not None:
            found.append(
                (borne_n(metal.kind, strength, _area_mm2(spacer, inner_mm)), f"{name} under {SPACER}")
            )
    try:
        strength = material(spacer.material, bracket.materials).yield_mpa(_wall_mm(spacer))
    except UnknownMaterialError:
        strength = None
    if strength is not None:
        found.append((strength * _area_mm2(spacer, spacer.inner_mm), SPACER))
    if isinstance(bolt.joins, AtBoss) and bracket.casing is not None:
        boss = bracket.casing.boss(bolt.joins.boss)
        tensile = BOSS_TENSILE_MPA[boss.metal] if boss.tensile_mpa is None else boss.tensile_mpa
        outer = min(spacer.outer_mm, boss.face_diameter_mm)
        area = pressed_area_mm2(outer, spacer.inner_mm, outer, 0.0)
        found.append((BOSS_SHARE * tensile * area, f"boss {boss.name} under {SPACER}"))
    return found


def _faces(
    bracket: Bracket, spacer: Spacer, sides: Sequence[BoltPlace]
) -> list[tuple[str, str, float, float]]:
    """Return name, metal, thickness and hole of every sheet or wall that an end of the spacer stands on."""
    found = []
    for place in sides:
        plate = bracket.plate(place.plate)
        name, metal = plate.name, plate.material or ""
        found.append((name, metal, plate.thickness_mm, max(2.0 * place.hole_radius_mm, spacer.inner_mm)))
    bar = bracket.dash_bar
    if bar is not None and sides[0].partner == "dash bar":
        hole = max(2.0 * sides[0].hole_radius_mm, spacer.inner_mm)
        found.append((f"the wall of {bar.name}", bar.material, bar.section.wall_mm, hole))
    return found


def _area_mm2(spacer: Spacer, inner_mm: float) -> float:
    return pressed_area_mm2(spacer.outer_mm, inner_mm, spacer.outer_mm, 0.0)


def _wall_mm(spacer: Spacer) -> float:
    return (spacer.outer_mm - spacer.inner_mm) / 2.0
