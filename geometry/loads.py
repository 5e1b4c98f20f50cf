"""The couple and its source, what else loads the bracket, and the limits it is held to."""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from geometry.other_loads import OtherLoads
from geometry.part import Name, NotNegative, Part, Place, Positive


class StatedCouple(Part):
    """A couple somebody states."""

    source: Literal["stated"] = "stated"
    couple_nm: Positive | None = None
    """None is a blank."""
    by: Annotated[str, Field(max_length=200)] = "the builder"
    """Empty while nobody has said who."""

    @property
    def value_nm(self) -> float | None:
        """Return the couple in N.m, or None while blank."""
        return self.couple_nm

    @property
    def measured(self) -> bool:
        """Return whether the couple was measured on the unit."""
        return False

    @property
    def words(self) -> str:
        """Return the source in words."""
        return f"stated by {self.by.strip() or 'nobody yet'}"


class TorqueMeters(Part):
    """Output and input torque read together; the couple is their difference."""

    source: Literal["torque meters"] = "torque meters"
    output_nm: float | None = None
    input_nm: float | None = None

    @property
    def value_nm(self) -> float | None:
        """Return the couple in N.m, or None while blank."""
        if self.output_nm is None or self.input_nm is None:
            return None
        return abs(self.output_nm - self.input_nm)

    @property
    def measured(self) -> bool:
        """Return whether the couple was measured on the unit."""
        return True

    @property
    def words(self) -> str:
        """Return the source in words."""
        return "measured by torque meters"


class LoadCell(Part):
    """The force that holds the casing, read at an arm from the shaft axis."""

    source: Literal["load cell"] = "load cell"
    force_n: float | None = None
    arm_mm: Positive | None = None

    @property
    def value_nm(self) -> float | None:
        """Return the couple in N.m, or None while blank."""
        if self.force_n is None or self.arm_mm is None:
            return None
        return abs(self.force_n) * self.arm_mm / 1000.0

    @property
    def measured(self) -> bool:
        """Return whether the couple was measured on the unit."""
        return True

    @property
    def words(self) -> str:
        """Return the source in words."""
        return "measured by a load cell"


class MotorTorque(Part):
    """Motor torque through the reduction. Efficiency never lowers the couple; back-driving divides by it."""

    source: Literal["motor"] = "motor"
    motor_nm: Positive | None = None
    ratio: Positive | None = None
    efficiency: Annotated[float, Field(gt=0, le=1)] = 1.0
    back_driving: bool = False

    @property
    def value_nm(self) -> float | None:
        """Return the couple in N.m, or None while blank."""
        if self.motor_nm is None or self.ratio is None:
            return None
        couple = self.motor_nm * self.ratio
        return couple / self.efficiency if self.back_driving else couple

    @property
    def measured(self) -> bool:
        """Return whether the couple was measured on the unit."""
        return False

    @property
    def words(self) -> str:
        """Return the source in words."""
        return "from motor torque and ratio"


Couple = Annotated[StatedCouple | TorqueMeters | LoadCell | MotorTorque, Field(discriminator="source")]


USUAL_UNCERTAINTY: Final = {"torque meters": 0.05, "load cell": 0.05, "motor": 0.15, "stated": 0.25}
"""Share by which the couple may be larger than its source says (common practice, no source).

Of torque meters it is the larger reading's: each is off by its own, and the couple is what is left."""


class ExtraCase(Part):
    """A load case of the user's own, on the casing; it acts both ways."""

    name: Name
    couple_nm: float = 0.0
    force_n: Place = (0.0, 0.0, 0.0)
    at_mm: Place = (0.0, 0.0, 0.0)


class Engine(Part):
    """What shakes the car while it stands."""

    cylinders: Annotated[int, Field(ge=1, le=16)]
    idle_rpm: Annotated[float, Field(ge=200, le=3000)]
    strokes: Literal[2, 4] = 4

    @property
    def firing_hz(self) -> float:
        """Return how often a cylinder fires at idle."""
        return self.idle_rpm / 60.0 * self.cylinders * 2.0 / self.strokes


class TorqueCount(Part):
    """So many full turns both ways at a couple."""

    torque_nm: Positive
    count: Annotated[int, Field(ge=1, le=1_000_000_000)]


