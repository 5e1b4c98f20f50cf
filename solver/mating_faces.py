"""What a boss or a pad bears where a plate is drawn onto it, and what the plate bears there.

Under the head the washer spreads what presses; a face smaller than that may be sunk into from the other side.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from geometry.bolt_tables import BoltSize
from geometry.bracket import Bracket
from geometry.fixing import AtBoss, Bolt
from geometry.partner_face import stands_on_mm, washer_thickness_mm
from geometry.placing import BoltPlace
from solver.head_pressure import BOSS_SHARE, Pressed, borne_n, pressed_area_mm2, spread_mm
from solver.plies import clamped_sheets
from solver.thread_rules import boss_tensile_mpa

_WIDER: Final = "face there"


def borne_by_face(bracket: Bracket, bolt: Bolt, size: BoltSize, sides: Sequence[BoltPlace]) -> list[Pressed]:
    """Return what boss or pad and the plate on it bear.

    None with a spacer, which has its own, nor where a plate lies on another or on a bar without a pad: that
    is no smaller than what lies under head and nut. Of a pad nobody says the metal: the plate alone counts.
    """
    if bolt.spacer is not None or stands_on_mm(bracket, bolt) is None:
        return []
    head = sides[0]
    # The head presses through its washer and the plate, each of which widens it.
    across = min(2.0 * head.head_outer_mm, spread_mm(size.head_face_mm, washer_thickness_mm(bolt, size)))
    outer, inner = 2.0 * head.mating_outer_mm, 2.0 * head.mating_inner_mm
    area = pressed_area_mm2(outer, inner, across, head.thickness_mm)
    where = f"boss {bolt.joins.boss}" if isinstance(bolt.joins, AtBoss) else "pad"
    found = [
        Pressed(borne_n(sheet.kind, sheet.tensile_mpa, area), f"{sheet.name} on its {where}", _WIDER)
        for sheet in clamped_sheets(bracket, sides)
        if sheet.place is head and sheet.name == head.plate
    ]
    if isinstance(bolt.joins, AtBoss) and bracket.casing is not None:
        boss = bracket.casing.boss(bolt.joins.boss)
        borne = BOSS_SHARE * boss_tensile_mpa(boss) * area
        found.append(Pressed(borne, f"boss {boss.name} under the plate", _WIDER))
    return found
