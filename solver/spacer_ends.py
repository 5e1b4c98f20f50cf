"""What a spacer bears, and what its ends press on: plates, a boss, the wall of a dash bar."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from geometry.bracket import Bracket
from geometry.fixing import AtBoss, Bolt, Spacer
from geometry.materials import UnknownMaterialError, material
from geometry.partner_face import stands_on_mm
from geometry.placing import BoltPlace
from solver.head_pressure import BOSS_SHARE, Pressed, borne_n, pressed_area_mm2
from solver.plies import clamped_sheets
from solver.thread_rules import boss_tensile_mpa

_SPACER: Final = "its spacer"
_WIDER: Final = "spacer"


def borne_by_spacer(bracket: Bracket, bolt: Bolt, sides: Sequence[BoltPlace]) -> list[Pressed]:
    """Return what the spacer of a bolt and each face at its ends bear; none without one.

    The spacer bears its yield. What has no known strength is left out: a finding tells of it.
    """
    spacer = bolt.spacer
    if spacer is None:
        return []
    found = []
    for sheet in clamped_sheets(bracket, sides):
        area = _area_mm2(spacer, max(2.0 * sheet.place.hole_radius_mm, spacer.inner_mm))
        borne = borne_n(sheet.kind, sheet.tensile_mpa, area)
        found.append(Pressed(borne, f"{sheet.name} under {_SPACER}", _WIDER))
    try:
        strength = material(spacer.material, bracket.materials).yield_mpa(_wall_mm(spacer))
    except UnknownMaterialError:
        strength = None
    if strength is not None:
        found.append(Pressed(strength * _area_mm2(spacer, spacer.inner_mm), _SPACER, _WIDER))
    if isinstance(bolt.joins, AtBoss) and bracket.casing is not None:
        boss = bracket.casing.boss(bolt.joins.boss)
        outer = far_end_mm(bracket, bolt, spacer)
        area = pressed_area_mm2(outer, spacer.inner_mm, outer, 0.0)
        borne = BOSS_SHARE * boss_tensile_mpa(boss) * area
        found.append(Pressed(borne, f"boss {boss.name} under {_SPACER}", _WIDER))
    return found


def far_end_mm(bracket: Bracket, bolt: Bolt, spacer: Spacer) -> float:
    """Return how wide a bolt's spacer stands at its far end: no wider than what is there, mm."""
    under = stands_on_mm(bracket, bolt)
    return spacer.outer_mm if under is None else min(spacer.outer_mm, under)


def _area_mm2(spacer: Spacer, inner_mm: float) -> float:
    return pressed_area_mm2(spacer.outer_mm, inner_mm, spacer.outer_mm, 0.0)


def _wall_mm(spacer: Spacer) -> float:
    return (spacer.outer_mm - spacer.inner_mm) / 2.0
