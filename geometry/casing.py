"""The casing, what else holds the column, and what pulls on the shaft.

The casing has axes of its own: origin on the shaft axis at the casing's station, z along the shaft toward the
driver. `clocking_deg` turns them about the shaft, from X toward Y, when the casing is put into the car.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from geometry.part import Name, NotNegative, Part, Place, Positive, Range

EXAMPLE_NAME: Final = "example casing"
"""A casing of that name has invented figures, and a finding says so until it is named otherwise."""

BossMetal = Literal["cast aluminium", "steel", "cast iron"]


class Boss(Part):
    """A threaded place on the casing that a bolt goes into."""

    name: Name
    at_mm: Place
    """Middle of the boss's face, in the casing's axes."""
    direction: Place = (0.0, 0.0, 1.0)
    """Out of the casing, square to the boss's face; any length above zero."""
    thread: Name
    """Bolt size it is tapped for, such as M8."""
    depth_mm: Positive | None = None
    """Usable depth of thread; None is unknown."""
    metal: BossMetal = "cast aluminium"
    face_diameter_mm: Positive
    tensile_mpa: Annotated[float, Field(gt=0, le=1500)] | None = None
    """Least tensile strength as its maker or a hardness test says; None takes the metal's weakest usual."""


class Envelope(Part):
    """A block that encloses the casing, in the casing's axes."""

    low_mm: Place
    high_mm: Place


class Casing(Part):
    """The assist unit's body, taken as rigid."""

    name: Name = "casing"
    station_mm: float = 0.0
    """Where the origin of the casing's axes stands along the shaft."""
    clocking_deg: float = 0.0
    bosses: tuple[Boss, ...] = ()
    envelope: Envelope
    mass_kg: NotNegative
    mass_centre_mm: Place = (0.0, 0.0, 0.0)

    @property
    def along_shaft_mm(self) -> tuple[float, float]:
        """Return the stations of the envelope's lower and upper end."""
        ends = self.envelope.low_mm[2], self.envelope.high_mm[2]
        return self.station_mm + min(ends), self.station_mm + max(ends)

    def has_boss(self, name: str) -> bool:
        """Return whether there is a boss of that name."""
        return any(boss.name == name for boss in self.bosses)

    def boss(self, name: str) -> Boss:
        """Return the boss of that name; KeyError, naming the bosses there are, if there is none."""
        for boss in self.bosses:
            if boss.name == name:
                return boss
        known = ", ".join(b.name for b in self.bosses) or "none"
        raise KeyError(f"the casing has no boss {name!r}; it has: {known}")


class Bearing(Part):
    """A place where the column itself holds the shaft sideways."""

    name: Name
    station_mm: float
    stiffness_n_per_mm: Range


class ColumnMount(Part):
    """The donor's own column mount: holds the shaft sideways and along at one station."""

    name: Name
    station_mm: float
    sideways_n_per_mm: Range
    along_n_per_mm: Range


class Column(Part):
    """What holds the column besides the bracket. It has no default: `held_by` None is a blank."""

    held_by: Literal["nothing", "bearings", "donor mount"] | None = None
    bearings: tuple[Bearing, ...] = ()
    mount: ColumnMount | None = None


class Wheel(Part):
    """The steering wheel, where a driver pulls."""

    diameter_mm: Positive
    station_mm: float


class ShaftJoint(Part):
    """A universal joint in the shaft."""

    name: Name
    station_mm: float
    angle_deg: Annotated[float, Field(ge=0, lt=90)]
    plane_deg: float = 0.0
    """Direction the joint bends toward, about the shaft from X toward Y."""
