"""What one weld carries, as the results tell it."""

from __future__ import annotations

from dataclasses import dataclass

from solver.rigid import Floats


@dataclass(frozen=True)
class WeldResult:
    """What one weld carries in the load case that asks most of its throat."""

    name: str
    plate: str
    partner: str
    joint: str
    """Both in words."""
    throat_mm: float
    counted_mm: float
    """Length that counts."""
    force_n: Floats
    """(3,) on the plate: along the weld, out of the cut face, toward the sheet's front."""
    moment_nmm: Floats
    """(3,) about the weld's middle and the same axes."""
    used: float | None
    """Of its throat; None where the strength of what it joins is not known."""
    segment: int
    """The hardest used, counted from one."""
    segments: int
    case: str
