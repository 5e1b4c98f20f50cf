"""What the engaged thread of a bolt and of what it is screwed into bear before one strips.

Glossary
--------
A_n     area that the boss's thread shears through, at the bolt's outer diameter
A_s     area that the bolt's thread shears through, at the boss's inner diameter
least, largest  with the play of 6g and 6H: ISO 965-1's formulas, before rounding

Inch threads are given the same play, which is near that of 2A and 2B.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from geometry.bolt_tables import BoltSize
from geometry.casing import Boss, BossMetal
from solver.errors import SolverError

SOURCE: Final = (
    "stripping areas of FED-STD-H28/2 with the play of ISO 965-1 6g and 6H, shear strength f_u / sqrt(3)"
    " (from memory, to be verified)"
)
BOSS_TENSILE_MPA: Final[dict[BossMetal, float]] = {
    "cast aluminium": 150.0,
    "cast iron": 150.0,
    "steel": 360.0,
}
"""Least tensile strength: EN AC-43000 as sand cast (EN 1706), EN-GJL-150 (EN 1561), S235 (EN 10025-2); the
first two from memory, to be verified. A boss's own alloy is not in the file, so the weakest usual one is
taken."""
LEAD_PITCHES: Final = 0.8
"""Of the engaged thread, that the bolt's chamfered end and the mouth of the boss leave without a full flank:
VDI 2230 asks for so much more than what bears (from memory, to be verified)."""
_SIXTY_DEG: Final = 0.57735


def boss_tensile_mpa(boss: Boss) -> float:
    """Return the tensile strength of a boss, MPa: as stated, else that of the weakest usual metal."""
    return BOSS_TENSILE_MPA[boss.metal] if boss.tensile_mpa is None else boss.tensile_mpa


class ThreadError(SolverError):
    """A length of thread below zero, or no number."""


@dataclass(frozen=True)
class Stripping:
    """What engaged thread bears before it strips, without any factor."""

    boss_n: float
    bolt_n: float

    @property
    def least_n(self) -> float:
        """Return the lower of the two."""
        return min(self.boss_n, self.bolt_n)

    @property
    def weaker(self) -> str:
        """Return whose thread strips first."""
        return "boss" if self.boss_n <= self.bolt_n else "bolt"


def stripping(size: BoltSize, engaged_mm: float, boss_mpa: float, bolt_mpa: float) -> Stripping:
    """Return what the thread of boss and bolt bear with their tensile strengths; ThreadError below zero."""
    boss_mm2, bolt_mm2 = stripping_areas_mm2(size, engaged_mm)
    return Stripping(boss_mm2 * boss_mpa / math.sqrt(3.0), bolt_mm2 * bolt_mpa / math.sqrt(3.0))


def full_flanks_mm(size: BoltSize, engaged_mm: float) -> float:
    """Return the length of engaged thread with full flanks, mm."""
    return max(engaged_mm - LEAD_PITCHES * size.pitch_mm, 0.0)


def stripping_areas_mm2(size: BoltSize, engaged_mm: float) -> tuple[float, float]:
    """Return A_n of the boss and A_s of the bolt over a length of thread; ThreadError for one below zero."""
    if not (0.0 <= engaged_mm < math.inf):
        raise ThreadError(f"{engaged_mm:g} mm of thread engaged: the length cannot be below zero or endless")
    outer_least, pitch_least = _bolt_least_mm(size)
    inner_largest, pitch_largest = _boss_largest_mm(size)
    turns = engaged_mm / size.pitch_mm
    half = size.pitch_mm / 2.0
    boss = math.pi * turns * outer_least * (half + _SIXTY_DEG * (outer_least - pitch_largest))
    bolt = math.pi * turns * inner_largest * (half + _SIXTY_DEG * (pitch_least - inner_largest))
    return boss, bolt


def _bolt_least_mm(size: BoltSize) -> tuple[float, float]:
    """Return the least outer and pitch diameter of a bolt, 6g."""
    p = size.pitch_mm
    play = (15.0 + 11.0 * p) / 1000.0
    outer = (180.0 * p ** (2.0 / 3.0) - 3.15 / math.sqrt(p)) / 1000.0
    return size.diameter_mm - play - outer, size.pitch_diameter_mm - play - _pitch_play_mm(size)


def _boss_largest_mm(size: BoltSize) -> tuple[float, float]:
    """Return the largest inner and pitch diameter of a boss, 6H."""
    p = size.pitch_mm
    inner = (230.0 * p**0.7 if p >= 1.0 else 433.0 * p - 190.0 * p**1.22) / 1000.0
    least = size.diameter_mm - 1.08253 * p
    return least + inner, size.pitch_diameter_mm + 1.32 * _pitch_play_mm(size)


def _pitch_play_mm(size: BoltSize) -> float:
    return 0.09 * math.pow(size.pitch_mm, 0.4) * math.pow(size.diameter_mm, 0.1)
