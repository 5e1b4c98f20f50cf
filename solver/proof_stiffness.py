"""What readings taken in the car say: the mounting's own stiffness, and that of a dash bar's ends.

The same hang on the donor's own mounting makes its N.m/deg the reference to compare with.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from geometry.bar_section import Open
from geometry.fixing import DashBar
from solver.bar_sections import section_of
from solver.dash_bar import NMM_PER_RAD_OF_NM_PER_DEG
from solver.proof_readings import READ_MM, ProofError


@dataclass(frozen=True)
class HungReadings:
    """Four readings of one gauge, mm."""

    left_mm: float
    """With the mass on the left."""
    after_left_mm: float
    """With nothing hung, after it."""
    right_mm: float
    after_right_mm: float

    @property
    def couple_share_mm(self) -> float:
        """Return half the difference."""
        return (self.left_mm - self.right_mm) / 2.0

    @property
    def sag_mm(self) -> float:
        """Return half the sum."""
        return (self.left_mm + self.right_mm) / 2.0

    @property
    def gap_mm(self) -> float:
        """Return how far apart it comes to rest."""
        return abs(self.after_left_mm - self.after_right_mm)


@dataclass(frozen=True)
class Measured:
    """A measured stiffness, as far as the gauge can tell."""

    nm_per_deg: float
    low: float
    high: float | None
    """None where the gauge cannot tell it from immovable."""


def measured_stiffness(
    readings: HungReadings, couple_nm: float, gauge_arm_mm: float, read_mm: float = READ_MM
) -> Measured:
    """Return the couple over the turn it made, in N.m/deg, the lash left out.

    `gauge_arm_mm` is the gauge's distance from the shaft axis, square to the way it reads. ProofError if the
    readings tell no turn.
    """
    if not (couple_nm > 0.0 and gauge_arm_mm > 0.0):
        raise ProofError(
            f"a couple of {couple_nm:g} N.m at a gauge {gauge_arm_mm:g} mm from the shaft gives no stiffness:"
            " give both above zero"
        )
    moved = abs(readings.couple_share_mm) - readings.gap_mm / 2.0
    if not moved > read_mm:
        raise ProofError(
            f"the gauge moved {moved:.3f} mm besides the lash, no more than it can be read to: set it further"
            " from the shaft or hang more"
        )

    def stiffness(mm: float) -> float:
        return couple_nm / math.degrees(math.atan(mm / gauge_arm_mm))

    return Measured(stiffness(moved), stiffness(moved + read_mm), stiffness(moved - read_mm))


def compared(own: Measured, donor: Measured) -> str:
    """Return how stiff a mounting is beside the donor's, in a sentence."""
    times = own.nm_per_deg / donor.nm_per_deg
    low = own.low / donor.high if donor.high else 0.0
    high = own.high / donor.low if own.high else math.inf
    sure = (
        f"{low:.1f} to {high:.1f} as far as the gauge tells" if math.isfinite(high) else f"{low:.1f} or more"
    )
    return f"{times:.1f} times as stiff as the donor's, measured ({sure})"


def bar_end_stiffness(
    bar: DashBar,
    elastic_modulus_mpa: float,
    poisson: float,
    pull_n: float,
    moved_mm: float,
    read_mm: float = READ_MM,
) -> Measured:
    """Return the bending stiffness of each end of a dash bar, in N.m/deg, from a pull at its middle.

    The pull is along the bar's `up` or against it; `moved_mm` is how far the middle moved, less the mean of
    what the ends moved. Both ends are taken alike. With F at the middle of L the pinned bar moves F L^3/48EI
    + F L/4GA, the ends' moments M take M L^2/8EI off it, and each end turns F L^2/16EI - M L/2EI
    (Timoshenko's beam). ProofError for more than a pinned bar could move, or a pull or reading of nought.
    """
    length = math.dist(bar.from_mm, bar.to_mm)
    if not (pull_n > 0.0 and moved_mm > 0.0 and length > 0.0):
        raise ProofError(
            f"a pull of {pull_n:g} N that moves {bar.name} by {moved_mm:g} mm tells nothing: give both above"
            " zero"
        )
    if bar.stays or isinstance(bar.section, Open):
        why = "a stay holds it" if bar.stays else f"it is an open section ({bar.section.kind})"
        raise ProofError(
            f"{bar.name} bends as no plain bar does: {why}; give the stiffness of its ends by another proof"
        )
    section = section_of(bar.section)
    bending = elastic_modulus_mpa * section.second_moment_1_mm4
    shear = elastic_modulus_mpa / (2.0 * (1.0 + poisson)) * section.shear_area_2_mm2
    pinned = pull_n * length**3 / (48.0 * bending) + pull_n * length / (4.0 * shear)

    def stiffness(mm: float) -> float:
        moment = (pinned - mm) * 8.0 * bending / length**2
        turn = pull_n * length**2 / (16.0 * bending) - moment * length / (2.0 * bending)
        return moment / turn / NMM_PER_RAD_OF_NM_PER_DEG if turn > 0.0 else math.inf

    if moved_mm - read_mm > pinned:
        raise ProofError(
            f"{bar.name} moved {moved_mm:.2f} mm, and with both ends pinned it would move {pinned:.2f} mm:"
            " its ends give way, or wall or section is not as drawn; set a gauge at each end too"
        )
    low, middle, high = (max(stiffness(moved_mm + d), 0.0) for d in (read_mm, 0.0, -read_mm))
    if not math.isfinite(low):
        raise ProofError(
            f"{bar.name} moved {moved_mm:.3f} mm, less than with both ends welded: pull harder, or look for"
            " what else holds it"
        )
    return Measured(middle, low, high if math.isfinite(high) else None)
