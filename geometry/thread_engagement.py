"""How much thread of a boss a bolt engages.

Glossary
--------
engaged     length of thread that bolt and boss share
room        depth of thread less the pitch that a bolt stays above its end
"""

from __future__ import annotations

from typing import Final

from geometry.bolt_lengths import sold_mm
from geometry.bolt_tables import BoltSize
from geometry.casing import Boss, BossMetal
from geometry.fixing import Bolt

ENGAGED_OVER_D: Final[dict[BossMetal, float]] = {"steel": 1.0, "cast iron": 1.25, "cast aluminium": 2.0}
"""Least thread engaged over the bolt's diameter (common practice, no source)."""
BOTTOM_PITCHES: Final = 1.0
"""A bolt ends so far above the end of a boss's thread."""


def to_buy_mm(boss: Boss, size: BoltSize, clamp_mm: float) -> float | None:
    """Return the length of bolt to buy for a boss, mm: for the usual thread, or as much as its room takes.

    `clamp_mm` is what the bolt clamps. A boss of unknown depth is taken to have room. None where no length
    sold reaches into it, or reaches so far.
    """
    usual = sold_mm(clamp_mm + ENGAGED_OVER_D[boss.metal] * size.diameter_mm, size)
    if boss.depth_mm is None:
        return usual
    most = clamp_mm + _room_mm(boss.depth_mm, size)
    if usual is not None and usual <= most:
        return usual
    shorter = sold_mm(most, size, down=True)
    return None if shorter is None or shorter <= clamp_mm else shorter


def engaged_mm(boss: Boss, bolt: Bolt, size: BoltSize, clamp_mm: float) -> float | None:
    """Return the thread engaged: by the bolt's length if the file has it, else as it is to be bought.

    `clamp_mm` is what the bolt clamps. No more than usual is taken of one that is to be bought; where no
    length sold fits, it is taken as cut to what the room takes. None where the boss's depth is blank; 0 where
    the bolt ends before it.
    """
    if boss.depth_mm is None:
        return None
    if bolt.length_mm is not None:
        return max(0.0, min(bolt.length_mm - clamp_mm, boss.depth_mm))
    bought = to_buy_mm(boss, size, clamp_mm)
    room = _room_mm(boss.depth_mm, size) if bought is None else bought - clamp_mm
    return max(0.0, min(ENGAGED_OVER_D[boss.metal] * size.diameter_mm, room))


def _room_mm(depth_mm: float, size: BoltSize) -> float:
    return depth_mm - BOTTOM_PITCHES * size.pitch_mm


def bottoms(boss: Boss, bolt: Bolt, clamp_mm: float) -> bool:
    """Return whether the bolt stands on the end of the boss's thread before it clamps."""
    if boss.depth_mm is None or bolt.length_mm is None:
        return False
    return bolt.length_mm - clamp_mm > boss.depth_mm + 1e-9
