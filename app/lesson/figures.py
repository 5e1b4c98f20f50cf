"""The couple as forces a person can feel: at a bolt, as somebody standing there, at the wheel's rim."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.wording.figures import figure, plain
from geometry.bracket import Bracket
from geometry.placing import place_bolts
from solver.load_cases import STANDARD_GRAVITY_MM_S2

N_PER_KGF: Final = STANDARD_GRAVITY_MM_S2 / 1000.0
"""Newtons in the weight of a kilogram."""


@dataclass(frozen=True)
class Arm:
    """From the shaft axis to the nearest bolt that holds the casing."""

    bolt: str
    length_mm: float
    shaft_mm: tuple[float, float, float]
    """Its foot on the shaft axis."""
    bolt_mm: tuple[float, float, float]

    @property
    def level_mm(self) -> tuple[float, float, float]:
        """Return its end laid level beside the shaft: a weight there turns as the couple's arrow does.

        At a bolt straight above the shaft a weight would turn nothing.
        """
        x, y, z = self.shaft_mm
        return (x - self.length_mm, y, z)


@dataclass(frozen=True)
class CoupleFigures:
    """One couple, as felt and times its factor, in forces."""

    felt_nm: float
    factor: float
    arm: Arm | None
    """None where no bolt holds the casing."""
    wheel_diameter_mm: float | None

    @property
    def factored_nm(self) -> float:
        """Return the couple times its factor: what the bracket is held to."""
        return self.felt_nm * self.factor

    @property
    def force_n(self) -> float | None:
        """Return the force that makes the couple as felt at the arm; None without an arm."""
        return None if self.arm is None else force_at_n(self.felt_nm, self.arm.length_mm)

    @property
    def person_kg(self) -> float | None:
        """Return the mass of somebody who stands at the arm and makes the couple; None without an arm."""
        return None if self.force_n is None else self.force_n / N_PER_KGF

    @property
    def rim_n(self) -> float | None:
        """Return the force along the wheel's rim that makes the couple; None without a wheel."""
        return (
            None if self.wheel_diameter_mm is None else force_at_n(self.felt_nm, self.wheel_diameter_mm / 2)
        )

    def lines(self) -> tuple[str, ...]:
        """Return the figures as short lines, the two couples first."""
        found = [
            f"{figure(self.felt_nm)} N.m as felt",
            f"{figure(self.factored_nm)} N.m times {self.factor:g}, what it is held to",
        ]
        if self.arm is not None and self.force_n is not None and self.person_kg is not None:
            found += [
                f"{figure(self.force_n)} N = {figure(self.person_kg)} kgf at bolt {plain(self.arm.bolt)},"
                f" {self.arm.length_mm:.0f} mm from the shaft, were it alone",
                f"a person of {figure(self.person_kg)} kg standing {self.arm.length_mm:.0f} mm"
                " beside the shaft",
            ]
        if self.rim_n is not None and self.wheel_diameter_mm is not None:
            found.append(
                f"by hand: {figure(self.rim_n)} N at the rim of a {self.wheel_diameter_mm:g} mm wheel"
            )
        return tuple(found)


def force_at_n(couple_nm: float, arm_mm: float) -> float:
    """Return the force in N that makes a couple at an arm; ValueError for an arm that is not above 0."""
    if not (math.isfinite(arm_mm) and arm_mm > 0.0):
        raise ValueError(f"an arm of {arm_mm:g} mm makes no couple: give one above 0")
    return couple_nm / (arm_mm / 1000.0)


def figures_of(bracket: Bracket, felt_nm: float) -> CoupleFigures:
    """Return the forces that a couple makes on this bracket."""
    wheel = None if bracket.wheel is None else bracket.wheel.diameter_mm
    return CoupleFigures(felt_nm, bracket.loads.couple_factor, arm_of(bracket), wheel)


def arm_of(bracket: Bracket) -> Arm | None:
    """Return the arm to the nearest bolt at a boss that is off the shaft axis; None if there is none."""
    found = []
    for place in place_bolts(bracket):
        length = float(np.hypot(place.partner_mm[0], place.partner_mm[1]))
        if place.partner == "boss" and length > 1e-6:
            x, y, z = (float(v) for v in place.partner_mm)
            found.append(Arm(place.bolt, length, (0.0, 0.0, z), (x, y, z)))
    return min(found, key=lambda arm: arm.length_mm, default=None)
