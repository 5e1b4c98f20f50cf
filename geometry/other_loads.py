"""Loads beside the couple that somebody states: the steering lock, a kerb, a unit that seizes or runs away.

All blank means: not counted, and said so. None has a default figure, since none could be more than a guess.
"""

from __future__ import annotations

import math
from typing import Final, Literal

from geometry.part import Part, Positive

KGM2_PER_KGCM2: Final = 1e-4


class SteeringLock(Part):
    """The lock that stops the shaft against the column's tube."""

    torque_nm: Positive | None = None
    """Most it bears, from its maker or a test; None is not counted."""
    borne_by: Literal["casing", "column"] = "casing"
    """What holds the tube it locks to: the casing, and so the bracket, or the column's own mount. The graver
    one is taken until somebody says otherwise."""


class KerbStrike(Part):
    """A road wheel hits a kerb: the shaft is stopped, and the motor's rotor runs on against it."""

    peak_nm: Positive | None = None
    """Peak of the couple as measured or stated by the unit's maker; it goes before what is worked out."""
    rotor_kgcm2: Positive | None = None
    """Moment of inertia of the motor's rotor."""
    ratio: Positive | None = None
    """Turns of the motor for one of the shaft."""
    shaft_deg_per_s: Positive | None = None
    """How fast the shaft turns when it is stopped."""
    shaft_nm_per_deg: Positive | None = None
    """How stiff in twist everything is from the unit to the road wheel."""

    @property
    def missing(self) -> tuple[str, ...]:
        """Return in words what is missing; nothing where all is blank, or where enough is given."""
        parts = {
            "the rotor's moment of inertia": self.rotor_kgcm2,
            "the ratio": self.ratio,
            "the shaft's speed": self.shaft_deg_per_s,
            "the stiffness of the shaft in twist": self.shaft_nm_per_deg,
        }
        if self.peak_nm is not None or all(value is None for value in parts.values()):
            return ()
        return tuple(words for words, value in parts.items() if value is None)

    @property
    def value_nm(self) -> float | None:
        """Return the peak of the couple in N.m; None while blank.

        Worked out, the rotor's energy goes into the shaft's twist: J (n w)^2 / 2 = T^2 / (2 k).
        """
        if self.peak_nm is not None:
            return self.peak_nm
        rotor, ratio, speed, shaft = (
            self.rotor_kgcm2,
            self.ratio,
            self.shaft_deg_per_s,
            self.shaft_nm_per_deg,
        )
        if rotor is None or ratio is None or speed is None or shaft is None:
            return None
        inertia = rotor * KGM2_PER_KGCM2
        return ratio * math.radians(speed) * math.sqrt(inertia * shaft * 180.0 / math.pi)


class UnitFault(Part):
    """A unit that runs away against a wheel held fast, or seizes while the driver steers."""

    motor_nm: Positive | None = None
    """Most the motor gives, standing still and with all the current it can draw."""
    ratio: Positive | None = None

    @property
    def missing(self) -> tuple[str, ...]:
        """Return in words what is missing; nothing where both are blank or both given."""
        parts = {"the motor's most torque": self.motor_nm, "the ratio": self.ratio}
        if all(value is None for value in parts.values()):
            return ()
        return tuple(words for words, value in parts.items() if value is None)

    @property
    def value_nm(self) -> float | None:
        """Return motor torque x ratio in N.m, which no efficiency lowers; None while blank."""
        return None if self.motor_nm is None or self.ratio is None else self.motor_nm * self.ratio


class OtherLoads(Part):
    """All of them; each is counted once it is typed, as it is typed, without a factor."""

    lock: SteeringLock = SteeringLock()
    kerb: KerbStrike = KerbStrike()
    unit: UnitFault = UnitFault()
