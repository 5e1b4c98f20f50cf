"""What one bolt clamps with, and where that comes from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from geometry.bolt_tables import BoltGrade, BoltSize
from geometry.fixing import Bolt
from geometry.nuts import PREVAILING_SOURCES, prevailing_nm
from geometry.placing import BoltPlace
from solver.tightening import settling_loss_n, tighten


@dataclass(frozen=True)
class BoltPreload:
    """What one bolt clamps with; None where that is not known."""

    low_n: float | None
    """After scatter and settling; it governs slip and opening."""
    high_n: float | None
    """It governs the bolt."""
    surely_n: float | None
    """What it is drawn to at the low end of its scatter, whether or not it bears that."""
    settling_n: float
    """What its high end may still lose; 0 of one that is stated."""
    words: str
    """Where it comes from."""


def preload_of(
    bolt: Bolt, size: BoltSize, grade: BoltGrade | None, sides: Sequence[BoltPlace]
) -> BoltPreload:
    """Return low and high preload, what settling takes, and where they come from."""
    faces = len(sides) + (bolt.washer != "none") + (bolt.spacer is not None)
    settling = settling_loss_n(size, sides[0].clamp_length_mm, faces)
    if bolt.preload_n is not None:
        low, high = bolt.preload_n
        # Nobody clamps with more than the bolt bears at its yield, whatever is stated. The file does not say
        # that it was measured again later, so its low end settles as any; its high end may be of later.
        borne = math.inf if grade is None else grade.yield_mpa * size.stress_area_mm2
        left = max(0.0, min(low, borne) - settling)
        return BoltPreload(left, high, low, 0.0, "as the file states, settling taken off its low end")
    if bolt.tightening_nm is None or grade is None:
        return BoltPreload(None, None, None, 0.0, "not known")
    taken = prevailing_nm(bolt)
    preload = tighten(
        size,
        grade,
        bolt.tightening_nm,
        bolt.thread_friction,
        bolt.scatter,
        settling_n=settling,
        prevailing_nm=taken,
        hole_mm=2.0 * sides[0].hole_radius_mm,
    )
    words = f"{bolt.tightening_nm:g} N.m at thread friction {bolt.thread_friction:g}"
    if taken:
        said = (
            f"may take {taken:g} N.m, {PREVAILING_SOURCES[size.system]}"
            if bolt.prevailing_nm is None
            else f"takes {taken:g} N.m"
        )
        words += f", of which its locking nut {said}"
    return BoltPreload(preload.low_n, preload.high_n, preload.surely_n, settling, words)