class Fatigue(Part):
    """How often the couple reverses over the life of the car."""

    full_cycles: Annotated[int, Field(ge=1, le=1_000_000_000)] = 200_000
    """Full reversals of the whole couple; the spectrum takes their place where there is one."""
    spectrum: Annotated[tuple[TorqueCount, ...], Field(max_length=50)] = ()
    """Couples on the casing, as measured, and how often each reverses fully."""

    @property
    def reversals(self) -> int:
        """Return how often a couple reverses, of whatever size."""
        return sum(turn.count for turn in self.spectrum) if self.spectrum else self.full_cycles


class Loads(Part):
    """What the bracket has to hold."""

    couple: Couple = StatedCouple()
    factor: Positive | None = None
    """Factor on the couple; None takes 1.5 if measured and 2.0 if not."""
    couple_uncertainty: Annotated[float, Field(ge=0, le=1)] | None = None
    """Share by which the couple may be larger than stated; None takes the usual of its source."""
    pull_n: NotNegative = 300.0
    """A driver's pull at the wheel, each way across the shaft in turn, and each way along it at the rim."""
    weight_g: NotNegative = 3.0
    """Weight of the casing and plates, in multiples, each way in turn."""
    extra: tuple[ExtraCase, ...] = ()
    fatigue: Fatigue = Fatigue()
    engine: Engine | None = None
    """None: nobody has said, or there is none; the natural frequency is then told without a limit."""
    other: OtherLoads = OtherLoads()
    """Steering lock, kerb strike, a unit that runs away or seizes: counted once typed."""

    @property
    def couple_factor(self) -> float:
        """Return the factor on the couple that is in force."""
        if self.factor is not None:
            return self.factor
        return 1.5 if self.couple.measured else 2.0

    @property
    def shaft_share(self) -> float:
        """Return what the shaft carries beside the casing, over the couple: the larger torque that was read.

        1 where only the couple is known, or where it is nought.
        """
        couple = self.couple
        if not isinstance(couple, TorqueMeters) or not couple.value_nm:
            return 1.0
        return max(1.0, *(abs(t or 0.0) / couple.value_nm for t in (couple.output_nm, couple.input_nm)))

    @property
    def couple_may_be_more(self) -> float:
        """Return the share by which the couple may be larger than its source says; at most 1."""
        if self.couple_uncertainty is not None:
            return self.couple_uncertainty
        return min(1.0, USUAL_UNCERTAINTY[self.couple.source] * self.shaft_share)

    @property
    def factor_left(self) -> float:
        """Return what the factor leaves once the couple is as large as its source leaves open; at least 1.

        What goes beyond the factor is a part of each check's band.
        """
        return max(1.0, self.couple_factor / (1.0 + self.couple_may_be_more))


class Limits(Part):
    """What the bracket is held to. A value looser than the default is flagged beside every verdict."""

    movement_mm: Positive = 0.2
    turn_deg: Positive = 0.1
    pull_movement_mm: Positive = 2.0
    yield_factor: Positive = 1.5
    """Yield over allowable stress."""
    slip_factor: Positive = 1.25
    friction_share: Positive = 0.5
    marginal_used: Annotated[float, Field(gt=0, le=1)] = 0.8

    def looser(self) -> dict[str, tuple[float, float]]:
        """Return each limit looser than the default as name: (value, default)."""
        default = Limits()
        higher_is_looser = ("movement_mm", "turn_deg", "pull_movement_mm", "friction_share", "marginal_used")
        found = {}
        for name in type(self).model_fields:
            value, usual = getattr(self, name), getattr(default, name)
            if value != usual and (value > usual) == (name in higher_is_looser):
                found[name] = (value, usual)
        return found


class Claim(Part):
    """A stored result: what somebody's program said once. It is a claim, never the verdict."""

    hash: Annotated[str, Field(max_length=128)]
    """Hash of the inputs it was computed from; another hash now makes it stale."""
    verdict: Literal["pass", "marginal", "fail", "no verdict"]
    holds_to_nm: NotNegative | None = None
    ended_by: Annotated[str, Field(max_length=400)] | None = None
    version: Annotated[str, Field(max_length=40)]
    date: Annotated[str, Field(max_length=40)]
